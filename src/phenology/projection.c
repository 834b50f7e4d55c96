/*
 * projection.c - heat sums of the possible seasons, and the shifts by which a date may err.
 *
 * The chances that follow from both stand in chance.c.
 */
#include "conetide/projection.h"

#include "conetide/normal.h"
#include "conetide/sum.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double sigma_most_days = CONETIDE_REACH_MOST / 4.0;

/* `known` days that have been, then what the member brought, from the season's start of summing. */
static void join_days(const struct conetide_season *season, const double *known,
                      const double *member, double *days)
{
    size_t from = season->start > season->known ? season->start : season->known;

    if (season->start < season->known)
        memcpy(days, known + season->start, (season->known - season->start) * sizeof *days);
    if (from < season->days)
        memcpy(days + (from - season->start), member + from, (season->days - from) * sizeof *days);
}

enum conetide_status conetide_member_sums(const struct conetide_heat_rule *rule,
                                          const struct conetide_season *season,
                                          const struct conetide_members *members, double *workspace,
                                          double *sums)
{
    enum conetide_status first = CONETIDE_OK;
    double *tmin = workspace, *tmax = workspace + season->days;
    double *heat_units = workspace + 2 * season->days;
    size_t n;

    if (season->known > season->days || season->start > season->days) {
        for (size_t i = 0; i < members->count * season->days; i++)
            sums[i] = NAN;
        return CONETIDE_BAD_ARGUMENT;
    }
    n = season->days - season->start;
    for (size_t m = 0; m < members->count; m++) {
        size_t offset = m * season->days, bad_day;
        enum conetide_status status;

        join_days(season, season->tmin, members->tmin + offset, tmin);
        join_days(season, season->tmax, members->tmax + offset, tmax);
        status = conetide_heat_days(rule, n, tmin, tmax, heat_units, &bad_day);
        if (first == CONETIDE_OK)
            first = status;
        for (size_t i = 0; i < season->start; i++)
            sums[offset + i] = 0;
        conetide_heat_sum(n, heat_units, sums + offset + season->start);
    }
    return first;
}

/*
 * The p_j telescope, so C(j) is a difference of two values of Phi over what the truncation leaves,
 * and nothing accumulates.
 */
enum conetide_status conetide_shifts_of(double sigma_days, struct conetide_shifts *shifts)
{
    double outside, within;

    shifts->reach = 0;
    if (!(sigma_days >= 0 && sigma_days <= sigma_most_days)) {
        shifts->cumulative[0] = NAN;
        return CONETIDE_BAD_ARGUMENT;
    }
    shifts->reach = (int)ceil(4 * sigma_days);
    if (shifts->reach > 0) {
        outside = conetide_normal_cumulative(-(shifts->reach + 0.5) / sigma_days);
        within = 1 - 2 * outside;
        for (int j = -shifts->reach; j < shifts->reach; j++)
            shifts->cumulative[shifts->reach + j] =
                (conetide_normal_cumulative((j + 0.5) / sigma_days) - outside) / within;
    }
    shifts->cumulative[2 * shifts->reach] = 1;
    return CONETIDE_OK;
}

enum conetide_status conetide_shifts_after(double sigma_days, double correlation, int j,
                                           struct conetide_shifts *shifts)
{
    double sd_days, mean, outside, within;

    shifts->reach = 0;
    if (!(sigma_days >= 0 && sigma_days <= sigma_most_days) ||
        !(correlation >= 0 && correlation <= 1) || abs(j) > (int)ceil(4 * sigma_days)) {
        shifts->cumulative[0] = NAN;
        return CONETIDE_BAD_ARGUMENT;
    }
    shifts->reach = (int)ceil(4 * sigma_days);
    mean = correlation * j;
    sd_days = sigma_days * sqrt(1 - correlation * correlation);
    if (sd_days > 0) {
        outside = conetide_normal_cumulative((-shifts->reach - 0.5 - mean) / sd_days);
        within = conetide_normal_cumulative((shifts->reach + 0.5 - mean) / sd_days) - outside;
        for (int i = -shifts->reach; i < shifts->reach; i++)
            shifts->cumulative[shifts->reach + i] =
                (conetide_normal_cumulative((i + 0.5 - mean) / sd_days) - outside) / within;
    } else {
        for (int i = -shifts->reach; i < shifts->reach; i++)
            shifts->cumulative[shifts->reach + i] = i >= j ? 1 : 0;
    }
    shifts->cumulative[2 * shifts->reach] = 1;
    return CONETIDE_OK;
}

double conetide_shift_cumulative(const struct conetide_shifts *shifts, int64_t k)
{
    if (k < -shifts->reach)
        return 0;
    if (k >= shifts->reach)
        return 1;
    return shifts->cumulative[shifts->reach + k];
}
