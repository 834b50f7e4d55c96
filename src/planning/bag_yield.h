/*
 * bag_yield.h - what a bag gives, from what was counted last and the rates that remain.
 */
#ifndef PLANNING_BAG_YIELD_H
#define PLANNING_BAG_YIELD_H

#include "orchard/state.h"

/* Expected, and with the low and the high of every rate that remains; a rate without them counts
 * with its value.  NaN: a rate is missing.  All three alike once it is counted. */
struct amount {
    double expected, low, high;
};

/* What was counted last. */
enum bag_counted {
    COUNTED_NOTHING,
    COUNTED_STROBILI,
    COUNTED_CONELETS,
    COUNTED_CONES,
    COUNTED_SEEDS
};

struct bag_yield {
    enum bag_counted counted;
    struct amount conelets, cones, seeds; /* seeds: filled ones, of whatever father */
};

/*
 * `pollen_share`: of full seed that the lot's germination leaves, 0 to 1 (pollen_share_of).  A bag
 * that was never pollinated, was lost, or whose graft died before its cones were counted, gives
 * nothing.  Strobili that were not counted at bagging are strobili_per_bag.
 */
struct bag_yield bag_yield_of(const struct state *state, const struct bag *bag,
                              double pollen_share);

/* Below germination_full_pct expected seed falls in proportion (own choice beside Matthews &
 * Bramlett 1986); 1 when not tested. */
double pollen_share_of(const struct program *program, double germination_pct);

/* That of the lot of the bag's newest pollination; 1 when it has none. */
double bag_pollen_share(const struct state *state, const struct bag *bag);

#endif
