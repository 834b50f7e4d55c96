/*
 * work_row.h - one row of the worklist, and what rows of one crew-day share.
 */
#ifndef WRITING_WORK_ROW_H
#define WRITING_WORK_ROW_H

#include "planning/worklist.h"
#include "writing/head.h"
#include "writing/layout.h"
#include "writing/visit.h"

/* The titles of a row's first two lines. */
#define WORK_ROW_TITLES                                                                            \
    "    task             tag       flag         tree, row and number, crown/branch\n"             \
    "    bag              cross                  lot, dose          chance latest\n"
enum { WORK_ROW_TITLE_LINES = 2 };

/* What a row says, whatever its kind of work. */
struct row_facts {
    struct visit_facts visit;
    const char *task;
    const char *subject; /* the bag, lot, batch ...; NULL: the graft or the tree itself */
    const char *about;   /* the cross, or the selection; NULL: neither */
    const char *batch;
    int cycle; /* the year it is named for; 0: none */
    const char *needs;
    const char *write_in; /* "strobili", "ml used": what is written beside the stage; "": nothing */
};
struct row_facts work_row_facts(const struct orchard *orchard, const struct work_row *row,
                                struct arena *arena);

/* Of work without a crew: what it is about, "the programme" where it is about all; and "last day
 * Wed 20 Jan 2027", "order by Wed 20 Jan 2027", or both. */
const char *work_row_about(const struct work_row *row);
void work_row_add_last(const struct work_row *row, struct text *out);

/* The row as a block under the heading of its site and block. */
void work_row_add(struct flow *flow, const struct orchard *orchard, const struct work_row *row);

/* What decides in the crown, in full; NULL where the crew-day has no such task. */
const char *work_page_decide(const struct work_page *page, enum bag_task task);

/* Tags or bags of rows whose last safe day is that of the page: they cannot wait for a lift; ""
 * where there is none. */
const char *work_page_last_safe(const struct work_page *page, struct arena *arena);

/* "2 h 16 min of 8 h (its lift: 4 h), set-up in it". */
const char *work_page_minutes(const struct work_page *page, struct arena *arena);

/* "isolation bags: 4"; "pollen lot P07: 1.5 ml". */
const char *material_words(const struct material *material, struct arena *arena);

/* Show the head every row of the crew-day. */
void work_page_see(struct head *head, const struct work_page *page);

#endif
