/*
 * score.c - scores of probable dates.
 */
#include "conetide/score.h"

#include "conetide/normal.h"

#include <math.h>
#include <stdbool.h>

static const double one_by_root_pi = 0.56418958354775628695;
static const double one_by_root_two_pi = 0.39894228040143267794;

double conetide_pinball(double share, double quantile, double observed)
{
    double late = observed - quantile;

    return late >= 0 ? share * late : (share - 1) * late;
}

static bool is_ascending(size_t n, const double *values)
{
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(values[i]) || (i > 0 && values[i] < values[i - 1]))
            return false;
    }
    return n > 0;
}

enum conetide_status conetide_crps_ensemble(size_t n, const double *sorted, double observed,
                                            double *crps, double *fair)
{
    double count = (double)n, off = 0, apart = 0;

    *crps = *fair = NAN;
    if (!is_ascending(n, sorted) || !isfinite(observed))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < n; i++) {
        /* counted from the observed day, so that nothing is lost with the size of a day number */
        double late = sorted[i] - observed;

        off += fabs(late);
        apart += (2 * (double)i + 1 - count) * late; /* half the sum over pairs of |x - x'| */
    }
    *crps = off / count - apart / (count * count);
    if (n > 1)
        *fair = off / count - apart / (count * (count - 1));
    return CONETIDE_OK;
}

double conetide_crps_normal(double mean, double sd, double observed)
{
    double z, density;

    if (!(sd >= 0))
        return NAN;
    if (sd <= 0)
        return fabs(observed - mean);
    z = (observed - mean) / sd;
    density = one_by_root_two_pi * exp(-z * z / 2);
    return sd * (z * (2 * conetide_normal_cumulative(z) - 1) + 2 * density - one_by_root_pi);
}

/* Sum of the weights; NaN when the days or weights are none. */
static double total_weight(const struct conetide_weighted_days *distribution)
{
    double total = 0;

    if (!is_ascending(distribution->n, distribution->days))
        return NAN;
    for (size_t i = 0; i < distribution->n; i++) {
        if (!(distribution->weight[i] >= 0))
            return NAN;
        total += distribution->weight[i];
    }
    return total > 0 && isfinite(total) ? total : (double)NAN;
}

enum conetide_status conetide_crps_weighted(const struct conetide_weighted_days *distribution,
                                            double observed, double *crps)
{
    double total = total_weight(distribution), weight = 0, area = 0;
    size_t last = distribution->n - 1;

    *crps = NAN;
    if (isnan(total) || !isfinite(observed))
        return CONETIDE_BAD_ARGUMENT;
    area +=
        fmax(0, distribution->days[0] - observed) + fmax(0, observed - distribution->days[last]);
    for (size_t i = 0; i < last; i++) {
        double from = distribution->days[i], to = distribution->days[i + 1], share;
        double step = fmin(to, fmax(from, observed)); /* where the observed distribution rises */

        weight += distribution->weight[i];
        share = weight / total;
        area += share * share * (step - from) + (1 - share) * (1 - share) * (to - step);
    }
    *crps = area;
    return CONETIDE_OK;
}

enum conetide_status conetide_pit(const struct conetide_weighted_days *distribution,
                                  double observed, double *below, double *up_to)
{
    double total = total_weight(distribution), before = 0, after = 0;

    *below = *up_to = NAN;
    if (isnan(total) || !isfinite(observed))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < distribution->n; i++) {
        if (distribution->days[i] < observed)
            before += distribution->weight[i];
        else if (distribution->days[i] > observed)
            after += distribution->weight[i];
    }
    *below = before / total;
    *up_to = after > 0 ? 1 - after / total : 1;
    return CONETIDE_OK;
}

double conetide_brier(size_t n, const double *chance, const double *outcome)
{
    double squares = 0;

    for (size_t i = 0; i < n; i++)
        squares += (chance[i] - outcome[i]) * (chance[i] - outcome[i]);
    return n > 0 ? squares / (double)n : (double)NAN;
}
