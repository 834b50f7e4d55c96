#include "planning/fit.h"

#include "orchard/lookup.h"
#include "orchard/order.h"
#include "planning/fit_group.h"
#include "planning/season_heat.h"

#include <math.h>
#include <stdlib.h>

/* The sights of one fit, all seasons, and what becomes of them. */
struct making {
    const struct orchard *orchard;
    struct arena *arena;
    struct fit_wanted wanted;
    bool of_grafts; /* errors of grafts and labels too */
    const struct sight *sights;
    size_t n;
    struct event_fit *fit;
    struct fit_season *weather; /* [fit->season_count] */
};

static bool is_one_fit(const struct sight *a, const struct sight *b)
{
    return a->site == b->site && a->event == b->event && order_text(a->species, b->species) == 0;
}

static void list_seasons(struct making *making)
{
    struct event_fit *fit = making->fit;
    struct season_rule rule = orchard_season_rule(making->orchard, fit->site);
    struct station_record *record = ARENA_NEW(making->arena, struct station_record);

    *record = fit_record_of(making->orchard, fit->site, making->arena);
    fit->seasons = ARENA_ARRAY(making->arena, making->n, struct fit_season_seen);
    for (size_t i = 0; i < making->n; i++) {
        const struct sight *sight = &making->sights[i];

        if (fit->season_count == 0 || fit->seasons[fit->season_count - 1].season != sight->season)
            fit->seasons[fit->season_count++] = (struct fit_season_seen){
                .season = sight->season, .state = FIT_SEASON_UNDATED, .date = DAY_NONE};
        fit->seasons[fit->season_count - 1].sights++;
    }
    making->weather = ARENA_ARRAY(making->arena, fit->season_count, struct fit_season);
    for (size_t s = 0; s < fit->season_count; s++)
        making->weather[s] = fit_season_of(record, rule, fit->seasons[s].season, making->arena);
}

/* Mark what weather from `first` of each season on can serve; first is a day of season `index`. */
typedef daynum first_day_function(const struct fit_season *season, const void *context);

static void mark_seasons(struct making *making, first_day_function *first, const void *context)
{
    struct event_fit *fit = making->fit;
    size_t at = 0;

    fit->used = 0;
    for (size_t s = 0; s < fit->season_count; s++) {
        struct fit_season_seen *seen = &fit->seasons[s];
        daynum latest = DAY_NONE;

        for (; at < making->n && making->sights[at].season == seen->season; at++) {
            if (fit_is_dated(&making->sights[at]) && making->sights[at].by > latest)
                latest = making->sights[at].by;
        }
        seen->state = FIT_SEASON_UNDATED;
        if (latest != DAY_NONE)
            seen->state = fit_season_holds(&making->weather[s], first(&making->weather[s], context),
                                           latest, FIT_MISSING_MOST)
                              ? FIT_SEASON_USED
                              : FIT_SEASON_NO_WEATHER;
        fit->used += seen->state == FIT_SEASON_USED;
    }
}

static daynum first_of_search(const struct fit_season *season, const void *context)
{
    (void)context;
    return season->new_year - 1 + FIT_SEARCH_FIRST_X;
}

static daynum first_of_clock(const struct fit_season *season, const void *context)
{
    const struct fit_clock *clock = context;

    return day_on_or_after(season_heat_clock_start(&clock->clock, season->rule), season->first_day);
}

/* The clock of the folder's threshold for the event; an event that follows another by days takes
 * that one's. */
static struct fit_clock given_clock(const struct making *making)
{
    const struct event_fit *fit = making->fit;
    const struct threshold_subject subject = {.species = fit->species, .site = fit->site->name};
    enum event event = fit->event;
    const struct clock *clock = program_clock(&making->orchard->program, "sine-37f");

    if (making->wanted.clock)
        return (struct fit_clock){*making->wanted.clock, 0};
    for (int hops = 0; hops < EVENTS; hops++) {
        const struct threshold *row = threshold_find(making->orchard, event, subject).threshold;

        if (row && row->kind == THRESHOLD_SUM && row->clock && !row->clock->counts &&
            !row->clock->after_chilling.counts)
            return (struct fit_clock){*row->clock, row->per_day_c < 0 ? row->per_day_c : 0};
        if (!row || row->kind != THRESHOLD_AFTER)
            break;
        event = row->after;
    }
    return (struct fit_clock){*clock, 0};
}

