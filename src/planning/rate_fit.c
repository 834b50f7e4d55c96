#include "planning/rate_fit.h"

#include "planning/rate_levels.h"

#include <math.h>
#include <string.h>

static bool goes_by_number(enum rate_kind kind)
{
    return kind == RATE_SURVIVAL || kind == RATE_STROBILI_PER_LIVE_GRAFT ||
           kind == RATE_BAGS_PER_GRAFT;
}

static bool is_share(enum rate_kind kind)
{
    return kind == RATE_SURVIVAL || kind == RATE_BAGS_LOST || kind == RATE_CONELETS_KEPT ||
           kind == RATE_CONES_KEPT;
}

/* The pieces of one rate. */
static void fit_rate(struct rate_levels *levels, size_t count, const struct rate_piece *pieces)
{
    levels->kind = pieces->kind;
    levels->rate = pieces->rate;
    levels->share = is_share(pieces->kind);
    levels->by_number = goes_by_number(pieces->kind);
    levels->units = ARENA_ARRAY(levels->arena, count, struct rate_unit);
    levels->count = 0;
    for (size_t i = 0; i < count; i++) {
        int number = pieces[i].subject.season_number;

        /* rates.csv knows two springs */
        if (levels->by_number && (number < 1 || number > 2))
            continue;
        levels->units[levels->count] = (struct rate_unit){
            .piece = &pieces[i], .index = levels->count, .above = NAN, .season_factor = 1};
        levels->count++;
    }
    if (levels->count == 0)
        return;
    if (pieces->kind == RATE_BAGS_PER_GRAFT)
        rate_fit_places(levels);
    else
        rate_fit_levels(levels);
}

static struct rate_fit fit_all(const struct state *state, bool each_clone, struct arena *arena)
{
    struct rate_pieces pieces = rate_pieces_of(state, arena);
    struct rate_fit fit = {.contradictory = pieces.contradictory, .timed = pieces.timed};
    struct rate_levels levels = {
        .orchard = state->orchard, .arena = arena, .fit = &fit, .each_clone = each_clone};

    for (size_t i = 0, end; i < pieces.count; i = end) {
        for (end = i + 1;
             end < pieces.count && strcmp(pieces.list[end].rate, pieces.list[i].rate) == 0;)
            end++;
        fit_rate(&levels, end - i, &pieces.list[i]);
    }
    return fit;
}

struct rate_fit rate_fit_of(const struct state *state, struct arena *arena)
{
    return fit_all(state, false, arena);
}

struct rate_fit rate_fit_each_clone(const struct state *state, struct arena *arena)
{
    return fit_all(state, true, arena);
}
