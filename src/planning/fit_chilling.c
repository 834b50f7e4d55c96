/*
 * fit_chilling.c - heat after chilling, by the search of the library: until the day that brings
 * enough chilling a season is laid so cold that no heat counts.
 */
#include "planning/fit_chilling.h"

#include "conetide/count.h"
#include "conetide/sum.h"

#include <math.h>
#include <string.h>

enum { NEEDS = 7, NEED_EVERY = 200, LOWERS = 5, STARTS = 2, DAYS_AFTER = 60, END_DAYS = 240 };
static const double no_heat_c = -200, no_decline = 0;

struct trial {
    const struct event_fit *fit;
    struct arena *arena;
    double latitude_deg;
    const struct fit_season *seasons; /* [n] */
    size_t n, days;
    struct conetide_visits *events, *kept; /* [n] */
    double *tmin_c, *tmax_c;               /* [n * days] as they were */
    size_t *met;                           /* [NEEDS * n] the day of enough chilling; days: never */
    double *cold_tmin_c, *cold_tmax_c;
    struct conetide_grid grid;
    double *workspace;
};

/* What a search of some seasons found. */
struct choice {
    bool found;
    size_t need;
    struct conetide_requirement requirement;
};

/* The event between two days, its middle where the date is, to half a day. */
static struct conetide_visits visits_of(double x)
{
    int32_t twice = (int32_t)lround(2 * (x - FIT_SEARCH_FIRST_X));
    int32_t by = (twice + 1) / 2;

    return (struct conetide_visits){twice % 2 == 0 ? by - 1 : by - 2, by};
}

static void lay_seasons(struct trial *trial)
{
    int32_t latest = 0;

    trial->events = ARENA_ARRAY(trial->arena, trial->n, struct conetide_visits);
    trial->kept = ARENA_ARRAY(trial->arena, trial->n, struct conetide_visits);
    for (size_t s = 0; s < trial->n; s++) {
        trial->events[s] = visits_of(trial->fit->search.left_out[s].observed_x);
        latest = trial->events[s].by > latest ? trial->events[s].by : latest;
    }
    trial->days = (size_t)latest + 1 + DAYS_AFTER;
    trial->tmin_c = ARENA_ARRAY(trial->arena, trial->n * trial->days, double);
    trial->tmax_c = ARENA_ARRAY(trial->arena, trial->n * trial->days, double);
    for (size_t s = 0; s < trial->n; s++) {
        const struct fit_season *season = &trial->seasons[s];

        for (size_t i = 0; i < trial->days; i++) {
            daynum index =
                season->new_year - 1 + FIT_SEARCH_FIRST_X + (daynum)i - season->first_day;
            bool known = index >= 0 && index < (daynum)season->known;

            trial->tmin_c[s * trial->days + i] = known ? season->tmin_c[index] : (double)NAN;
            trial->tmax_c[s * trial->days + i] = known ? season->tmax_c[index] : (double)NAN;
        }
    }
}

/* The day on which each season has had each need of chilling hours. */
static void count_chilling(struct trial *trial)
{
    const struct conetide_count *count = conetide_count_named("chilling-hours-0-8");
    int *day_of = ARENA_ARRAY(trial->arena, trial->days, int);
    double *units = ARENA_ARRAY(trial->arena, trial->days, double);

    trial->met = ARENA_ARRAY(trial->arena, NEEDS * trial->n, size_t);
    for (size_t s = 0; s < trial->n; s++) {
        daynum first = trial->seasons[s].new_year - 1 + FIT_SEARCH_FIRST_X;
        struct conetide_counted_days given = {trial->days, trial->tmin_c + s * trial->days,
                                              trial->tmax_c + s * trial->days, day_of,
                                              trial->latitude_deg};

        for (size_t i = 0; i < trial->days; i++)
            day_of[i] = day_of_year(first + (daynum)i);
        conetide_count_units(count, &given, 0, trial->days, units);
        conetide_heat_sum(trial->days, units, units);
        for (size_t k = 0; k < NEEDS; k++)
            trial->met[k * trial->n + s] =
                conetide_first_at_least(units, 0, trial->days, (double)((k + 1) * NEED_EVERY));
    }
}

