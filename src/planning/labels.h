/*
 * labels.h - which labels are written, and in what order.
 */
#ifndef PLANNING_LABELS_H
#define PLANNING_LABELS_H

#include "orchard/state.h"

struct label {
    const char *tag;
    const struct graft_state *graft; /* NULL: a new tag, whose lines are left blank */
};

struct labels {
    struct label *list;
    size_t count, capacity;
};

struct labels_wanted {
    const struct site *site; /* NULL: all */
    daynum from;             /* grafted on that day or later; DAY_NONE: whenever */
};

/* The grafts that may live (not dead, lost or removed), as one walks: site, block, row, position,
 * tree, crown from the top, tag. */
struct labels labels_of(const struct state *state, const struct labels_wanted *wanted,
                        struct arena *arena);

#endif
