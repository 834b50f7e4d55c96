/* packing.c - the workspace of a packing, and the search as a whole. */
#include "solving/packing_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define ITERATIONS 600
#define ALIGN 16
#define NODES_ANEW 40000
#define WORTH_LOOKING 0.005 /* of the bound: own choice */

/* Takes pieces off a workspace, or only counts them where it is NULL. */
struct piece {
    unsigned char *at;
    size_t size;
};

static void *cut(struct piece *piece, size_t count, size_t size)
{
    size_t bytes = (count * size + ALIGN - 1) / ALIGN * ALIGN;
    void *at = piece->at;

    piece->size += bytes;
    if (piece->at != NULL) {
        memset(piece->at, 0, bytes);
        piece->at += bytes;
    }
    return at;
}

#define CUT(piece, count, type) cut((piece), (size_t)(count), sizeof(type))

static int32_t jobs_of(const struct packing *packing)
{
    int32_t jobs = 0;

    for (int32_t g = 0; g < packing->group_count; g++)
        jobs += packing->groups[g].most;
    return jobs;
}

static struct pack_state lay_out(const struct packing *packing, struct piece *piece)
{
    struct pack_state state = {.packing = packing, .best_value = -1};
    const int32_t days = packing->day_count, jobs = jobs_of(packing);

    state.jobs = jobs;
    state.cells = packing->site_count * days;
    state.rows = PACK_SETS * state.cells + packing->limit_count;
    double **by_row[] = {&state.price,  &state.best_price, &state.kept_price, &state.used,
                         &state.supply, &state.direction,  &state.scale};
    for (size_t i = 0; i < sizeof by_row / sizeof *by_row; i++)
        *by_row[i] = CUT(piece, state.rows, double);
    state.lane_price = CUT(piece, packing->lane_count * days, double);
    state.lane_late = CUT(piece, packing->lane_count * days, double);
    state.lane_least = CUT(piece, packing->lane_count * days, int16_t);
    state.queue = CUT(piece, days, int16_t);
    state.step_minutes = CUT(piece, PACK_STEPS * state.cells, double);
    state.asked = CUT(piece, PACK_SETS * state.cells, double);
    state.kept_asked = CUT(piece, PACK_SETS * state.cells, double);
    state.average = CUT(piece, PACK_STEPS * state.cells, double);
    state.gain = CUT(piece, packing->group_count, double);
    state.key = CUT(piece, packing->group_count, double);
    state.order = CUT(piece, packing->group_count, int32_t);
    state.open = CUT(piece, packing->group_count, int32_t);
    state.left = CUT(piece, state.rows, int32_t);
    state.quota = CUT(piece, PACK_STEPS * state.cells, int32_t);
    state.places = CUT(piece, 2 * packing->stand_count, int32_t);
    state.best_places = CUT(piece, 2 * packing->stand_count, int32_t);
    state.items = CUT(piece, jobs, struct pack_item);
    state.best_items = CUT(piece, jobs, struct pack_item);
    if (jobs <= PACK_IMPROVED_JOBS) {
        state.left_before = CUT(piece, state.rows, int32_t);
        state.open_before = CUT(piece, packing->group_count, int32_t);
        state.items_before = CUT(piece, jobs, struct pack_item);
        state.branches = CUT(piece, PACK_BRANCHES, struct pack_pick);
        state.node_prices = CUT(piece, (2 * PACK_EXACT_JOBS + 2) * state.rows, double);
    }
    state.sums = CUT(piece, PACK_SUMS, unsigned char);
    state.contest = CUT(piece, PACK_SETS * state.cells, double);
    return state;
}

size_t packing_workspace(const struct packing *packing)
{
    struct piece piece = {NULL, 0};

    lay_out(packing, &piece);
    return piece.size;
}

/* Minutes are counted in usual steps, so that they weigh as much as limits counted in jobs. */
static void fill_scale(struct pack_state *state)
{
    const struct packing *packing = state->packing;
    double minutes = 0, steps = 0;

    for (int32_t g = 0; g < packing->group_count; g++)
        for (int step = 0; step < PACK_STEPS; step++) {
            minutes += packing->groups[g].minutes[step];
            steps += packing->groups[g].minutes[step] > 0;
        }
    for (int32_t r = 0; r < state->rows; r++)
        state->scale[r] = r < PACK_SETS * state->cells && minutes > 0 ? steps / minutes : 1.0;
    for (int32_t l = 0; l < packing->limit_count; l++)
        state->supply[pack_limit_row(state, l)] = packing->limits[l];
}

