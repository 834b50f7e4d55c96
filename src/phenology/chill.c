/*
 * chill.c - chilling and growing units of hours, and dates that need chilling before heat.
 */
#include "conetide/chill.h"

#include "conetide/sum.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

const struct conetide_growth_range conetide_anderson = {4, 25, 36};

double conetide_chill_hour(double temperature_c, double low_c, double high_c)
{
    if (isnan(temperature_c))
        return NAN;
    return temperature_c >= low_c && temperature_c <= high_c ? 1 : 0;
}

double conetide_utah_unit(double temperature_c)
{
    static const struct {
        double up_to_c, unit;
    } steps[] = {{1.4, 0}, {2.4, 0.5}, {9.1, 1}, {12.4, 0.5}, {15.9, 0}, {18, -0.5}};

    if (isnan(temperature_c))
        return NAN;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (temperature_c <= steps[i].up_to_c)
            return steps[i].unit;
    }
    return -1;
}

double conetide_growing_degree_hour(double temperature_c, const struct conetide_growth_range *range)
{
    double width = range->optimum_c - range->base_c, share;

    if (isnan(temperature_c))
        return NAN;
    if (temperature_c < range->base_c || temperature_c > range->critical_c)
        return 0;
    if (temperature_c <= range->optimum_c) {
        share = (temperature_c - range->base_c) / width;
        return width / 2 * (1 + cos(pi + pi * share));
    }
    share = (temperature_c - range->optimum_c) / (range->critical_c - range->optimum_c);
    return width * (1 + cos(pi / 2 + pi / 2 * share));
}

void conetide_dynamic_hour(struct conetide_dynamic *dynamic, double temperature_c)
{
    static const double e0 = 4153.5, e1 = 12888.8, a0 = 139500, a1 = 2.567e18; /* K, K, 1/h, 1/h */
    static const double slope = 1.6, turn_k = 277;
    double kelvin = temperature_c + 273;
    double level = a0 / a1 * exp((e1 - e0) / kelvin);
    double rate = a1 * exp(-e1 / kelvin);
    double steepness, fixed;

    dynamic->intermediate = level - (level - dynamic->intermediate) * exp(-rate);
    if (isnan(dynamic->intermediate))
        dynamic->portions = NAN;
    if (!(dynamic->intermediate >= 1))
        return;
    /* a full portion of the product is fixed, the more of it the colder the hour */
    steepness = exp(slope * turn_k * (kelvin - turn_k) / kelvin);
    fixed = steepness / (1 + steepness);
    dynamic->portions += dynamic->intermediate * fixed;
    dynamic->intermediate *= 1 - fixed;
}

double conetide_chilling_rate(double mean_c, double low_c, double best_c, double high_c)
{
    if (isnan(mean_c))
        return NAN;
    if (mean_c <= low_c || mean_c >= high_c)
        return 0;
    if (mean_c < best_c)
        return (mean_c - low_c) / (best_c - low_c);
    return (high_c - mean_c) / (high_c - best_c);
}

double conetide_forcing_rate(double mean_c)
{
    if (isnan(mean_c))
        return NAN;
    return mean_c > 0 ? 28.4 / (1 + exp(-0.185 * (mean_c - 18.4))) : 0;
}

static bool is_need(double need)
{
    return isfinite(need) && need > 0;
}

static bool is_reached(double sum, double need)
{
    return sum >= need - CONETIDE_SUM_TOLERANCE;
}

/* Of one day: NaN when either rate is. */
static bool is_missing(const struct conetide_dormancy *dormancy, size_t i)
{
    return isnan(dormancy->chill[i]) || isnan(dormancy->heat[i]);
}

enum conetide_status conetide_sequential(const struct conetide_dormancy *dormancy,
                                         const struct conetide_sequential_need *needs,
                                         size_t *index)
{
    double chill = 0, heat = 0;

    *index = dormancy->days;
    if (!is_need(needs->chill_need) || !is_need(needs->heat_need))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < dormancy->days; i++) {
        if (is_missing(dormancy, i))
            return CONETIDE_MISSING;
        if (is_reached(chill, needs->chill_need))
            heat += dormancy->heat[i];
        else
            chill += dormancy->chill[i];
        if (is_reached(heat, needs->heat_need)) {
            *index = i;
            return CONETIDE_OK;
        }
    }
    return CONETIDE_NOT_REACHED;
}

enum conetide_status conetide_parallel(const struct conetide_dormancy *dormancy,
                                       const struct conetide_parallel_need *needs, size_t *index)
{
    double chill = 0, heat = 0;

    *index = dormancy->days;
    if (!is_need(needs->chill_need) || !is_need(needs->heat_need) ||
        !(needs->least >= 0 && needs->least <= 1))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < dormancy->days; i++) {
        double competence =
            fmin(1, needs->least + (1 - needs->least) * (chill / needs->chill_need));

        if (is_missing(dormancy, i))
            return CONETIDE_MISSING;
        heat += competence * dormancy->heat[i];
        chill += dormancy->chill[i];
        if (is_reached(heat, needs->heat_need)) {
            *index = i;
            return CONETIDE_OK;
        }
    }
    return CONETIDE_NOT_REACHED;
}

enum conetide_status conetide_alternating(const struct conetide_dormancy *dormancy,
                                          const struct conetide_alternating_need *needs,
                                          size_t *index)
{
    double chill = 0, heat = 0;

    *index = dormancy->days;
    if (!(needs->fixed >= 0) || !(needs->extra >= 0) || !is_need(needs->fixed + needs->extra) ||
        !(needs->fall <= 0) || !isfinite(needs->fall))
        return CONETIDE_BAD_ARGUMENT;
    for (size_t i = 0; i < dormancy->days; i++) {
        if (is_missing(dormancy, i))
            return CONETIDE_MISSING;
        chill += dormancy->chill[i];
        if (i < needs->heat_from)
            continue;
        heat += dormancy->heat[i];
        if (heat > 0 && is_reached(heat, needs->fixed + needs->extra * exp(needs->fall * chill))) {
            *index = i;
            return CONETIDE_OK;
        }
    }
    return CONETIDE_NOT_REACHED;
}
