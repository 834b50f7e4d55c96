/*
 * base_temperature.c - base temperatures in closed form.
 *
 * Every criterion is about heat sums (t - x) d with t the mean temperature, d the days and x the
 * base sought.  Temperatures are counted from their mean over the trials, t = mean + u: the sums
 * then keep their digits and the formulas get short.
 */
#include "conetide/base_temperature.h"

#include <math.h>

/* Sums over trials. */
struct sums {
    double n, mean, d, ud, uu, uud, dd, udd, uudd, rate, urate;
};

static struct sums sums_of(size_t n, const double *mean, const double *days)
{
    struct sums sums = {(double)n, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < n; i++)
        sums.mean += mean[i] / sums.n;
    for (size_t i = 0; i < n; i++) {
        double u = mean[i] - sums.mean, d = days[i];

        sums.d += d;
        sums.ud += u * d;
        sums.uu += u * u;
        sums.uud += u * u * d;
        sums.dd += d * d;
        sums.udd += u * d * d;
        sums.uudd += u * u * d * d;
        sums.rate += 1 / d;
        sums.urate += u / d;
    }
    return sums;
}

/* A quotient; NaN when there is none. */
static double quotient(double numerator, double denominator)
{
    double value = numerator / denominator;

    return isfinite(value) ? value : (double)NAN;
}

enum conetide_status conetide_base_temperatures_of(size_t n, const double *mean, const double *days,
                                                   struct conetide_base_temperatures *bases)
{
    struct sums s;
    double slope;

    *bases = (struct conetide_base_temperatures){NAN, NAN, NAN, NAN, NAN, NAN};
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(mean[i]) || !(days[i] > 0) || !isfinite(days[i]))
            return CONETIDE_BAD_ARGUMENT;
    }
    s = sums_of(n, mean, days);
    if (n < 2 || !(s.uu > 0))
        return CONETIDE_NOT_IDENTIFIABLE;
    bases->least_sd_heat = s.mean + quotient(s.n * s.udd - s.d * s.ud, s.n * s.dd - s.d * s.d);
    bases->least_sd_days = s.mean + quotient(s.n * s.uudd - s.ud * s.ud, s.n * s.udd - s.d * s.ud);
    bases->least_cv = s.mean + quotient(s.udd * s.ud - s.d * s.uudd, s.dd * s.ud - s.d * s.udd);
    bases->zero_regression = s.mean + quotient(s.uud, s.ud); /* sum of u (u - y) d is 0 */
    slope = s.urate / s.uu;
    bases->x_intercept = s.mean - quotient(s.rate / s.n, slope);
    bases->requirement = quotient(1, slope);
    return CONETIDE_OK;
}
