#include "orchard/state.h"

#include "orchard/state_parts.h"

const struct state *state_of(const struct orchard *orchard, struct arena *arena,
                             struct diags *diags)
{
    struct diags unheard;
    if (!diags) {
        diags_init(&unheard, arena);
        diags = &unheard;
    }
    struct state *state = ARENA_NEW(arena, struct state);
    state->orchard = orchard;
    state_make_grafts(state, arena);
    state_make_bags(state, arena, diags);
    state_make_lots(state, arena, diags);
    return state;
}
