#include "planning/fit_group.h"

#include <math.h>

static const double season_days = 2.5, selection_days = 4.5, graft_days = 1.6;

struct mixed_prior fit_prior_days(void)
{
    return (struct mixed_prior){season_days, selection_days, graft_days};
}

bool fit_is_dated(const struct sight *sight)
{
    return sight->after != DAY_NONE && sight->by != DAY_NONE &&
           sight->by - sight->after <= FIT_INTERVAL_MOST;
}

static double x_of(const struct fit_group *group, size_t sight, daynum day)
{
    return (double)(day - group->season_list[group->season[sight]].new_year + 1);
}

double fit_middle_x(const struct fit_group *group, size_t sight)
{
    return (x_of(group, sight, group->sights[sight].after) + 1 +
            x_of(group, sight, group->sights[sight].by)) /
           2;
}

static struct mixed run(const struct fit_group *group, size_t n, const struct mixed_value *values,
                        struct mixed_prior prior)
{
    const struct mixed_task task = {n, values, group->seasons, group->selections, prior};

    return mixed_fit(&task, group->arena);
}

struct mixed fit_days(const struct fit_group *group, size_t skip)
{
    struct mixed_value *values = ARENA_ARRAY(group->arena, group->n, struct mixed_value);
    struct mixed_prior prior = fit_prior_days();
    size_t n = 0;

    prior.season_sd = INFINITY;
    for (size_t i = 0; i < group->n; i++) {
        const struct sight *sight = &group->sights[i];

        if (group->season[i] == skip)
            continue;
        /* x is a day's middle, so its end is half a day on */
        values[n++] = (struct mixed_value){
            {sight->after == DAY_NONE ? -INFINITY : x_of(group, i, sight->after) + 0.5,
             sight->by == DAY_NONE ? INFINITY : x_of(group, i, sight->by) + 0.5},
            group->season[i],
            group->selection[i]};
    }
    return run(group, n, values, prior);
}

const double *fit_dates_x(const struct fit_group *group, const struct mixed *days)
{
    double *x = ARENA_ARRAY(group->arena, group->seasons, double);

    for (size_t s = 0; s < group->seasons; s++)
        x[s] = days->mean + (isnan(days->season[s]) ? 0 : days->season[s]);
    return x;
}

const struct fit_sums *fit_group_sums(const struct fit_group *group, const struct fit_clock *clock)
{
    struct fit_sums *sums = ARENA_ARRAY(group->arena, group->seasons, struct fit_sums);

    for (size_t s = 0; s < group->seasons; s++)
        sums[s] = fit_sums_of(&group->season_list[s], clock, group->arena);
    return sums;
}

double fit_heat_per_day(const struct fit_group *group, const struct fit_sums *sums, const double *x,
                        size_t skip)
{
    enum { ABOUT = 3 };
    double total = 0;
    size_t count = 0;

    for (size_t s = 0; s < group->seasons; s++) {
        daynum day = group->season_list[s].new_year - 1 + (daynum)lround(x[s]);
        double gain =
            (fit_level(&sums[s], day + ABOUT) - fit_level(&sums[s], day - ABOUT)) / (2.0 * ABOUT);

        if (s == skip || !(gain > 0))
            continue;
        total += gain;
        count++;
    }
    return count > 0 ? total / (double)count : (double)NAN;
}

/* A bound that is not known does not bound. */
static double bound_of(const struct fit_sums *sums, daynum day, double unbounded)
{
    double level = day == DAY_NONE ? (double)NAN : fit_level(sums, day);

    return isnan(level) ? unbounded : level;
}

struct mixed fit_heat(const struct fit_group *group, const struct fit_sums *sums,
                      double heat_per_day, size_t skip)
{
    struct mixed_value *values = ARENA_ARRAY(group->arena, group->n, struct mixed_value);
    struct mixed_prior prior = fit_prior_days();
    size_t n = 0;

    prior.season_sd *= heat_per_day;
    prior.selection_sd *= heat_per_day;
    prior.spread_sd *= heat_per_day;
    for (size_t i = 0; i < group->n; i++) {
        const struct sight *sight = &group->sights[i];
        const struct fit_sums *of = &sums[group->season[i]];

        if (group->season[i] == skip)
            continue;
        values[n++] = (struct mixed_value){
            {bound_of(of, sight->after, -INFINITY), bound_of(of, sight->by, INFINITY)},
            group->season[i],
            group->selection[i]};
    }
    return run(group, n, values, prior);
}
