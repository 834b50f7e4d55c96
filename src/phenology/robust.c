/*
 * robust.c - Theil-Sen trend and circular means.
 */
#include "conetide/robust.h"

#include "phenology/ascending.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double z95 = 1.95996398454005423552; /* 97.5 % quantile of the standard normal */

/* k (k - 1) (2 k + 5) summed over groups of k equal values. */
static double tied(size_t n, const double *values, double *workspace)
{
    double total = 0;
    size_t group = 1;

    memcpy(workspace, values, n * sizeof *values);
    conetide_ascending(n, workspace);
    for (size_t i = 1; i <= n; i++) {
        if (i < n && workspace[i] <= workspace[i - 1]) {
            group++;
            continue;
        }
        total += (double)group * ((double)group - 1) * (2 * (double)group + 5);
        group = 1;
    }
    return total;
}

/* Slopes of all pairs that differ in x; how many. */
static size_t slopes_of(size_t n, const double *x, const double *y, double *slopes)
{
    size_t count = 0;

    for (size_t i = 0; i < n; i++) {
        for (size_t k = i + 1; k < n; k++) {
            if (x[k] < x[i] || x[k] > x[i])
                slopes[count++] = (y[k] - y[i]) / (x[k] - x[i]);
        }
    }
    return count;
}

static double median_of(size_t n, const double *values, double *workspace)
{
    memcpy(workspace, values, n * sizeof *values);
    conetide_ascending(n, workspace);
    return conetide_median_of_sorted(n, workspace);
}

enum conetide_status conetide_trend_of(size_t n, const double *x, const double *y,
                                       double *workspace, struct conetide_trend *trend)
{
    double *slopes = workspace + n, all, variance, half_width;
    long low, high, count;

    *trend = (struct conetide_trend){NAN, NAN, NAN, NAN, NAN};
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(x[i]) || !isfinite(y[i]))
            return CONETIDE_MISSING;
    }
    count = (long)slopes_of(n, x, y, slopes);
    if (count == 0)
        return CONETIDE_NOT_IDENTIFIABLE;
    conetide_ascending((size_t)count, slopes);
    trend->slope = conetide_median_of_sorted((size_t)count, slopes);

    all = (double)n * ((double)n - 1) * (2 * (double)n + 5);
    variance = (all - tied(n, x, workspace) - tied(n, y, workspace)) / 18;
    half_width = z95 * sqrt(fmax(0, variance));
    low = lrint(((double)count - half_width) / 2) - 1;
    high = lrint(((double)count + half_width) / 2);
    trend->low95 = slopes[low > 0 ? low : 0];
    trend->high95 = slopes[high < count ? high : count - 1];

    trend->intercept_separate =
        median_of(n, y, workspace) - trend->slope * median_of(n, x, workspace);
    for (size_t i = 0; i < n; i++)
        workspace[i] = y[i] - trend->slope * x[i];
    conetide_ascending(n, workspace);
    trend->intercept_joint = conetide_median_of_sorted(n, workspace);
    return CONETIDE_OK;
}

enum conetide_status conetide_circular_of(size_t n, const double *doy, double days_in_year,
                                          struct conetide_circular *circular)
{
    double sine = 0, cosine = 0, turn;

    *circular = (struct conetide_circular){NAN, NAN, NAN};
    if (n == 0 || !(days_in_year > 0) || !isfinite(days_in_year))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < n; i++) {
        double angle = 2 * pi * ((doy[i] - 1) / days_in_year);

        if (!isfinite(doy[i]))
            return CONETIDE_MISSING;
        sine += sin(angle);
        cosine += cos(angle);
    }
    circular->resultant = fmin(1, hypot(sine, cosine) / (double)n);
    if (circular->resultant < 1e-12) { /* what is left of days that cancel out is rounding */
        circular->resultant = 0;
        circular->sd_days = INFINITY;
        return CONETIDE_OK;
    }
    turn = atan2(sine, cosine) / (2 * pi);
    turn -= floor(turn);
    circular->mean_doy = 1 + days_in_year * (turn < 1 ? turn : 0);
    circular->sd_days = days_in_year / (2 * pi) * sqrt(-2 * log(circular->resultant));
    return CONETIDE_OK;
}
