/*
 * anchor.h - the days that tasks.csv counts from: Y1-02-01, bag_by-7, graft.done+10.
 */
#ifndef ORCHARD_ANCHOR_H
#define ORCHARD_ANCHOR_H

#include "orchard/nouns.h"

/* Y1 is the year that the cycle is named for, Y0 the year before; month and day are the north's. */
struct cycle_day {
    int year; /* 0 to 9 */
    struct month_day month_day;
};

/* Exactly Yn-MM-DD of a day that exists; false (and output untouched) for anything else, NULL too.
 */
bool cycle_day_read(const char *text, struct cycle_day *day);

enum anchor_kind {
    ANCHOR_NONE,      /* blank, or not understood */
    ANCHOR_CYCLE_DAY, /* Y1-02-01 */
    ANCHOR_EVENT,     /* first+2, graft_open-60 */
    ANCHOR_OPEN,      /* TASK.open+1: from the first day of another row, on the same subject */
    ANCHOR_CLOSE,     /* TASK.close-1 */
    ANCHOR_DONE,      /* TASK.done+10 */
    ANCHOR_WHEN,      /* when+3: from the day on which the row's condition came true */
    ANCHOR_ORDER_BY   /* order_by: lead_days before needed_by */
};

struct anchor {
    enum anchor_kind kind;
    struct cycle_day day;
    enum event event;
    const char *task_name; /* of OPEN, CLOSE and DONE: task_length bytes of the cell */
    size_t task_length;
    size_t task; /* its place in the orchard's tasks: set by task_rules_of */
    int days;    /* after; negative: before */
};

#define ANCHOR_DAYS_MOST 3660 /* ten years either way */

/* Read one anchor; false (and *anchor none) for what is none, a word that is no event too.  Whether
 * the task is one is not looked at. */
bool anchor_read(const char *text, struct anchor *anchor);

#endif
