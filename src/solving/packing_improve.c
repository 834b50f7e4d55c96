/*
 * packing_improve.c - a plan made better by pushing jobs out.
 *
 * One job of a group that has some left is put in by a way that gains nearly as much as its best;
 * where it does not fit, jobs that gain least are taken out, and then whatever fits is put in. What
 * is worth more stays.
 */
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

#define NEARLY 0.15 /* of the group's worth, below its best gain */
#define ROUNDS 20

/* Rows that a job takes from, at most: 4 steps in 3 sets each, and 3 limits. */
#define ROWS_MOST 15
struct takes {
    int count;
    int32_t row[ROWS_MOST], much[ROWS_MOST];
};

static void add_take(struct takes *takes, int32_t row, int32_t much)
{
    takes->row[takes->count] = row;
    takes->much[takes->count++] = much;
}

static void add_step(const struct pack_state *state, const struct pack_group *group,
                     enum pack_step step, int32_t day, struct takes *takes)
{
    if (day == PACK_NONE)
        return;
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);

    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        add_take(takes, set * state->cells + cell, group->minutes[step]);
}

static struct takes takes_of(const struct pack_state *state, int32_t g, int32_t way, int32_t early,
                             int32_t late)
{
    const struct pack_group *group = &state->packing->groups[g];
    struct takes takes = {.count = 0};

    add_step(state, group, PACK_EARLY, early, &takes);
    for (int v = 0; v < 2; v++)
        add_step(state, group, PACK_MAIN, group->ways[way].main[v], &takes);
    add_step(state, group, PACK_LATE, late, &takes);
    for (int l = 0; l < 3; l++)
        if (group->limit[l] != PACK_NONE)
            add_take(&takes, pack_limit_row(state, group->limit[l]),
                     l == 2 ? pack_mains(&group->ways[way]) : 1);
    return takes;
}

static double value_of(const struct pack_state *state, const struct pack_item *item)
{
    const struct pack_group *group = &state->packing->groups[item->group];

    return group->worth * group->ways[item->way].share;
}

static double gain_of(const struct pack_state *state, const struct pack_item *item)
{
    struct takes takes = takes_of(state, item->group, item->way, item->early, item->late);
    double gain = value_of(state, item);

    for (int i = 0; i < takes.count; i++)
        gain -= state->price[takes.row[i]] * takes.much[i];
    return gain;
}

/* Does a step on `day` take minutes from the row?  Rows of a set lie by cell, so most answers need
 * no more than the cell. */
static bool step_takes(const struct pack_state *state, const struct pack_group *group,
                       enum pack_step step, int32_t day, int32_t row)
{
    if (day == PACK_NONE || group->minutes[step] <= 0)
        return false;
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];

    if (row % state->cells != pack_cell(state, lane->site, day))
        return false;
    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        if (row / state->cells == set)
            return true;
    return false;
}

static bool takes_from(const struct pack_state *state, const struct pack_item *item, int32_t row)
{
    const struct pack_group *group = &state->packing->groups[item->group];
    const struct pack_way *way = &group->ways[item->way];

    if (row >= PACK_SETS * state->cells) {
        for (int l = 0; l < 3; l++)
            if (group->limit[l] != PACK_NONE && pack_limit_row(state, group->limit[l]) == row)
                return l < 2 || pack_mains(way) > 0;
        return false;
    }
    return step_takes(state, group, PACK_EARLY, item->early, row) ||
           step_takes(state, group, PACK_MAIN, way->main[0], row) ||
           step_takes(state, group, PACK_MAIN, way->main[1], row) ||
           step_takes(state, group, PACK_LATE, item->late, row);
}

static struct pack_pick pick_of(const struct pack_item *item)
{
    return (struct pack_pick){item->way, item->early, item->late, 0};
}

/* One job of those that take from the row goes: the one that gains least.  Its value; below 0
 * where there is none that may. */
static double push_out(struct pack_state *state, int32_t row)
{
    int32_t least = PACK_NONE;
    double least_gain = 0;

    for (int32_t i = 0; i < state->item_count; i++) {
        const struct pack_item *item = &state->items[i];

        if (item->count == 0 || state->packing->groups[item->group].must ||
            !takes_from(state, item, row))
            continue;
        double gain = gain_of(state, item);
        if (least == PACK_NONE || gain < least_gain) {
            least = i;
            least_gain = gain;
        }
    }
    if (least == PACK_NONE)
        return -1;
    struct pack_item *item = &state->items[least];
    pack_take(state, &state->packing->groups[item->group], pick_of(item), -1);
    state->open[item->group]++;
    item->count--;
    return value_of(state, item);
}

