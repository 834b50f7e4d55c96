/*
 * placement_choose.h - which scions go to which free places, so that the most is gained.
 *
 * Plain numbers, so that the choice can be set against a general solver.
 */
#ifndef PLANNING_PLACEMENT_CHOOSE_H
#define PLANNING_PLACEMENT_CHOOSE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What is wanted of one selection, and how it is to be spread. */
struct placement_wish {
    int64_t wanted;
    int64_t most_on_tree, most_on_clone;
};

/* A crown zone of one tree. */
struct placement_zone {
    size_t tree, clone; /* 0 to trees - 1, clones - 1; the zones of a tree stand together and have
                           one clone */
    int64_t free;
};

struct placement_question {
    size_t selections, zones, trees, clones;
    const struct placement_wish *wishes; /* [selections] */
    const struct placement_zone *places; /* [zones] */
    const int64_t *gain; /* [selections x zones]: of one graft, over 0; 0 and less: not allowed */
};

struct placement_choice {
    int64_t *taken; /* [selections x zones] grafts */
    int64_t placed, gain;
};

/*
 * The greatest sum of gains within the wishes, the free places and the most of a selection on one
 * tree and on one clone.  These limits lie one within the other (a tree's within its clone's), so
 * the whole is one flow and its optimum is of whole grafts (flow.h).  Of placements that gain the
 * same the order of selections and zones decides.  false: the numbers are too large.
 */
bool placement_choose(const struct placement_question *question, struct arena *arena,
                      struct placement_choice *choice);

/* The most of `count` grafts that one of several may carry, so that they stand on `least` or, where
 * there are fewer grafts or fewer to stand on, on as many. */
int64_t placement_most_on_one(int64_t count, int64_t least, int64_t there);

#endif
