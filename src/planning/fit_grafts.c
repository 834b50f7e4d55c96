/*
 * fit_grafts.c - every graft's date in every season, from what the other seasons tell: thresholds,
 * clock and calendar are found anew without it.
 */
#include "planning/fit_group.h"

#include <math.h>

struct adding {
    struct conetide_errors errors;
    size_t count;
};

static void add_error(struct adding *adding, double error)
{
    adding->errors.rmse_days += error * error;
    adding->errors.mae_days += fabs(error);
    adding->errors.bias_days += error;
    adding->errors.worst_days = fmax(adding->errors.worst_days, fabs(error));
    adding->count++;
}

static struct conetide_errors mean_of(const struct adding *adding)
{
    double n = (double)adding->count;

    return (struct conetide_errors){sqrt(adding->errors.rmse_days / n), adding->errors.mae_days / n,
                                    adding->errors.bias_days / n, adding->errors.worst_days};
}

/* Of a need that is not met while weather is known: the day after. */
static double met_x(const struct fit_sums *sums, double units)
{
    daynum day = fit_day_met(sums, units);

    if (day == DAY_NONE)
        day = sums->start + (daynum)sums->count;
    return (double)(day - sums->new_year + 1);
}

static double lateness(const struct mixed *parts, size_t selection)
{
    return selection == MIXED_NONE ? 0 : parts->selection[selection];
}

struct adding_all {
    struct adding selections, general, calendar;
};

static void add_season(const struct fit_group *group, const struct fit_clock *clock, size_t skip,
                       struct adding_all *all)
{
    const struct fit_sums *sums = fit_group_sums(group, clock);
    const struct mixed days = fit_days(group, skip);
    double heat_per_day = fit_heat_per_day(group, sums, fit_dates_x(group, &days), skip);
    struct mixed heat;

    if (isnan(heat_per_day))
        return;
    heat = fit_heat(group, sums, heat_per_day, skip);
    for (size_t i = 0; i < group->n; i++) {
        size_t selection = group->selection[i];
        double middle;

        if (group->season[i] != skip || !fit_is_dated(&group->sights[i]))
            continue;
        middle = fit_middle_x(group, i);
        add_error(&all->selections,
                  met_x(&sums[skip], heat.mean + lateness(&heat, selection)) - middle);
        add_error(&all->general, met_x(&sums[skip], heat.mean) - middle);
        add_error(&all->calendar, days.mean + lateness(&days, selection) - middle);
    }
}

/* Two grafts in one season: else a graft's date is the orchard's. */
static bool has_several(const struct fit_group *group)
{
    for (size_t i = 1; i < group->n; i++) {
        if (group->season[i] == group->season[i - 1])
            return true;
    }
    return false;
}

struct fit_graft_errors fit_graft_errors_of(const struct fit_group *group,
                                            const struct fit_search *search)
{
    struct adding_all all = {0};

    if (!has_several(group))
        return (struct fit_graft_errors){0};
    for (size_t s = 0; s < group->seasons; s++)
        add_season(group, &search->left_out[s].clock, s, &all);
    if (all.general.count == 0)
        return (struct fit_graft_errors){0};
    return (struct fit_graft_errors){all.general.count, mean_of(&all.selections),
                                     mean_of(&all.general), mean_of(&all.calendar)};
}
