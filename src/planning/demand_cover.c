/*
 * demand_cover.c - which grafts, of those that stand, carry the bags of which cross.
 */
#include "planning/demand_parts.h"

#include <math.h>

/* Is there a day left on which a clean bag can be hung?  Where no day is known there is. */
static bool may_be_bagged(const struct demand_maker *maker, const struct flowering_row *row)
{
    double clean_chance = maker->orchard->program.clean_chance;
    daynum latest = bloom_date(row->bloom, EVENT_BAG_BY, 1 - clean_chance);

    return latest == DAY_NONE || latest >= maker->orchard->as_of;
}

/* Places expected on all grafts of a clone, in whole bags. */
static void count_places(struct demand_maker *maker)
{
    const struct flowering_rows *rows = &maker->inputs->flowering;
    size_t count = maker->orchard->selections.count;
    double(*sums)[DEMAND_SPRINGS] = arena_alloc(maker->arena, count, sizeof *sums);

    for (size_t r = 0; r < rows->count; r++) {
        const struct flowering_row *row = &rows->list[r];
        int spring = demand_spring_of(maker, row);

        if (row->graft->selection == NULL || spring < 0 || spring >= DEMAND_SPRINGS ||
            (spring == 0 && !may_be_bagged(maker, row)) || isnan(row->chance_alive))
            continue;
        sums[demand_tally_of(maker, row->graft->selection) - maker->tallies][spring] +=
            row->chance_alive * maker->places[r];
    }
    for (size_t s = 0; s < count; s++)
        for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
            maker->tallies[s].left[spring] = (int64_t)floor(sums[s][spring] + DEMAND_ROUNDING);
}

/* So many of the bags wanted as the clone's places of the spring can carry. */
static int64_t take(struct demand_maker *maker, const struct selection *carrier, int spring,
                    int64_t wanted)
{
    struct demand_tally *tally = demand_tally_of(maker, carrier);
    int64_t taken = wanted < tally->left[spring] ? wanted : tally->left[spring];

    tally->left[spring] -= taken;
    if (spring <= maker->ahead)
        tally->early += taken;
    else
        tally->later += taken;
    return taken;
}

static void cover_cross(struct demand_maker *maker, struct demand_cross *row)
{
    const struct cross *cross = row->cross;
    int only = cross->season != 0 ? cross->season - maker->season : -1;
    int64_t left = row->bags - row->hanging;

    if (left < 0)
        left = 0;
    for (int spring = 0; spring < DEMAND_SPRINGS; spring++) {
        if (cross->season != 0 && spring != only)
            continue;
        row->covered[spring] = take(maker, cross->seed_parent, spring, left);
        left -= row->covered[spring];
        if (cross->either_way && cross->pollen_parent != NULL) {
            int64_t turned = take(maker, cross->pollen_parent, spring, left);

            row->covered[spring] += turned;
            left -= turned;
        }
    }
    if (cross->season != 0 && only <= maker->ahead) {
        row->lost = left;
    } else {
        row->later = left;
        demand_tally_of(maker, cross->seed_parent)->later += left;
    }
}

/* Bags of a cross that may wait, moved from the spring to the first later one with a place. */
static int64_t put_off(struct demand_maker *maker, struct demand_cross *row, int spring,
                       int64_t wanted)
{
    struct demand_tally *tally = demand_tally_of(maker, row->cross->seed_parent);
    int64_t moved = 0;

    for (int later = spring + 1; later < DEMAND_SPRINGS; later++) {
        int64_t may = row->covered[spring] < wanted - moved ? row->covered[spring] : wanted - moved;
        int64_t bags = may < tally->left[later] ? may : tally->left[later];

        row->covered[spring] -= bags;
        row->covered[later] += bags;
        tally->left[later] -= bags;
        tally->left[spring] += bags;
        if (spring <= maker->ahead && later > maker->ahead) {
            tally->early -= bags;
            tally->later += bags;
        }
        moved += bags;
    }
    return moved;
}

/* A cross that is asked for in one season only comes before others of its seed parent that may as
 * well wait, whatever their priority: they lose nothing.  The least urgent waits first. */
static void make_room(struct demand_maker *maker, struct demand_plan *plan,
                      struct demand_cross *row)
{
    int spring = row->cross->season - maker->season;

    if (spring < 0 || spring >= DEMAND_SPRINGS)
        return;
    for (size_t i = plan->crosses.count; i-- > 0 && row->lost > 0;) {
        struct demand_cross *other = &plan->crosses.list[i];

        if (other->cross->season != 0 || other->cross->either_way ||
            !selection_same(other->cross->seed_parent, row->cross->seed_parent) ||
            put_off(maker, other, spring, row->lost) == 0)
            continue;
        int64_t bags = take(maker, row->cross->seed_parent, spring, row->lost);
        row->covered[spring] += bags;
        row->lost -= bags;
    }
}

void demand_cover(struct demand_maker *maker, struct demand_plan *plan)
{
    count_places(maker);
    for (size_t i = 0; i < plan->crosses.count; i++)
        cover_cross(maker, &plan->crosses.list[i]);
    for (size_t i = 0; i < plan->crosses.count; i++)
        if (plan->crosses.list[i].lost > 0)
            make_room(maker, plan, &plan->crosses.list[i]);
    for (size_t i = 0; i < plan->crosses.count; i++) {
        struct demand_cross *row = &plan->crosses.list[i];
        int64_t covered = row->hanging;

        for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
            covered += row->covered[spring];
        row->chance_covered = row->bags > 0 ? demand_chance_of_cones(row, covered) : NAN;
    }
}
