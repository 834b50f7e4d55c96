/*
 * count_days.h - what a clock counts on each day of one record, beside plain heat.
 */
#ifndef PLANNING_COUNT_DAYS_H
#define PLANNING_COUNT_DAYS_H

#include "planning/heat_days.h"

/* Where the record lies. */
struct count_place {
    double latitude_deg; /* NaN: not known; hours and day length are NaN then */
    struct season_rule rule;
};

/*
 * As heat_days_of, by a clock that counts something else or asks for chilling first.  Both counts
 * start anew with the first of their two days in each season; a clock whose start has month 0 sums
 * once, from the first day.  Chilling that started before the record is not known.
 */
struct heat_days count_days_of(const struct record *record, const struct clock *clock,
                               const struct count_place *place, daynum from, daynum to,
                               struct arena *arena);

#endif
