/*
 * packing_place.c - jobs placed at prices.
 *
 * The minutes of a cell are shared out among early, main and late steps in the averaged proportion,
 * so that early comers cannot take what later steps of the same jobs need.  Groups go by what a job
 * gains at the prices; each job takes the best way that fits.  A second pass joins the shares, a
 * third takes whatever has value.
 */
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

enum pass { PASS_SHARES, PASS_JOINED, PASS_ANY, PASSES };

struct slot {
    double cost;
    int16_t day;
    int32_t left;
};

bool pack_fits(const struct pack_state *state, const struct pack_group *group, enum pack_step step,
               int32_t day, bool shares)
{
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);
    const int32_t minutes = group->minutes[step];

    if (!lane->open[day] || (shares && state->quota[(int32_t)step * state->cells + cell] < minutes))
        return false;
    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        if (state->left[set * state->cells + cell] < minutes)
            return false;
    return true;
}

/* The day as a slot; of no use when it does not fit. */
static struct slot slot_on(const struct pack_state *state, const struct pack_group *group,
                           enum pack_step step, int32_t day, bool shares)
{
    const int32_t site = state->packing->lanes[group->lane[step]].site;

    if (!pack_fits(state, group, step, day, shares))
        return (struct slot){INFINITY, PACK_NONE, 0};
    return (struct slot){
        state->lane_price[group->lane[step] * state->packing->day_count + day] *
            group->minutes[step],
        (int16_t)day,
        state->left[PACK_EITHER * state->cells + pack_cell(state, site, day)],
    };
}

static bool is_better(const struct slot *a, const struct slot *b)
{
    return a->cost < b->cost || (a->cost <= b->cost && a->left > b->left);
}

static struct slot late_slot(const struct pack_state *state, const struct pack_group *group,
                             int32_t from, bool shares)
{
    struct slot best = {INFINITY, PACK_NONE, 0};
    const int32_t days = state->packing->day_count;

    for (int32_t day = from; day < from + state->packing->late_days && day < days; day++) {
        struct slot slot = slot_on(state, group, PACK_LATE, day, shares);

        if (is_better(&slot, &best))
            best = slot;
    }
    return best;
}

static int32_t limit_left(const struct pack_state *state, int32_t limit)
{
    return limit == PACK_NONE ? INT32_MAX : state->left[pack_limit_row(state, limit)];
}

static double limit_price(const struct pack_state *state, int32_t limit)
{
    return limit == PACK_NONE ? 0.0 : state->price[pack_limit_row(state, limit)];
}

static void early_slots(const struct pack_state *state, const struct pack_group *group,
                        struct slot *early, bool shares)
{
    struct slot best = {INFINITY, PACK_NONE, 0};

    for (int i = 0; i < PACK_EARLY_DAYS; i++) {
        int32_t day = group->early_from + i;

        if (day < state->packing->day_count) {
            struct slot slot = slot_on(state, group, PACK_EARLY, day, shares);

            if (is_better(&slot, &best))
                best = slot;
        }
        early[i] = best;
    }
}

/* The best way of one job that fits. */
struct pack_pick pack_find_way(const struct pack_state *state, const struct pack_group *group,
                               bool shares)
{
    struct pack_pick best = {PACK_NONE, PACK_NONE, PACK_NONE, -INFINITY};
    struct slot early[PACK_EARLY_DAYS], late = {0, PACK_NONE, 0};
    int16_t late_from = PACK_NONE;
    const int32_t doses = limit_left(state, group->limit[2]);
    const double a_main = limit_price(state, group->limit[2]);
    const double a_job = limit_price(state, group->limit[0]) + limit_price(state, group->limit[1]);

    if (limit_left(state, group->limit[0]) < 1 || limit_left(state, group->limit[1]) < 1)
        return best;
    if (group->early_from != PACK_NONE)
        early_slots(state, group, early, shares);
    for (int32_t w = 0; w < group->way_count; w++) {
        const struct pack_way *way = &group->ways[w];
        double gain = group->worth * way->share - a_job;

        if (gain <= best.gain)
            break; /* ways are sorted */
        if (pack_mains(way) > doses)
            continue;
        for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++)
            gain -= a_main + slot_on(state, group, PACK_MAIN, way->main[v], shares).cost;
        if (way->early_until != PACK_NONE)
            gain -= early[way->early_until - group->early_from].cost;
        if (gain <= best.gain)
            continue;
        if (way->late_from != PACK_NONE) {
            if (way->late_from != late_from)
                late = late_slot(state, group, way->late_from, shares);
            late_from = way->late_from;
            gain -= late.cost;
        }
        if (gain > best.gain)
            best = (struct pack_pick){
                w,
                way->early_until != PACK_NONE ? early[way->early_until - group->early_from].day
                                              : (int16_t)PACK_NONE,
                way->late_from != PACK_NONE ? late.day : (int16_t)PACK_NONE,
                gain,
            };
    }
    return best;
}

