/*
 * diag.h - what is wrong with the user's data, collected, sorted and told all at once.
 *
 * Printed as `file:line:cell: error: what was found, what was expected, what to do [code]`.
 * A message starts in lower case, has no full stop, and quotes the user's text made printable.
 */
#ifndef BASE_DIAG_H
#define BASE_DIAG_H

#include "base/arena.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

/* Where something was read.  line 0: the file as a whole; cell 0: the row as a whole. */
struct place {
    const char *file; /* as a person names it: "grafts.csv"; NULL: nowhere in particular */
    unsigned line;    /* 1-based line of the file, as an editor counts */
    unsigned cell;    /* 1-based cell of the row, as a spreadsheet user counts */
};

struct diag_tally;

enum diag_level { DIAG_ERROR, DIAG_WARNING };

struct diag {
    struct place place;
    enum diag_level level;
    const char *code;    /* static kebab-case word: "unknown-site" */
    const char *message; /* in the arena, already made printable */
};

struct diags {
    struct arena *arena;
    struct diag *list;
    size_t count, capacity;
    size_t errors, warnings; /* all of them, kept or not */
    size_t most;             /* keep at most this many errors and as many warnings of each file */
    size_t dropped;          /* how many were not kept */
    struct diag_tally *tallies; /* how many were kept of each file */
    size_t tally_count, tally_capacity;
};

#define DIAG_MOST 1000

void diags_init(struct diags *diags, struct arena *arena);

/* Add a fault.  Text that comes from a file is passed through diag_quote first; the whole message
 * is made printable anyway.  `place.file` and `code` are kept, not copied. */
void diag_error(struct diags *diags, struct place place, const char *code, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void diag_warning(struct diags *diags, struct place place, const char *code, const char *format,
                  ...) __attribute__((format(printf, 4, 5)));

/* Quoted and made printable, cut to about 60 columns: 'abc', '\x1b[2J', 'very lo…'; NULL gives
 * nothing, without quotes.  In the arena. */
const char *diag_quote(struct diags *diags, const char *text);

/* Sort by file (none first), line, cell, level, code, message (bytes). */
void diags_sort(struct diags *diags);

/* All of them, one a line, in the printed form above; then a line that tells how many were dropped.
 */
void diags_write(const struct diags *diags, struct text *out);

#endif
