/*
 * candidate.c - what one group of bags may have: places, lots, minutes, seed.
 */
#include "planning/crossing_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool is_past(const struct candidate *candidate)
{
    /* Where no day is known at all nothing is past. */
    return candidate->group->stage == BAG_HANGS && candidate->table->visit_days == 0 &&
           candidate->table->last_visit != DAY_NONE;
}

bool gives_no_seed(const struct candidate *candidate)
{
    const struct bag *hangs = candidate->group->hangs;

    return hangs != NULL && (!hangs->clean || is_past(candidate));
}

bool is_wanted(const struct candidate *candidate)
{
    enum bag_stage stage = candidate->group->stage;

    return stage == BAG_WANTED || (stage == BAG_HANGS && !gives_no_seed(candidate));
}

bool must_come_off(const struct candidate *candidate)
{
    enum bag_stage stage = candidate->group->stage;

    return stage == BAG_VISITED_ONCE || stage == BAG_VISITED || is_past(candidate);
}

static const struct orchard *orchard_of(const struct supply *supply)
{
    return supply->inputs->state->orchard;
}

static double or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

static double rate_of_row(const struct supply *supply, const char *rate,
                          const struct flowering_row *row)
{
    return or_zero(rate_on_graft(orchard_of(supply), rate, row->graft, row->season_number));
}

int places_left(const struct supply *supply, const struct flowering_row *row)
{
    const struct state *state = supply->inputs->state;
    double strobili = row->strobili;
    double most = rate_of_row(supply, "bags_per_graft", row);

    if (!(row->chance_alive > 0))
        return 0;
    if (!row->counted)
        strobili *= orchard_of(supply)->program.uncounted_share;
    int places = bag_places_of(strobili, rate_of_row(supply, "strobili_per_bag", row),
                               (int)floor(most + 1e-9));
    for (size_t i = 0; i < state->bag_count; i++)
        if (state->bags[i].graft == row->graft->graft && state->bags[i].season == row->season)
            places--;
    places -= state_empty_shoots(state, row->graft->graft, row->season);
    return places > 0 ? places : 0;
}

static int better_lot(const void *a, const void *b)
{
    const struct lot_left *x = *(struct lot_left *const *)a, *y = *(struct lot_left *const *)b;

    if (x->share > y->share || x->share < y->share)
        return x->share > y->share ? -1 : 1;
    return strcmp(x->balance->lot->name, y->balance->lot->name);
}

bool lot_is_pollen_of(const struct lot *lot, const struct group *group)
{
    if (group->hangs != NULL && group->hangs->visits > 0)
        return lot == group->hangs->lot;
    if (group->pollen_parent == NULL)
        return lot == group->cross->mix;
    return lot->part_count == 0 && selection_same(lot->selection, group->pollen_parent);
}

static void fill_lots(const struct supply *supply, struct candidate *candidate)
{
    const struct group *group = candidate->group;
    bool begun = group->hangs != NULL && group->hangs->visits > 0;
    size_t count = 0;

    for (size_t i = 0; i < orchard_of(supply)->lots.count; i++)
        count += lot_is_pollen_of(&orchard_of(supply)->lots.list[i], group);
    candidate->lots = ARENA_ARRAY(supply->inputs->arena, count, struct lot_left *);
    for (size_t i = 0; i < orchard_of(supply)->lots.count; i++) {
        struct lot_left *lot = &supply->lots[i];

        /* The lot of a bag that has been pollinated stands, whatever became of it. */
        if (lot_is_pollen_of(&orchard_of(supply)->lots.list[i], group) &&
            (begun || (!lot->dead && lot->balance->usable)))
            candidate->lots[candidate->lot_count++] = lot;
    }
    if (candidate->lot_count > 1)
        qsort(candidate->lots, candidate->lot_count, sizeof *candidate->lots, better_lot);
}

static double seeds_of(const struct supply *supply, const struct group *group)
{
    const struct flowering_row *row = group->flowering;
    const struct selection *due =
        group->turned_round ? group->cross->pollen_parent : group->cross->seed_parent;
    double strobili = rate_of_row(supply, "strobili_per_bag", row);

    if (group->hangs != NULL && group->hangs->strobili >= 0)
        strobili = group->hangs->strobili;
    if (!selection_same(group->graft->selection, due))
        return 0.0; /* a bag that hangs on what turned out to be another clone */
    return strobili * rate_of_row(supply, "conelets_kept", row) *
           rate_of_row(supply, "cones_kept", row) * rate_of_row(supply, "seeds_per_cone", row) *
           row->chance_alive;
}

void fill_candidate(const struct supply *supply, struct candidate *candidate)
{
    struct group *group = candidate->group;

    for (int job = 0; job < JOBS; job++) {
        candidate->minutes[job] =
            job_minutes(orchard_of(supply), (enum job)job, group->graft, group->season_number);
        candidate->work[job] = job_work(orchard_of(supply), (enum job)job);
    }
    fill_lots(supply, candidate);
    group->seeds_per_bag = seeds_of(supply, group);
    candidate->worth = group->weight * group->seeds_per_bag;
    if (candidate->lot_count > 0)
        candidate->best =
            candidate->worth * candidate->table->best_fresh * candidate->lots[0]->share;
}
