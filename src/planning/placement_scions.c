/*
 * placement_scions.c - grafts wanted of each selection, and the scions there are for them.
 */
#include "planning/placement_parts.h"

#include "orchard/order.h"

#include <stdlib.h>

static const struct selection *self_of(const struct selection *selection)
{
    return selection->self != NULL ? selection->self : selection;
}

static int64_t scions_left(const struct orchard *orchard, const struct batch *batch)
{
    int64_t left = batch->count;

    if (left < 0)
        return -1;
    for (size_t g = 0; g < orchard->grafts.count; g++)
        left -= orchard->grafts.list[g].batch == batch;
    return left > 0 ? left : 0;
}

/* What the tree is, so are its scions. */
static bool is_relabelled(const struct state *state, const struct batch *batch)
{
    const struct note *note =
        batch->source_tree != NULL
            ? state->relabelled_trees[batch->source_tree - state->orchard->trees.list]
            : NULL;

    return note != NULL &&
           !selection_same(orchard_selection(state->orchard, note->value), batch->selection);
}

static enum placement_cause cause_of_batch(const struct state *state,
                                           const struct placed_batch *row)
{
    if (row->batch->discarded_on != DAY_NONE)
        return PLACEMENT_DISCARDED;
    if (is_relabelled(state, row->batch))
        return PLACEMENT_RELABELLED;
    if (row->left < 0)
        return PLACEMENT_NO_COUNT;
    return row->age_days > PLACEMENT_STORE_MOST_DAYS ? PLACEMENT_TOO_OLD : PLACEMENT_NONE;
}

/* Batches cut for this winter, as at the site they were cut on or else the first. */
static void add_batches(struct placement_maker *maker)
{
    const struct orchard *orchard = maker->orchard;
    struct placement *placement = maker->placement;

    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct batch *batch = &orchard->batches.list[i];
        const struct site *site = batch->source_tree != NULL ? batch->source_tree->site
                                  : orchard->sites.count > 0 ? &orchard->sites.list[0]
                                                             : NULL;
        struct placed_batch row = {.batch = batch, .left = scions_left(orchard, batch)};

        if (batch->selection == NULL || batch->cut_on == DAY_NONE || row.left == 0 ||
            day_season(orchard_season_rule(orchard, site), batch->cut_on) !=
                placement_season(maker, site))
            continue;
        row.age_days = orchard->as_of - batch->cut_on;
        row.cause = cause_of_batch(maker->inputs->state, &row);
        *ARENA_PUSH(maker->arena, placement->batches.list, placement->batches.count,
                    placement->batches.capacity) = row;
    }
}

static int64_t scions_ready(const struct placement *placement, const struct selection *selection)
{
    int64_t scions = 0;

    for (size_t i = 0; i < placement->batches.count; i++) {
        const struct placed_batch *row = &placement->batches.list[i];

        if (row->cause == PLACEMENT_NONE && selection_same(row->batch->selection, selection))
            scions += row->left;
    }
    return scions;
}

static struct placed_selection *add_selection(struct placement_maker *maker,
                                              const struct selection *selection)
{
    struct placement *placement = maker->placement;
    struct placed_selection *row =
        ARENA_PUSH(maker->arena, placement->selections.list, placement->selections.count,
                   placement->selections.capacity);

    *row = (struct placed_selection){.selection = self_of(selection)};
    return row;
}

/* Bags that new grafts may carry, whoever carries them now. */
static int64_t bags_after(const struct demand_plan *demand, const struct demand_cross *row)
{
    int64_t bags = row->later;

    for (int spring = demand->ahead + 1; spring < DEMAND_SPRINGS; spring++)
        bags += row->covered[spring];
    return bags;
}

static int highest_priority(const struct demand_plan *demand, const struct selection *selection)
{
    int highest = 0;

    for (size_t i = 0; i < demand->crosses.count; i++) {
        const struct demand_cross *row = &demand->crosses.list[i];

        if (bags_after(demand, row) > 0 && selection_same(row->cross->seed_parent, selection) &&
            (highest == 0 || row->cross->priority < highest))
            highest = row->cross->priority;
    }
    return highest;
}

static void want_by_demand(struct placement_maker *maker)
{
    const struct demand_plan *demand = maker->inputs->demand;

    for (size_t i = 0; i < demand->selections.count; i++) {
        const struct demand_selection *of = &demand->selections.list[i];
        struct placed_selection *row;
        int64_t ready = scions_ready(maker->placement, of->selection);

        if (of->grafts == 0)
            continue;
        row = add_selection(maker, of->selection);
        row->by_demand = true;
        row->priority = highest_priority(demand, of->selection);
        row->wanted = of->grafts > 0 ? of->grafts : ready;
        if (of->grafts < 0)
            row->cause = PLACEMENT_NO_NUMBER;
        if (maker->inputs->options.in_store && row->wanted > ready)
            row->cause = PLACEMENT_NO_SCIONS;
    }
}

/* Nothing is wanted of crosses: what scions there are find places. */
static void want_what_is_there(struct placement_maker *maker)
{
    const struct orchard *orchard = maker->orchard;

    for (size_t i = 0; i < orchard->selections.count; i++) {
        const struct selection *selection = &orchard->selections.list[i];
        int64_t ready = scions_ready(maker->placement, selection);

        if (ready > 0 && self_of(selection) == selection)
            add_selection(maker, selection)->wanted = ready;
    }
}

static int order_selection(const void *left, const void *right)
{
    const struct placed_selection *a = left, *b = right;

    return order_text(a->selection->name, b->selection->name);
}

void placement_add_wanted(struct placement_maker *maker)
{
    struct placement *placement = maker->placement;

    add_batches(maker);
    placement->by_demand = maker->inputs->demand->crosses.count > 0;
    if (placement->by_demand)
        want_by_demand(maker);
    else
        want_what_is_there(maker);
    if (placement->selections.count > 1)
        qsort(placement->selections.list, placement->selections.count,
              sizeof *placement->selections.list, order_selection);
    maker->question.selections = placement->selections.count;
}

/* The oldest cut that has a scion left, then by name. */
static struct placed_batch *oldest_of(struct placement *placement,
                                      const struct selection *selection)
{
    struct placed_batch *oldest = NULL;

    for (size_t i = 0; i < placement->batches.count; i++) {
        struct placed_batch *row = &placement->batches.list[i];

        if (row->cause == PLACEMENT_NONE && row->given < row->left &&
            selection_same(row->batch->selection, selection) &&
            (oldest == NULL || row->age_days > oldest->age_days))
            oldest = row;
    }
    return oldest;
}

static struct placed_selection *row_of(struct placement *placement,
                                       const struct selection *selection)
{
    struct placed_selection *row = placement->selections.list;

    while (row->selection != selection)
        row++;
    return row;
}

void placement_give_scions(struct placement_maker *maker)
{
    struct placement *placement = maker->placement;

    for (size_t i = 0; i < placement->grafts.count; i++) {
        struct placed_graft *graft = &placement->grafts.list[i];
        struct placed_batch *batch = oldest_of(placement, graft->selection);
        struct placed_selection *row = row_of(placement, graft->selection);

        row->in_store += batch != NULL;
        row->to_cut += batch == NULL;
        if (batch == NULL)
            continue;
        graft->batch = batch->batch;
        batch->given++;
    }
    for (size_t i = 0; i < placement->batches.count; i++) {
        struct placed_batch *batch = &placement->batches.list[i];

        if (batch->cause == PLACEMENT_NONE && batch->given < batch->left)
            batch->cause = PLACEMENT_NOT_WANTED;
    }
}
