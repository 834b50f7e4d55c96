/*
 * binomial.h - counts of successes: chances, how many tries are needed, and intervals.
 *
 * Grafts that live, bags that bear, labels that are wrong.
 */
#ifndef CONETIDE_BINOMIAL_H
#define CONETIDE_BINOMIAL_H

#include "conetide/status.h"

#include <stdint.h>

/* Tries up to which all functions here go. */
#define CONETIDE_TRIES_MOST 100000000

/*
 * conetide_binomial_at_least - the chance of k successes or more in n tries.
 *
 * Given:
 *   n     0 to CONETIDE_TRIES_MOST
 *   k     any; below 1 the chance is 1, above n it is 0
 *   p     chance of one try, 0 to 1
 * Returned (function value): 0 to 1, to 1e-12 of itself up to a million tries while over
 *   1e-290; NaN for n or p out of range
 *
 * Time: as many terms as weigh anything, some 20 sqrt(n).
 * Source: own derivation: ratios of neighbouring terms from the largest on, over their sum.
 */
double conetide_binomial_at_least(int64_t n, int64_t k, double p);

/*
 * conetide_tries_needed - the fewest tries that give k successes or more with a stated chance.
 *
 * Given:
 *   k         0 to CONETIDE_TRIES_MOST
 *   p         chance of one try, 0 to 1
 *   chance    at least, 0 to 1 excluded
 * Returned:
 *   *n        first n with conetide_binomial_at_least(n, k, p) >= chance - 1e-12; -1 otherwise
 * Returned (function value): CONETIDE_OK; CONETIDE_NOT_REACHED when CONETIDE_TRIES_MOST are too
 * few; CONETIDE_BAD_ARGUMENT
 */
enum conetide_status conetide_tries_needed(int64_t k, double p, double chance, int64_t *n)
    __attribute__((warn_unused_result));

/*
 * conetide_binomial_test - two-sided exact p of k successes in n tries under a chance p.
 *
 * Given:
 *   n, k      0 <= k <= n <= CONETIDE_TRIES_MOST, n >= 1
 *   p         under test, 0 to 1
 * Returned (function value): sum over all counts that are no likelier than k, likelihoods within
 *   1e-7 of one another taken as equal; NaN for what is out of range
 *
 * Source: the usual exact test by likelihood; tie rule as of R's binom.test.
 */
double conetide_binomial_test(int64_t n, int64_t k, double p);

/*
 * conetide_wilson - interval of a share by the score test.
 *
 * Given:
 *   n, k      0 <= k <= n, n >= 1
 *   z         quantile of the standard normal, over 0; 1.959964 for 95 %
 * Returned:
 *   *low, *high   0 to 1; NaN when not computed
 * Returned (function value): CONETIDE_OK; CONETIDE_BAD_ARGUMENT
 *
 * Source: Wilson 1927, J. Am. Stat. Assoc. 22:209-212.
 */
enum conetide_status conetide_wilson(int64_t n, int64_t k, double z, double *low, double *high)
    __attribute__((warn_unused_result));

#endif
