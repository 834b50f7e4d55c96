/*
 * packing_prices.c - prices that lower the bound.
 *
 * The bound is convex in the prices; what is asked for less what there is is its slope.  The search
 * is the volume algorithm (Barahona & Anbil 2000): it steps from the best prices seen, along an
 * average of slopes, by a share of Polyak's step that grows with gains and shrinks without them.
 * The same average of what is asked for, step by step, is close to a plan in fractions: it tells
 * how the minutes of a day are shared among steps.  Weight and lengths were chosen on invented
 * packings against the bound of linear programming: own choice.
 */
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

#define NEW_WEIGHT 0.01
#define FIRST_LENGTH 0.5
#define LONGEST 2.0
#define GROW 1.1
#define SHRINK 0.8
#define PATIENCE 4        /* iterations without gain */
#define CLOSE_ENOUGH 2e-4 /* of the bound: the search stops */
#define PLAN_EVERY 60     /* iterations */
#define PLAN_FEW_EVERY 20 /* for few jobs */

static void copy_prices(const struct pack_state *state, double *to, const double *from)
{
    memcpy(to, from, (size_t)state->rows * sizeof *to);
}

/* New averages.  True when the newest slope still points the same way. */
static bool turn(struct pack_state *state, int32_t iteration)
{
    const double equal = 1.0 / (iteration + 1);
    const double weight = equal > NEW_WEIGHT ? equal : NEW_WEIGHT;
    double along = 0;

    for (int32_t r = 0; r < state->rows; r++) {
        double slope = (state->used[r] - state->supply[r]) * state->scale[r];

        along += slope * state->direction[r];
        state->direction[r] += weight * (slope - state->direction[r]);
    }
    for (int32_t r = 0; r < PACK_SETS * state->cells; r++)
        state->asked[r] += weight * (state->used[r] - state->asked[r]);
    for (int32_t i = 0; i < PACK_STEPS * state->cells; i++)
        state->average[i] += weight * (state->step_minutes[i] - state->average[i]);
    return along >= 0;
}

/* False when there is no way down. */
static bool step(struct pack_state *state, double length)
{
    double norm = 0;

    for (int32_t r = 0; r < state->rows; r++)
        if (state->best_price[r] > 0 || state->direction[r] > 0)
            norm += state->direction[r] * state->direction[r];
    if (!(norm > 0))
        return false;
    for (int32_t r = 0; r < state->rows; r++) {
        double price = state->best_price[r] + length / norm * state->direction[r] * state->scale[r];

        state->price[r] = price > 0 ? price : 0;
    }
    return true;
}

double pack_search_prices(struct pack_state *state, struct pack_search search)
{
    double best = 0, length = FIRST_LENGTH;
    int stalled = 0;
    const int32_t plan_every = state->jobs <= PACK_IMPROVED_JOBS ? PLAN_FEW_EVERY : PLAN_EVERY;

    memset(state->direction, 0, (size_t)state->rows * sizeof *state->direction);
    for (int32_t i = 0; i < search.iterations; i++) {
        double bound = pack_bound_at(state, search.free_stands);
        bool straight = turn(state, i);

        if (i == 0 || bound < best - 1e-9 * fabs(best)) {
            if (i > 0 && straight && length * GROW < LONGEST)
                length *= GROW;
            best = bound;
            copy_prices(state, state->best_price, state->price);
            stalled = 0;
        } else if (++stalled >= PATIENCE) {
            length *= SHRINK;
            stalled = 0;
        }
        if (!search.free_stands && i % plan_every == plan_every - 1)
            pack_make_plan(state);
        double slack = best - (state->best_value > 0 ? state->best_value : 0);
        if (slack <= CLOSE_ENOUGH * fabs(best) || !step(state, length * slack))
            break;
    }
    copy_prices(state, state->price, state->best_price);
    return best;
}
