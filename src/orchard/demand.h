/*
 * demand.h - the chain from wanted seed back to bags, in exact arithmetic, rounded up at every
 * step.
 */
#ifndef ORCHARD_DEMAND_H
#define ORCHARD_DEMAND_H

#include "base/number.h"
#include "orchard/orchard.h"

#include <stdint.h>

struct demand_rates {
    struct decimal seeds_per_cone, cones_kept, conelets_kept, strobili_per_bag;
};

struct demand_chain {
    int64_t seeds, cones, conelets, strobili, bags; /* -1 when a rate makes it impossible */
};

/* seeds -> cones -> conelets -> strobili -> bags. */
struct demand_chain demand_chain_of(int64_t seeds, struct demand_rates rates);

/* The rates that hold for a cross in a season on its seed parent (selection-level rows, any site).
 */
struct demand_rates demand_rates_of(const struct orchard *orchard, const struct cross *cross,
                                    int season_number);

#endif
