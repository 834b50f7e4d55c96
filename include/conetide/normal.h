/*
 * normal.h - the standard normal distribution.
 */
#ifndef CONETIDE_NORMAL_H
#define CONETIDE_NORMAL_H

/*
 * conetide_normal_cumulative - Phi(z), the chance that a standard normal value is at most z.
 *
 * Given:
 *   z           any value, infinities allowed                                   [standard
 * deviations] Returned (function value): 0 to 1; NaN for NaN
 *
 * Notes:
 *   1) Through erfc, so small chances in the lower tail keep all their digits.
 *
 * Source: Phi(z) = erfc(-z / sqrt(2)) / 2, by definition.
 */
double conetide_normal_cumulative(double z);

#endif
