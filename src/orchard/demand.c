#include "orchard/demand.h"

#include "orchard/lookup.h"

/* The next link; a chain once broken stays broken. */
static int64_t before(int64_t count, struct decimal rate)
{
    return count < 0 ? -1 : number_divide_up(count, rate);
}

struct demand_chain demand_chain_of(int64_t seeds, struct demand_rates rates)
{
    struct demand_chain chain = {.seeds = seeds < 0 ? -1 : seeds};
    chain.cones = before(chain.seeds, rates.seeds_per_cone);
    chain.conelets = before(chain.cones, rates.cones_kept);
    chain.strobili = before(chain.conelets, rates.conelets_kept);
    chain.bags = before(chain.strobili, rates.strobili_per_bag);
    return chain;
}

static struct decimal value_of(const struct orchard *orchard, const char *name,
                               struct rate_subject subject)
{
    const struct rate *rate = rate_find(orchard, name, subject);
    return rate ? rate->value : (struct decimal){0, 0};
}

struct demand_rates demand_rates_of(const struct orchard *orchard, const struct cross *cross,
                                    int season_number)
{
    struct rate_subject subject = {
        .selection = cross->seed_parent ? cross->seed_parent->name : cross->seed_parent_name,
        .season_number = season_number,
    };
    return (struct demand_rates){
        .seeds_per_cone = value_of(orchard, "seeds_per_cone", subject),
        .cones_kept = value_of(orchard, "cones_kept", subject),
        .conelets_kept = value_of(orchard, "conelets_kept", subject),
        .strobili_per_bag = value_of(orchard, "strobili_per_bag", subject),
    };
}
