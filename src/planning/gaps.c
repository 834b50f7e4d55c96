#include "planning/gaps.h"

#include <math.h>
#include <stdbool.h>

static bool is_seen(struct extremes seen, const double *series, size_t i)
{
    return isfinite(series[i]) && !(seen.tmin_c[i] > seen.tmax_c[i]);
}

static void fill_series(size_t days, struct extremes seen, const double *series, double *filled)
{
    size_t before = days; /* the last day seen; none yet */

    for (size_t i = 0; i < days; i++) {
        filled[i] = (double)NAN;
        if (!is_seen(seen, series, i))
            continue;
        filled[i] = series[i];
        if (before < i && i - before - 1 <= GAP_LINEAR_MOST) {
            double step = (series[i] - series[before]) / (double)(i - before);

            for (size_t k = before + 1; k < i; k++)
                filled[k] = series[before] + step * (double)(k - before);
        }
        before = i;
    }
}

void gaps_fill(size_t days, struct extremes seen, struct extremes filled)
{
    fill_series(days, seen, seen.tmin_c, filled.tmin_c);
    fill_series(days, seen, seen.tmax_c, filled.tmax_c);
    gaps_keep_order(days, seen, filled);
}

void gaps_keep_order(size_t days, struct extremes seen, struct extremes filled)
{
    for (size_t i = 0; i < days; i++) {
        if (!(filled.tmin_c[i] > filled.tmax_c[i]))
            continue;
        if (is_seen(seen, seen.tmin_c, i))
            filled.tmax_c[i] = filled.tmin_c[i];
        else
            filled.tmin_c[i] = filled.tmax_c[i];
    }
}
