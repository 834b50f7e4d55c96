/* packing_stands.c - where workers stand: what they supply, and places that follow the need. */
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

#define TRIFLE 1e-9 /* of value a minute */

/* Minutes of a half-day at a site, set-up taken off. */
static int32_t half_minutes(const struct pack_stand *stand, int half, int32_t site,
                            enum pack_work set, bool was_there)
{
    int32_t minutes = stand->minutes[half][site * PACK_SETS + (int32_t)set];

    minutes -= was_there ? 0 : stand->set_up[half];
    return minutes > 0 ? minutes : 0;
}

static void clear_minutes(struct pack_state *state)
{
    memset(state->supply, 0, (size_t)(PACK_SETS * state->cells) * sizeof *state->supply);
}

static void supply_half(struct pack_state *state, const struct pack_stand *stand,
                        const int32_t place[2], int half)
{
    const int32_t site = place[half];

    if (site == PACK_NONE)
        return;
    for (int set = 0; set < PACK_SETS; set++)
        state->supply[set * state->cells + pack_cell(state, site, stand->day)] +=
            half_minutes(stand, half, site, (enum pack_work)set, half == 1 && place[0] == site);
}

static bool is_counted(enum pack_work work, enum pack_work within)
{
    int set = (int)work;

    while (set != PACK_NONE && set != (int)within)
        set = pack_wider(set);
    return set != PACK_NONE;
}

/* No sum of whole steps lies above this and within the minutes of a cell. */
static int32_t reachable(struct pack_state *state, int32_t site, enum pack_work set,
                         int32_t minutes)
{
    const struct packing *packing = state->packing;
    unsigned char *sums = state->sums;

    if (minutes >= PACK_SUMS)
        return minutes;
    memset(sums, 0, (size_t)minutes + 1);
    sums[0] = 1;
    for (int32_t g = 0; g < packing->group_count; g++)
        for (int step = 0; step < PACK_STEPS; step++) {
            const struct pack_lane *lane = &packing->lanes[packing->groups[g].lane[step]];
            const int32_t each = packing->groups[g].minutes[step];

            if (lane->site != site || !is_counted(lane->work, set) || each <= 0 || each > minutes ||
                sums[each] > 1)
                continue;
            for (int32_t sum = each; sum <= minutes; sum++)
                if (sums[sum - each] != 0 && sums[sum] == 0)
                    sums[sum] = 1;
            sums[each] = 2; /* this length has been seen */
        }
    while (minutes > 0 && sums[minutes] == 0)
        minutes--;
    return minutes;
}

/* Of every cell what whole steps can fill: no plan loses by it, and the bound is lower. */
static void round_cells(struct pack_state *state)
{
    const struct packing *packing = state->packing;

    for (int set = 0; set < PACK_SETS; set++)
        for (int32_t site = 0; site < packing->site_count; site++)
            for (int32_t day = 0; day < packing->day_count; day++) {
                double *supply = &state->supply[set * state->cells + pack_cell(state, site, day)];

                *supply = reachable(state, site, (enum pack_work)set, (int32_t)*supply);
            }
}

void pack_supply(struct pack_state *state)
{
    const struct packing *packing = state->packing;

    clear_minutes(state);
    for (int32_t k = 0; k < packing->stand_count; k++)
        for (int half = 0; half < 2; half++)
            supply_half(state, &packing->stands[k], &state->places[2 * k], half);
    round_cells(state);
}

/* What a half-day at a site is worth at the state's prices. */
static double half_worth(const struct pack_state *state, const struct pack_stand *stand, int half,
                         int32_t site, bool was_there)
{
    double worth = 0;

    for (int set = 0; set < PACK_SETS; set++)
        worth += state->price[set * state->cells + pack_cell(state, site, stand->day)] *
                 half_minutes(stand, half, site, (enum pack_work)set, was_there);
    return worth;
}

