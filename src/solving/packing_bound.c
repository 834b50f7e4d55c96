/* packing_bound.c - what everything there is costs, and what is gained, at given prices. */
#include "solving/packing_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define FETCHED_WAYS 24

/* The least price of each window of `days` days, by a queue of rising prices; the first of equal
 * ones. */
static void slide_least(struct pack_state *state, const double *price, double *least,
                        int16_t *least_day)
{
    const int32_t count = state->packing->day_count, days = state->packing->late_days;
    int16_t *queue = state->queue;
    int32_t head = 0, tail = 0;

    for (int32_t day = count - 1; day >= 0; day--) {
        while (tail > head && price[day] <= price[queue[tail - 1]])
            tail--;
        queue[tail++] = (int16_t)day;
        while (queue[head] >= day + days)
            head++;
        least[day] = price[queue[head]];
        least_day[day] = queue[head];
    }
}

void pack_price_lanes(struct pack_state *state)
{
    const struct packing *packing = state->packing;
    const int32_t days = packing->day_count;

    for (int32_t l = 0; l < packing->lane_count; l++) {
        const struct pack_lane *lane = &packing->lanes[l];
        double *price = state->lane_price + l * days;

        for (int32_t day = 0; day < days; day++) {
            price[day] = lane->open[day] ? 0 : INFINITY;
            for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
                price[day] += state->price[set * state->cells + pack_cell(state, lane->site, day)];
        }
        slide_least(state, price, state->lane_late + l * days, state->lane_least + l * days);
    }
}

struct early_costs {
    double cost[PACK_EARLY_DAYS + 1];
    int16_t day[PACK_EARLY_DAYS + 1];
};

/* The least price of the early window up to each of its days; the latest of equal days. */
static void fill_early(const struct pack_state *state, const struct pack_group *group,
                       struct early_costs *early)
{
    const double *price = state->lane_price + group->lane[PACK_EARLY] * state->packing->day_count;
    double least = INFINITY;
    int16_t least_day = PACK_NONE;

    for (int i = 0; i < PACK_EARLY_DAYS; i++) {
        int day = group->early_from + i;

        if (day < state->packing->day_count && price[day] <= least && price[day] < INFINITY) {
            least = price[day];
            least_day = (int16_t)day;
        }
        early->cost[i] = least * group->minutes[PACK_EARLY];
        early->day[i] = least_day;
    }
}

static double limit_price(const struct pack_state *state, int32_t limit)
{
    return limit == PACK_NONE ? 0.0 : state->price[pack_limit_row(state, limit)];
}

struct pack_pick pack_best_way(const struct pack_state *state, const struct pack_group *group)
{
    const int32_t days = state->packing->day_count;
    const double *main = state->lane_price + group->lane[PACK_MAIN] * days;
    const double *late = state->lane_late + group->lane[PACK_LATE] * days;
    const double a_job = limit_price(state, group->limit[0]) + limit_price(state, group->limit[1]);
    const double a_main = limit_price(state, group->limit[2]);
    struct pack_pick best = {PACK_NONE, PACK_NONE, PACK_NONE, -INFINITY};
    struct early_costs early;

    if (group->early_from != PACK_NONE)
        fill_early(state, group, &early);
    for (int32_t w = 0; w < group->way_count; w++) {
        const struct pack_way *way = &group->ways[w];
        double gain = group->worth * way->share - a_job;

        if (gain <= best.gain)
            break; /* ways are sorted */
        for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++)
            gain -= a_main + main[way->main[v]] * group->minutes[PACK_MAIN];
        if (gain <= best.gain)
            continue;
        if (way->early_until != PACK_NONE)
            gain -= early.cost[way->early_until - group->early_from];
        if (way->late_from != PACK_NONE)
            gain -= late[way->late_from] * group->minutes[PACK_LATE];
        if (gain > best.gain) {
            best.gain = gain;
            best.way = w;
        }
    }
    if (best.way == PACK_NONE)
        return best;
    const struct pack_way *way = &group->ways[best.way];
    if (way->early_until != PACK_NONE)
        best.early = early.day[way->early_until - group->early_from];
    if (way->late_from != PACK_NONE)
        best.late = state->lane_least[group->lane[PACK_LATE] * days + way->late_from];
    return best;
}

static void use(struct pack_state *state, const struct pack_group *group, enum pack_step step,
                int32_t day, int32_t jobs)
{
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);
    const double minutes = (double)group->minutes[step] * jobs;

    state->step_minutes[(int32_t)step * state->cells + cell] += minutes;
    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        state->used[set * state->cells + cell] += minutes;
}

void pack_use(struct pack_state *state, const struct pack_group *group, struct pack_pick pick,
              int32_t jobs)
{
    const struct pack_way *way = &group->ways[pick.way];

    if (pick.early != PACK_NONE)
        use(state, group, PACK_EARLY, pick.early, jobs);
    for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++)
        use(state, group, PACK_MAIN, way->main[v], jobs);
    if (pick.late != PACK_NONE)
        use(state, group, PACK_LATE, pick.late, jobs);
    for (int l = 0; l < 3; l++)
        if (group->limit[l] != PACK_NONE)
            state->used[pack_limit_row(state, group->limit[l])] +=
                (double)jobs * (l == 2 ? pack_mains(way) : 1);
}

/* Fetches the first ways of a group while others are weighed: they lie too far apart for the
 * machine to guess, and waiting for them took half of the search. */
static void fetch_ways(const struct packing *packing, int32_t g)
{
    const int32_t step = 64 / (int32_t)sizeof(struct pack_way); /* of a line of the cache */

    if (g >= packing->group_count)
        return;
    for (int32_t w = 0; w < packing->groups[g].way_count && w < FETCHED_WAYS; w += step)
        __builtin_prefetch(&packing->groups[g].ways[w]);
}

double pack_bound_at(struct pack_state *state, bool free_stands)
{
    const struct packing *packing = state->packing;
    double bound = 0;

    memset(state->used, 0, (size_t)state->rows * sizeof *state->used);
    memset(state->step_minutes, 0,
           (size_t)(PACK_STEPS * state->cells) * sizeof *state->step_minutes);
    pack_price_lanes(state);
    for (int32_t g = 0; g < packing->group_count; g++) {
        const struct pack_group *group = &packing->groups[g];

        fetch_ways(packing, g + 2);
        struct pack_pick pick = pack_best_way(state, group);
        state->gain[g] = pick.gain;
        if (pick.way == PACK_NONE || pick.gain <= 0)
            continue;
        bound += group->most * pick.gain;
        pack_use(state, group, pick, group->most);
    }
    int32_t from = 0;
    if (free_stands) {
        bound += pack_free_supply(state);
        from = PACK_SETS * state->cells;
    }
    for (int32_t r = from; r < state->rows; r++)
        bound += state->price[r] * state->supply[r];
    return bound;
}
