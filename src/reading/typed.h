/*
 * typed.h - a worklist that was filled in and typed back, or notes in the columns of notes.csv.
 */
#ifndef READING_TYPED_H
#define READING_TYPED_H

#include "orchard/typed.h"
#include "reading/reading.h"

/*
 * Append its rows.  Columns are those of `conetide worklist --format csv` and of notes.csv in any
 * order; all may be missing but one that tells what a row is: `entry`, `task` or `note`.  A row
 * with a faulty cell is told and has that cell blank.  false: the source failed.
 */
bool read_typed(struct typed_page *page, const struct orchard *orchard, const struct source *source,
                struct diags *diags);

#endif