static void lay_grid(struct trial *trial)
{
    const struct conetide_requirement *found = &trial->fit->search.found;
    double lower = trial->fit->search.clock.clock.rule.lower;
    double *lowers = ARENA_ARRAY(trial->arena, LOWERS, double);
    int32_t *starts = ARENA_ARRAY(trial->arena, STARTS, int32_t);
    const struct conetide_curve **curve =
        ARENA_ARRAY(trial->arena, 1, const struct conetide_curve *);
    int32_t start = (int32_t)found->chosen.start * FIT_SEARCH_START_EVERY;

    for (int i = 0; i < LOWERS; i++)
        lowers[i] = lower + i - LOWERS / 2;
    starts[0] = 0;
    starts[1] = start;
    *curve = trial->fit->search.clock.clock.rule.curve;
    trial->grid = (struct conetide_grid){.curves = 1,
                                         .lowers = LOWERS,
                                         .starts = start > 0 ? STARTS : 1,
                                         .declines = 1,
                                         .curve = curve,
                                         .lower = lowers,
                                         .start = starts,
                                         .per_day = &no_decline,
                                         .cutoff = CONETIDE_CUTOFF_NONE,
                                         .upper = NAN};
}

/* A season without heat up to and with the day `met`. */
static void lay_cold(const struct trial *trial, size_t season, size_t met, double *tmin_c,
                     double *tmax_c)
{
    size_t at = season * trial->days;

    memcpy(tmin_c, trial->tmin_c + at, trial->days * sizeof *tmin_c);
    memcpy(tmax_c, trial->tmax_c + at, trial->days * sizeof *tmax_c);
    for (size_t i = 0; i <= met && i < trial->days; i++)
        tmin_c[i] = tmax_c[i] = no_heat_c;
}

/* One need, fitted to all seasons but `left_out` (n: none); false: it came too late in one. */
static bool fit_need(struct trial *trial, size_t need, size_t left_out,
                     struct conetide_requirement *found)
{
    struct conetide_visits *events = trial->kept;
    struct conetide_fit_task task = {.grid = trial->grid, .rule = conetide_usual_fit};
    size_t kept = 0;

    for (size_t s = 0; s < trial->n; s++) {
        size_t met = trial->met[need * trial->n + s];

        if (s == left_out)
            continue;
        if ((int64_t)met >= trial->events[s].after)
            return false;
        lay_cold(trial, s, met, trial->cold_tmin_c + kept * trial->days,
                 trial->cold_tmax_c + kept * trial->days);
        events[kept++] = trial->events[s];
    }
    task.past =
        (struct conetide_past){kept, trial->days, trial->cold_tmin_c, trial->cold_tmax_c, events};
    return conetide_fit_requirement(&task, trial->workspace, NULL, found) == CONETIDE_OK;
}

static struct choice choose(struct trial *trial, size_t left_out)
{
    struct choice chosen = {.found = false};

    for (size_t k = 0; k < NEEDS; k++) {
        struct conetide_requirement found;

        if (!fit_need(trial, k, left_out, &found))
            continue;
        if (chosen.found && found.best_rmse_days >= chosen.requirement.best_rmse_days)
            continue;
        chosen = (struct choice){true, k, found};
    }
    return chosen;
}

/* Projected less observed day of the season that was left out. */
static double error_of(struct trial *trial, const struct choice *choice, size_t season)
{
    const struct conetide_requirement *found = &choice->requirement;
    struct conetide_heat_rule rule = {trial->grid.curve[found->chosen.curve], CONETIDE_CUTOFF_NONE,
                                      trial->grid.lower[found->chosen.lower], NAN};
    size_t start = (size_t)trial->grid.start[found->chosen.start], n = trial->days - start;
    size_t bad_day, index;
    double *tmin_c = trial->cold_tmin_c, *tmax_c = trial->cold_tmax_c, *sum = trial->workspace;
    enum conetide_status status;

    lay_cold(trial, season, trial->met[choice->need * trial->n + season], tmin_c, tmax_c);
    status = conetide_heat_days(&rule, n, tmin_c + start, tmax_c + start, sum, &bad_day);
    if (status != CONETIDE_OK)
        n = bad_day;
    conetide_heat_sum(n, sum, sum);
    status = conetide_need_reached(n, sum, (struct conetide_need){found->units, 0, 0}, &index);
    (void)status; /* not reached: the day after the last known */
    return (double)(start + index) -
           (trial->events[season].after + 1 + trial->events[season].by) / 2.0;
}

