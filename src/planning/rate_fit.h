/*
 * rate_fit.h - rates fitted to what was counted, level by level, as rows of rates.csv.
 */
#ifndef PLANNING_RATE_FIT_H
#define PLANNING_RATE_FIT_H

#include "planning/rate_pieces.h"

/* Own choices; the handbook gives the reasons. */
#define RATE_SEEN_LEAST 5       /* grafts, bags or pieces of work behind a row */
#define RATE_SHIPPED_WORTH 5.0  /* what the shipped rate counts as, of the things counted */
#define RATE_LEVEL_SPREAD 0.05  /* relative variance between the groups of a level, before any */
#define RATE_SEASON_SPREAD 0.05 /* the same between seasons */
#define RATE_SPREAD_WORTH 2.0   /* what these count as, of groups */
#define RATE_SCATTER_WORTH 4.0  /* what independent counts count as, of pieces */
#define RATE_OUTSIDE 0.2        /* of the range from low to high: 80 % */
/* A row moves the level above by so much of its standard deviation, or is none. */
#define RATE_MOVED_LEAST 0.25

enum rate_level {
    RATE_LEVEL_GENERAL,
    RATE_LEVEL_SEASON_NUMBER,
    RATE_LEVEL_HOST_SPECIES,
    RATE_LEVEL_SITE,
    RATE_LEVEL_CLONE,
    RATE_LEVEL_SELECTION,
    RATE_LEVELS
};

struct rate_row {
    enum rate_kind kind;
    enum rate_level level;
    const char *rate;
    struct rate_subject cells; /* NULL and 0: blank */
    struct decimal value;      /* exact, three digits after the point */
    double low, high;          /* likewise rounded; low <= value <= high */
    double above;              /* what the level above tells of the same pieces; NaN: none is */
    double in_use;             /* what holds now for such a subject, by the folder's rows and those
                                  that ship; NaN: nothing */
    bool replaces;             /* a row of the folder has the same cells */
    double seen;               /* grafts, bags, strobili, conelets, cones: what `counted` is of */
    size_t pieces;             /* grafts or bags or pieces of work */
    int first_season, last_season;
};

struct rate_fit {
    struct rate_row *list; /* by kind, rate, level, cells */
    size_t count, capacity;
    size_t little_seen;          /* groups of a level with too few pieces for a row */
    size_t contradictory, timed; /* as in rate_pieces */
};

/*
 * Each level is drawn toward the one above it: the season number or the general rate toward the
 * shipped rate, then host species, site, clone and selection in this order, each toward what the
 * rows above it tell of its own pieces.  Shares are beta-binomial, counts and minutes
 * gamma-Poisson, both with the scatter between pieces taken off what they are worth; how far groups
 * of a level lie apart comes from the pieces themselves (by moments) and a stated prior.
 * bags_per_graft is the count that nine grafts of ten stay within, not a mean.
 */
struct rate_fit rate_fit_of(const struct state *state, struct arena *arena);

/* The same with a row for every clone, host species and season number that anything was seen of,
 * whether it differs or not. */
struct rate_fit rate_fit_each_clone(const struct state *state, struct arena *arena);

#endif
