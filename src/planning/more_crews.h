/*
 * more_crews.h - what one more crew would give, by planning again with it.
 */
#ifndef PLANNING_MORE_CREWS_H
#define PLANNING_MORE_CREWS_H

#include "planning/crossing.h"

/* One more crew at a site. */
struct more_crew {
    const struct site *site;
    daynum first, last; /* days on which it works; equal when that is one alone */
    int days;           /* so many */
    bool lift;          /* it has one */
    int64_t bags;       /* more in the as-of season */
    int64_t *bags_of;   /* of these by cross, [orchard->crosses.count] */
};

struct more_crews {
    struct more_crew *list; /* of those tried only such as give a bag more */
    size_t count;
};

/* Tries for each site one crew-day on the dearest days of the plan, and a crew on all working days.
 */
struct more_crews more_crews_of(const struct crossing_inputs *inputs,
                                const struct crossing_plan *plan, const bool *sites);

/* The most bags of that cross at least outlay; NULL: none of them gives it any. */
const struct more_crew *more_crews_best(const struct more_crews *crews, size_t cross);

#endif
