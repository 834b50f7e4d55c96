/*
 * demand_crosses.c - the chain of each wanted cross, by expectation and by assurance.
 */
#include "planning/demand_parts.h"

#include "conetide/binomial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Shares of pollen are whole in these. */
#define SHARE_UNITS 1000000.0
#define SHARE_SCALE 6
#define SEEDS_MOST 1e15

static struct decimal decimal_of(const struct rate *rate)
{
    return rate != NULL ? rate->value : (struct decimal){0, 0};
}

static struct demand_chain_rates rates_of(const struct orchard *orchard, const struct cross *cross)
{
    struct rate_subject subject = {.selection = cross->seed_parent->name};

    return (struct demand_chain_rates){
        .seeds_per_cone = rate_find(orchard, "seeds_per_cone", subject),
        .cones_kept = rate_find(orchard, "cones_kept", subject),
        .conelets_kept = rate_find(orchard, "conelets_kept", subject),
        .strobili_per_bag = rate_find(orchard, "strobili_per_bag", subject),
    };
}

static bool is_lot_of(const struct demand_maker *maker, const struct cross *cross, size_t at)
{
    const struct lot_balance *balance = maker->supply.lots[at].balance;

    if (cross->mix != NULL)
        return balance->lot == cross->mix;
    return balance->lot->part_count == 0 &&
           selection_same(balance->selection, cross->pollen_parent);
}

/* The best lot there is decides how much seed a pollination gives. */
static void take_pollen(const struct demand_maker *maker, struct demand_cross *row)
{
    bool any = false;
    double best = NAN;

    for (size_t i = 0; i < maker->orchard->lots.count; i++) {
        const struct lot_left *lot = &maker->supply.lots[i];

        if (!is_lot_of(maker, row->cross, i))
            continue;
        any = true;
        if (!lot->dead && lot->balance->usable && !(lot->share <= best))
            best = lot->share;
    }
    row->pollen_share = isnan(best) ? 1 : best;
    if (isnan(best))
        row->obstacle = any ? DEMAND_LOT_DEAD : DEMAND_NO_LOT;
}

/* Seed that full pollen would have to give, so that this pollen gives `seeds`; exact. */
static int64_t seeds_with_pollen(int64_t seeds, double share)
{
    struct decimal by = {.units = llround(share * SHARE_UNITS), .scale = SHARE_SCALE};

    return share < 1 ? number_divide_up(seeds, by) : seeds;
}

int64_t demand_assured_strobili(int64_t cones, double kept, double assurance)
{
    int64_t strobili = -1;

    if (cones < 0)
        return -1;
    if (kept >= 1 || cones == 0)
        return cones;
    if (conetide_tries_needed(cones, kept, assurance, &strobili) != CONETIDE_OK)
        return -1;
    return strobili;
}

static double value_of(const struct rate *rate)
{
    return rate != NULL ? number_of_decimal(rate->value) : NAN;
}

static double kept_of(const struct demand_cross *row)
{
    return value_of(row->rates.conelets_kept) * value_of(row->rates.cones_kept);
}

double demand_chance_of_cones(const struct demand_cross *row, int64_t bags)
{
    /* Of strobili the bags hold whole ones. */
    double strobili = floor((double)bags * value_of(row->rates.strobili_per_bag) + DEMAND_ROUNDING);

    if (row->chain.cones <= 0)
        return row->chain.cones == 0 ? 1 : NAN;
    if (!(strobili <= CONETIDE_TRIES_MOST))
        return NAN;
    return conetide_binomial_at_least((int64_t)strobili, row->chain.cones, kept_of(row));
}

static int64_t bags_of(const struct demand_cross *row, int64_t strobili)
{
    return strobili < 0 ? -1 : number_divide_up(strobili, decimal_of(row->rates.strobili_per_bag));
}

/* Conelets as in a winter of hard freeze. */
static double kept_in_freeze(const struct demand_maker *maker, const struct demand_cross *row)
{
    struct rate_subject subject = {.selection = row->cross->seed_parent->name};

    return demand_freeze_rate(maker, "conelets_kept", subject) * value_of(row->rates.cones_kept);
}

