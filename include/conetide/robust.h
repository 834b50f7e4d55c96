/*
 * robust.h - a trend that a few odd years do not turn, and means of days across New Year.
 */
#ifndef CONETIDE_ROBUST_H
#define CONETIDE_ROBUST_H

#include "conetide/status.h"

#include <stddef.h>

/* y = intercept + slope * x. */
struct conetide_trend {
    double slope;              /* median of all slopes between two points */
    double low95, high95;      /* 95 % interval of the slope */
    double intercept_separate; /* median of y less slope times median of x */
    double intercept_joint;    /* median of y - slope x: half of the points lie above the line */
};

/* Doubles of workspace that a trend through n points needs. */
#define CONETIDE_TREND_WORKSPACE(n) ((n) * ((n)-1) / 2 + (n))

/*
 * conetide_trend_of - Theil-Sen line through points.
 *
 * Given:
 *   n           number of points
 *   x, y        [n] finite, in any order; pairs of equal x have no slope and are left out
 *   workspace   [CONETIDE_TREND_WORKSPACE(n)] for the call alone
 * Returned:
 *   *trend      all NaN when not computed
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_MISSING            an x or y is not finite
 *   CONETIDE_NOT_IDENTIFIABLE   no two points differ in x
 *
 * Notes:
 *   1) The interval takes the slopes whose ranks are (number of slopes -+ 1.96 sqrt(v)) / 2,
 * rounded half to even and kept within the list, v the variance of Kendall's S with ties of x and
 * of y taken off: as SciPy's theilslopes.
 *
 * Time: n^2 log n.
 * Source: Sen 1968, J. Am. Stat. Assoc. 63:1379-1389.
 */
enum conetide_status conetide_trend_of(size_t n, const double *x, const double *y,
                                       double *workspace, struct conetide_trend *trend)
    __attribute__((warn_unused_result));

struct conetide_circular {
    double mean_doy;  /* 1 to days_in_year + 1, excluded; NaN when days cancel out         [day] */
    double resultant; /* R: 1 when all days are one, 0 when they cancel out */
    double sd_days;   /* sqrt(-2 ln R) in days; infinite when R is 0                      [days] */
};

/*
 * conetide_circular_of - mean and spread of days of the year that may lie on both sides of New
 * Year.
 *
 * Given:
 *   n              number of days, >= 1
 *   doy            [n] days of the year, 1 on 1 January, finite                           [day]
 *   days_in_year   over 0
 * Returned:
 *   *circular      all NaN when not computed
 * Returned (function value): CONETIDE_OK; CONETIDE_MISSING for a day not finite;
 *   CONETIDE_BAD_ARGUMENT for n or days_in_year out of range
 *
 * Notes:
 *   1) Days counted from the start of a season need none of this.
 *
 * Source: Mardia & Jupp 2000, Directional Statistics, chapter 2.
 */
enum conetide_status conetide_circular_of(size_t n, const double *doy, double days_in_year,
                                          struct conetide_circular *circular)
    __attribute__((warn_unused_result));

#endif
