/*
 * sheet.h - a result as rows and typed columns, and its three plain forms.
 *
 * CSV and JSON are always deg C, metres and ISO dates; text is for people and may be in deg F and
 * feet.  One description of the columns serves all three, so they cannot drift apart.
 */
#ifndef WRITING_SHEET_H
#define WRITING_SHEET_H

#include "base/arena.h"
#include "base/day.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum cell_kind {
    CELL_TEXT,
    CELL_DAY, /* text: "Tue 2 Mar 2027" when `digits` is 1, else 2027-03-02 */
    CELL_INTEGER,
    CELL_NUMBER,      /* `digits` after the point */
    CELL_TEMPERATURE, /* deg C in `number`; name ends in _c */
    CELL_HEAT,        /* deg C day in `number`; converts by * 1.8 alone */
    CELL_LENGTH,      /* metres; name ends in _m */
    CELL_CHANCE       /* 0 to 1; text shows per cent: "87 %", CSV 0.87 */
};

enum column_where {
    COLUMN_EVERYWHERE,
    COLUMN_TEXT_ONLY,
    COLUMN_DATA_ONLY,
    COLUMN_HEADING, /* text only: a line before the first row and wherever its value, or that of a
                       heading to the left, changes */
    COLUMN_BELOW    /* text only: a line of its own under the row, when it is not missing */
};

struct sheet_column {
    const char *name;  /* in CSV and JSON: "bag_by_p50" */
    const char *title; /* in text: "bag by", its unit is added; NULL: the name less its unit */
    enum cell_kind kind;
    int digits;
    enum column_where where;
};

/* Three columns of one date, in CSV and JSON alone, for designated initialisers. */
#define SHEET_THREE_DATES(place, name)                                                             \
    [place] = {name "_p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},                                  \
    [(place) + 1] = {name "_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},                            \
    [(place) + 2] = {name "_p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY}

/* Missing is text NULL, day DAY_NONE, number NaN; DAY_NEVER prints "not reached",
 * WORDS_UNCHILLED "chilling not met". */
union cell {
    const char *text;
    double number;
    daynum day;
};

/* A number of the sheet as a whole, printed in JSON beside the rows. */
struct sheet_fact {
    const char *name;
    double number;
};
#define SHEET_FACTS 8

struct sheet {
    struct arena *arena;
    const struct sheet_column *columns;
    size_t column_count;
    union cell *cells; /* row by row */
    size_t row_count, row_capacity;
    const char *schema; /* name and version of the columns: "conetide flowering 1" */
    struct sheet_fact facts[SHEET_FACTS];
    size_t fact_count;
    struct text head, foot; /* lines printed before and after in text only */
    struct sheet *shown;    /* rows that text prints instead: in another order, alike ones as one;
                               NULL: these */
};

void sheet_init(struct sheet *sheet, struct arena *arena, const char *schema, size_t column_count,
                const struct sheet_column *columns);

/* A new row, every cell missing; fill it through the pointer before the next call. */
union cell *sheet_row(struct sheet *sheet);

/* The rows for people alone, with the same columns; begun at the first call. */
struct sheet *sheet_shown(struct sheet *sheet);

/* Rounded to a millionth. */
void sheet_add_fact(struct sheet *sheet, const char *name, double number);

struct sheet_style {
    bool units_us;
    bool plain;     /* CSV without the apostrophe that keeps spreadsheets from computing text */
    size_t columns; /* text: display columns to fit, 0: as wide as needed */
    int digits;     /* -1: each column's own; else digits of every number, temperature and heat */
};

/* Aligned table, head above, foot below, text made printable.  A table wider than `columns` breaks
 * its text cells over lines; nothing is cut. */
void sheet_write_text(const struct sheet *sheet, struct sheet_style style, struct text *out);

/* RFC 4180 with LF; text cells that begin with = + - @ or tab get one apostrophe unless plain.  So
 * do those that begin so after apostrophes of their own: a reader takes one off of all of them. */
void sheet_write_csv(const struct sheet *sheet, struct sheet_style style, struct text *out);

/* {"schema": ..., facts ..., "rows": [{...}, ...]}, keys in column order, missing null, shortest
 * round-trip numbers through cJSON. */
void sheet_write_json(const struct sheet *sheet, struct sheet_style style, struct text *out);

/* One text cell quoted as CSV needs it. */
void csv_add_text(struct text *out, const char *value, bool plain);

#endif
