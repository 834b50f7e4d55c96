/*
 * typed.h - rows that a person typed back: a worklist that was filled in, or notes.
 */
#ifndef ORCHARD_TYPED_H
#define ORCHARD_TYPED_H

#include "orchard/nouns.h"

/* The columns of which something is made, as far as a fault may have to point at them. */
enum typed_column {
    TYPED_ENTRY,
    TYPED_DATE,
    TYPED_TASK,
    TYPED_SITE,
    TYPED_BLOCK,
    TYPED_TREE,
    TYPED_CROWN,
    TYPED_BRANCH,
    TYPED_TAG,
    TYPED_BAG,
    TYPED_CROSS,
    TYPED_LOT,
    TYPED_SELECTION,
    TYPED_BATCH,
    TYPED_NOTE,
    TYPED_DONE_ON,
    TYPED_NOT_DONE,
    TYPED_STAGE,
    TYPED_VALUE,
    TYPED_BY,
    TYPED_REMARKS,
    TYPED_COLUMNS
};

struct typed_row {
    struct place place;
    const char *entry;
    daynum date;  /* of a worklist: the day printed; of a note: its day */
    daynum as_of; /* the day that a worklist was made as of */
    const char *task, *site, *block, *tree, *crown, *branch, *tag, *bag, *cross, *lot, *selection,
        *batch;
    int note; /* enum note_kind: a row of notes.csv; -1: a row of a worklist */
    /* What was filled in. */
    daynum done_on;
    const char *not_done, *stage, *value, *by, *remarks;
    const char *stage_meant, *value_meant; /* the same on the scale of stages 1 to 6 */
    const char *passed_over;               /* cells of which nothing is made */
};

struct typed_page {
    const char *file; /* as a person names it */
    struct typed_row *list;
    size_t count, capacity;
    unsigned cells[TYPED_COLUMNS]; /* of each column, from 1; 0: it is not there */
};

/* Where a column of a row stands; the row as a whole when the page lacks it. */
struct place typed_place(const struct typed_page *page, const struct typed_row *row,
                         enum typed_column column);

extern const char *const typed_column_names[TYPED_COLUMNS]; /* "done_on" */

#endif
