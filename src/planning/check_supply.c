/*
 * check_supply.c - the limits of a plan counted anew: places on grafts, bags of crosses, seed of a
 * bag.
 */
#include "planning/check_parts.h"

#include "orchard/demand.h"

#include <math.h>
#include <string.h>

#define NEAR 1e-9

static double rate(const struct check *check, const char *name, const struct graft_state *graft,
                   int season_number)
{
    const struct tree *tree = graft->graft->tree;
    const struct rate *row = rate_find(check->orchard, name,
                                       (struct rate_subject){.host_species = tree->species,
                                                             .clone = tree->clone,
                                                             .site = tree->site_name,
                                                             .selection = graft->selection->name,
                                                             .season_number = season_number});

    return row != NULL ? number_of_decimal(row->value) : 0.0;
}

int64_t check_task_minutes(const struct check *check, const struct planned_bag *bag,
                           enum bag_task task)
{
    const struct task_kind *kind = check_task_kind(check, task);
    const struct group *group = bag->group;
    const struct tree *tree = group->graft->graft->tree;

    if (kind == NULL)
        return 0;
    struct task_minutes minutes =
        task_minutes_of(check->orchard, kind,
                        (struct rate_subject){.host_species = tree->species,
                                              .clone = tree->clone,
                                              .site = tree->site_name,
                                              .selection = group->graft->selection->name,
                                              .season_number = group->season_number});
    return minutes.each + minutes.per_tree;
}

int places_by_count(const struct check *check, const struct flowering_row *row)
{
    double a_bag = rate(check, "strobili_per_bag", row->graft, row->season_number);
    double most = floor(rate(check, "bags_per_graft", row->graft, row->season_number) + NEAR);
    double strobili = row->strobili;

    if (!row->counted)
        strobili *= check->orchard->program.uncounted_share;
    if (!(strobili > 0) || !(a_bag > 0) || !(row->chance_alive > 0))
        return 0;
    double places = 0;
    while (places < most && strobili >= a_bag / 2 - NEAR) {
        places++;
        strobili -= a_bag;
    }
    for (size_t i = 0; i < check->inputs->state->bag_count; i++) {
        const struct bag *hung = &check->inputs->state->bags[i];

        if (hung->graft == row->graft->graft && hung->season == row->season)
            places--;
    }
    places -= state_empty_shoots(check->inputs->state, row->graft->graft, row->season);
    return places > 0 ? (int)places : 0;
}

double seeds_of_one_bag(const struct check *check, const struct group *group)
{
    const struct graft_state *graft = group->graft;
    int number = group->season_number;
    double strobili = rate(check, "strobili_per_bag", graft, number);

    if (group->hangs != NULL && group->hangs->strobili >= 0)
        strobili = group->hangs->strobili;
    /* Seed of a graft that turned out to be another clone is not seed of this cross. */
    const struct selection *due =
        group->turned_round ? group->cross->pollen_parent : group->cross->seed_parent;
    if (!selection_same(graft->selection, due))
        return 0.0;
    return strobili * rate(check, "conelets_kept", graft, number) *
           rate(check, "cones_kept", graft, number) * rate(check, "seeds_per_cone", graft, number) *
           group->flowering->chance_alive;
}

double germination_share(const struct check *check, const struct lot_balance *lot)
{
    double full = check->orchard->program.germination_full_pct;

    if (isnan(lot->germination_pct) || !(full > 0) || lot->germination_pct >= full)
        return 1.0;
    return lot->germination_pct / full;
}

/* Do seed parent and pollen of a bag, by what is known of them, make the cross one way round? */
static bool parents_are(const struct check *check, const struct bag *bag,
                        const struct selection *seed, const struct selection *pollen)
{
    const struct state *state = check->inputs->state;

    if (!selection_same(state_graft(state, bag->graft)->selection, seed))
        return false;
    if (bag->lot == NULL) { /* the pollen to come is that of the cross noted */
        const struct cross *noted = bag->cross;
        bool turned = noted != NULL && noted->either_way &&
                      selection_same(bag->graft->selection, noted->pollen_parent);

        return noted != NULL && noted->mix == NULL &&
               selection_same(turned ? noted->seed_parent : noted->pollen_parent, pollen);
    }
    return bag->lot->part_count == 0 &&
           selection_same(state->lots[bag->lot - check->orchard->lots.list].selection, pollen);
}

