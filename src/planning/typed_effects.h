/*
 * typed_effects.h - what follows from notes that were added.
 */
#ifndef PLANNING_TYPED_EFFECTS_H
#define PLANNING_TYPED_EFFECTS_H

#include "orchard/state.h"

struct lot_left {
    const char *lot;
    double left_ml;
};

struct typed_effects {
    size_t bags_hang; /* now, of all seasons */
    size_t bags_new;  /* that were hung by these notes */
    size_t bags_new_not_clean;
    size_t bags_visited; /* that were pollinated by these notes */
    size_t bags_off, bags_lost;
    size_t grafts_new, grafts_gone, grafts_renamed;
    struct lot_left *lots; /* those of which there is more or less than before */
    size_t lot_count;
};

/* From the states of a folder without and with the notes, as of one day. */
struct typed_effects typed_effects_of(const struct state *before, const struct state *after,
                                      struct arena *arena);

#endif
