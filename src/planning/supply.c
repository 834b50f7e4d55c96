/*
 * supply.c - what crosses still want and what lots still hold.
 */
#include "planning/crossing_parts.h"

#include "orchard/demand.h"
#include "planning/bag_truth.h"
#include "planning/bag_yield.h"

#include <math.h>
#include <string.h>

#define ROUNDING 1e-9 /* sums of counts and rates that are whole but for rounding are whole */

static double known_or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

/* A bag that was not clean may hold seed of other fathers, and counts for nothing through to the
 * seed. */
static double seeds_of_bag(const struct supply *supply, const struct bag *bag)
{
    const struct state *state = supply->inputs->state;

    if (!bag->clean)
        return 0.0;
    return known_or_zero(bag_yield_of(state, bag, bag_pollen_share(state, bag)).seeds.expected);
}

/* A bag counts for the cross that it truly is, under whatever name it was made. */
static double seeds_expected_of_cross(const struct supply *supply, const struct cross *cross)
{
    const struct state *state = supply->inputs->state;
    struct bulk_seed bulk = bulk_seed_of(state->orchard, cross);
    double seeds = bulk.seeds;

    for (size_t i = 0; i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];

        if (bag->lost_on == DAY_NONE && bag->graft->tree != NULL &&
            supply->true_cross[i] == cross && !bag_in_bulk(state->orchard, bag, bulk))
            seeds += seeds_of_bag(supply, bag);
    }
    return seeds;
}

static void fill_want(struct supply *supply, struct want *want, const struct cross *cross)
{
    const struct orchard *orchard = supply->inputs->state->orchard;
    double short_of = (double)cross->seeds_wanted - cross->seeds_in_store;

    want->cross = cross;
    if (cross->state != CROSS_WANTED || cross->seed_parent == NULL ||
        (cross->pollen_parent == NULL && cross->mix == NULL))
        return;
    want->coancestry = pedigree_cross_coancestry(supply->inputs->pedigree, cross, &want->selfs);
    want->refused = want->selfs || coancestry_is_refused(&orchard->program, want->coancestry);
    want->seeds_expected = seeds_expected_of_cross(supply, cross);
    short_of -= want->seeds_expected;
    if (!(short_of > ROUNDING))
        return;
    struct demand_chain chain =
        demand_chain_of((int64_t)ceil(short_of - ROUNDING), demand_rates_of(orchard, cross, 0));
    want->impossible = chain.bags < 0;
    want->bags = want->impossible ? 0 : chain.bags;
    want->left = want->bags;
}

static void fill_lot(const struct program *program, struct lot_left *left,
                     const struct lot_balance *balance)
{
    double germination = balance->germination_pct;

    left->balance = balance;
    left->share = pollen_share_of(program, germination);
    left->dead = germination < program->germination_refuse_pct;
    left->doses = DOSES_UNKNOWN;
    if (!isnan(balance->balance_ml) && program->dose_ml > 0)
        left->doses = whole_doses_of(balance->balance_ml, program->dose_ml);
}

struct supply supply_of(const struct crossing_inputs *inputs)
{
    const struct orchard *orchard = inputs->state->orchard;
    struct supply supply = {
        .inputs = inputs,
        .wants = ARENA_ARRAY(inputs->arena, orchard->crosses.count, struct want),
        .lots = ARENA_ARRAY(inputs->arena, orchard->lots.count, struct lot_left),
        .true_cross = ARENA_ARRAY(inputs->arena, inputs->state->bag_count, const struct cross *),
    };

    for (size_t i = 0; i < orchard->lots.count; i++)
        fill_lot(&orchard->program, &supply.lots[i], &inputs->state->lots[i]);
    for (size_t i = 0; i < inputs->state->bag_count; i++)
        supply.true_cross[i] = bag_truth_of(inputs->state, &inputs->state->bags[i]).cross;
    for (size_t i = 0; i < orchard->crosses.count; i++)
        fill_want(&supply, &supply.wants[i], &orchard->crosses.list[i]);
    return supply;
}
