/*
 * ascending.h - doubles in ascending order, in place.
 */
#ifndef PHENOLOGY_ASCENDING_H
#define PHENOLOGY_ASCENDING_H

#include <stddef.h>

/*
 * conetide_ascending - put values in ascending order.
 *
 * Given and returned:
 *   values   [n] no NaN
 *
 * Memory: none.  Time: n log n, whatever the order given.
 */
void conetide_ascending(size_t n, double *values);

/* Middle of n >= 1 values in ascending order; the mean of the two middle ones. */
double conetide_median_of_sorted(size_t n, const double *sorted);

#endif
