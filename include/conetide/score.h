/*
 * score.h - how good probable dates turned out, and counts with chances.
 *
 * Scores are in the unit of the dates, days; smaller is better.
 */
#ifndef CONETIDE_SCORE_H
#define CONETIDE_SCORE_H

#include "conetide/status.h"

#include <stddef.h>

/*
 * conetide_pinball - the loss of a quantile.
 *
 * Given:
 *   share        of the quantile, 0 to 1
 *   quantile     as projected                                                             [day]
 *   observed                                                                              [day]
 * Returned (function value): max(share (observed - quantile), (share - 1) (observed - quantile))
 *
 * Source: Koenker & Bassett 1978, Econometrica 46:33-50.
 */
double conetide_pinball(double share, double quantile, double observed);

/*
 * conetide_crps_ensemble - continuous ranked probability score of equally likely dates.
 *
 * Given:
 *   n            number of members, >= 1
 *   sorted       [n] ascending, finite                                                    [day]
 *   observed     finite                                                                   [day]
 * Returned:
 *   *crps        integral of (F - step at observed)^2 = mean |x - observed| - mean |x - x'| / 2
 *   *fair        what an endless ensemble of the same spread is expected to score: n (n - 1) in
 * place of n^2 in the second mean; NaN below two members Returned (function value): CONETIDE_OK;
 * CONETIDE_BAD_ARGUMENT when n is 0 or a number is not finite or out of order, both NaN
 *
 * Source: Gneiting & Raftery 2007, J. Am. Stat. Assoc. 102:359-378; fair: Ferro 2014, Q. J. R.
 *   Meteorol. Soc. 140:1917-1923.
 */
enum conetide_status conetide_crps_ensemble(size_t n, const double *sorted, double observed,
                                            double *crps, double *fair)
    __attribute__((warn_unused_result));

/*
 * conetide_crps_normal - the same of a normal distribution.
 *
 * Given: mean, sd >= 0 (0: a sure date), observed; NaN gives NaN
 * Returned (function value): sd (z (2 Phi(z) - 1) + 2 phi(z) - 1 / sqrt(pi)), z = (observed - mean)
 *   / sd; NaN for sd below 0
 *
 * Source: Gneiting, Raftery, Westveld & Goldman 2005, Mon. Weather Rev. 133:1098-1118.
 */
double conetide_crps_normal(double mean, double sd, double observed);

/* Days with weights: a distribution on finitely many days. */
struct conetide_weighted_days {
    size_t n;             /* >= 1 */
    const double *days;   /* [n] ascending, finite                                         [day] */
    const double *weight; /* [n] >= 0, of sum over 0; need not sum to 1 */
};

/*
 * conetide_crps_weighted - the same of days with weights.
 *
 * Returned:
 *   *crps        NaN when not computed                                                    [day]
 * Returned (function value): CONETIDE_OK; CONETIDE_BAD_ARGUMENT
 */
enum conetide_status conetide_crps_weighted(const struct conetide_weighted_days *distribution,
                                            double observed, double *crps)
    __attribute__((warn_unused_result));

/*
 * conetide_pit - where what was observed lies in what was projected.
 *
 * Returned:
 *   *below       F just before `observed`: weight of the days before it
 *   *up_to       F at `observed`; a value between both, drawn evenly, is even over 0 to 1 when the
 *                projection is right; without a draw take their mean
 * Returned (function value): CONETIDE_OK; CONETIDE_BAD_ARGUMENT, both NaN
 *
 * Source: Dawid 1984, J. R. Stat. Soc. A 147:278-292; for discrete distributions Czado, Gneiting &
 *   Held 2009, Biometrics 65:1254-1261.
 */
enum conetide_status conetide_pit(const struct conetide_weighted_days *distribution,
                                  double observed, double *below, double *up_to)
    __attribute__((warn_unused_result));

/*
 * conetide_brier - mean of (chance - outcome)^2.
 *
 * Given:
 *   n            number of days with a chance, >= 1
 *   chance       [n] 0 to 1
 *   outcome      [n] 0 or 1
 * Returned (function value): 0 to 1; NaN when n is 0
 *
 * Source: Brier 1950, Mon. Weather Rev. 78:1-3.
 */
double conetide_brier(size_t n, const double *chance, const double *outcome);

#endif
