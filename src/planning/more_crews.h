/*
 * more_crews.h - what one more crew would give, by planning again with it.
 */
#ifndef PLANNING_MORE_CREWS_H
#define PLANNING_MORE_CREWS_H

#include "planning/crossing.h"

/* One more crew at a site, and what its bags are to one cross. */
struct more_crew {
    const struct site *site;
    bool lift;      /* it has one */
    int64_t bags;   /* more in the as-of season */
    bool whole_day; /* it is one crew-day, and all these bags come of it */
    struct more_bags {
        int64_t bags;       /* of the cross */
        int days;           /* of the crew with work on bags of the cross */
        daynum first, last; /* of these; DAY_NONE: none */
    } * of;                 /* [orchard->crosses.count] */
};

struct more_crews {
    struct more_crew *list; /* of those tried only such as give a bag more */
    size_t count;
};

/* Tries for each site one crew-day on the dearest days of the plan, and a crew on all working days.
 */
struct more_crews more_crews_of(const struct crossing_inputs *inputs,
                                const struct crossing_plan *plan, const bool *sites);

/* The fewest days, then the most bags of that cross; NULL: none of them gives it any. */
const struct more_crew *more_crews_best(const struct more_crews *crews, size_t cross);

#endif
