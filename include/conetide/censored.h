/*
 * censored.h - mean and spread of values of which only bounds are known.
 *
 * An event seen between two visits lies between their heat sums; one that was over at the first
 * visit lies anywhere below; one not seen by the last, anywhere above.  Taking the visit that saw
 * it first puts the mean too high, by half a visit's interval.
 */
#ifndef CONETIDE_CENSORED_H
#define CONETIDE_CENSORED_H

#include "conetide/status.h"

#include <stddef.h>

/* A value above `lower`, at most `upper`; equal: known; -INFINITY or INFINITY: no bound. */
struct conetide_bounds {
    double lower, upper;
};

struct conetide_normal_fit {
    double mean, sd;       /* [unit of the bounds] */
    double log_likelihood; /* of intervals their chance, of known values their density */
};

/*
 * conetide_fit_normal - normal distribution of greatest likelihood.
 *
 * Given:
 *   n         number of values
 *   bounds    [n] lower <= upper, neither NaN; one without any bound says nothing and does no harm
 * Returned:
 *   *fit      all NaN when not computed
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_BAD_ARGUMENT       a bound is NaN, lower over upper, or both are the same infinity
 *   CONETIDE_NOT_IDENTIFIABLE   one value lies within the bounds of all (Note 2); or, with bounds
 * on one side only, no spread is too large for them
 *
 * Notes:
 *   1) In mean / sd and 1 / sd the log likelihood has one maximum and no other bend (it is
 * concave), so Newton's steps, halved where they lead down, find it from any start. 2) If one value
 * lies within all bounds, ends included, then the smaller the spread about it the greater the
 * likelihood: such data are silent about the spread.
 *
 * Memory: none.  Time: n for each of some ten steps.
 * Source: Burridge 1981, J. R. Stat. Soc. B 43:41-45 (concavity); the rest: own derivation.
 */
enum conetide_status conetide_fit_normal(size_t n, const struct conetide_bounds *bounds,
                                         struct conetide_normal_fit *fit)
    __attribute__((warn_unused_result));

#endif
