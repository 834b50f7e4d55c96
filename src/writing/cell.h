/*
 * cell.h - one cell as data and as people read it.
 */
#ifndef WRITING_CELL_H
#define WRITING_CELL_H

#include "writing/sheet.h"

bool cell_is_missing(const struct sheet_column *column, union cell cell);

/* Is this column a column of CSV and JSON; of the text table? */
bool column_in_data(const struct sheet_column *column);
bool column_in_table(const struct sheet_column *column);

/* As CSV has it: ISO days, deg C, metres, digits of the column; text as it is.  Nothing when
 * missing. */
void cell_add_data(struct text *out, const struct sheet_column *column, union cell cell,
                   struct sheet_style style);

/* As people read it, in their units and made printable; "-" when missing. */
void cell_add_shown(struct text *out, const struct sheet_column *column, union cell cell,
                    struct sheet_style style);

/* The column's title with its unit: "low [C]". */
void cell_add_title(struct text *out, const struct sheet_column *column, struct sheet_style style);

#endif
