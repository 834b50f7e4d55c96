/*
 * fit_search.c - past seasons laid on the same days, x by x, for the search of the library.
 *
 * In leap years a start after February lies one day earlier on the calendar than in others: the
 * search takes starts by x, a clock by the month and day.
 */
#include "planning/fit_search.h"

#include "planning/season_heat.h"

#include <math.h>

enum {
    LOWERS = 19,
    STARTS_MOST = 29,
    START_LAST_X = 80,
    START_BEFORE = 10, /* days from the last start to the earliest date */
    DAYS_AFTER = 60,   /* of weather after the latest date, for projections that are late */
    END_DAYS = 240
};
static const double lower_first_c = -4;
static const double declines[] = {0, -2, -4};
static const struct conetide_curve *const curves[] = {&conetide_sine, &conetide_average,
                                                      &conetide_daily_maximum};

#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

struct laid {
    const struct fit_dates *dates;
    int first_x; /* of day index 0 */
    struct conetide_fit_task task;
    struct arena *arena;
};

/* The event between two days, its middle where the date is, to half a day. */
static struct conetide_visits visits_of(double x, int first_x)
{
    int32_t twice = (int32_t)lround(2 * (x - first_x));
    int32_t by = (twice + 1) / 2;

    return twice % 2 == 0 ? (struct conetide_visits){by - 1, by}
                          : (struct conetide_visits){by - 2, by};
}

static void lay_season(const struct fit_season *season, const struct laid *laid, double *tmin,
                       double *tmax)
{
    for (size_t i = 0; i < laid->task.past.days; i++) {
        daynum day = season->new_year - 1 + laid->first_x + (daynum)i;
        daynum index = day - season->first_day;
        bool known = index >= 0 && index < (daynum)season->known;

        tmin[i] = known ? season->tmin_c[index] : (double)NAN;
        tmax[i] = known ? season->tmax_c[index] : (double)NAN;
    }
}

static void lay_seasons(struct laid *laid)
{
    const struct fit_dates *dates = laid->dates;
    struct conetide_past *past = &laid->task.past;
    struct conetide_visits *events = ARENA_ARRAY(laid->arena, dates->n, struct conetide_visits);
    double *tmin, *tmax;
    int32_t latest = 0;

    for (size_t s = 0; s < dates->n; s++) {
        events[s] = visits_of(dates->x[s], laid->first_x);
        latest = events[s].by > latest ? events[s].by : latest;
    }
    past->seasons = dates->n;
    past->days = (size_t)latest + 1 + DAYS_AFTER;
    past->events = events;
    tmin = ARENA_ARRAY(laid->arena, past->seasons * past->days, double);
    tmax = ARENA_ARRAY(laid->arena, past->seasons * past->days, double);
    for (size_t s = 0; s < dates->n; s++)
        lay_season(&dates->seasons[s], laid, tmin + s * past->days, tmax + s * past->days);
    past->tmin = tmin;
    past->tmax = tmax;
}

static void lay_grid(struct laid *laid)
{
    struct conetide_grid *grid = &laid->task.grid;
    double *lower = ARENA_ARRAY(laid->arena, LOWERS, double);
    int32_t *start = ARENA_ARRAY(laid->arena, STARTS_MOST, int32_t);
    int32_t last = START_LAST_X - laid->first_x;

    for (size_t s = 0; s < laid->dates->n; s++) {
        int32_t by = laid->task.past.events[s].by - START_BEFORE;

        last = by < last ? by : last;
    }
    for (size_t i = 0; i < LOWERS; i++)
        lower[i] = lower_first_c + (double)i;
    *grid = (struct conetide_grid){.curves = COUNT_OF(curves),
                                   .lowers = LOWERS,
                                   .declines = COUNT_OF(declines),
                                   .curve = curves,
                                   .lower = lower,
                                   .start = start,
                                   .per_day = declines,
                                   .cutoff = CONETIDE_CUTOFF_NONE,
                                   .upper = NAN};
    if (laid->dates->curve) {
        grid->curves = 1;
        grid->curve = &laid->dates->curve;
    }
    for (int32_t at = 0; at <= last && grid->starts < STARTS_MOST; at += FIT_SEARCH_START_EVERY)
        start[grid->starts++] = at;
}

