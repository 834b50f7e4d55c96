/*
 * looks.h - what stage notes of one season say of a graft or a bag: which events have come, and
 * between which looks.
 */
#ifndef PLANNING_LOOKS_H
#define PLANNING_LOOKS_H

#include "orchard/state.h"

/* The events that stages tell apart, in their order. */
enum { LOOKED_EVENTS = 4 };
extern const enum event looked_events[LOOKED_EVENTS]; /* opening, first, peak, last */

/*
 * By the reading of sights.h: event i came after `after[i]` and by `by[i]`.  Who finds an event
 * come finds those before it come, so the first `come` of them have a `by`, in order; of the others
 * `after` is the day of the last look.
 */
struct looks {
    size_t count;                /* days with a look; 0: nothing was seen */
    int come;                    /* 0 to LOOKED_EVENTS */
    daynum after[LOOKED_EVENTS]; /* DAY_NONE: the first look found it come */
    daynum by[LOOKED_EVENTS];    /* DAY_NONE: not come */
};

/* Looks at a graft by its tag in season `season` (a year): it is warmer in its bags. */
struct looks looks_at_graft(const struct state *state, const struct graft *graft, int season);

/* Looks at a bag; and at its graft up to the day on which the bag was hung. */
struct looks looks_at_bag(const struct state *state, const struct bag *bag);

#endif
