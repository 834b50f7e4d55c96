/*
 * chance.c - chances of days and dates of events over all futures of a projection.
 *
 * A member moved by j is receptive on day d when j lies in d - last .. d - first, and its bag of
 * day b is clean when j > b - opening: every event of one member is an interval of j, so is every
 * conjunction, and its weight is one difference of C.  Chances of two days are never multiplied:
 * days of one future come together.
 */
#include "conetide/projection.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

/* The shift that brings an event on day d; an event that never comes needs an endless one. */
static inline int64_t shift_to(int32_t d, int32_t event)
{
    return event == CONETIDE_NEVER ? INT64_MIN : (int64_t)d - event;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

/* Weight of the shifts with which a window holds both days (d1 <= d2) and, if `bag_day` is not
 * NULL, comes late enough for a bag hung that day to be clean. */
static double weight_of(const struct conetide_window *window, const struct conetide_shifts *shifts,
                        const int32_t *bag_day, int32_t d1, int32_t d2)
{
    int64_t most = shift_to(d1, window->first);
    int64_t below = shift_to(d2, window->last);

    below = below == INT64_MIN ? below : below - 1;
    if (bag_day != NULL) {
        int64_t opened = shift_to(*bag_day, window->opening);

        below = opened > below ? opened : below;
    }
    if (most <= below)
        return 0;
    return larger(0, conetide_shift_cumulative(shifts, most) -
                         conetide_shift_cumulative(shifts, below));
}

static double both(const struct conetide_futures *futures, const int32_t *bag_day, int32_t d1,
                   int32_t d2)
{
    int32_t early = d1 < d2 ? d1 : d2, late = d1 < d2 ? d2 : d1;
    double total = 0;

    assert(futures->members >= 1);
    for (size_t m = 0; m < futures->members; m++)
        total += weight_of(&futures->windows[m], futures->shifts, bag_day, early, late);
    return total / (double)futures->members;
}

static double any(const struct conetide_futures *futures, const int32_t *bag_day, int32_t d1,
                  int32_t d2)
{
    double one = both(futures, bag_day, d1, d1), other = both(futures, bag_day, d2, d2);

    return larger(0, one + other - both(futures, bag_day, d1, d2));
}

double conetide_chance(const struct conetide_futures *futures, int32_t d)
{
    return both(futures, NULL, d, d);
}

double conetide_chance_both(const struct conetide_futures *futures, int32_t d1, int32_t d2)
{
    return both(futures, NULL, d1, d2);
}

double conetide_chance_any(const struct conetide_futures *futures, int32_t d1, int32_t d2)
{
    return any(futures, NULL, d1, d2);
}

double conetide_chance_clean(const struct conetide_futures *futures, int32_t b)
{
    double opened = 0;

    assert(futures->members >= 1);
    for (size_t m = 0; m < futures->members; m++)
        opened +=
            conetide_shift_cumulative(futures->shifts, shift_to(b, futures->windows[m].opening));
    return 1 - opened / (double)futures->members;
}

double conetide_chance_clean_and(const struct conetide_futures *futures, int32_t b, int32_t d)
{
    return both(futures, &b, d, d);
}

double conetide_chance_clean_both(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                  int32_t d2)
{
    return both(futures, &b, d1, d2);
}

double conetide_chance_clean_any(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                 int32_t d2)
{
    return any(futures, &b, d1, d2);
}

double conetide_event_by(size_t n, const int32_t *days, const struct conetide_shifts *shifts,
                         int32_t d)
{
    double total = 0;

    assert(n >= 1);
    for (size_t i = 0; i < n; i++)
        total += conetide_shift_cumulative(shifts, shift_to(d, days[i]));
    return total / (double)n;
}

/* First and last day on which some member may bring the event; false when none ever does. */
static bool event_range(size_t n, const int32_t *days, int reach, int64_t *first, int64_t *last)
{
    bool found = false;

    for (size_t i = 0; i < n; i++) {
        if (days[i] == CONETIDE_NEVER)
            continue;
        if (!found || days[i] < *first)
            *first = days[i];
        if (!found || days[i] > *last)
            *last = days[i];
        found = true;
    }
    *first -= reach;
    *last += reach;
    return found;
}

enum conetide_status conetide_event_date(size_t n, const int32_t *days,
                                         const struct conetide_shifts *shifts, double p,
                                         int32_t *day)
{
    int64_t low = 0, high = 0;

    *day = CONETIDE_NEVER;
    if (n == 0 || !(p > 0 && p <= 1))
        return CONETIDE_BAD_ARGUMENT;
    p -= CONETIDE_CHANCE_TOLERANCE;
    if (!event_range(n, days, shifts->reach, &low, &high))
        return CONETIDE_NOT_REACHED;
    assert(low >= INT32_MIN && high < INT32_MAX);
    if (conetide_event_by(n, days, shifts, (int32_t)high) < p)
        return CONETIDE_NOT_REACHED;
    while (low < high) {
        int64_t middle = low + (high - low) / 2;

        if (conetide_event_by(n, days, shifts, (int32_t)middle) >= p)
            high = middle;
        else
            low = middle + 1;
    }
    *day = (int32_t)low;
    return CONETIDE_OK;
}

/* How many members bring the event, their mean day and their sum of squares about it. */
static size_t event_moments(size_t n, const int32_t *days, double *mean, double *squares)
{
    size_t reached = 0;

    *mean = *squares = 0;
    for (size_t i = 0; i < n; i++) {
        double off;

        if (days[i] == CONETIDE_NEVER)
            continue;
        reached++;
        off = days[i] - *mean;
        *mean += off / (double)reached;
        *squares += off * (days[i] - *mean);
    }
    return reached;
}

void conetide_event_spread(size_t n, const int32_t *days, double *mean, double *sd_days)
{
    double squares;
    size_t reached = event_moments(n, days, mean, &squares);

    if (reached == 0)
        *mean = NAN;
    *sd_days = reached < 2 ? (double)NAN : sqrt(squares / (double)(reached - 1));
}

double conetide_sigma_at_least(size_t n, const int32_t *days, double sigma_days,
                               double least_sd_days)
{
    double mean, squares, lacking;
    size_t reached = event_moments(n, days, &mean, &squares);

    lacking = least_sd_days * least_sd_days - (reached > 0 ? squares / (double)reached : 0);
    return lacking > sigma_days * sigma_days ? sqrt(lacking) : sigma_days;
}
