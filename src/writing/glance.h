/*
 * glance.h - the season at a glance: one self-contained HTML file of pictures and tables.
 *
 * Without a network, without a framework; tables are sorted and filtered by a script in the file,
 * and stand whole, in their own order, where scripts do not run and on paper.
 */
#ifndef WRITING_GLANCE_H
#define WRITING_GLANCE_H

#include "writing/pages.h"

#define GLANCE_ROWS_MOST 2000 /* of a table; more are left to CSV, and that is said */

/* A section: a picture, or a table, or both. */
struct glance_part {
    const char *id;      /* a word of lower-case letters: the anchor */
    const char *title;   /* "Crossing schedule" */
    const char *command; /* where all rows are to be had: "conetide crossing"; NULL without table */
    const char *svg;     /* a whole picture; NULL: none */
    const struct sheet *sheet; /* NULL: none */
    const char *columns;       /* those of its data that are shown, parted by blanks */
};

struct glance {
    const char *const *lines; /* what the reader should know first */
    size_t line_count;
    const struct glance_part *parts;
    size_t part_count;
};

/* Well-formed as XML too. */
void glance_write(const struct glance *glance, const struct page_run *run, struct text *out);

#endif
