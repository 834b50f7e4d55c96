/*
 * replay.c - every season of an event left to the seasons before it (or all others).
 *
 * What one season needs lies in an arena of its own, given back when it is told: a replay night by
 * night would keep gigabytes of weather.
 */
#include "planning/replay.h"

#include "conetide/projection.h"
#include "orchard/order.h"
#include "planning/replay_score.h"
#include "planning/replay_visits.h"
#include "planning/season_heat.h"

#include <math.h>
#include <string.h>

enum { ALL_MEMBERS = 10000 };

struct replaying {
    const struct replay_asked *asked;
    struct arena *arena;
    struct replay_group group; /* sights of the event and of `last` at one site */
    struct event_replay *replay;
    struct event_fit all; /* every season: what came true */
    struct replay_windows windows;
    const struct station_record *record; /* the same on every day of telling; NULL: it is not */
};

static bool is_one_group(const struct sight *a, const struct sight *b)
{
    return a->site == b->site && order_text(a->species, b->species) == 0;
}

/* May one season be told from another? */
static bool serves(const struct replay_asked *asked, int other, int season)
{
    return asked->loyo ? other != season : other < season;
}

/* The sights of a group that a season may be told from, in their order. */
static struct sights training_of(const struct replaying *replaying, enum event event, int season,
                                 struct arena *arena)
{
    const struct replay_group *group = &replaying->group;
    struct sights training = {.list = ARENA_ARRAY(arena, group->n, struct sight)};

    for (size_t i = 0; i < group->n; i++) {
        const struct sight *sight = &group->sights[i];

        if (sight->event == event && serves(replaying->asked, sight->season, season))
            training.list[training.count++] = *sight;
    }
    return training;
}

/* The one fit of sights of one site, species and event. */
static struct event_fit fit_of(const struct sights *sights, const struct orchard *orchard,
                               const struct fit_wanted *wanted, struct arena *arena)
{
    struct fits fits = fits_without_errors_of(sights, orchard, wanted, arena);

    return fits.count > 0 ? fits.list[0] : (struct event_fit){.event = EVENTS};
}

/* Dates of the seasons fitted to, laid on the season told, ascending. */
static size_t past_dates(const struct event_fit *fit, int season, bool northern, daynum *past)
{
    daynum new_year = day_from_civil(season, northern ? 1 : 7, 1);
    size_t n = 0;

    for (size_t s = 0; s < fit->season_count; s++) {
        daynum date = fit->seasons[s].date;

        if (date == DAY_NONE)
            continue;
        date += new_year - day_from_civil(fit->seasons[s].season, northern ? 1 : 7, 1);
        size_t at = n++;
        for (; at > 0 && past[at - 1] > date; at--)
            past[at] = past[at - 1];
        past[at] = date;
    }
    return n;
}

/* One season to be told, from one fit. */
struct telling {
    struct replaying *replaying;
    struct replay_season *season;
    struct replay_trained trained;
    daynum observed;
    struct arena *arena;                  /* of the season */
    struct orchard taught;                /* what was known of it for the fit */
    const struct season_weather *lent[2]; /* members, moved and as they were; NULL: by the day */
    struct conetide_shifts shifts;
    size_t past_count;
    daynum *past;
};

static daynum issue_day(const struct telling *telling, size_t index)
{
    const struct replay_asked *asked = telling->replaying->asked;
    const struct replay_issue *issue = &asked->issues[index];
    struct season_rule rule = orchard_season_rule(asked->orchard, telling->trained.first.site);

    return issue->on.month > 0
               ? day_on_or_after(issue->on, day_season_start(rule, telling->season->season))
               : telling->observed - issue->lead_days;
}

/* The season's weather as it was known on a day. */
struct knowing {
    struct arena arena;
    struct orchard orchard;
    struct season_heat heat;
    const struct season_weather *weather;
};

static void know(const struct telling *telling, daynum issued, bool as_they_were,
                 struct knowing *knowing)
{
    const struct replay_asked *asked = telling->replaying->asked;

    arena_init(&knowing->arena, telling->arena->refused);
    knowing->orchard = *asked->orchard;
    knowing->orchard.as_of = issued;
    if (asked->loyo)
        knowing->orchard.program.members_most = ALL_MEMBERS;
    season_heat_init(&knowing->heat, &knowing->orchard, &knowing->arena);
    knowing->heat.as_they_were = as_they_were;
    knowing->heat.given = telling->replaying->record;
    knowing->heat.lent = telling->lent[as_they_were];
    knowing->heat.all_others = asked->loyo;
    knowing->weather =
        season_heat_weather(&knowing->heat, telling->trained.first.site, telling->season->season);
}

