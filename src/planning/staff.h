/*
 * staff.h - the crews' half-days, for the files that read or set them; nothing else includes it.
 */
#ifndef PLANNING_STAFF_H
#define PLANNING_STAFF_H

#include "planning/crossing_parts.h"

#include <stddef.h>

#define HALVES 2

struct half_day {
    const struct site *site;  /* NULL: free */
    const struct site *meant; /* while free: kept for work at this site; NULL: for any */
    int64_t set_up;           /* 0 when the crew was there in the morning */
    int64_t used, used_lift;  /* of both, 1/100 minute; set-up in neither */
};

struct staff {
    const struct orchard *orchard;
    const char *const *names;
    size_t count;
    daynum first_day;
    struct crew_day *days;   /* [count][STAFF_DAYS] */
    struct half_day *halves; /* [count][STAFF_DAYS][HALVES] */
    int64_t set_up;          /* the largest of the three jobs */
    bool lifts_shared;       /* some lift is named by two crews */
    bool sprayed;
};

static inline struct half_day *half_at(const struct staff *staff, struct spot spot)
{
    return &staff->halves[(spot.crew * STAFF_DAYS + spot.day) * HALVES + (size_t)spot.half];
}

static inline const struct crew_day *day_at(const struct staff *staff, struct spot spot)
{
    return &staff->days[spot.crew * STAFF_DAYS + spot.day];
}

#endif
