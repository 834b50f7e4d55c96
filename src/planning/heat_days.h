/*
 * heat_days.h - daily heat units and running sums of one record by one clock.
 */
#ifndef PLANNING_HEAT_DAYS_H
#define PLANNING_HEAT_DAYS_H

#include "base/arena.h"
#include "orchard/orchard.h"

struct heat_days {
    daynum first_day;
    size_t count;
    const double *tmin_c, *tmax_c; /* [count], as observed or filled; NaN: missing */
    double *heat_units, *heat_sum; /* [count] deg C day; NaN: missing, or before the first start */
    size_t filled_days;            /* in gaps of at most GAP_LINEAR_MOST days, filled linearly */
    size_t missing_days;           /* in longer gaps; the sum stays missing until the next start */
    double *chilling_sum;          /* [count] NULL: by a clock that asks for no chilling first */
    const struct clock *clock; /* NULL: plain heat, in deg C day; else units of what it counts */
    bool morning;              /* each maximum was moved to the day before, by the caller */
    bool own_minimum_as_next;  /* the last day of a double curve took its own minimum as next */
};

/*
 * Sums restart on every `start` month-day (month 0: one sum from the first day) and run to the day
 * before the next.  Days run from the record's first to its last, cut to from..to (DAY_NONE: open).
 */
struct heat_days heat_days_of(const struct record *record, const struct conetide_heat_rule *rule,
                              struct month_day start, daynum from, daynum to, struct arena *arena);

/* The days of a record cut to from..to with short gaps filled, nothing counted yet; tmin_c and
 * tmax_c stand within arrays of the whole record. */
struct heat_days heat_days_cut(const struct record *record, daynum from, daynum to,
                               struct arena *arena);

#endif