static struct replay_forecast forecast_of(const struct telling *telling, struct knowing *knowing)
{
    const struct event_fit *fit = &telling->trained.first;
    const struct heat_need need = {&fit->search.clock.clock, fit->units_c,
                                   fit->search.clock.per_day_c};

    return (struct replay_forecast){
        .members = knowing->weather->members,
        .days = season_heat_reached(&knowing->heat, knowing->weather, need, FUTURES_OF_NOW),
        .shifts = &telling->shifts,
        .past_count = telling->past_count,
        .past = telling->past};
}

/* What the same date scores when past years are not moved. */
static double unmoved_score(const struct telling *telling, const struct replay_told *told)
{
    struct replay_told unmoved = *told;
    struct replay_forecast forecast;
    struct knowing knowing;

    know(telling, told->issued, true, &knowing);
    forecast = forecast_of(telling, &knowing);
    replay_score(&forecast, &knowing.arena, &unmoved);
    arena_release(&knowing.arena);
    return unmoved.score_days;
}

static void tell_on(struct telling *telling, size_t issue)
{
    struct event_replay *replay = telling->replaying->replay;
    struct replay_told told = {.season = telling->season->season,
                               .issue = issue,
                               .observed = telling->observed,
                               .residual_days = telling->trained.first.residual_days};
    struct knowing knowing;

    told.issued = issue_day(telling, issue);
    know(telling, told.issued, false, &knowing);
    telling->season->members = knowing.weather->members;
    if (knowing.weather->members < MEMBERS_LEAST) {
        telling->season->state = REPLAY_FEW_MEMBERS;
    } else {
        struct replay_forecast forecast = forecast_of(telling, &knowing);

        replay_score(&forecast, &knowing.arena, &told);
        told.unmoved_score_days =
            knowing.weather->warming_c != 0 ? unmoved_score(telling, &told) : told.score_days;
        replay_plan_visits(&telling->trained, &knowing.heat, knowing.weather, told.issued,
                           &replay->lines[issue]);
        replay->told[replay->told_count++] = told;
    }
    arena_release(&knowing.arena);
}

/* For visits: how long receptive days last in the seasons fitted to, and who was seen to the end.
 */
static void train_windows(struct telling *telling)
{
    const struct replaying *replaying = telling->replaying;
    const struct replay_windows *windows = &replaying->windows;
    struct replay_trained *trained = &telling->trained;
    int season = telling->season->season;
    double total = 0;
    size_t n = 0, own = 0;

    for (size_t i = 0; i < windows->count; i++) {
        const struct replay_window *window = &windows->list[i];

        if (window->season == season && own++ == 0)
            trained->windows.list = window;
        if (!serves(replaying->asked, window->season, season))
            continue;
        total += window->lasts_days;
        n++;
    }
    trained->windows.count = n > 0 ? own : 0;
    trained->lasts_days = n > 0 ? total / (double)n : (double)NAN;
}

/* Thresholds by what was known when the season began. */
static void train(struct telling *telling)
{
    const struct replaying *replaying = telling->replaying;
    const struct replay_asked *asked = replaying->asked;
    struct replay_season *season = telling->season;
    struct event_fit *fit = &telling->trained.first;
    struct sights training = training_of(replaying, asked->event, season->season, telling->arena);
    struct season_rule rule = orchard_season_rule(asked->orchard, replaying->replay->site);

    telling->taught = *asked->orchard;
    if (!asked->loyo)
        telling->taught.as_of = day_season_start(rule, season->season) - 1;
    *fit = fit_of(&training, &telling->taught, &asked->wanted, telling->arena);
    season->trained = fit->used;
    season->searched = fit->search.searched;
    season->state = REPLAY_FEW_SEASONS;
    if (!fit->fitted || conetide_shifts_of(fit->residual_days, &telling->shifts) != CONETIDE_OK)
        return;
    season->state = REPLAY_TOLD;
    telling->past = ARENA_ARRAY(telling->arena, fit->season_count, daynum);
    telling->past_count = past_dates(fit, season->season, rule.northern, telling->past);
    telling->trained.true_first = telling->observed;
    if (asked->event == EVENT_FIRST)
        train_windows(telling);
}

