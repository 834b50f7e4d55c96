/*
 * crews.h - who can work where on a day, and for how long, in 1/100 minutes.
 */
#ifndef PLANNING_CREWS_H
#define PLANNING_CREWS_H

#include "orchard/orchard.h"

#include <stdbool.h>
#include <stdint.h>

/* One crew on one day: the row of crews.csv that holds (a shorter row inside a longer one wins). */
struct crew_day {
    const struct crew_time *time; /* NULL: the crew does not work that day */
    int64_t half_minutes;         /* of a half-day, 1/100 minute, set-up not taken off */
    int64_t half_lift_minutes;    /* of its lift that half-day; = half_minutes without a lift table */
};

/* Names of all crews, sorted. */
size_t crew_names(const struct orchard *orchard, struct arena *arena, const char *const **names);

struct crew_day crew_day_of(const struct orchard *orchard, const char *crew, daynum day);

/* May the crew stand at this site on that day, and do this kind of work there? Half-day minutes that
 * it gives: 0 when not. */
int64_t crew_half_minutes(const struct orchard *orchard, const struct crew_day *crew_day,
                          const struct site *site, enum work work);

#endif
