/*
 * quantile.c - sample quantiles of Hyndman & Fan (1996), types 1 to 9.
 *
 * Every type is a position in the sorted sample, counted from 1, and a rule between neighbours.
 * Positions that are whole but for rounding count as whole (0.1 * 30 is not 3 in doubles), as a
 * date must not slip to the neighbour by the last bit of a probability.
 */
#include "conetide/quantile.h"

#include <float.h>
#include <math.h>

/* The weight of the upper neighbour for types 1 to 3; `beyond` is the position's fraction. */
static double step_weight(int type, double whole, double beyond)
{
    if (beyond > 0)
        return 1.0;
    if (type == 1)
        return 0.0;
    if (type == 2)
        return 0.5;
    return fmod(whole, 2) == 0 ? 0.0 : 1.0; /* type 3: the even neighbour */
}

static double position(int type, double n, double p)
{
    static const double a[] = {0, 0.5, 0, 1, 1.0 / 3, 3.0 / 8};
    static const double b[] = {1, 0.5, 0, 1, 1.0 / 3, 3.0 / 8};

    if (type <= 2)
        return n * p;
    if (type == 3)
        return n * p - 0.5;
    return a[type - 4] + p * (n + 1 - a[type - 4] - b[type - 4]);
}

/* sorted[k - 1], the ends repeated beyond themselves. */
static double neighbour(size_t n, const double *sorted, double k)
{
    if (k < 1)
        return sorted[0];
    return k > (double)n ? sorted[n - 1] : sorted[(size_t)k - 1];
}

enum conetide_status conetide_quantile(int type, size_t n, const double *sorted, double p,
                                       double *value)
{
    double at, fuzz, whole, beyond, weight, lower, upper;

    *value = NAN;
    if (type < 1 || type > 9 || n == 0 || !(p >= 0 && p <= 1))
        return CONETIDE_BAD_ARGUMENT;
    at = position(type, (double)n, p);
    fuzz = 4 * DBL_EPSILON * fmax(1, fabs(at));
    whole = floor(at + fuzz);
    beyond = at - whole < fuzz ? 0 : at - whole;
    weight = type <= 3 ? step_weight(type, whole, beyond) : beyond;
    lower = neighbour(n, sorted, whole);
    upper = neighbour(n, sorted, whole + 1);
    /* 0 * infinity is not 0: an infinite neighbour without weight must not be touched */
    if (weight <= 0 || (lower >= upper && lower <= upper))
        *value = lower;
    else if (weight >= 1)
        *value = upper;
    else
        *value = (1 - weight) * lower + weight * upper;
    return isnan(*value) ? CONETIDE_BAD_ARGUMENT : CONETIDE_OK;
}
