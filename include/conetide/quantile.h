/*
 * quantile.h - sample quantiles of Hyndman & Fan (1996), types 1 to 9.
 */
#ifndef CONETIDE_QUANTILE_H
#define CONETIDE_QUANTILE_H

#include "conetide/status.h"

#include <stddef.h>

/*
 * conetide_quantile - the value below which the share p of a population is expected.
 *
 * Given:
 *   type        1 to 9 (Notes 1, 2)
 *   n           size of the sample, >= 1
 *   sorted      [n] the sample, ascending, no NaN, infinities allowed (Note 3)          [any unit]
 *   p           share, 0 to 1
 * Returned:
 *   *value      the quantile                                                        [unit of
 * sample] Returned (function value): CONETIDE_OK CONETIDE_BAD_ARGUMENT   type, n or p out of range,
 * or -infinity and +infinity would have to be averaged                                  not
 * computed, *value is NaN
 *
 * Notes:
 *   1) Types 1 to 3 give a value of the sample (2: or the mean of two), 4 to 9 go linearly between
 *      neighbours.  7 is what spreadsheets call inclusive; 8 is median-unbiased whatever the
 *      distribution, the authors' advice, and what this library's dates use.
 *   2) A position in the sample that is whole but for rounding counts as whole, so no type depends
 *      on the last bit of p.
 *   3) An event that is not reached may be carried as +infinity: quantiles that do not touch it
 *      stay finite.
 *
 * Memory: none.  Time: constant.
 * Source: Hyndman & Fan 1996, The American Statistician 50:361-365.
 */
enum conetide_status conetide_quantile(int type, size_t n, const double *sorted, double p,
                                       double *value) __attribute__((warn_unused_result));

#endif