static void least_of(int32_t *least, int32_t value)
{
    *least = value < *least ? value : *least;
}

/* How many jobs of the pick one step leaves room for. */
static void room(const struct pack_state *state, const struct pack_group *group,
                 enum pack_step step, int32_t day, bool shares, int32_t *count)
{
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);
    const int32_t minutes = group->minutes[step];

    if (minutes == 0)
        return;
    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        least_of(count, state->left[set * state->cells + cell] / minutes);
    if (shares)
        least_of(count, state->quota[(int32_t)step * state->cells + cell] / minutes);
}

static void take(struct pack_state *state, const struct pack_group *group, enum pack_step step,
                 int32_t day, int32_t count)
{
    const struct pack_lane *lane = &state->packing->lanes[group->lane[step]];
    const int32_t cell = pack_cell(state, lane->site, day);
    const int32_t minutes = group->minutes[step] * count;

    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        state->left[set * state->cells + cell] -= minutes;
    state->quota[(int32_t)step * state->cells + cell] -= minutes;
}

static int32_t room_of(const struct pack_state *state, const struct pack_group *group,
                       struct pack_pick pick, bool shares)
{
    const struct pack_way *way = &group->ways[pick.way];
    int32_t count = INT32_MAX;

    if (pick.early != PACK_NONE)
        room(state, group, PACK_EARLY, pick.early, shares, &count);
    for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++)
        room(state, group, PACK_MAIN, way->main[v], shares, &count);
    if (pick.late != PACK_NONE)
        room(state, group, PACK_LATE, pick.late, shares, &count);
    least_of(&count, limit_left(state, group->limit[0]));
    least_of(&count, limit_left(state, group->limit[1]));
    if (pack_mains(way) > 0)
        least_of(&count, limit_left(state, group->limit[2]) / pack_mains(way));
    return count;
}

void pack_take(struct pack_state *state, const struct pack_group *group, struct pack_pick pick,
               int32_t count)
{
    const struct pack_way *way = &group->ways[pick.way];

    if (pick.early != PACK_NONE)
        take(state, group, PACK_EARLY, pick.early, count);
    for (int v = 0; v < 2 && way->main[v] != PACK_NONE; v++)
        take(state, group, PACK_MAIN, way->main[v], count);
    if (pick.late != PACK_NONE)
        take(state, group, PACK_LATE, pick.late, count);
    for (int l = 0; l < 3; l++)
        if (group->limit[l] != PACK_NONE)
            state->left[pack_limit_row(state, group->limit[l])] -=
                count * (l == 2 ? pack_mains(way) : 1);
}

/* Jobs of one group; how much value they add. */
static double place_group(struct pack_state *state, int32_t g, enum pass pass)
{
    const struct pack_group *group = &state->packing->groups[g];
    int32_t *open = &state->open[g];
    double value = 0;

    while (*open > 0) {
        struct pack_pick pick = pack_find_way(state, group, pass == PASS_SHARES);

        if (pick.way == PACK_NONE || (pass != PASS_ANY && !group->must && pick.gain < -1e-9))
            break;
        int32_t count = room_of(state, group, pick, pass == PASS_SHARES);
        least_of(&count, *open);
        pack_take(state, group, pick, count);
        *open -= count;
        value += count * group->worth * group->ways[pick.way].share;
        state->items[state->item_count++] =
            (struct pack_item){g, pick.way, pick.early, pick.late, count};
    }
    return value;
}

double pack_place_in_order(struct pack_state *state)
{
    double value = 0;

    for (int pass = 0; pass < PASSES; pass++)
        for (int32_t i = 0; i < state->packing->group_count; i++)
            value += place_group(state, state->order[i], (enum pass)pass);
    return value;
}

double pack_place_any(struct pack_state *state, int32_t g)
{
    return place_group(state, g, PASS_ANY);
}

double pack_fill_up(struct pack_state *state)
{
    double value = 0;

    for (int32_t i = 0; i < state->packing->group_count; i++)
        if (state->open[state->order[i]] > 0)
            value += place_group(state, state->order[i], PASS_ANY);
    return value;
}
