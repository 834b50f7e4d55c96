/*
 * packing_exact.c - depth-first branch and bound for few jobs.
 *
 * A node has decided some jobs.  Its bound at the root's prices is what was decided, what is left
 * of everything at its price, and what each undecided job gains by its best way that still fits.
 * A child that takes another way than the best lowers it by the difference, so that children are
 * tried in the order of their gain and the first that cannot beat the best plan ends the node.
 * Days whose minutes nobody else can want are not told apart, and alike jobs take falling ways.
 */
#include "solving/order.h"
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

#define NODES 50000
#define PRICE_STEPS 10 /* a node */
#define FEW_JOBS 16    /* below this the gap must be 0 */
#define PROVED_GAP 5e-3

struct search {
    struct pack_state *state;
    double value; /* of what is decided */
    double tolerance;
    int32_t nodes, most_nodes, depth;
    int32_t branch_count; /* used of state->branches */
    int32_t group, way;   /* of the last job decided: alike ones follow with no smaller way */
    double pruned;        /* the best bound of what was not looked into */
};

static double target(const struct search *search)
{
    return search->state->best_value * (1 + search->tolerance) + 1e-9;
}

/* Minutes that undecided jobs might take of each cell, at most. */
static void fill_contest(struct pack_state *state)
{
    const struct packing *packing = state->packing;

    memset(state->contest, 0, (size_t)state->cells * sizeof *state->contest);
    for (int32_t g = 0; g < packing->group_count; g++) {
        const struct pack_group *group = &packing->groups[g];
        int32_t late_first = INT16_MAX, late_last = -1, early_last = -1;
        int32_t main_first = INT16_MAX, main_last = -1;

        if (state->open[g] == 0)
            continue;
        for (int32_t w = 0; w < group->way_count; w++) {
            const struct pack_way *way = &group->ways[w];

            early_last = way->early_until > early_last ? way->early_until : early_last;
            if (way->late_from != PACK_NONE) {
                late_first = way->late_from < late_first ? way->late_from : late_first;
                late_last = way->late_from > late_last ? way->late_from : late_last;
            }
            for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++) {
                main_first = way->main[v] < main_first ? way->main[v] : main_first;
                main_last = way->main[v] > main_last ? way->main[v] : main_last;
            }
        }
        if (late_last >= 0)
            late_last += packing->late_days - 1;
        const int32_t span[PACK_STEPS][2] = {
            {group->early_from, early_last}, {main_first, main_last}, {late_first, late_last}};
        for (int step = 0; step < PACK_STEPS; step++)
            for (int32_t day = span[step][0]; day <= span[step][1] && day < packing->day_count;
                 day++)
                state->contest[pack_cell(state, packing->lanes[group->lane[step]].site, day)] +=
                    (double)group->minutes[step] * state->open[g];
    }
}

/* Has everybody who may come room on that day, in every set of this work? */
static bool is_uncontested(const struct pack_state *state, const struct pack_group *group,
                           enum pack_step step, int32_t day)
{
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);

    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        if (state->left[set * state->cells + cell] < state->contest[cell])
            return false;
    return true;
}

/* Days of a window that need be told apart: those that fit, and of uncontested ones one. */
static int window_days(const struct pack_state *state, const struct pack_group *group,
                       enum pack_step step, const int32_t span[2], int16_t *days)
{
    const double *price = state->lane_price + group->lane[step] * state->packing->day_count;
    int count = 0, free_at = -1;

    for (int32_t day = span[0]; day <= span[1] && day < state->packing->day_count; day++) {
        if (!pack_fits(state, group, step, day, false))
            continue;
        if (is_uncontested(state, group, step, day)) {
            if (free_at >= 0 && price[day] >= price[days[free_at]])
                continue;
            if (free_at < 0)
                free_at = count++;
            days[free_at] = (int16_t)day;
        } else {
            days[count++] = (int16_t)day;
        }
    }
    return count;
}

static double step_price(const struct pack_state *state, const struct pack_group *group,
                         enum pack_step step, int32_t day)
{
    return state->lane_price[group->lane[step] * state->packing->day_count + day] *
           group->minutes[step];
}