/* Branch and bound knows only value: what must be done is none of its business. */
static bool is_exact_work(const struct pack_state *state)
{
    for (int32_t g = 0; g < state->packing->group_count; g++)
        if (state->packing->groups[g].must)
            return false;
    return state->jobs <= PACK_EXACT_JOBS;
}

/* A plan that may lie well below the best one, and small enough for its parts to be decided anew.
 */
static bool is_anew_work(const struct pack_state *state, const struct pack_plan *plan)
{
    return state->jobs > PACK_ANEW_JOBS && state->jobs <= PACK_IMPROVED_JOBS &&
           state->best_value < plan->bound * (1 - WORTH_LOOKING);
}

static bool stands_free(const struct packing *packing)
{
    for (int32_t k = 0; k < packing->stand_count; k++)
        if (packing->stands[k].fixed[0] == PACK_NONE || packing->stands[k].fixed[1] == PACK_NONE)
            return true;
    return false;
}

static void copy_prices(const struct pack_state *state, double *to, const double *from)
{
    memcpy(to, from, (size_t)state->rows * sizeof *to);
}

/* The bound wherever workers stand, from the prices that hold; these are kept. */
static void tighten_free(struct pack_state *state, struct pack_plan *plan, int32_t iterations)
{
    copy_prices(state, state->kept_price, state->price);
    double bound = pack_search_prices(state, (struct pack_search){iterations, true});
    copy_prices(state, state->price, state->kept_price);
    pack_supply(state);
    if (bound < plan->bound_free)
        plan->bound_free = bound;
}

/* Places by what is asked for when everybody may stand anywhere; the best plan's places hold. */
static void search_places(struct pack_state *state, struct pack_plan *plan, int32_t iterations)
{
    const size_t bytes = 2 * (size_t)state->packing->stand_count * sizeof *state->places;
    const size_t asked = (size_t)(PACK_SETS * state->cells) * sizeof *state->asked;

    pack_search_prices(state, (struct pack_search){iterations / 6, false});
    plan->bound_free = pack_search_prices(state, (struct pack_search){iterations, true});
    copy_prices(state, state->kept_price, state->price);
    for (int by_price = 0; by_price < 2; by_price++) {
        copy_prices(state, state->price, state->kept_price);
        state->places_by_price = by_price == 1;
        pack_place_stands(state);
        pack_make_plan(state);
        if (by_price == 0) /* as good a start for both: averages follow the places */
            memcpy(state->kept_asked, state->asked, asked);
        pack_search_prices(state, (struct pack_search){iterations / 4, false});
        memcpy(state->asked, state->kept_asked, asked);
    }
    memcpy(state->places, state->best_places, bytes);
    pack_supply(state);
    plan->bound = pack_search_prices(state, (struct pack_search){iterations / 2, false});
    tighten_free(state, plan, iterations / 4);
}

struct pack_plan packing_solve(const struct packing *packing, void *workspace)
{
    struct piece piece = {workspace, 0};
    struct pack_state state = lay_out(packing, &piece);
    const int32_t iterations = packing->iterations > 0 ? packing->iterations : ITERATIONS;
    struct pack_plan plan = {.bound_free = INFINITY};

    fill_scale(&state);
    pack_bound_at(&state, true);
    memcpy(state.average, state.step_minutes,
           (size_t)(PACK_STEPS * state.cells) * sizeof *state.average);
    memcpy(state.asked, state.used, (size_t)(PACK_SETS * state.cells) * sizeof *state.asked);
    pack_place_stands(&state);
    pack_make_plan(&state);
    if (stands_free(packing))
        search_places(&state, &plan, iterations);
    else
        plan.bound = plan.bound_free =
            pack_search_prices(&state, (struct pack_search){iterations, false});
    if (is_anew_work(&state, &plan))
        pack_decide_anew(&state, packing->nodes > 0 ? packing->nodes : NODES_ANEW);
    if (is_exact_work(&state))
        plan.bound = pack_search_exactly(&state, &plan);
    pack_price_lanes(&state);
    plan.lane_price = state.lane_price;
    plan.supply = state.supply;
    plan.items = state.best_items;
    plan.item_count = state.best_count;
    plan.value = state.best_value;
    plan.places = state.best_places;
    return plan;
}
