/*
 * sum.h - heat sums as prefix sums, and the day on which a requirement is met.
 */
#ifndef CONETIDE_SUM_H
#define CONETIDE_SUM_H

#include "conetide/status.h"

#include <stddef.h>

/* sum[i] = heat_units[0] + ... + heat_units[i]; a NaN day makes it and all later sums NaN. */
void conetide_heat_sum(size_t n, const double *heat_units, double *sum);

/*
 * A requirement that may move with the date: on day index i it is units + per_day * (x_of_first + i).
 * per_day < 0: declining (Boyer 1972); 0: constant.
 */
struct conetide_need {
    double units;
    double per_day;
    double x_of_first; /* x of index 0, for example the day of the year */
};

#define CONETIDE_SUM_TOLERANCE 1e-6

/*
 * First index with sum[i] >= requirement(i) - CONETIDE_SUM_TOLERANCE and requirement(i) > 0.
 * sum[n] must not decrease.  Binary search when per_day <= 0 (sum less requirement then never
 * falls), else a scan.  NOT_REACHED: *index = n.
 */
enum conetide_status conetide_need_reached(size_t n, const double *sum, struct conetide_need need,
                                           size_t *index) __attribute__((warn_unused_result));

#endif
