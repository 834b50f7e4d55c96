/*
 * chill.h - chilling and growing units of hours, and dates that need chilling before heat.
 *
 * Units of an hour are functions of its temperature, to be summed by conetide_heat_sum (sum.h);
 * hours in a cold store are hours like others, put in by the caller at the store's temperature.
 * The Dynamic model has a memory and is walked hour by hour.  A temperature that is NaN gives NaN.
 */
#ifndef CONETIDE_CHILL_H
#define CONETIDE_CHILL_H

#include "conetide/status.h"

#include <stddef.h>

/*
 * conetide_chill_hour - 1 when the hour chills, else 0.
 *
 * Given:
 *   temperature_c
 *   low_c, high_c   both ends chill; low_c may be -INFINITY
 *
 * Notes:
 *   1) Ranges in use: 0 to 8 (seedlings of southern pines), 0 to 7.2 (Bennett), all up to 7.2
 *      (Weinberger: 45 deg F).
 *
 * Source: Weinberger 1950, Proc. Am. Soc. Hort. Sci. 56; Bennett 1949, Calif. Agric. 3 (volumes
 *   from memory); 0 to 8: South 2013, USDA RMRS-P-69:3-10.
 */
double conetide_chill_hour(double temperature_c, double low_c, double high_c);

/*
 * conetide_utah_unit - Utah chill unit of an hour, -1 to 1.
 *
 * Notes:
 *   1) Up to 1.4: 0; up to 2.4: 0.5; up to 9.1: 1; up to 12.4: 0.5; up to 15.9: 0; up to 18: -0.5;
 *      over that -1.
 *
 * Source: Richardson, Seeley & Walker 1974, HortScience 9:331-332.
 */
double conetide_utah_unit(double temperature_c);

/* Temperatures at which growth begins, is fastest, and ends; base < optimum < critical. */
struct conetide_growth_range {
    double base_c, optimum_c, critical_c;
};

extern const struct conetide_growth_range conetide_anderson; /* 4, 25, 36 deg C */

/*
 * conetide_growing_degree_hour - growing degree hours of an hour.
 *
 * Given:
 *   temperature_c
 *   range            finite
 * Returned (function value): (optimum - base) / 2 (1 + cos(pi + pi (T - base) / (optimum - base)))
 *   up to the optimum, from there (optimum - base) (1 + cos(pi / 2 + pi / 2 (T - optimum) /
 *   (critical - optimum))); 0 outside base to critical                              [degree hour]
 *
 * Source: Anderson, Richardson & Kesner 1986, Acta Hort. 184:71-78.
 */
double conetide_growing_degree_hour(double temperature_c,
                                    const struct conetide_growth_range *range);

/* Start of a season: both 0. */
struct conetide_dynamic {
    double intermediate; /* product that warmth destroys and a full portion of which is fixed */
    double portions;     /* chill portions fixed so far */
};

/*
 * conetide_dynamic_hour - one hour of the Dynamic model.
 *
 * Given and returned:
 *   dynamic         state before and after the hour
 * Given:
 *   temperature_c   of the hour, over -273; NaN makes the state NaN
 *
 * Notes:
 *   1) Kelvin is taken as temperature_c + 273, as the published constants were fitted so.
 *   2) The hour counts for itself.  Another program (chillR) lets it count for the hour after, so
 *      that its portions come one hour later.
 *
 * Source: Fishman, Erez & Couvillon 1987, J. Theor. Biol. 124:473-483 and 126:309-321; constants:
 *   Erez, Fishman, Linsley-Noakes & Allan 1990, Acta Hort. 276:165-174.
 */
void conetide_dynamic_hour(struct conetide_dynamic *dynamic, double temperature_c);

/*
 * conetide_chilling_rate - triangular rate: 0 up to low and from high, 1 at best, straight between.
 * conetide_forcing_rate - sigmoid 28.4 / (1 + exp(-0.185 (T - 18.4))) above 0 deg C, else 0.
 *
 * Both for daily means.  Source: Hanninen 1990, Acta For. Fenn. 213; -3.4, 3.5 and 10.4 deg C and
 *   the sigmoid as in Kramer 1994, Plant Cell Environ. 17 (both from memory).
 */
double conetide_chilling_rate(double mean_c, double low_c, double best_c, double high_c);
double conetide_forcing_rate(double mean_c);

/* Daily rates from the day on which chilling is first counted. */
struct conetide_dormancy {
    size_t days;
    const double *chill; /* [days] >= 0; NaN where missing */
    const double *heat;  /* [days] >= 0; NaN where missing */
};

/*
 * conetide_sequential, _parallel, _alternating - the day at whose end the need is met.
 *
 *   sequential   chill sums to chill_need; from the day after on, heat sums to heat_need
 *   parallel     heat counts with k = min(1, least + (1 - least) S / chill_need), S the chill up to
 *                the day before, and sums to heat_need
 *   alternating  heat, from day index heat_from on, sums to fixed + extra exp(fall S), S the chill
 *                up to and with that day
 *
 * Given:
 *   dormancy     daily rates
 *   needs        of that name; finite, over 0; least 0 to 1; fall <= 0; fixed, extra >= 0
 * Returned:
 *   *index       first day on which the sum is reached, but for CONETIDE_SUM_TOLERANCE; days when
 *                there is none                                                       [day index]
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_NOT_REACHED    on no day given
 *   CONETIDE_MISSING        not before the first day of which chill or heat is NaN
 *   CONETIDE_BAD_ARGUMENT   a need out of range
 *
 * Notes:
 *   1) Published parallel models differ in whether a day's own chill counts for its heat.  For
 *      those in which it does, give a day without heat first: heat one index later than its chill.
 *
 * Source: sequential and parallel: Hanninen 1990; alternating: Cannell & Smith 1983, J. Appl. Ecol.
 *   20:951-963.
 */
struct conetide_sequential_need {
    double chill_need, heat_need;
};

struct conetide_parallel_need {
    double chill_need, heat_need, least;
};

struct conetide_alternating_need {
    size_t heat_from;
    double fixed, extra, fall;
};

enum conetide_status conetide_sequential(const struct conetide_dormancy *dormancy,
                                         const struct conetide_sequential_need *needs,
                                         size_t *index) __attribute__((warn_unused_result));
enum conetide_status conetide_parallel(const struct conetide_dormancy *dormancy,
                                       const struct conetide_parallel_need *needs, size_t *index)
    __attribute__((warn_unused_result));
enum conetide_status conetide_alternating(const struct conetide_dormancy *dormancy,
                                          const struct conetide_alternating_need *needs,
                                          size_t *index) __attribute__((warn_unused_result));

#endif
