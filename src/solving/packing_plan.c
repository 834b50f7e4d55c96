/* packing_plan.c - a plan from prices and averages, and the best of all plans. */
#include "solving/order.h"
#include "solving/packing_parts.h"

#include <math.h>
#include <string.h>

static void share_out(struct pack_state *state)
{
    for (int32_t cell = 0; cell < state->cells; cell++) {
        const int32_t minutes = state->left[PACK_EITHER * state->cells + cell];
        double total = 0;
        int32_t rest = minutes;

        for (int step = 0; step < PACK_STEPS; step++)
            total += state->average[(int32_t)step * state->cells + cell];
        for (int step = 0; step < PACK_STEPS; step++) {
            int32_t share =
                total > 0 ? (int32_t)(minutes *
                                      (state->average[(int32_t)step * state->cells + cell] / total))
                          : 0;
            state->quota[(int32_t)step * state->cells + cell] = share;
            rest -= share;
        }
        state->quota[PACK_MAIN * state->cells + cell] += rest;
    }
}

void pack_keep_plan(struct pack_state *state, double value)
{
    if (!(value > state->best_value))
        return;
    state->best_value = value;
    state->best_count = state->item_count;
    memcpy(state->best_items, state->items, (size_t)state->item_count * sizeof *state->items);
    memcpy(state->best_places, state->places,
           2 * (size_t)state->packing->stand_count * sizeof *state->places);
}

void pack_make_plan(struct pack_state *state)
{
    const struct packing *packing = state->packing;
    int32_t *open = state->open;
    double value = 0;

    for (int32_t r = 0; r < state->rows; r++)
        state->left[r] = (int32_t)state->supply[r];
    share_out(state);
    for (int32_t g = 0; g < packing->group_count; g++) {
        state->order[g] = g;
        open[g] = packing->groups[g].most;
        state->key[g] = packing->groups[g].must ? INFINITY : state->gain[g];
    }
    order_falling(state->order, state->key, packing->group_count);
    state->item_count = 0;
    value = pack_place_in_order(state);
    if (state->jobs <= PACK_IMPROVED_JOBS)
        value = pack_improve(state, value);
    pack_keep_plan(state, value);
}
