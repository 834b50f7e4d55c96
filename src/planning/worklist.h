/*
 * worklist.h - the work of one week or one day, by crew and day, in walking order.
 */
#ifndef PLANNING_WORKLIST_H
#define PLANNING_WORKLIST_H

#include "planning/crossing.h"

struct work_row {
    const struct planned_bag *bag;
    enum bag_task task;
    const char *entry;  /* "2027-W10-A-017" with its check character: the code to type back */
    const char *decide; /* stage seen and what to do, in full */
    const char *brief;  /* the same in one line of at most 76 columns */
};

struct material {
    const char *what; /* "isolation bags", "pollen lot P07" */
    double amount;
    const char *unit;    /* "ml"; NULL: pieces */
    const char *kept_at; /* where pollen is stored; NULL: not told, or no pollen */
};

/* One crew on one day. */
struct work_page {
    daynum day;
    const char *crew, *lift;
    struct work_row *rows;
    size_t row_count;
    struct material *materials;
    size_t material_count;
    int64_t minutes;       /* 1/100 minute planned, set-up in it */
    int64_t minutes_given; /* of the crew that day */
    int64_t lift_minutes;  /* of its lift that day; minutes_given without a lift table */
};

struct worklist {
    daynum first_day, last_day;
    struct work_page *pages; /* sorted by day, crew */
    size_t page_count;
    const char *const *cautions; /* NULL-ended: for the kinds of work on these pages */
};

/* Walking order: block, row, position, every second row of trees of a block walked back; of two
 * sites in one day first that of the morning. */
struct worklist worklist_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                            daynum first_day, daynum last_day);

#endif
