#include "planning/rate_range.h"

#include <float.h>
#include <math.h>

enum { TERMS_MOST = 100000, HALVINGS = 60 };

/*
 * Incomplete beta by its continued fraction (Abramowitz and Stegun 1964, 26.5.8), evaluated from
 * the front by the rule of Lentz.  It is quick below the mean; above, the other tail is taken.
 */
static double beta_fraction(double x, double a, double b)
{
    double c = 1, d = 1 - (a + b) * x / (a + 1), value;

    d = 1 / (fabs(d) < DBL_MIN ? DBL_MIN : d);
    value = d;
    for (int m = 1; m < TERMS_MOST; m++) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));

        d = 1 / (1 + even * d);
        c = 1 + even / c;
        value *= c * d;
        d = 1 / (1 + odd * d);
        c = 1 + odd / c;
        value *= c * d;
        if (fabs(c * d - 1) < 1e-14)
            break;
    }
    return value;
}

double rate_beta_cumulative(double x, double a, double b)
{
    double factor;

    if (x <= 0 || x >= 1)
        return x <= 0 ? 0 : 1;
    factor = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x));
    if (x < (a + 1) / (a + b + 2))
        return factor * beta_fraction(x, a, b) / a;
    return 1 - factor * beta_fraction(1 - x, b, a) / b;
}

/* Incomplete gamma by its series (6.5.29) below the mean, above it by the continued fraction of the
 * other tail (6.5.31). */
double rate_gamma_cumulative(double x, double shape)
{
    double factor, sum, term;

    if (x <= 0)
        return 0;
    factor = exp(shape * log(x) - x - lgamma(shape));
    if (x < shape + 1) {
        sum = term = 1 / shape;
        for (int n = 1; n < TERMS_MOST && term > sum * 1e-15; n++) {
            term *= x / (shape + n);
            sum += term;
        }
        return factor * sum;
    }
    double b = x + 1 - shape, c = 1 / DBL_MIN, d = 1 / b, value = d;
    for (int n = 1; n < TERMS_MOST; n++) {
        double a = -n * (n - shape);

        b += 2;
        d = 1 / (a * d + b);
        c = b + a / c;
        value *= c * d;
        if (fabs(c * d - 1) < 1e-14)
            break;
    }
    return 1 - factor * value;
}

static double beta_quantile(double share, double a, double b)
{
    double low = 0, high = 1;

    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;

        if (rate_beta_cumulative(middle, a, b) < share)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

struct rate_range rate_beta_range(double mean, double variance, double outside)
{
    double most = 0.99 * mean * (1 - mean);
    double worth = mean * (1 - mean) / (variance < most ? variance : most) - 1;
    double a = mean * worth, b = (1 - mean) * worth;

    return (struct rate_range){beta_quantile(outside / 2, a, b),
                               beta_quantile(1 - outside / 2, a, b)};
}

static double gamma_quantile(double share, double shape)
{
    double low = 0, high = shape + 1;

    while (rate_gamma_cumulative(high, shape) < share)
        high *= 2;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;

        if (rate_gamma_cumulative(middle, shape) < share)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

struct rate_range rate_gamma_range(double mean, double variance, double outside)
{
    double shape = mean * mean / variance, scale = variance / mean;

    return (struct rate_range){scale * gamma_quantile(outside / 2, shape),
                               scale * gamma_quantile(1 - outside / 2, shape)};
}
