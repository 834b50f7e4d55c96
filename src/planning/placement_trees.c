/*
 * placement_trees.c - which trees can take grafts this winter, and why others cannot.
 */
#include "planning/grafting.h"
#include "planning/placement_parts.h"

#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>

int placement_season(const struct placement_maker *maker, const struct site *site)
{
    return day_season(orchard_season_rule(maker->orchard, site), maker->orchard->as_of) +
           maker->inputs->demand->ahead;
}

/* The highest lift that may stand at the site from as-of on, or, where lifts.csv tells of none, one
 * that did; infinite: no reach is told. */
static double reach_at(const struct orchard *orchard, const struct site *site)
{
    double reach = NAN, once = NAN;

    for (size_t i = 0; i < orchard->lifts.count; i++) {
        const struct lift_time *lift = &orchard->lifts.list[i];

        if ((lift->site != NULL && lift->site != site) || !(lift->hours_per_day > 0))
            continue;
        double here = isnan(lift->reach_m) ? INFINITY : lift->reach_m;
        once = once > here ? once : here;
        if (lift->to == DAY_NONE || lift->to >= orchard->as_of)
            reach = reach > here ? reach : here;
    }
    reach = isnan(reach) ? once : reach;
    return isnan(reach) ? INFINITY : reach;
}

/* Is this winter's grafting over for the tree? */
static bool is_closed(const struct placement_maker *maker, const struct grafting_rows *windows,
                      const struct tree *tree)
{
    int season = placement_season(maker, tree->site);

    for (size_t i = 0; i < windows->count; i++) {
        const struct grafting_row *row = &windows->list[i];

        if (row->site == tree->site && order_text(row->clone, tree->clone) == 0)
            return row->season > season || (row->season == season && row->state == GRAFTING_CLOSED);
    }
    return false;
}

static enum placement_cause cause_of(const struct placement_maker *maker,
                                     const struct grafting_rows *windows, const struct tree *tree,
                                     double reach)
{
    bool counted = false, free = false;

    if (tree->health == HEALTH_DEAD)
        return PLACEMENT_TREE_DEAD;
    if (tree->health == HEALTH_WEAK && !maker->inputs->options.weak)
        return PLACEMENT_TREE_WEAK;
    if (tree->reach_needed_m > reach)
        return PLACEMENT_OUT_OF_REACH;
    if (is_closed(maker, windows, tree))
        return PLACEMENT_CLOSED;
    for (int crown = CROWN_TOP; crown < CROWNS; crown++) {
        int places = state_free_places(maker->inputs->state, tree, (enum crown)crown);

        counted = counted || places >= 0;
        free = free || places > 0;
    }
    return !counted ? PLACEMENT_NOT_COUNTED : !free ? PLACEMENT_FULL : PLACEMENT_NONE;
}

static void offer(struct placement_maker *maker, const struct tree *tree, size_t clone)
{
    struct placement_question *question = &maker->question;

    for (int crown = CROWN_TOP; crown < CROWNS; crown++) {
        int free = state_free_places(maker->inputs->state, tree, (enum crown)crown);

        if (free <= 0)
            continue;
        maker->offers[question->zones] = (struct placement_offer){tree, (enum crown)crown};
        maker->zones[question->zones++] =
            (struct placement_zone){.tree = question->trees, .clone = clone, .free = free};
        maker->placement->places += free;
    }
    question->trees++;
}

/* Trees without a clone's name may be of any: each counts as one of its own. */
static size_t clone_of(struct placement_maker *maker, const struct tree *tree)
{
    for (size_t z = 0; tree->clone != NULL && z < maker->question.zones; z++) {
        const struct tree *other = maker->offers[z].tree;

        if (order_text(other->clone, tree->clone) == 0)
            return maker->zones[z].clone;
    }
    return maker->question.clones++;
}

static int order_left(const void *left, const void *right)
{
    const struct left_tree *a = left, *b = right;
    int order = (int)a->cause - (int)b->cause;

    return order != 0 ? order : order_text(a->tree->name, b->tree->name);
}

void placement_add_trees(struct placement_maker *maker)
{
    const struct orchard *orchard = maker->orchard;
    struct placement *placement = maker->placement;
    struct grafting_rows windows =
        grafting_of(maker->inputs->state, maker->inputs->dates, maker->arena);

    maker->offers =
        ARENA_ARRAY(maker->arena, orchard->trees.count * CROWNS, struct placement_offer);
    maker->zones = ARENA_ARRAY(maker->arena, orchard->trees.count * CROWNS, struct placement_zone);
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        double reach = reach_at(orchard, tree->site);
        enum placement_cause cause;

        if (!(tree->uses & USE_GRAFT))
            continue;
        placement->reach_known = placement->reach_known || isfinite(reach);
        cause = cause_of(maker, &windows, tree, reach);
        if (cause == PLACEMENT_NONE)
            offer(maker, tree, clone_of(maker, tree));
        else
            *ARENA_PUSH(maker->arena, placement->trees.list, placement->trees.count,
                        placement->trees.capacity) = (struct left_tree){tree, cause, reach};
    }
    if (placement->trees.count > 1)
        qsort(placement->trees.list, placement->trees.count, sizeof *placement->trees.list,
              order_left);
    maker->question.places = maker->zones;
}
