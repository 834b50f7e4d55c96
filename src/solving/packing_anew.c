/*
 * packing_anew.c - parts of a plan decided anew.
 *
 * The jobs whose main steps are done at one site within a few days are taken out; with those left
 * out that would gain most there, branch and bound looks for a better way while all others stand.
 * Windows of days slide over the season until a round finds nothing, or the nodes are used up.
 */
#include "solving/order.h"
#include "solving/packing_parts.h"

#include <string.h>

#define WINDOWS 3
#define SLIDE 2         /* days */
#define LEFT_OUT_JOBS 8 /* of a part, that are not in the plan */
#define TAKEN_OUT_JOBS (PACK_ANEW_JOBS - LEFT_OUT_JOBS)
#define NODES_OF_PART 100
#define BETTER 1e-6 /* of the value */

/* Jobs with such a step at a site within a few days, so many of them passed over. */
struct part {
    enum pack_step step;
    int32_t site, first, last, passed;
};

static bool is_within(const struct part *part, int32_t day)
{
    return day >= part->first && day <= part->last;
}

static bool is_there(const struct pack_state *state, const struct part *part, int32_t g)
{
    const struct pack_group *group = &state->packing->groups[g];

    return state->packing->lanes[group->lane[part->step]].site == part->site && !group->must;
}

static bool is_of_part(const struct pack_state *state, const struct part *part,
                       const struct pack_item *item)
{
    const struct pack_way *way = &state->packing->groups[item->group].ways[item->way];

    if (!is_there(state, part, item->group))
        return false;
    if (part->step == PACK_MAIN)
        return is_within(part, way->main[0]) || is_within(part, way->main[1]);
    return is_within(part, part->step == PACK_EARLY ? item->early : item->late);
}

/* May a job of the group have the step within the days? */
static bool has_way(const struct pack_state *state, const struct part *part, int32_t g)
{
    const struct pack_group *group = &state->packing->groups[g];

    if (!is_there(state, part, g))
        return false;
    for (int32_t w = 0; w < group->way_count; w++) {
        const struct pack_way *way = &group->ways[w];

        if (part->step == PACK_MAIN ? is_within(part, way->main[0]) || is_within(part, way->main[1])
            : part->step == PACK_EARLY
                ? way->early_until >= part->first && group->early_from <= part->last
                : way->late_from <= part->last &&
                      way->late_from + state->packing->late_days > part->first)
            return true;
    }
    return false;
}

static struct pack_pick pick_of(const struct pack_item *item)
{
    return (struct pack_pick){item->way, item->early, item->late, 0};
}

/* The best plan, less jobs of the part, stands; those are open.  How many, and what the rest is
 * worth. */
static int32_t take_out(struct pack_state *state, const struct part *part, double *value)
{
    const struct packing *packing = state->packing;
    int32_t out = 0, passed = 0;

    memset(state->open, 0, (size_t)packing->group_count * sizeof *state->open);
    for (int32_t r = 0; r < state->rows; r++)
        state->left[r] = (int32_t)state->supply[r];
    state->item_count = 0;
    *value = 0;
    for (int32_t i = 0; i < state->best_count; i++) {
        struct pack_item item = state->best_items[i];
        const struct pack_group *group = &packing->groups[item.group];
        const struct pack_way *way = &group->ways[item.way];

        if (is_of_part(state, part, &item)) {
            const int32_t past = part->passed - passed;
            int32_t count = item.count - (past > 0 ? past : 0);

            passed += item.count;
            count = count < TAKEN_OUT_JOBS - out ? count : TAKEN_OUT_JOBS - out;
            if (count > 0) {
                state->open[item.group] += count;
                item.count -= count;
                out += count;
            }
        }
        if (item.count == 0)
            continue;
        pack_take(state, group, pick_of(&item), item.count);
        *value += item.count * group->worth * way->share;
        state->items[state->item_count++] = item;
    }
    return out;
}

/* Of the jobs that are left out, those that gain most. */
static void add_left_out(struct pack_state *state, const struct part *part)
{
    const struct packing *packing = state->packing;
    int32_t jobs = 0;

    for (int32_t i = 0; i < packing->group_count && jobs < LEFT_OUT_JOBS; i++) {
        const int32_t g = state->order[i];
        int32_t left_out = packing->groups[g].most - state->open[g];

        for (int32_t k = 0; k < state->item_count; k++)
            left_out -= state->items[k].group == g ? state->items[k].count : 0;
        if (left_out > 0 && has_way(state, part, g)) {
            left_out = left_out < LEFT_OUT_JOBS - jobs ? left_out : LEFT_OUT_JOBS - jobs;
            state->open[g] += left_out;
            jobs += left_out;
        }
    }
}

/* False when there were no more such jobs. */
static bool decide(struct pack_state *state, const struct part *part, int32_t *nodes)
{
    struct pack_branching branching = {.tolerance = BETTER, .nodes = NODES_OF_PART};
    const int32_t out = take_out(state, part, &branching.value);

    if (out == 0)
        return false;
    add_left_out(state, part);
    pack_branch(state, &branching);
    *nodes += branching.nodes;
    return out == TAKEN_OUT_JOBS;
}

/* Every part with a step within so many days, by so many nodes at most; how many there were. */
static int32_t go_round(struct pack_state *state, int32_t window, int32_t nodes)
{
    const struct packing *packing = state->packing;
    int32_t used = 0;

    for (int step = 0; step < PACK_STEPS; step++)
        for (int32_t site = 0; site < packing->site_count; site++)
            for (int32_t day = 0; day < packing->day_count && used < nodes; day += SLIDE) {
                struct part part = {(enum pack_step)step, site, day, day + window - 1, 0};

                while (used < nodes && decide(state, &part, &used))
                    part.passed += TAKEN_OUT_JOBS;
            }
    return used;
}

void pack_decide_anew(struct pack_state *state, int32_t nodes)
{
    static const int32_t windows[WINDOWS] = {7, 4, 10}; /* days */
    const struct packing *packing = state->packing;

    pack_bound_at(state, false);
    for (int32_t g = 0; g < packing->group_count; g++) {
        state->order[g] = g;
        state->key[g] = state->gain[g];
    }
    order_falling(state->order, state->key, packing->group_count);
    for (int round = 0, idle = 0; idle < WINDOWS && nodes > 0; round++) {
        const double before = state->best_value;

        nodes -= go_round(state, windows[round % WINDOWS], nodes);
        idle = state->best_value > before ? 0 : idle + 1;
    }
}
