/*
 * mixed.h - values known within bounds, apart into a general mean, what a season adds, what a
 * selection adds, and the spread of single grafts.
 *
 *   value = mean + season + selection + spread
 *
 * Seasons and selections have normal distributions about 0 of their own, so what few values tell of
 * one is drawn toward the general mean: by n / (n + spread^2 / selection_sd^2) for a selection with
 * n values, in the simplest case.
 */
#ifndef PLANNING_MIXED_H
#define PLANNING_MIXED_H

#include "base/arena.h"
#include "conetide/censored.h"

#include <stdbool.h>
#include <stddef.h>

#define MIXED_NONE ((size_t)-1) /* of no selection known by name */

struct mixed_value {
    struct conetide_bounds bounds;
    size_t season;    /* 0 .. seasons - 1 */
    size_t selection; /* 0 .. selections - 1, or MIXED_NONE: as the mean */
};

/* Standard deviations that few values leave open: each counts as MIXED_PRIOR_WORTH values. */
struct mixed_prior {
    double season_sd; /* INFINITY: a season's part is not drawn toward 0 */
    double selection_sd;
    double spread_sd;
};

#define MIXED_PRIOR_WORTH 3 /* own choice */

struct mixed_task {
    size_t n;
    const struct mixed_value *values; /* [n] of each lower <= upper */
    size_t seasons, selections;
    struct mixed_prior prior;
};

struct mixed {
    double mean;
    double *season;                 /* [seasons] added to the mean; NaN: no value of it */
    double *selection;              /* [selections] added to the mean; 0: no value of it */
    double *selection_error;        /* [selections] standard deviation of what is not known of it */
    double season_sd, selection_sd; /* INFINITY as given */
    double spread_sd;
    double *expected; /* [n] of each value, given its bounds and everything else */
};

/*
 * A value with two infinite bounds says nothing.  Every season with a value must have one that is
 * bounded on both sides when season_sd is infinite.
 *
 * Method: expectation and maximisation in turn, the parts taken as independent of one another given
 * the bounds (mean field), until no part moves by 1e-6 of the spread, or 2000 times.  Source:
 * Dempster, Laird & Rubin 1977, J. R. Stat. Soc. B 39:1-38; mean field: own derivation, checked in
 * mixed_test.c against conetide_fit_normal and exact shrinkage.
 */
struct mixed mixed_fit(const struct mixed_task *task, struct arena *arena);

#endif
