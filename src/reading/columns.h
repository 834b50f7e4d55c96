/*
 * columns.h - a table is its columns: what a cell under each may hold and where it goes.
 *
 * A table file describes its noun in one array of `struct column`; header checks, unit twins,
 * blanks, ranges and messages follow from it.  What no single column shows is the table's own
 * `finish`; what takes several rows is the orchard's.
 */
#ifndef READING_COLUMNS_H
#define READING_COLUMNS_H

#include "base/arena.h"
#include "base/diag.h"
#include "orchard/orchard.h"
#include "reading/rows.h"

#include <stdbool.h>
#include <stddef.h>

enum column_kind {
    COLUMN_NAME,      /* const char *: an identifier */
    COLUMN_STATION,   /* const char *: an identifier that may name a file */
    COLUMN_TEXT,      /* const char *: free text */
    COLUMN_ONE_OF,    /* const char *: one of `words`, kept as a word */
    COLUMN_WORD,      /* enum or int: `words_from` + the place of the word in `words` */
    COLUMN_YES,       /* bool: is it the second of two words? */
    COLUMN_NUMBER,    /* double */
    COLUMN_WHOLE,     /* int */
    COLUMN_DECIMAL,   /* struct decimal */
    COLUMN_DAY,       /* daynum */
    COLUMN_MONTH_DAY, /* struct month_day */
    COLUMN_OWN        /* what `read` makes of it */
};

/* What a number is typed in; members are deg C, deg C day and metres. */
enum column_unit { UNIT_AS_TYPED, UNIT_FEET, UNIT_FAHRENHEIT, UNIT_FAHRENHEIT_SUM };

struct words {
    size_t count;
    const char *const *list;
};
#define WORDS(array)                                                                               \
    (struct words)                                                                                 \
    {                                                                                              \
        COUNT_OF(array), (array)                                                                   \
    }
#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

struct reader;

struct column {
    const char *name; /* with its unit: "reach_m" */
    enum column_kind kind;
    bool required;   /* the column must be there and no cell blank */
    bool expected;   /* the column must be there */
    size_t offset;   /* of the member in the noun; twins of two units share it */
    int least, most; /* of a number, in the unit typed; both 0: any */
    double blank;    /* of a number, a whole number or a word in a blank cell */
    enum column_unit unit;
    struct words words;
    int words_from;
    /* COLUMN_OWN (offset 0): what a cell that is not blank says, into the noun; false when it was a
     * fault, now told.  A blank cell leaves zeros, which the table's `finish` may replace. */
    bool (*read)(struct reader *reader, const struct cell *cell, void *noun);
};

/* One row of it is one noun, whose first member is its `struct place`. */
struct table {
    const char *name; /* "sites.csv" */
    bool required;
    size_t row_bytes;
    size_t column_count;
    const struct column *columns;
    /* Rules between the cells of a row, and blanks of own kinds; false: told, the row is left out.
     */
    bool (*finish)(struct reader *reader, void *row);
    void (*append)(struct orchard *orchard, const void *row);
};

#define TABLE_COLUMNS(array) .column_count = COUNT_OF(array), .columns = (array)

/* What is at hand while a row is read. */
struct reader {
    const struct table *table;
    struct rows *rows;
    struct diags *diags;
    struct arena *arena; /* for texts that stay */
    const char *file;
    const struct program *program; /* settings read before */
    bool shipped;
    size_t header_count;
    const struct column *const *header; /* by cell; NULL: passed over */
    const void *blank;                  /* a noun all of whose cells are blank */
    bool complete;                      /* every required column is there */
    const struct row *row;
    struct place place; /* of the cell being read */
};

/* Match the header line with the columns of a table, telling every fault.  false: it is no use. */
bool reader_open(struct reader *reader, const struct row *header, struct arena *scratch);

/*
 * Read one row into `noun` (row_bytes of it).  false when it is to be left out: a required cell,
 * the number of cells or a rule of the row is a fault.  Other faulty cells are told and left blank,
 * so that one bad date does not make every row that names this one a fault as well.
 */
bool reader_row(struct reader *reader, const struct row *row, void *noun);

/* What becomes of every row that is read. */
struct row_taker {
    void (*take)(struct reader *reader, const void *noun, void *context);
    void *context;
};

/*
 * Read a table from its header to its end.  Of the reader the caller fills table, diags, arena,
 * program and shipped.  false: the source failed.
 */
bool reader_run(struct reader *reader, const struct source *source, struct row_taker taker);

/* The place of the cell of a column in the row being read; of the row when there is none. */
struct place reader_place(const struct reader *reader, const char *column);

/* Does the cell of a column hold anything, good or bad? */
bool reader_filled(const struct reader *reader, const char *column);

/* ---- names.c -------------------------------------------------------------------------------- */

/* Is this text fit for a name?  false: told. */
bool cell_check_name(struct reader *reader, size_t length, const char *text);

/* COLUMN_NAME and COLUMN_STATION. */
bool cell_read_name(struct reader *reader, const struct column *column, const struct cell *cell,
                    const char **member);

/* ---- cells.c -------------------------------------------------------------------------------- */

/* The first and the last day that a cell may hold: 1800-01-01 and 2199-12-31. */
#define CELL_FIRST_DAY ((daynum)-62091)
#define CELL_LAST_DAY ((daynum)84005)

/* The value of a cell that is not blank into its member; false when it was a fault, now told. */
bool cell_read(struct reader *reader, const struct column *column, const struct cell *cell,
               void *member);

/* What was typed, in deg C, deg C day or metres. */
double unit_in_metric(enum column_unit unit, double value);

/* What a blank or missing cell means. */
void cell_blank(const struct column *column, void *member);

/* The place of a word among `words`, or -1. */
int words_find(const char *word, struct words words);

/* Tell that `word` is none of the words of a column. */
void cell_tell_word(struct reader *reader, const char *column, const char *word,
                    struct words words);

/* The words with commas between, for messages; in the arena. */
const char *words_joined(struct arena *arena, struct words words);

/* The nearest of the words, whatever its case, or NULL. */
const char *words_nearest(const char *word, struct words words);

#endif