static void add_branches_of_way(struct search *search, const struct pack_group *group, int32_t w,
                                double least)
{
    struct pack_state *state = search->state;
    const struct pack_way *way = &group->ways[w];
    const int32_t early_span[2] = {group->early_from, way->early_until};
    const int32_t late_span[2] = {way->late_from, way->late_from + state->packing->late_days - 1};
    int16_t early[64] = {PACK_NONE}, late[64] = {PACK_NONE};
    int earlies = 1, lates = 1;
    double gain = group->worth * way->share;

    for (int l = 0; l < 3; l++)
        if (group->limit[l] != PACK_NONE) {
            int32_t takes = l == 2 ? pack_mains(way) : 1;

            if (state->left[pack_limit_row(state, group->limit[l])] < takes)
                return;
            gain -= takes * state->price[pack_limit_row(state, group->limit[l])];
        }
    for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++) {
        if (!pack_fits(state, group, PACK_MAIN, way->main[v], false))
            return;
        gain -= step_price(state, group, PACK_MAIN, way->main[v]);
    }
    if (gain < least)
        return;
    if (way->early_until != PACK_NONE)
        earlies = window_days(state, group, PACK_EARLY, early_span, early);
    if (way->late_from != PACK_NONE)
        lates = window_days(state, group, PACK_LATE, late_span, late);
    for (int e = 0; e < earlies; e++)
        for (int l = 0; l < lates; l++) {
            double paid =
                (early[e] != PACK_NONE ? step_price(state, group, PACK_EARLY, early[e]) : 0) +
                (late[l] != PACK_NONE ? step_price(state, group, PACK_LATE, late[l]) : 0);

            if (gain - paid >= least && search->branch_count < PACK_BRANCHES)
                state->branches[search->branch_count++] =
                    (struct pack_pick){w, early[e], late[l], gain - paid};
        }
}

static void sort_branches(struct pack_pick *list, int32_t count)
{
    for (int32_t gap = count / 2; gap > 0; gap /= 2)
        for (int32_t i = gap; i < count; i++) {
            struct pack_pick kept = list[i];
            int32_t j = i;

            for (; j >= gap && list[j - gap].gain < kept.gain; j -= gap)
                list[j] = list[j - gap];
            list[j] = kept;
        }
}

/* What undecided jobs ask for by their best ways; the bound at the state's prices. */
static double node_bound(struct search *search)
{
    struct pack_state *state = search->state;
    const struct packing *packing = state->packing;
    double bound = search->value;

    memset(state->used, 0, (size_t)state->rows * sizeof *state->used);
    pack_price_lanes(state);
    for (int32_t g = 0; g < packing->group_count; g++) {
        if (state->open[g] == 0)
            continue;
        struct pack_pick pick = pack_find_way(state, &packing->groups[g], false);

        state->gain[g] = pick.gain;
        if (pick.way == PACK_NONE || pick.gain <= 0)
            continue;
        bound += state->open[g] * pick.gain;
        pack_use(state, &packing->groups[g], pick, state->open[g]);
    }
    for (int32_t r = 0; r < state->rows; r++)
        bound += state->price[r] * state->left[r];
    return bound;
}

/* A few steps towards better prices for this node; these are left in the state. */
static double tighten(struct search *search)
{
    struct pack_state *state = search->state;
    double best = node_bound(search), length = 1.0, bound = best;
    const size_t bytes = (size_t)state->rows * sizeof *state->price;

    memcpy(state->best_price, state->price, bytes);
    for (int k = 0; k < PRICE_STEPS && best > target(search); k++) {
        double norm = 0;

        for (int32_t r = 0; r < state->rows; r++) {
            double slope = (state->used[r] - state->left[r]) * state->scale[r];

            if (state->price[r] > 0 || slope > 0)
                norm += slope * slope;
        }
        if (!(norm > 0))
            break;
        for (int32_t r = 0; r < state->rows; r++) {
            double slope = (state->used[r] - state->left[r]) * state->scale[r];
            double price = state->price[r] +
                           length * (bound - target(search)) / norm * slope * state->scale[r];

            state->price[r] = price > 0 ? price : 0;
        }
        bound = node_bound(search);
        if (bound < best) {
            best = bound;
            memcpy(state->best_price, state->price, bytes);
        } else {
            length *= 0.7;
        }
    }
    memcpy(state->price, state->best_price, bytes);
    return best > target(search) ? node_bound(search) : best;
}

/* The undecided group to decide next: the one whose jobs gain most; alike jobs follow each other.
 */
static int32_t next_group(const struct search *search)
{
    const struct pack_state *state = search->state;
    int32_t next = PACK_NONE;

    if (search->group != PACK_NONE && state->open[search->group] > 0)
        return search->group;
    for (int32_t g = 0; g < state->packing->group_count; g++)
        if (state->open[g] > 0 && state->gain[g] > -1e300 &&
            (next == PACK_NONE || state->gain[g] > state->gain[next]))
            next = g;
    return next;
}

