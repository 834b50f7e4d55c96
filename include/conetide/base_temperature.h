/*
 * base_temperature.h - base temperatures in closed form, from mean temperatures and durations.
 *
 * For trials in which a stage took d days at a mean temperature that stayed above the base: with
 * daily records of a season use requirement_fit.h, which asks for the error in days.
 */
#ifndef CONETIDE_BASE_TEMPERATURE_H
#define CONETIDE_BASE_TEMPERATURE_H

#include "conetide/status.h"

#include <stddef.h>

/* Bases by five criteria; NaN where a criterion has no answer.  All but the last [degree]. */
struct conetide_base_temperatures {
    double least_sd_heat;   /* least standard deviation of the heat sums */
    double least_sd_days;   /* of the same divided by the mean heat of a day */
    double least_cv;        /* least coefficient of variation of the heat sums */
    double zero_regression; /* heat sums do not depend on temperature */
    double x_intercept;     /* rate 1 / d is 0, of the line of 1 / d on temperature */
    double requirement;     /* with x_intercept: 1 / slope of that line            [degree day] */
};

/*
 * conetide_base_temperatures_of - the base temperature by five criteria.
 *
 * Given:
 *   n        number of trials or seasons
 *   mean     [n] mean temperature while the stage lasted, finite                    [degree]
 *   days     [n] how long it lasted, finite, over 0                                   [days]
 * Returned:
 *   *bases   all NaN when not computed
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_BAD_ARGUMENT       a number out of range
 *   CONETIDE_NOT_IDENTIFIABLE   fewer than two trials, or all of one temperature
 *
 * Notes:
 *   1) The criteria agree on data without error and part with it; the coefficient of variation
 *      tends to that of the durations for ever lower bases, so a low base is no proof of anything.
 *   2) least_sd_days has been programmed elsewhere (pollen 0.83.0, base_temp) with the sign of the
 *      deviations turned and n in the divisor twice: 10.009 in place of 2.519 for 25, 20, 15, 10
 *      degrees and 6, 11, 16, 21 days.
 *
 * Source: Yang, Logan & Coffey 1995, Agric. For. Meteorol. 74:61-74; x-intercept: Arnold 1959,
 * Proc. Am. Soc. Hort. Sci. 74:430-445.  Derived anew, checked against numerical minimisation.
 */
enum conetide_status conetide_base_temperatures_of(size_t n, const double *mean, const double *days,
                                                   struct conetide_base_temperatures *bases)
    __attribute__((warn_unused_result));

#endif
