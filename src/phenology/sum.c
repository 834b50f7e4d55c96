/*
 * sum.c - heat sums as prefix sums, and the day on which a requirement is met.
 *
 * One sum serves every requirement of a clock, so a date costs a search, not a walk.
 */
#include "conetide/sum.h"

#include <math.h>
#include <stdbool.h>

void conetide_heat_sum(size_t n, const double *heat_units, double *sum)
{
    double total = 0;

    for (size_t i = 0; i < n; i++) {
        total += heat_units[i];
        sum[i] = total;
    }
}

static double need_on(struct conetide_need need, size_t i)
{
    return need.units + need.per_day * (need.x_of_first + (double)i);
}

static bool has_heat(struct conetide_need need, const double *sum, size_t i)
{
    return sum[i] >= need_on(need, i) - CONETIDE_SUM_TOLERANCE;
}

/* Days before the first whose sum is missing; once missing, a sum stays missing. */
static size_t days_known(size_t n, const double *sum)
{
    size_t low = 0;

    while (low < n) {
        size_t middle = low + (n - low) / 2;

        if (isnan(sum[middle]))
            n = middle;
        else
            low = middle + 1;
    }
    return n;
}

/* First day with heat enough: sum less requirement never falls, as the requirement never rises. */
static size_t first_with_heat(size_t n, const double *sum, struct conetide_need need)
{
    size_t low = 0;

    while (low < n) {
        size_t middle = low + (n - low) / 2;

        if (has_heat(need, sum, middle))
            n = middle;
        else
            low = middle + 1;
    }
    return n;
}

enum conetide_status conetide_need_reached(size_t n, const double *sum, struct conetide_need need,
                                           size_t *index)
{
    size_t known, i;

    *index = n;
    if (!isfinite(need.units) || !isfinite(need.per_day) || !isfinite(need.x_of_first))
        return CONETIDE_BAD_ARGUMENT;
    known = days_known(n, sum);
    if (need.per_day <= 0) {
        i = first_with_heat(known, sum, need);
        if (i < known && !(need_on(need, i) > 0))
            return CONETIDE_NOT_REACHED; /* the requirement ran out before the heat came */
    } else {
        for (i = 0; i < known; i++) {
            if (need_on(need, i) > 0 && has_heat(need, sum, i))
                break;
        }
    }
    if (i == known)
        return known < n ? CONETIDE_MISSING : CONETIDE_NOT_REACHED;
    *index = i;
    return CONETIDE_OK;
}