static bool may_stand(const struct pack_stand *stand, int half, int32_t site)
{
    return stand->fixed[half] == PACK_NONE || stand->fixed[half] == site;
}

/* The best two places of a stand. */
static double best_places(const struct pack_state *state, const struct pack_stand *stand,
                          int32_t place[2])
{
    double apart[2] = {-1, -1}, together = -1;
    int32_t together_at = PACK_NONE;

    place[0] = place[1] = PACK_NONE;
    for (int32_t site = 0; site < state->packing->site_count; site++) {
        double worth[2] = {-1, -1};

        for (int half = 0; half < 2; half++) {
            if (!may_stand(stand, half, site))
                continue;
            worth[half] = half_worth(state, stand, half, site, false);
            if (worth[half] > apart[half]) {
                apart[half] = worth[half];
                place[half] = site;
            }
        }
        if (worth[0] >= 0 && worth[1] >= 0) {
            double both = worth[0] + half_worth(state, stand, 1, site, true);

            if (both > together) {
                together = both;
                together_at = site;
            }
        }
    }
    double total = (apart[0] > 0 ? apart[0] : 0) + (apart[1] > 0 ? apart[1] : 0);
    if (together >= total) {
        place[0] = place[1] = together_at;
        return together;
    }
    return total;
}

double pack_free_supply(struct pack_state *state)
{
    const struct packing *packing = state->packing;
    double worth = 0;

    clear_minutes(state);
    for (int32_t k = 0; k < packing->stand_count; k++) {
        const struct pack_stand *stand = &packing->stands[k];
        int32_t place[2];

        worth += best_places(state, stand, place);
        for (int half = 0; half < 2; half++)
            supply_half(state, stand, place, half);
    }
    return worth;
}

/* What a half-day at a site is worth: the averaged minutes that nobody stands there for yet, so far
 * as it can give them, at their prices; a trifle where they cost nothing. */
static double met_at(const struct pack_state *state, const struct pack_stand *stand, int half,
                     int32_t site, bool was_there)
{
    const int32_t cell = pack_cell(state, site, stand->day);
    const double priced = state->places_by_price ? 1 : 0;
    double worth = 0;

    for (int set = 0; set < PACK_SETS; set++) {
        const int32_t row = set * state->cells + cell;
        double minutes = half_minutes(stand, half, site, (enum pack_work)set, was_there);
        double unmet = state->asked[row] - state->supply[row];

        worth += (priced * state->price[row] + TRIFLE) * (unmet < minutes ? unmet : minutes);
    }
    return worth;
}

/* The site where a half-day is worth most. */
static int32_t neediest(const struct pack_state *state, const struct pack_stand *stand,
                        const int32_t place[2], int half)
{
    int32_t best = PACK_NONE;
    double best_worth = 0;

    for (int32_t site = 0; site < state->packing->site_count; site++) {
        const bool was_there = half == 1 && place[0] == site;

        if (half_minutes(stand, half, site, PACK_EITHER, was_there) <= 0)
            continue;
        double worth = met_at(state, stand, half, site, was_there);
        if (best == PACK_NONE || worth > best_worth) {
            best = site;
            best_worth = worth;
        }
    }
    return best;
}

void pack_place_stands(struct pack_state *state)
{
    const struct packing *packing = state->packing;

    clear_minutes(state);
    for (int32_t k = 0; k < packing->stand_count; k++)
        for (int half = 0; half < 2; half++) {
            state->places[2 * k + half] = packing->stands[k].fixed[half];
            supply_half(state, &packing->stands[k], &state->places[2 * k], half);
        }
    for (int32_t k = 0; k < packing->stand_count; k++)
        for (int half = 0; half < 2; half++) {
            const struct pack_stand *stand = &packing->stands[k];
            int32_t *place = &state->places[2 * k];

            if (stand->fixed[half] != PACK_NONE)
                continue;
            place[half] = neediest(state, stand, place, half);
            supply_half(state, stand, place, half);
        }
    round_cells(state);
}
