/*
 * clock_sums.h - what a clock has counted by the end of each day, whatever it counts.
 */
#ifndef PLANNING_CLOCK_SUMS_H
#define PLANNING_CLOCK_SUMS_H

#include "base/arena.h"
#include "orchard/orchard.h"

#include <stddef.h>

/* Days in a row at one place; NaN where missing. */
struct clock_days {
    daynum first_day;
    size_t days;
    const double *tmin_c, *tmax_c; /* [days] */
    double latitude_deg;           /* NaN where not known */
};

/* Where counting starts and the index before which it stops; all at most `days`. */
struct clock_span {
    size_t first, end;
    size_t chilling_first; /* not read without after_chilling */
};

struct clock_sums {
    double *units; /* [days] of the day alone, whether they count or not; NaN outside the span */
    double *sums;  /* [days] 0 before `first`; day length: that day's hours, not a sum */
    double *chilling_sums; /* [days] 0 before chilling_first; NULL without after_chilling */
    size_t chilled;        /* index of the day that brings enough chilling; `end` when none does; 0
                              without after_chilling */
};

/* All three arrays in the arena. */
struct clock_sums clock_sums_of(const struct clock *clock, const struct clock_days *given,
                                struct clock_span span, struct arena *arena);

#endif