static int by_selection_name(const void *left, const void *right)
{
    const struct selection *a = *(const struct selection *const *)left;
    const struct selection *b = *(const struct selection *const *)right;

    return order_text(a->name, b->name);
}

static void list_selections(struct fit_group *group)
{
    size_t n = 0, kept = 0;

    group->selection_list = ARENA_ARRAY(group->arena, group->n, const struct selection *);
    group->selection = ARENA_ARRAY(group->arena, group->n, size_t);
    for (size_t i = 0; i < group->n; i++) {
        if (group->sights[i].selection)
            group->selection_list[n++] = group->sights[i].selection;
    }
    if (n > 1)
        qsort(group->selection_list, n, sizeof *group->selection_list, by_selection_name);
    for (size_t i = 0; i < n; i++) {
        if (kept == 0 || group->selection_list[kept - 1] != group->selection_list[i])
            group->selection_list[kept++] = group->selection_list[i];
    }
    group->selections = kept;
    for (size_t i = 0; i < group->n; i++) {
        const struct selection **found =
            group->sights[i].selection
                ? bsearch(&group->sights[i].selection, group->selection_list, kept,
                          sizeof *group->selection_list, by_selection_name)
                : NULL;

        group->selection[i] = found ? (size_t)(found - group->selection_list) : MIXED_NONE;
    }
}

/* The sights of the seasons used. */
static struct fit_group group_of(const struct making *making)
{
    const struct event_fit *fit = making->fit;
    struct fit_group group = {.orchard = making->orchard, .arena = making->arena};
    struct sight *sights = ARENA_ARRAY(making->arena, making->n, struct sight);
    size_t at = 0;

    group.season = ARENA_ARRAY(making->arena, making->n, size_t);
    group.season_list = ARENA_ARRAY(making->arena, fit->season_count, struct fit_season);
    for (size_t s = 0; s < fit->season_count; s++) {
        bool used = fit->seasons[s].state == FIT_SEASON_USED;

        for (; at < making->n && making->sights[at].season == fit->seasons[s].season; at++) {
            if (!used)
                continue;
            group.season[group.n] = group.seasons;
            sights[group.n++] = making->sights[at];
        }
        if (used)
            group.season_list[group.seasons++] = making->weather[s];
    }
    group.sights = sights;
    list_selections(&group);
    return group;
}

static void tell_dates(const struct making *making, const struct fit_group *group, const double *x)
{
    struct event_fit *fit = making->fit;
    size_t used = 0;

    for (size_t s = 0; s < fit->season_count; s++) {
        if (fit->seasons[s].state != FIT_SEASON_USED)
            continue;
        fit->seasons[s].date = group->season_list[used].new_year - 1 + (daynum)lround(x[used]);
        used++;
    }
}

static void tell_selections(const struct fit_group *group, const struct mixed *heat,
                            struct event_fit *fit)
{
    int *newest = ARENA_ARRAY(group->arena, group->selections, int);

    fit->selection_count = group->selections;
    fit->selections = ARENA_ARRAY(group->arena, group->selections, struct fit_selection);
    for (size_t s = 0; s < group->selections; s++)
        fit->selections[s] =
            (struct fit_selection){.selection = group->selection_list[s],
                                   .units_c = heat->mean + heat->selection[s],
                                   .error_days = heat->selection_error[s] / fit->heat_per_day_c};
    for (size_t i = 0; i < group->n; i++) { /* season by season */
        size_t s = group->selection[i];

        if (s == MIXED_NONE)
            continue;
        fit->selections[s].sights++;
        if (fit->selections[s].seasons == 0 || newest[s] != group->sights[i].season)
            fit->selections[s].seasons++;
        newest[s] = group->sights[i].season;
    }
}

/* Are there two dated sights of one selection in one season? */
static bool has_twins(const struct fit_group *group)
{
    for (size_t i = 1; i < group->n; i++) { /* sorted by season and selection */
        if (group->season[i] == group->season[i - 1] && group->selection[i] != MIXED_NONE &&
            group->selection[i] == group->selection[i - 1])
            return true;
    }
    return false;
}

static double residual_of(const struct event_fit *fit)
{
    double assumed = fit_prior_days().season_sd, squares = MIXED_PRIOR_WORTH * assumed * assumed;
    double seasons = fit->judged ? (double)fit->used : 0, error = 0;

    if (fit->judged)
        error = fit->search.searched ? fit->search.found.nested.rmse_days
                                     : fit->search.found.left_out.rmse_days;
    return sqrt((squares + seasons * error * error) / (MIXED_PRIOR_WORTH + seasons));
}