/* With one record for all days of telling, past years and their warming are the same on all. */
static void tell_all(struct telling *telling)
{
    struct replaying *replaying = telling->replaying;
    const struct site *site = replaying->replay->site;
    daynum start = day_season_start(orchard_season_rule(replaying->asked->orchard, site),
                                    telling->season->season);
    struct knowing moved, unmoved;

    know(telling, start - 1, false, &moved);
    know(telling, start - 1, true, &unmoved);
    if (replaying->record) {
        telling->lent[false] = moved.weather;
        telling->lent[true] = unmoved.weather;
    }
    for (size_t i = 0; i < replaying->asked->issue_count && telling->season->state == REPLAY_TOLD;
         i++)
        tell_on(telling, i);
    arena_release(&moved.arena);
    arena_release(&unmoved.arena);
}

static void tell_season(struct replaying *replaying, struct replay_season *season, daynum observed)
{
    struct arena arena;
    struct telling telling = {
        .replaying = replaying, .season = season, .observed = observed, .arena = &arena};

    arena_init(&arena, replaying->arena->refused);
    train(&telling);
    if (season->state == REPLAY_TOLD)
        tell_all(&telling);
    replaying->replay->told_seasons += season->state == REPLAY_TOLD;
    arena_release(&arena);
}

static bool is_asked(const struct replay_asked *asked, int season)
{
    return season >= asked->from && (asked->to == 0 || season <= asked->to);
}

static void make_replay(struct replaying *replaying)
{
    const struct replay_asked *asked = replaying->asked;
    struct event_replay *replay = replaying->replay;
    const struct event_fit *all = &replaying->all;

    replay->seasons = ARENA_ARRAY(replaying->arena, all->season_count, struct replay_season);
    replay->told =
        ARENA_ARRAY(replaying->arena, all->season_count * asked->issue_count, struct replay_told);
    replay->lines = ARENA_ARRAY(replaying->arena, asked->issue_count, struct replay_line);
    for (size_t i = 0; i < asked->issue_count; i++)
        replay->lines[i].issue = asked->issues[i];
    for (size_t s = 0; s < all->season_count; s++) {
        struct replay_season *season = &replay->seasons[replay->season_count];

        if (!is_asked(asked, all->seasons[s].season))
            continue;
        replay->season_count++;
        *season = (struct replay_season){.season = all->seasons[s].season, .state = REPLAY_UNDATED};
        if (all->seasons[s].state == FIT_SEASON_USED)
            tell_season(replaying, season, all->seasons[s].date);
    }
    for (size_t i = 0; i < asked->issue_count; i++) {
        replay_sum_up(replay->told_count, replay->told, i, &replay->lines[i]);
    }
}

/* Where no neighbour and no forecast fills days, what is known on a day is the beginning of what is
 * known later, and one record serves all days of telling. */
static void find_record(struct replaying *replaying)
{
    const struct orchard *orchard = replaying->asked->orchard;
    const struct site *site = replaying->replay->site;
    bool plain = orchard->forecasts.count == 0 && (!site->station || !site->station->neighbour);
    struct station_record *record;

    if (!plain && !replaying->asked->loyo)
        return;
    record = ARENA_NEW(replaying->arena, struct station_record);
    *record = fit_record_of(orchard, site, replaying->arena);
    replaying->record = record;
}

/* What came true needs no clock to be searched: any will do. */
static void replay_group_of(struct replaying *replaying, struct replay *replay)
{
    const struct replay_asked *asked = replaying->asked;
    struct fit_wanted any = {NULL, program_clock(&asked->orchard->program, "sine-37f")};
    struct sights sights = training_of(replaying, asked->event, INT32_MAX, replaying->arena);

    if (sights.count == 0)
        return;
    replaying->all = fit_of(&sights, asked->orchard, &any, replaying->arena);
    replaying->windows = replay_windows_of(&replaying->group, replaying->arena);
    replaying->replay = &replay->list[replay->count++];
    *replaying->replay = (struct event_replay){
        .site = sights.list[0].site, .species = sights.list[0].species, .event = asked->event};
    find_record(replaying);
    make_replay(replaying);
}

struct replay replay_of(const struct replay_asked *asked, struct arena *arena)
{
    const struct sights *sights = asked->sights;
    struct replay replay = {.list = ARENA_ARRAY(arena, sights->count, struct event_replay),
                            .unknown = sights->unknown};

    for (size_t i = 0, end; i < sights->count; i = end) {
        struct replaying replaying = {
            .asked = asked, .arena = arena, .group = {.sights = &sights->list[i]}};

        for (end = i; end < sights->count && is_one_group(&sights->list[i], &sights->list[end]);)
            end++;
        replaying.group.n = end - i;
        if (!asked->site || strcmp(sights->list[i].site->name, asked->site) == 0)
            replay_group_of(&replaying, &replay);
    }
    return replay;
}
