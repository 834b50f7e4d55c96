/*
 * typed_parts.h - what the parts of typing back share.
 */
#ifndef PLANNING_TYPED_PARTS_H
#define PLANNING_TYPED_PARTS_H

#include "planning/typed_notes.h"

/* Does this row say anything? */
bool typed_says(const struct typed_row *row);

/* Fill in what the printed page says of a row's code, and tell where both differ; false: told. */
bool typed_look_up(const struct typing *typing, struct typed_row *row);

/* Do the cells of a row belong together, as far as they are known?  false: told. */
bool typed_cells_agree(const struct typing *typing, const struct typed_row *row);

#endif
