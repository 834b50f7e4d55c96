/*
 * requirement_cell.c - one cell of a fit.
 */
#include "phenology/requirement_cell.h"

#include "conetide/sum.h"
#include "phenology/ascending.h"

#include <math.h>
#include <string.h>

double conetide_observed_day(const struct conetide_visits *visits)
{
    return ((double)visits->after + 1 + visits->by) / 2;
}

/* Heat from the cell's start to the end of day index `day`, less what the need has declined. */
static double level_after(const struct conetide_cell_view *view, size_t season, double day)
{
    const double *sum = view->sum + season * (view->past->days + 1);
    double heat = day < (double)view->start ? 0 : sum[(size_t)day + 1] - sum[view->start];

    return heat - view->per_day * day;
}

double conetide_cell_need(const struct conetide_cell_view *view, size_t season)
{
    const struct conetide_visits *visits = &view->past->events[season];

    return (level_after(view, season, visits->after) + level_after(view, season, visits->by)) / 2;
}

/* The level never falls, so the first day that meets a need is searched by halves: after two looks,
 * at `near` and at the day beside it, which are nearly always enough. */
static size_t first_day_met(const struct conetide_cell_view *view, size_t season, double units,
                            size_t near)
{
    size_t low = view->start, high = (size_t)view->known[season];

    for (int look = 0; low < high; look++) {
        size_t middle = low + (high - low) / 2;

        if (look < 2 && near < low)
            middle = low;
        else if (look < 2)
            middle = near < high ? near : high - 1;
        if (level_after(view, season, (double)middle) >= units - CONETIDE_SUM_TOLERANCE)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

/* As conetide_need_reached. */
struct conetide_cell_span conetide_cell_meets(const struct conetide_cell_view *view, size_t season,
                                              double units, double near)
{
    size_t known = (size_t)view->known[season];
    size_t low = first_day_met(view, season, units, (size_t)near);
    double day, above;

    day = (double)low;
    /* a need of nothing is met on no day: the declining line ran out before heat came */
    if (low >= known || !(units + view->per_day * day > 0))
        return (struct conetide_cell_span){(double)known, units, units};
    above = -view->per_day * day;
    if (low > view->start)
        above = fmax(above, level_after(view, season, day - 1) + CONETIDE_SUM_TOLERANCE);
    return (struct conetide_cell_span){day, above,
                                       level_after(view, season, day) + CONETIDE_SUM_TOLERANCE};
}

static double mean_without(size_t n, const double *needs, double *without)
{
    double mean = 0;

    for (size_t i = 0; i < n; i++)
        mean += (needs[i] - mean) / (double)(i + 1);
    for (size_t i = 0; i < n; i++)
        without[i] = n > 1 ? mean + (mean - needs[i]) / (double)(n - 1) : (double)NAN;
    return mean;
}

/* The median without one value is one of three numbers, whichever that is. */
static double median_without(size_t n, const double *needs, double *sorted, double *without)
{
    size_t half = n / 2;

    memcpy(sorted, needs, n * sizeof *needs);
    conetide_ascending(n, sorted);
    for (size_t i = 0; i < n; i++) {
        if (n == 1)
            without[i] = NAN;
        else if (n % 2 == 0)
            without[i] = needs[i] <= sorted[half - 1] ? sorted[half] : sorted[half - 1];
        else if (needs[i] < sorted[half])
            without[i] = (sorted[half] + sorted[half + 1]) / 2;
        else if (needs[i] > sorted[half])
            without[i] = (sorted[half - 1] + sorted[half]) / 2;
        else
            without[i] = (sorted[half - 1] + sorted[half + 1]) / 2;
    }
    return conetide_median_of_sorted(n, sorted);
}

double conetide_middle_of(enum conetide_middle middle, size_t n, const double *needs,
                          double *sorted, double *without)
{
    return middle == CONETIDE_MIDDLE_MEDIAN ? median_without(n, needs, sorted, without)
                                            : mean_without(n, needs, without);
}
