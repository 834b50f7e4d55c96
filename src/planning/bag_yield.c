#include "planning/bag_yield.h"

#include "orchard/words.h"

#include <math.h>

static const struct amount none = {0, 0, 0};

static struct amount counted(int count)
{
    return (struct amount){count, count, count};
}

static struct amount rate_amount(const struct state *state, const struct bag *bag, const char *name)
{
    const struct orchard *orchard = state->orchard;
    int number = bag->season - orchard_cycle(orchard, bag->graft);
    const struct rate *rate =
        rate_find(orchard, name, graft_rate_subject(state_graft(state, bag->graft), number));
    struct amount amount = {NAN, NAN, NAN};

    if (rate == NULL)
        return amount;
    amount.expected = number_of_decimal(rate->value);
    amount.low = isnan(rate->low) ? amount.expected : rate->low;
    amount.high = isnan(rate->high) ? amount.expected : rate->high;
    return amount;
}

static struct amount times(struct amount a, struct amount b)
{
    return (struct amount){a.expected * b.expected, a.low * b.low, a.high * b.high};
}

static struct amount strobili_of(const struct state *state, const struct bag *bag,
                                 double pollen_share)
{
    struct amount strobili =
        bag->strobili >= 0 ? counted(bag->strobili) : rate_amount(state, bag, "strobili_per_bag");

    return times(strobili, (struct amount){pollen_share, pollen_share, pollen_share});
}

struct bag_yield bag_yield_of(const struct state *state, const struct bag *bag, double pollen_share)
{
    struct bag_yield yield = {COUNTED_NOTHING, none, none, none};
    bool holds =
        bag->lost_on == DAY_NONE && !condition_is_gone(state_graft(state, bag->graft)->condition);
    bool bears = holds && bag->visits > 0;

    yield.counted = bag->strobili >= 0 ? COUNTED_STROBILI : COUNTED_NOTHING;
    if (bag->conelets >= 0) {
        yield.counted = COUNTED_CONELETS;
        yield.conelets = counted(bag->conelets);
    } else if (bears) {
        yield.conelets =
            times(strobili_of(state, bag, pollen_share), rate_amount(state, bag, "conelets_kept"));
    }
    if (bag->cones >= 0) {
        yield.counted = COUNTED_CONES;
        yield.cones = counted(bag->cones);
    } else if (bears || (holds && bag->conelets >= 0)) {
        yield.cones = times(yield.conelets, rate_amount(state, bag, "cones_kept"));
    }
    if (bag->seeds >= 0) {
        yield.counted = COUNTED_SEEDS;
        yield.seeds = counted(bag->seeds);
    } else {
        yield.seeds = times(yield.cones, rate_amount(state, bag, "seeds_per_cone"));
    }
    return yield;
}

double pollen_share_of(const struct program *program, double germination_pct)
{
    return germination_pct < program->germination_full_pct
               ? germination_pct / program->germination_full_pct
               : 1;
}

double bag_pollen_share(const struct state *state, const struct bag *bag)
{
    const struct orchard *orchard = state->orchard;

    if (bag->lot == NULL)
        return 1;
    return pollen_share_of(&orchard->program,
                           state->lots[bag->lot - orchard->lots.list].germination_pct);
}
