/*
 * dictionary.h - what the columns of tables mean.
 *
 * A name means the same in every table, unless its row names the table.
 */
#ifndef WRITING_DICTIONARY_H
#define WRITING_DICTIONARY_H

#include "writing/sheet.h"

struct meaning {
    const char *schema; /* of the one table it holds for, less "conetide" and the version; NULL:
                           of every table */
    const char *name;
    const char *unit; /* NULL: that of the column's kind, or none */
    const char *words;
};

/* Ended by a row without a name. */
extern const struct meaning dictionary[];

/* What a column of this table means; NULL: nobody has said. */
const char *dictionary_words(const char *schema, const char *name, struct arena *arena);

/* A row a column of CSV: schema, column, kind, unit, meaning. */
struct sheet dictionary_sheet(size_t count, const struct sheet *sheets, struct arena *arena);

#endif
