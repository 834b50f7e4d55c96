/*
 * flowering_days.h - the whole distribution of a season's days, once for all grafts that share it.
 */
#ifndef PLANNING_FLOWERING_DAYS_H
#define PLANNING_FLOWERING_DAYS_H

#include "planning/flowering.h"

/* Grafts of one bloom, and the days on which something of it may still happen or not. */
struct day_span {
    const struct flowering_row *row;   /* of the first of them, by tag */
    const struct flowering_row **rows; /* all of them */
    size_t count;
    daynum first, last; /* last < first: nothing is known */
};

struct flowering_days {
    struct day_span *list; /* by season, site and tag of the first graft */
    size_t count;
    size_t days; /* of all together */
};

/*
 * Spans run from the first day with at least chance `least` that one event has come, to the first
 * by which all have but for `least`; where some year brings an event never, FLOWERING_DAYS_MOST.
 */
struct flowering_days flowering_days_of(const struct flowering_rows *rows, double least,
                                        struct arena *arena);

enum { FLOWERING_DAYS_MOST = 120 };

/* Chance that a day lies in first to last; NaN when either is not known. */
double bloom_receptive(const struct bloom *bloom, daynum day);

#endif
