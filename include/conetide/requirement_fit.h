/*
 * requirement_fit.h - a heat requirement fitted to the dates of past seasons.
 *
 * Searched are curve, lower threshold, day on which summing starts, and how fast the requirement
 * declines with the date: a cell of the grid.  In each cell the requirement is the middle of what
 * the seasons needed, and the cell is judged by its error in days, never by the spread of the heat
 * sums, which prefers ever lower thresholds.
 *
 * Many cells are about equally good, and which of them is best is chance.  So the valley of cells
 * close to the best is reported, one in its middle is chosen, and the error to be expected is that
 * of the whole procedure on seasons it has not seen: each left out in turn and the search repeated.
 */
#ifndef CONETIDE_REQUIREMENT_FIT_H
#define CONETIDE_REQUIREMENT_FIT_H

#include "conetide/heat.h"
#include "conetide/status.h"

#include <stddef.h>
#include <stdint.h>

/* An event that had not come at the end of day `after` and had by the end of day `by`: two visits,
 * or with daily visits by - 1 and by.  Its day is taken to be the middle, (after + 1 + by) / 2. */
struct conetide_visits {
    int32_t after; /* -1: at the first day's start                                  [day index] */
    int32_t by;    /* over `after`                                                  [day index] */
};

/* Seasons laid on the same days, season by season. */
struct conetide_past {
    size_t seasons;     /* >= 3 */
    size_t days;        /* of each */
    const double *tmin; /* [seasons * days]                                           [degree] */
    const double *tmax; /* [seasons * days]                                           [degree] */
    const struct conetide_visits *events; /* [seasons] */
};

/* What is searched.  Of one value each of these may be given: then it is not searched. */
struct conetide_grid {
    size_t curves, lowers, starts, declines;   /* how many of each, >= 1 */
    const struct conetide_curve *const *curve; /* [curves] the simplest or most trusted first */
    const double *lower;                       /* [lowers] ascending                  [degree] */
    const int32_t *start;                      /* [starts] ascending, >= 0         [day index] */
    const double *per_day;                     /* [declines] <= 0, the simplest first: 0 [heat
                                                  units a day] */
    enum conetide_cutoff cutoff;               /* one for all */
    double upper;                              /* not read when cutoff is none        [degree] */
};

/* Where the grid is: indexes into its arrays. */
struct conetide_cell {
    size_t curve, lower, start, decline;
};

enum conetide_middle { CONETIDE_MIDDLE_MEAN, CONETIDE_MIDDLE_MEDIAN };

/*
 * How wide the valley is: cells whose RMSE is at most that of the best + valley_days +
 * valley_standard_errors * best / sqrt(2 seasons), the last being the standard error of an RMSE.
 * Both 0: the best cell is chosen.  One standard error is the usual choice (Breiman, Friedman,
 * Olshen & Stone 1984, Classification and Regression Trees, 3.4.3).
 */
struct conetide_fit_rule {
    enum conetide_middle middle;   /* of what the seasons needed */
    double valley_days;            /* >= 0                                              [days] */
    double valley_standard_errors; /* >= 0 */
};

extern const struct conetide_fit_rule conetide_usual_fit; /* mean, one standard error */

/* Projected less observed day. */
struct conetide_errors {
    double rmse_days;
    double mae_days;
    double bias_days;  /* over 0: too late */
    double worst_days; /* largest error, either way */
};

/* Ends of the grid on which the chosen cell lies, of what was searched: the search was too narrow.
 */
enum conetide_edge {
    CONETIDE_EDGE_LOWER_LEAST = 1,
    CONETIDE_EDGE_LOWER_MOST = 2,
    CONETIDE_EDGE_START_FIRST = 4,
    CONETIDE_EDGE_START_LAST = 8,
    CONETIDE_EDGE_DECLINE = 16 /* the steepest */
};

struct conetide_requirement {
    struct conetide_cell best;   /* of least RMSE on all seasons (Note 2) */
    struct conetide_cell chosen; /* Note 3 */
    double best_rmse_days;       /* on all seasons, by moments (Note 2) */
    double units;    /* requirement on day index d is units + per_day d     [heat units] */
    double units_sd; /* of what the seasons needed, n - 1                   [heat units] */

    struct conetide_errors fitted;   /* of the chosen cell, requirement from all seasons */
    struct conetide_errors left_out; /* of the chosen cell, requirement without the season */
    struct conetide_errors nested;   /* the whole search without the season: to be expected */
    struct conetide_errors calendar; /* the other seasons' mean day instead of heat */

    size_t valley_cells;
    struct conetide_cell valley_least, valley_most; /* least and most of each index in the valley */
    unsigned edges;                                 /* sum of enum conetide_edge */

    size_t bad_season; /* first with a fault; seasons when there is none       [season index] */
};

/* A season left out of the search. */
struct conetide_left_out {
    struct conetide_cell chosen; /* from the others */
    double error_days;           /* projected less observed */
};

/* All that a fit is given. */
struct conetide_fit_task {
    struct conetide_past past;
    struct conetide_grid grid;
    struct conetide_fit_rule rule;
};

/* Doubles of workspace that a fit needs. */
size_t conetide_fit_workspace(const struct conetide_fit_task *task);

/*
 * conetide_fit_requirement - search the grid, and leave out each season in turn.
 *
 * Given:
 *   task        seasons, of each all temperatures from the grid's first start to its event; what is
 *               searched; how
 *   workspace   [conetide_fit_workspace(task)] for the call alone
 * Returned:
 *   nested      [seasons] of each season left out; may be NULL
 *   *found      when not computed all NaN and 0, but for bad_season
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_MISSING, CONETIDE_REVERSED   a temperature that is needed
 *   CONETIDE_BAD_THRESHOLDS               see heat.h
 *   CONETIDE_BAD_ARGUMENT                 fewer than 3 seasons, an empty or unordered grid, a start
 * or an event outside the season, a rule out of range
 *
 * Notes:
 *   1) With S(d) the heat sum from `start` to the end of day d, a season needed the mean of
 * S(after) and S(by), less per_day times the day: for a date known to the day, the sum at mid-day.
 * The projected day is that of conetide_need_reached; where no known day is, the day after the last
 *      known.
 *   2) Cells are compared by the RMSE of moments: within its day a need is met in proportion to the
 *      day's heat, and the event came in the middle between its visits.  Whole days, which are what
 * is reported, would blur the comparison. 3) Chosen is, in the valley, the earliest curve and the
 * earliest decline in the grid's order that occur in it, curve first; of their cells the one
 * nearest to the mean of their thresholds and starts, counted in steps of the grid; of equally near
 * ones that of least RMSE, the lowest threshold, the earliest start. 4) Nested: for each season the
 * valley and the choice are found anew from the others alone, and the requirement too.  Only this
 * error is free of the search; `fitted` flatters.
 *
 * Memory: the workspace.  Time: cells * seasons^2.
 * Source: nested cross-validation: Varma & Simon 2006, BMC Bioinformatics 7:91; error in days as
 * the criterion: Snyder, Spano, Cesaraccio & Duce 1999, Int. J. Biometeorol. 42:177-182; the rest:
 * own choice.
 */
enum conetide_status conetide_fit_requirement(const struct conetide_fit_task *task,
                                              double *workspace, struct conetide_left_out *nested,
                                              struct conetide_requirement *found)
    __attribute__((warn_unused_result));

#endif
