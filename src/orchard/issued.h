/*
 * issued.h - a crossing plan that was given out on an earlier day, visit by visit.
 */
#ifndef ORCHARD_ISSUED_H
#define ORCHARD_ISSUED_H

#include "base/day.h"
#include "base/diag.h"

#include <stddef.h>

#define ISSUED_TASKS 4 /* bag, pollinate, pollinate again, unbag */

struct issued_visit {
    struct place place;
    daynum day, as_of;
    int task;
    const char *bag, *cross, *site;
    const char *crew, *lift, *lot; /* NULL: none */
    int half_day;                  /* 0 morning, 1 afternoon; -1: not told */
    int state;                     /* 0: planned; else pencilled, or done */
    const char *passed_over;       /* cells of which nothing is made */
};

struct issued_plan {
    struct issued_visit *list;
    size_t count, capacity;
};

#endif
