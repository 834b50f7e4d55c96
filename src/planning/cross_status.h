/*
 * cross_status.h - every cross on one line: wanted, hung, given, to come, and what stands in its
 * way.
 */
#ifndef PLANNING_CROSS_STATUS_H
#define PLANNING_CROSS_STATUS_H

#include "planning/crossing.h"
#include "planning/harvest.h"

enum cross_outlook {
    OUTLOOK_STORED,  /* enough seed in store and counted */
    OUTLOOK_ON_TREE, /* enough with what hangs */
    OUTLOOK_PLANNED, /* every bag wanted is planned or pencilled, or enough seed is */
    OUTLOOK_SHORT,
    OUTLOOK_REFUSED,
    OUTLOOK_HELD,
    OUTLOOK_CANCELLED,
    OUTLOOKS
};
extern const char *const cross_outlook_words[OUTLOOKS];

struct cross_status {
    const struct cross *cross;
    size_t hung, clean, pollinated, unbagged; /* bags of this season, of the true cross, not lost */
    double seeds_counted;
    struct amount seeds_to_come;           /* of bags of any season */
    int64_t bags_planned, bags_pencilled;  /* still to be hung or pollinated */
    double seeds_planned, seeds_pencilled; /* of those */
    double seeds_short;                    /* after all of these; 0 at least */
    enum cross_outlook outlook;
    const struct shortfall *shortfall; /* the first of the plan; NULL: none */
};

struct cross_statuses {
    struct cross_status *list; /* by name, every row of crosses.csv */
    size_t count;
};

struct cross_statuses cross_statuses_of(const struct crossing_plan *plan,
                                        const struct harvest *harvest, const struct state *state,
                                        struct arena *arena);

#endif