static void add_error(struct conetide_errors *errors, double error_days, double share)
{
    errors->rmse_days += share * error_days * error_days; /* squares until all are added */
    errors->mae_days += share * fabs(error_days);
    errors->bias_days += share * error_days;
    errors->worst_days = fmax(errors->worst_days, fabs(error_days));
}

/* false: without some season no need of chilling can be kept. */
static bool judge(struct trial *trial, struct fit_chilling *made)
{
    made->nested = (struct conetide_errors){0};
    for (size_t s = 0; s < trial->n; s++) {
        struct choice without = choose(trial, s);

        if (!without.found)
            return false;
        add_error(&made->nested, error_of(trial, &without, s), 1 / (double)trial->n);
    }
    made->nested.rmse_days = sqrt(made->nested.rmse_days);
    return true;
}

static void take_clock(const struct trial *trial, const struct choice *chosen,
                       struct fit_chilling *made)
{
    const struct fit_clock *plain = &trial->fit->search.clock;
    bool northern = trial->seasons[0].rule.northern;
    struct month_day first = {northern ? 11 : 5, 1};
    const struct conetide_cell *cell = &chosen->requirement.chosen;

    made->hours = (chosen->need + 1) * NEED_EVERY;
    made->units_c = chosen->requirement.units;
    made->clock = (struct fit_clock){
        .clock = {.rule = {trial->grid.curve[cell->curve], CONETIDE_CUTOFF_NONE,
                           trial->grid.lower[cell->lower], NAN},
                  .start = trial->grid.start[cell->start] > 0 ? plain->clock.start : first,
                  .end_days = END_DAYS,
                  .place = {.file = "program.json"},
                  .after_chilling = {conetide_count_named("chilling-hours-0-8"),
                                     (double)made->hours, first}}};
}

static const char *reason_of(const struct event_fit *fit)
{
    if (!fit->fitted || !fit->judged || !fit->search.searched)
        return "no clock was searched";
    if (fit->used < FIT_CHILLING_SEASONS_LEAST)
        return "fewer than 6 seasons";
    if (isnan(site_latitude(fit->site)))
        return "no latitude of the site or its station";
    return NULL;
}

struct fit_chilling fit_chilling_of(const struct event_fit *fit, const struct orchard *orchard,
                                    struct arena *arena)
{
    struct fit_chilling made = {.reason = reason_of(fit)};
    struct fit_season *seasons = ARENA_ARRAY(arena, fit->season_count, struct fit_season);
    struct trial trial = {.fit = fit, .arena = arena, .seasons = seasons};
    struct conetide_fit_task task = {.rule = conetide_usual_fit};
    struct station_record record;
    struct choice chosen;

    if (made.reason != NULL)
        return made;
    trial.latitude_deg = site_latitude(fit->site);
    record = fit_record_of(orchard, fit->site, arena);
    for (size_t s = 0; s < fit->season_count; s++) {
        if (fit->seasons[s].state == FIT_SEASON_USED)
            seasons[trial.n++] = fit_season_of(&record, orchard_season_rule(orchard, fit->site),
                                               fit->seasons[s].season, arena);
    }
    lay_seasons(&trial);
    count_chilling(&trial);
    lay_grid(&trial);
    trial.cold_tmin_c = ARENA_ARRAY(arena, trial.n * trial.days, double);
    trial.cold_tmax_c = ARENA_ARRAY(arena, trial.n * trial.days, double);
    task.grid = trial.grid;
    task.past = (struct conetide_past){trial.n, trial.days, NULL, NULL, trial.events};
    trial.workspace = ARENA_ARRAY(arena, conetide_fit_workspace(&task) + trial.days, double);
    made.tried = true;
    made.plain = fit->search.found.nested;
    chosen = choose(&trial, trial.n);
    if (!chosen.found || !judge(&trial, &made))
        return made;
    take_clock(&trial, &chosen, &made);
    made.helps = made.nested.rmse_days <= (1 - FIT_CHILLING_GAIN) * made.plain.rmse_days;
    return made;
}
