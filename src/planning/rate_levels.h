/*
 * rate_levels.h - the levels of one rate: how its pieces are grouped, drawn and told.
 */
#ifndef PLANNING_RATE_LEVELS_H
#define PLANNING_RATE_LEVELS_H

#include "planning/rate_fit.h"

enum { RATE_BY_SEASON = RATE_LEVELS }; /* a level without rows */

/* A piece, and what the rows made so far tell of it. */
struct rate_unit {
    const struct rate_piece *piece;
    size_t index;               /* in the order of pieces */
    const char *key, *host;     /* of its group; host: NULL where rows do not name it */
    int number;                 /* its season number, 0 where groups do not go by it */
    double above, above_spread; /* rate_model.h; NaN: no row yet */
    double season_factor;       /* of its season */
    const double *places;       /* bags_per_graft: shares of 0, 1, 2 ... bags */
};

struct rate_levels {
    const struct orchard *orchard;
    struct arena *arena;
    struct rate_fit *fit;
    enum rate_kind kind;
    const char *rate;
    bool share;      /* else a count or minutes */
    bool each_clone; /* tell every clone and what it is drawn toward, however little was seen */
    bool by_number;  /* every row names its season number and, below it, the host species */
    struct rate_unit *units;
    size_t count;
    double scatter;       /* between pieces, by that of independent counts */
    bool apart;           /* the groups of this level differ by more than chance */
    double season_spread; /* of what few seasons leave unknown of all rows */
};

/* Put units into the groups of an enum rate_level, or of seasons: sorted by key and, when
 * by_number, number; those without a key first.  How many have none. */
size_t rate_sort_level(struct rate_levels *levels, int level);

/* The end of the group that begins at `first`. */
size_t rate_group_end(const struct rate_levels *levels, size_t first);

/* A row without its value: cells, seasons, how much was seen. */
struct rate_row rate_row_of(const struct rate_levels *levels, enum rate_level level, size_t first,
                            size_t end);

/* The row of just these cells that ships, or that the folder has; NULL: none. */
const struct rate *rate_row_with_cells(const struct orchard *orchard, const struct rate_row *row,
                                       bool shipped);

/* Value of the row of these cells that ships, of minutes the task's own; NaN: none. */
double rate_shipped(const struct orchard *orchard, const struct rate_row *row);

/* Rounds, and looks up what is in use. */
void rate_add_row(struct rate_levels *levels, const struct rate_row *row, double value);

void rate_fit_levels(struct rate_levels *levels);

/* bags_per_graft. */
void rate_fit_places(struct rate_levels *levels);

#endif