static void take_chain(const struct demand_maker *maker, struct demand_cross *row)
{
    double assurance = maker->orchard->program.assurance;
    struct demand_rates rates = {
        .seeds_per_cone = decimal_of(row->rates.seeds_per_cone),
        .cones_kept = decimal_of(row->rates.cones_kept),
        .conelets_kept = decimal_of(row->rates.conelets_kept),
        .strobili_per_bag = decimal_of(row->rates.strobili_per_bag),
    };

    row->chain = demand_chain_of(seeds_with_pollen(row->outstanding, row->pollen_share), rates);
    row->strobili_assured = demand_assured_strobili(row->chain.cones, kept_of(row), assurance);
    row->bags_assured = bags_of(row, row->strobili_assured);
    row->bags_freeze = bags_of(
        row, demand_assured_strobili(row->chain.cones, kept_in_freeze(maker, row), assurance));
    row->chance_expected = row->chain.bags < 0 ? NAN : demand_chance_of_cones(row, row->chain.bags);
}

static bool still_hangs(const struct demand_maker *maker, const struct bag *bag)
{
    const struct flowering_rows *rows = &maker->inputs->flowering;

    if (bag->visits > 0 || !bag->clean || bag->lost_on != DAY_NONE || bag->unbagged_on != DAY_NONE)
        return false;
    for (size_t r = 0; r < rows->count; r++)
        if (rows->list[r].graft->graft == bag->graft && rows->list[r].season == bag->season)
            return rows->list[r].chance_alive > 0 && !rows->list[r].over &&
                   demand_spring_of(maker, &rows->list[r]) == 0;
    return false;
}

static int64_t hanging_of(const struct demand_maker *maker, const struct cross *cross)
{
    const struct state *state = maker->inputs->state;
    int64_t hanging = 0;

    for (size_t i = 0; i < state->bag_count; i++)
        hanging += state->bags[i].cross == cross && still_hangs(maker, &state->bags[i]);
    return hanging;
}

static void fill_cross(const struct demand_maker *maker, struct demand_cross *row)
{
    const struct program *program = &maker->orchard->program;
    const struct want *want = &maker->supply.wants[row->cross - maker->orchard->crosses.list];
    double short_of = (double)row->cross->seeds_wanted - row->cross->seeds_in_store;

    row->coancestry = want->coancestry;
    row->warned = !want->refused && coancestry_is_warned(program, want->coancestry);
    row->value = pedigree_cross_value(row->cross);
    row->rates = rates_of(maker->orchard, row->cross);
    row->seeds_expected = want->seeds_expected;
    short_of -= row->seeds_expected;
    if (short_of > DEMAND_ROUNDING && short_of < SEEDS_MOST)
        row->outstanding = (int64_t)ceil(short_of - DEMAND_ROUNDING);
    take_pollen(maker, row);
    take_chain(maker, row);
    if (row->bags_assured < 0)
        row->obstacle = DEMAND_NO_RATE;
    if (want->refused)
        row->obstacle = want->selfs ? DEMAND_SELF : DEMAND_RELATED;
    if (row->bags_assured > 0 && !want->refused) {
        row->hanging = hanging_of(maker, row->cross);
        row->bags = row->bags_assured;
    }
}

static int by_priority(const void *a, const void *b)
{
    const struct demand_cross *x = a, *y = b;

    if (x->cross->priority != y->cross->priority)
        return x->cross->priority - y->cross->priority;
    return strcmp(x->cross->name, y->cross->name);
}

void demand_add_crosses(struct demand_maker *maker, struct demand_plan *plan)
{
    const struct orchard *orchard = maker->orchard;

    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross->state != CROSS_WANTED || cross->seed_parent == NULL ||
            (cross->pollen_parent == NULL && cross->mix == NULL))
            continue;
        struct demand_cross *row = ARENA_PUSH(maker->arena, plan->crosses.list, plan->crosses.count,
                                              plan->crosses.capacity);
        *row = (struct demand_cross){.cross = cross};
        fill_cross(maker, row);
        demand_add_rate(maker, plan, row->rates.seeds_per_cone, USE_FOR_CROSSES);
        demand_add_rate(maker, plan, row->rates.cones_kept, USE_FOR_CROSSES);
        demand_add_rate(maker, plan, row->rates.conelets_kept, USE_FOR_CROSSES);
        demand_add_rate(maker, plan, row->rates.strobili_per_bag, USE_FOR_CROSSES);
    }
    if (plan->crosses.count > 1)
        qsort(plan->crosses.list, plan->crosses.count, sizeof *plan->crosses.list, by_priority);
}