/* A grid of one cell. */
static void lay_clock(struct laid *laid, const struct fit_clock *clock)
{
    const struct conetide_curve **curve =
        ARENA_ARRAY(laid->arena, 1, const struct conetide_curve *);
    double *numbers = ARENA_ARRAY(laid->arena, 2, double);

    *curve = clock->clock.rule.curve;
    numbers[0] = clock->clock.rule.lower;
    numbers[1] = clock->per_day_c;
    laid->task.grid = (struct conetide_grid){.curves = 1,
                                             .lowers = 1,
                                             .starts = 1,
                                             .declines = 1,
                                             .curve = curve,
                                             .lower = &numbers[0],
                                             .start = ARENA_ARRAY(laid->arena, 1, int32_t),
                                             .per_day = &numbers[1],
                                             .cutoff = clock->clock.rule.cutoff,
                                             .upper = clock->clock.rule.upper};
}

/* The month and day of a start, in a year without a 29 February. */
static struct month_day start_of(const struct laid *laid, size_t start)
{
    enum { A_COMMON_YEAR = 2001 };
    bool northern = laid->dates->seasons[0].rule.northern;
    daynum day = day_from_civil(A_COMMON_YEAR, northern ? 1 : 7, 1) - 1 + laid->first_x +
                 laid->task.grid.start[start];
    struct civil civil = day_to_civil(day);

    return (struct month_day){civil.month, civil.day};
}

static struct fit_clock clock_of(const struct laid *laid, struct conetide_cell cell)
{
    const struct conetide_grid *grid = &laid->task.grid;

    return (struct fit_clock){
        .clock = {.rule = {grid->curve[cell.curve], grid->cutoff, grid->lower[cell.lower],
                           grid->upper},
                  .start = start_of(laid, cell.start),
                  .end_days = END_DAYS,
                  /* not one that ships: it starts on the day it says, on either hemisphere */
                  .place = {.file = "program.json"}},
        .per_day_c = grid->per_day[cell.decline]};
}

static void tell_valley(const struct laid *laid, struct fit_search *search)
{
    const struct conetide_grid *grid = &laid->task.grid;
    const struct conetide_cell *least = &search->found.valley_least;
    const struct conetide_cell *most = &search->found.valley_most;

    search->lower_least_c = grid->lower[least->lower];
    search->lower_most_c = grid->lower[most->lower];
    search->start_first = start_of(laid, least->start);
    search->start_last = start_of(laid, most->start);
    search->per_day_least_c = grid->per_day[most->decline];
    search->per_day_most_c = grid->per_day[least->decline];
    search->curve_first = grid->curve[least->curve];
    search->curve_last = grid->curve[most->curve];
}

static bool run(struct laid *laid, struct fit_search *search)
{
    size_t n = laid->dates->n, workspace = conetide_fit_workspace(&laid->task);
    struct conetide_left_out *nested = ARENA_ARRAY(laid->arena, n, struct conetide_left_out);

    laid->task.rule = conetide_usual_fit;
    if (conetide_fit_requirement(&laid->task, ARENA_ARRAY(laid->arena, workspace, double), nested,
                                 &search->found) != CONETIDE_OK)
        return false;
    search->left_out = ARENA_ARRAY(laid->arena, n, struct fit_left_out);
    for (size_t s = 0; s < n; s++) {
        const struct conetide_visits *visits = &laid->task.past.events[s];

        search->left_out[s] = (struct fit_left_out){
            clock_of(laid, nested[s].chosen),
            (visits->after + 1 + visits->by) / 2.0 + laid->first_x, nested[s].error_days};
    }
    search->clock = clock_of(laid, search->found.chosen);
    tell_valley(laid, search);
    return true;
}

bool fit_search(const struct fit_dates *dates, struct arena *arena, struct fit_search *search)
{
    struct laid laid = {.dates = dates, .first_x = FIT_SEARCH_FIRST_X, .arena = arena};

    *search = (struct fit_search){.searched = true};
    lay_seasons(&laid);
    lay_grid(&laid);
    return laid.task.grid.starts > 0 && run(&laid, search);
}

bool fit_judge(const struct fit_dates *dates, const struct fit_clock *clock, struct arena *arena,
               struct fit_search *search)
{
    struct laid laid = {.dates = dates, .arena = arena};
    const struct fit_season *season = &dates->seasons[0];
    daynum start =
        day_on_or_after(season_heat_clock_start(&clock->clock, season->rule), season->first_day);

    *search = (struct fit_search){.searched = false, .clock = *clock};
    laid.first_x = (int)(start - season->new_year + 1);
    for (size_t s = 0; s < dates->n; s++) {
        if (!(dates->x[s] >= laid.first_x + 1))
            return false;
    }
    lay_seasons(&laid);
    lay_clock(&laid, clock);
    if (!run(&laid, search))
        return false;
    search->clock = *clock;
    for (size_t s = 0; s < dates->n; s++)
        search->left_out[s].clock = *clock;
    return true;
}