/* What the errors of single grafts say. */
static void judge_grafts(const struct fit_group *group, const struct mixed *heat,
                         struct event_fit *fit)
{
    fit->labels = fit_labels_of(group, heat, fit->heat_per_day_c, &fit->label_count);
    if (fit->judged)
        fit->grafts = fit_graft_errors_of(group, &fit->search);
}

static void fit_thresholds(const struct making *making, struct fit_group *group, const double *x)
{
    struct event_fit *fit = making->fit;
    const struct fit_sums *sums = fit_group_sums(group, &fit->search.clock);
    struct mixed heat;

    fit->heat_per_day_c = fit_heat_per_day(group, sums, x, FIT_NO_SEASON);
    if (isnan(fit->heat_per_day_c))
        return;
    heat = fit_heat(group, sums, fit->heat_per_day_c, FIT_NO_SEASON);
    fit->fitted = heat.mean > 0;
    fit->sights = group->n;
    fit->units_c = heat.mean;
    fit->residual_days = residual_of(fit);
    if (has_twins(group))
        fit->spread_days = heat.spread_sd / fit->heat_per_day_c;
    if (group->selections > 1)
        fit->clone_spread_days = heat.selection_sd / fit->heat_per_day_c;
    tell_selections(group, &heat, fit);
    if (making->of_grafts)
        judge_grafts(group, &heat, fit);
}

static void make_fit(struct making *making)
{
    struct event_fit *fit = making->fit;
    struct fit_clock clock = given_clock(making);
    struct fit_dates dates;
    struct fit_group group;
    struct mixed days;
    bool many;

    list_seasons(making);
    mark_seasons(making, first_of_search, NULL);
    many = fit->used >= FIT_SEASONS_LEAST && !making->wanted.clock;
    if (!many)
        mark_seasons(making, first_of_clock, &clock);
    fit->search.clock = clock;
    if (fit->used == 0)
        return;
    group = group_of(making);
    days = fit_days(&group, FIT_NO_SEASON);
    dates = (struct fit_dates){group.seasons, group.season_list, fit_dates_x(&group, &days),
                               making->wanted.curve};
    tell_dates(making, &group, dates.x);
    if (many)
        fit->judged = fit_search(&dates, making->arena, &fit->search);
    else if (fit->used >= FIT_SEASONS_JUDGED)
        fit->judged = fit_judge(&dates, &clock, making->arena, &fit->search);
    if (!fit->judged)
        fit->search = (struct fit_search){.clock = clock};
    fit_thresholds(making, &group, dates.x);
}

static struct fits make_fits(const struct sights *sights, const struct making *task)
{
    struct arena *arena = task->arena;
    struct fits fits = {.unknown = sights->unknown};

    fits.list = ARENA_ARRAY(arena, sights->count, struct event_fit);
    for (size_t i = 0, end; i < sights->count; i = end) {
        struct event_fit *fit = &fits.list[fits.count++];
        struct making making = *task;

        making.sights = &sights->list[i];
        making.fit = fit;
        for (end = i; end < sights->count && is_one_fit(&sights->list[i], &sights->list[end]);)
            end++;
        making.n = end - i;
        *fit = (struct event_fit){.site = sights->list[i].site,
                                  .species = sights->list[i].species,
                                  .event = sights->list[i].event,
                                  .units_c = NAN,
                                  .heat_per_day_c = NAN,
                                  .residual_days = NAN,
                                  .spread_days = NAN,
                                  .clone_spread_days = NAN};
        make_fit(&making);
    }
    return fits;
}

struct fits fits_of(const struct sights *sights, const struct orchard *orchard,
                    const struct conetide_curve *curve, struct arena *arena)
{
    const struct making task = {
        .orchard = orchard, .arena = arena, .wanted = {.curve = curve}, .of_grafts = true};

    return make_fits(sights, &task);
}

struct fits fits_without_errors_of(const struct sights *sights, const struct orchard *orchard,
                                   const struct fit_wanted *wanted, struct arena *arena)
{
    const struct making task = {.orchard = orchard, .arena = arena, .wanted = *wanted};

    return make_fits(sights, &task);
}
