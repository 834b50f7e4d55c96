/*
 * choice.h - the columns and rows of a sheet that were asked for.
 *
 * Names are those of CSV and JSON in every form, so one line works in all of them.
 */
#ifndef WRITING_CHOICE_H
#define WRITING_CHOICE_H

#include "writing/sheet.h"

/* Rows whose cell of `column` is, as CSV has it, `values` or one of its words between commas;
 * "" is the missing cell. */
struct choice_test {
    const char *column;
    const char *values;
};

struct choice {
    const char *const *columns; /* in the order to print; none: all, as they stand */
    size_t column_count;
    const struct choice_test *tests; /* all must hold */
    size_t test_count;
};

bool choice_is_all(const struct choice *choice);

/* The place of the column with this name in CSV; column_count: there is none. */
size_t choice_find(const struct sheet *sheet, const char *name);

/* Has the sheet every column that is tested and, where columns are asked for, one of them? */
bool choice_fits(const struct sheet *sheet, const struct choice *choice);

/*
 * What is left of a sheet that fits; columns that it lacks are passed over.  In text the columns
 * asked for make a plain table of the rows of CSV; rows alone are taken from those that people
 * see, where these have the columns tested.  Cells are shared with `sheet`.
 */
struct sheet choice_take(const struct sheet *sheet, const struct choice *choice);

/* Words between commas, blanks around them taken off, empty ones left out. */
const char *const *choice_words(const char *list, struct arena *arena, size_t *count);

#endif