static bool is_made_by(const struct check *check, const struct bag *bag, const struct cross *cross)
{
    if (cross->mix != NULL)
        return selection_same(state_graft(check->inputs->state, bag->graft)->selection,
                              cross->seed_parent) &&
               (bag->lot != NULL ? bag->lot == cross->mix
                                 : bag->cross != NULL && bag->cross->mix == cross->mix);
    return parents_are(check, bag, cross->seed_parent, cross->pollen_parent) ||
           (cross->either_way && parents_are(check, bag, cross->pollen_parent, cross->seed_parent));
}

/* The cross noted, where it is that; else the first by name that is wanted. */
static bool counts_for(const struct check *check, const struct bag *bag, const struct cross *cross)
{
    if (bag->graft->tree == NULL || !is_made_by(check, bag, cross))
        return false;
    if (bag->cross == cross)
        return true;
    if (cross->state != CROSS_WANTED || (bag->cross != NULL && is_made_by(check, bag, bag->cross)))
        return false;
    for (const struct cross *before = check->orchard->crosses.list; before < cross; before++)
        if (before->state == CROSS_WANTED && is_made_by(check, bag, before))
            return false;
    return true;
}

/* Filled seed still expected of a bag that has been pollinated; 0 when it is lost or was not clean.
 */
static double seeds_expected_of(const struct check *check, const struct bag *bag)
{
    const struct state *state = check->inputs->state;
    const struct graft_state *graft = state_graft(state, bag->graft);

    if (!bag->clean || bag->lost_on != DAY_NONE)
        return 0.0;
    if (bag->seeds >= 0)
        return bag->seeds;
    int number = bag->season - orchard_cycle(check->orchard, bag->graft);
    double of_cone = rate(check, "seeds_per_cone", graft, number);
    if (bag->cones >= 0)
        return bag->cones * of_cone;
    if (graft->condition == CONDITION_DEAD || graft->condition == CONDITION_LOST ||
        graft->condition == CONDITION_REMOVED)
        return 0.0;
    double of_conelet = of_cone * rate(check, "cones_kept", graft, number);
    if (bag->conelets >= 0)
        return bag->conelets * of_conelet;
    if (bag->visits == 0)
        return 0.0;
    double strobili =
        bag->strobili >= 0 ? bag->strobili : rate(check, "strobili_per_bag", graft, number);
    double share = 1.0;
    if (bag->lot != NULL)
        share = germination_share(check, &state->lots[bag->lot - check->orchard->lots.list]);
    return strobili * of_conelet * rate(check, "conelets_kept", graft, number) * share;
}

/* Seed noted of the cross as a whole is that of bags of two seasons before and earlier, so far as
 * their own was not counted. */
static bool stands_in_bulk(const struct check *check, const struct bag *bag,
                           const struct cross *cross)
{
    const struct orchard *orchard = check->orchard;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (note->kind == NOTE_SEEDS && note->bag == NULL && note->cross != NULL &&
            note->number > 0 && strcmp(note->cross, cross->name) == 0 && bag->seeds < 0 &&
            bag->graft->tree != NULL &&
            day_season(orchard_season_rule(orchard, bag->graft->tree->site), note->date) >=
                bag->season + 2)
            return true;
    }
    return false;
}

int64_t bags_by_demand(const struct check *check, const struct cross *cross)
{
    const struct state *state = check->inputs->state;
    double seeds = cross->seeds_wanted - cross->seeds_in_store;

    for (size_t i = 0; i < check->orchard->notes.count; i++) {
        const struct note *note = &check->orchard->notes.list[i];

        if (note->kind == NOTE_SEEDS && note->bag == NULL && note->cross != NULL &&
            note->number > 0 && strcmp(note->cross, cross->name) == 0)
            seeds -= note->number;
    }
    for (size_t i = 0; i < state->bag_count; i++)
        if (counts_for(check, &state->bags[i], cross) &&
            !stands_in_bulk(check, &state->bags[i], cross))
            seeds -= seeds_expected_of(check, &state->bags[i]);
    if (!(seeds > NEAR))
        return 0;
    int64_t bags =
        demand_chain_of((int64_t)ceil(seeds - NEAR), demand_rates_of(check->orchard, cross, 0))
            .bags;
    return bags > 0 ? bags : 0;
}
