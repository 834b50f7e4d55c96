/*
 * supply.c - what crosses still want and what lots still hold.
 */
#include "planning/crossing_parts.h"

#include "orchard/demand.h"

#include <math.h>
#include <string.h>

#define ROUNDING 1e-9 /* sums of counts and rates that are whole but for rounding are whole */

static double known_or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

static bool is_gone(const struct graft_state *graft)
{
    return graft->condition == CONDITION_DEAD || graft->condition == CONDITION_LOST ||
           graft->condition == CONDITION_REMOVED;
}

/* Does the graft, by what is known of it today, give seed of this cross? */
static bool bears_cross(const struct graft_state *graft, const struct cross *cross)
{
    return graft->selection != NULL &&
           (selection_same(graft->selection, cross->seed_parent) ||
            (cross->either_way && selection_same(graft->selection, cross->pollen_parent)));
}

/* Seed that was noted of the cross as a whole, and the newest season in which it can have been
 * pollinated: cones ripen in the autumn of the next season, and count in the one after. */
struct bulk_seed {
    double seeds;
    daynum newest;
};

static struct bulk_seed bulk_seed_of(const struct orchard *orchard, const struct cross *cross)
{
    struct bulk_seed bulk = {.newest = DAY_NONE};

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (note->kind != NOTE_SEEDS || note->bag != NULL || note->cross == NULL ||
            strcmp(note->cross, cross->name) != 0 || !(note->number > 0))
            continue;
        bulk.seeds += note->number;
        if (note->date > bulk.newest)
            bulk.newest = note->date;
    }
    return bulk;
}

static bool is_in_bulk(const struct orchard *orchard, const struct bag *bag, struct bulk_seed bulk)
{
    if (bulk.newest == DAY_NONE || bag->seeds >= 0)
        return false;
    struct season_rule rule = orchard_season_rule(orchard, bag->graft->tree->site);
    return bag->season + 2 <= day_season(rule, bulk.newest);
}

/* From what was counted last, by the rates that remain.  A bag that was not clean may hold seed of
 * other fathers, and counts for nothing through to the seed. */
static double seeds_of_bag(const struct supply *supply, const struct bag *bag)
{
    const struct orchard *orchard = supply->inputs->state->orchard;
    const struct graft_state *graft = state_graft(supply->inputs->state, bag->graft);
    int number = bag->season - orchard_cycle(orchard, bag->graft);
    static const char *const steps[] = {"conelets_kept", "cones_kept", "seeds_per_cone"};
    size_t step = 0;
    double seeds = bag->strobili;

    if (!bag->clean)
        return 0.0;
    if (bag->seeds >= 0)
        return bag->seeds;
    if (bag->cones >= 0) {
        seeds = bag->cones;
        step = 2;
    } else if (is_gone(graft)) {
        return 0.0;
    } else if (bag->conelets >= 0) {
        seeds = bag->conelets;
        step = 1;
    } else if (bag->visits == 0) {
        return 0.0; /* it hangs and is supply of its own */
    } else {
        if (bag->strobili < 0)
            seeds = known_or_zero(rate_on_graft(orchard, "strobili_per_bag", graft, number));
        if (bag->lot != NULL)
            seeds *= supply->lots[bag->lot - orchard->lots.list].share;
    }
    for (; step < sizeof steps / sizeof *steps; step++)
        seeds *= known_or_zero(rate_on_graft(orchard, steps[step], graft, number));
    return seeds;
}

double seeds_expected_of_cross(const struct supply *supply, const struct cross *cross)
{
    const struct state *state = supply->inputs->state;
    struct bulk_seed bulk = bulk_seed_of(state->orchard, cross);
    double seeds = bulk.seeds;

    for (size_t i = 0; i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];

        if (bag->cross == cross && bag->lost_on == DAY_NONE && bag->graft->tree != NULL &&
            bears_cross(state_graft(state, bag->graft), cross) &&
            !is_in_bulk(state->orchard, bag, bulk))
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
    want->refused = want->selfs || want->coancestry > orchard->program.coancestry_refuse + 1e-12;
    short_of -= seeds_expected_of_cross(supply, cross);
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
    left->share = 1.0; /* untested */
    if (germination < program->germination_full_pct)
        left->share = germination / program->germination_full_pct;
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
    };

    for (size_t i = 0; i < orchard->lots.count; i++)
        fill_lot(&orchard->program, &supply.lots[i], &inputs->state->lots[i]);
    for (size_t i = 0; i < orchard->crosses.count; i++)
        fill_want(&supply, &supply.wants[i], &orchard->crosses.list[i]);
    return supply;
}