static void drop_empty(struct pack_state *state)
{
    int32_t kept = 0;

    for (int32_t i = 0; i < state->item_count; i++)
        if (state->items[i].count > 0)
            state->items[kept++] = state->items[i];
    state->item_count = kept;
}

/* The job goes in, others go out, and what fits goes in.  The change of value. */
static double force_in(struct pack_state *state, int32_t g, struct pack_pick pick)
{
    const struct pack_group *group = &state->packing->groups[g];
    struct takes takes = takes_of(state, g, pick.way, pick.early, pick.late);
    double change = group->worth * group->ways[pick.way].share;

    for (int i = 0; i < takes.count; i++)
        while (state->left[takes.row[i]] < takes.much[i]) {
            double lost = push_out(state, takes.row[i]);

            if (lost < 0)
                return -INFINITY;
            change -= lost;
        }
    drop_empty(state);
    pack_take(state, group, pick, 1);
    state->open[g]--;
    state->items[state->item_count++] = (struct pack_item){g, pick.way, pick.early, pick.late, 1};
    return change + pack_fill_up(state);
}

static void remember(struct pack_state *state)
{
    memcpy(state->left_before, state->left, (size_t)state->rows * sizeof *state->left);
    memcpy(state->open_before, state->open,
           (size_t)state->packing->group_count * sizeof *state->open);
    memcpy(state->items_before, state->items, (size_t)state->item_count * sizeof *state->items);
}

static void go_back(struct pack_state *state, int32_t item_count)
{
    memcpy(state->left, state->left_before, (size_t)state->rows * sizeof *state->left);
    memcpy(state->open, state->open_before,
           (size_t)state->packing->group_count * sizeof *state->open);
    state->item_count = item_count;
    memcpy(state->items, state->items_before, (size_t)item_count * sizeof *state->items);
}

/* Is the way's gain near the best?  Its cheapest days then are those of the pick. */
static struct pack_pick pick_by_way(const struct pack_state *state, const struct pack_group *group,
                                    int32_t w)
{
    struct pack_group alone = *group;
    struct pack_pick pick;

    alone.ways = &group->ways[w];
    alone.way_count = 1;
    pick = pack_best_way(state, &alone);
    if (pick.way != PACK_NONE)
        pick.way = w;
    return pick;
}

static bool improve_group(struct pack_state *state, int32_t g, double *value)
{
    const struct pack_group *group = &state->packing->groups[g];
    const double best = state->gain[g];

    for (int32_t w = 0; w < group->way_count; w++) {
        struct pack_pick pick = pick_by_way(state, group, w);
        const int32_t items = state->item_count;

        if (pick.way == PACK_NONE || pick.gain < best - NEARLY * group->worth)
            continue;
        remember(state);
        double change = force_in(state, g, pick);
        if (change > 1e-9) {
            *value += change;
            return true;
        }
        go_back(state, items);
    }
    return false;
}

/* One job of an item goes, and others come in its place. */
static bool improve_item(struct pack_state *state, int32_t i, double *value)
{
    const int32_t items = state->item_count, g = state->items[i].group;
    double change = -value_of(state, &state->items[i]);

    if (state->packing->groups[g].must)
        return false;
    remember(state);
    pack_take(state, &state->packing->groups[g], pick_of(&state->items[i]), -1);
    state->items[i].count--;
    drop_empty(state);
    for (int32_t k = 0; k < state->packing->group_count; k++) {
        int32_t other = state->order[k];

        if (other != g && state->open[other] > 0)
            change += pack_place_any(state, other);
    }
    state->open[g]++;
    change += pack_fill_up(state);
    if (change > 1e-9) {
        *value += change;
        return true;
    }
    go_back(state, items);
    return false;
}

double pack_improve(struct pack_state *state, double value)
{
    bool improved = true;

    for (int round = 0; round < ROUNDS && improved; round++) {
        improved = false;
        for (int32_t i = 0; i < state->packing->group_count; i++) {
            int32_t g = state->order[i];

            while (state->open[g] > 0 && improve_group(state, g, &value))
                improved = true;
        }
        for (int32_t i = 0; i < state->item_count; i++)
            if (improve_item(state, i, &value))
                improved = true;
    }
    return value;
}