static void look_into(struct search *search);

static void take_branch(struct search *search, int32_t g, struct pack_pick pick)
{
    struct pack_state *state = search->state;
    const struct pack_group *group = &state->packing->groups[g];
    const double worth = group->worth * group->ways[pick.way].share;
    const int32_t last_group = search->group, last_way = search->way;

    pack_take(state, group, pick, 1);
    state->open[g]--;
    search->value += worth;
    search->group = g;
    search->way = pick.way;
    state->items[state->item_count++] = (struct pack_item){g, pick.way, pick.early, pick.late, 1};
    look_into(search);
    state->item_count--;
    search->group = last_group;
    search->way = last_way;
    search->value -= worth;
    state->open[g]++;
    pack_take(state, group, pick, -1);
}

/* None of the group's jobs that are left. */
static void leave_out(struct search *search, int32_t g)
{
    struct pack_state *state = search->state;
    const int32_t left_out = state->open[g], last_group = search->group;

    state->open[g] = 0;
    search->group = PACK_NONE;
    look_into(search);
    search->group = last_group;
    state->open[g] = left_out;
}

/* Children of a node by falling gain; leaving the group out comes where it gains nothing. */
static void branch(struct search *search, int32_t g, double bound)
{
    struct pack_state *state = search->state;
    const struct pack_group *group = &state->packing->groups[g];
    const int32_t first = search->branch_count;
    const double best_gain = state->gain[g] > 0 ? state->gain[g] : 0;
    const double others = bound - best_gain, without = bound - state->open[g] * best_gain;
    bool left_out = group->must;

    fill_contest(state);
    for (int32_t w = 0; w < group->way_count; w++)
        if (g != search->group || w >= search->way)
            add_branches_of_way(search, group, w, target(search) - others);
    const int32_t end = search->branch_count;
    sort_branches(&state->branches[first], end - first);
    for (int32_t b = first; b <= end; b++) {
        if (!left_out && (b == end || state->branches[b].gain < 0)) {
            left_out = true;
            if (without > target(search))
                leave_out(search, g);
        }
        if (b == end || others + state->branches[b].gain <= target(search))
            continue;
        take_branch(search, g, state->branches[b]);
    }
    search->branch_count = first;
}

static void look_into(struct search *search)
{
    struct pack_state *state = search->state;
    double *kept = state->node_prices + (size_t)search->depth * (size_t)state->rows;
    const size_t bytes = (size_t)state->rows * sizeof *kept;

    pack_keep_plan(state, search->value);
    memcpy(kept, state->price, bytes);
    double bound = tighten(search);
    int32_t g = next_group(search);
    if (g != PACK_NONE && bound > target(search)) {
        if (search->nodes >= search->most_nodes) {
            search->pruned = bound > search->pruned ? bound : search->pruned;
        } else {
            search->nodes++;
            search->depth++;
            branch(search, g, bound);
            search->depth--;
        }
    }
    memcpy(state->price, kept, bytes);
    pack_price_lanes(state);
}

void pack_branch(struct pack_state *state, struct pack_branching *branching)
{
    struct search search = {
        .state = state,
        .value = branching->value,
        .tolerance = branching->tolerance,
        .most_nodes = branching->nodes,
        .group = PACK_NONE,
    };

    look_into(&search);
    branching->bound = target(&search);
    if (search.pruned > branching->bound)
        branching->bound = search.pruned;
    branching->nodes = search.nodes;
}

double pack_search_exactly(struct pack_state *state, struct pack_plan *plan)
{
    const struct packing *packing = state->packing;
    const int32_t most = packing->nodes > 0 ? packing->nodes : NODES;
    struct pack_branching branching = {.nodes = most};
    int32_t jobs = 0;

    for (int32_t g = 0; g < packing->group_count; g++)
        jobs += state->open[g] = packing->groups[g].most;
    branching.tolerance = jobs < FEW_JOBS ? 0 : PROVED_GAP;
    for (int32_t r = 0; r < state->rows; r++)
        state->left[r] = (int32_t)state->supply[r];
    state->item_count = 0;
    pack_branch(state, &branching);
    plan->exact = true;
    plan->capped = branching.nodes >= most;
    plan->nodes = branching.nodes;
    return branching.bound < plan->bound ? branching.bound : plan->bound;
}
