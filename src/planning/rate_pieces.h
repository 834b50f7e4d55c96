/*
 * rate_pieces.h - what notes tell of rates: so many of so many, graft by graft and bag by bag.
 */
#ifndef PLANNING_RATE_PIECES_H
#define PLANNING_RATE_PIECES_H

#include "orchard/state.h"

enum rate_kind {
    RATE_SURVIVAL,
    RATE_STROBILI_PER_LIVE_GRAFT,
    RATE_BAGS_PER_GRAFT,
    RATE_STROBILI_PER_BAG,
    RATE_BAGS_LOST,
    RATE_CONELETS_KEPT,
    RATE_CONES_KEPT,
    RATE_SEEDS_PER_CONE,
    RATE_MINUTES_EACH, /* of as many tasks as were timed */
    RATE_KINDS
};

/* One graft in one of its seasons, one bag, one piece of work. */
struct rate_piece {
    enum rate_kind kind;
    const char *rate;            /* as in rates.csv */
    struct rate_subject subject; /* selection: the true one, under the one name of its clone; NULL
                                    members: not known */
    int season;                  /* a year */
    double counted, of;          /* conelets of pollinated strobili, strobili of 1 graft */
};

struct rate_pieces {
    struct rate_piece *list; /* by kind, rate, season, subject, counts */
    size_t count, capacity;
    size_t contradictory; /* bags left out: more counted than there can have been */
    size_t timed;         /* pieces of work whose minutes were noted */
};

/*
 * From notes and tables, of grafts whose tree and day are known.
 *
 *   survival       a graft lived in a spring when it was alive by the newest word (a survival note,
 *                  a dated condition, its tree's death) of that season or by a sign of life in that
 *                  season or later (a stage, strobili, a bag; a later word that it is alive); it
 *                  did not when that newest word, or an earlier one, is dead or lost.  Grafts of
 *                  which neither is known are left out, and seasons that are not over.
 *   strobili       the newest count of the season, 0 too
 *   bags on a graft of those that had any
 *   lost           of bags that were taken off or lost, or whose season is over
 *   conelets, cones, seeds  of bags not lost, where both counts are known; a bag without a visit
 *                  tells nothing of conelets
 *   minutes        the value of `done` notes
 */
struct rate_pieces rate_pieces_of(const struct state *state, struct arena *arena);

#endif
