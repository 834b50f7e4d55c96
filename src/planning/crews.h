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
    const struct lift_time *lift; /* its lift's row of that day; NULL: none holds, or no lift */
    int64_t half_minutes;         /* of a half-day, 1/100 minute, set-up not taken off */
    int64_t half_lift_minutes;  /* of its lift that half-day; = half_minutes without a lift table */
    const struct site *kept_at; /* where work that comes first keeps it all day; NULL: free */
};

/* Names of all crews, sorted. */
size_t crew_names(const struct orchard *orchard, struct arena *arena, const char *const **names);

/* Less what orchard->taken has taken. */
struct crew_day crew_day_of(const struct orchard *orchard, const char *crew, daynum day);

/* With what orchard->taken has taken. */
struct crew_day crew_whole_day_of(const struct orchard *orchard, const char *crew, daynum day);

/* Half-day minutes (1/100) that the crew gives this kind of work at this site on that day: 0 when
 * it may not stand there, does other work, or its lift is down or elsewhere. */
int64_t crew_half_minutes(const struct crew_day *crew_day, const struct site *site, enum work work);

/* A lift's own half-day (1/100 minute), whatever hours its crews have; blank hours mean down: 0. */
int64_t lift_half_minutes(const struct lift_time *lift);

/* Does the crew's lift reach the grafts of this tree?  True where either length is not told. */
bool crew_reaches(const struct crew_day *crew_day, const struct tree *tree);

/* Is hand work at the tree blocked on `day` by a re-entry time?  From the day of spraying through
 * the day on which the label's hours end, counted from that midnight, for its hour is not noted. */
bool crew_kept_out(const struct orchard *orchard, const struct tree *tree, daynum day);

/* The last day that a `sprayed` note shuts. */
daynum crew_spray_ends(const struct note *note);

/* The last day on which hand work in this block (NULL: at the site as a whole) is shut by any
 * spray noted so far, of several the longest; DAY_NONE: by none. */
daynum crew_shut_until(const struct orchard *orchard, const struct site *site, const char *block);

#endif
