/*
 * grafting.c - the grafting windows of all interstocks, and how each stands on the as-of day.
 */
#include "planning/grafting.h"

#include "conetide/quantile.h"
#include "planning/grafting_window.h"
#include "planning/grafting_words.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

const double three_chances[THREE_DATES] = {0.1, 0.5, 0.9};

/* A window closed for longer is of no interest any more; then the next season's is shown. */
enum { LONG_CLOSED_DAYS = 90 };

/* A good day's own night and the three after it must stay above graft_night_c. */
enum { NIGHTS_AFTER = 3 };

/* As far back as a cold night or a hot day is a caution. */
enum { RECENT_DAYS = 3 };

struct grafting {
    const struct state *state;
    struct dates *dates;
    struct arena *arena;
    const struct program *program;
    daynum as_of;
    struct grafting_rows rows;
    const char **species; /* [rows.count], of each row's first tree */
};

static bool same_clone(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static size_t row_of(struct grafting *grafting, const struct tree *tree)
{
    struct grafting_rows *rows = &grafting->rows;
    size_t i = 0;

    while (i < rows->count &&
           !(rows->list[i].site == tree->site && same_clone(rows->list[i].clone, tree->clone)))
        i++;
    if (i == rows->count) {
        rows->list[i] =
            (struct grafting_row){.site = tree->site, .clone = tree->clone, .free_places = -1};
        rows->count++;
    }
    if (grafting->species[i] == NULL)
        grafting->species[i] = tree->species;
    return i;
}

static void count_places(const struct grafting *grafting, const struct tree *tree,
                         struct grafting_row *row)
{
    for (int crown = 0; crown < CROWNS; crown++) {
        int free_places = state_free_places(grafting->state, tree, (enum crown)crown);

        if (free_places < 0)
            continue;
        row->free_places = (row->free_places < 0 ? 0 : row->free_places) + free_places;
    }
}

static void collect_trees(struct grafting *grafting)
{
    const struct orchard *orchard = grafting->state->orchard;

    grafting->rows.list = ARENA_ARRAY(grafting->arena, orchard->trees.count, struct grafting_row);
    grafting->species = ARENA_ARRAY(grafting->arena, orchard->trees.count, const char *);
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        struct grafting_row *row;

        if ((tree->uses & USE_GRAFT) == 0 || tree->site == NULL || tree->health == HEALTH_DEAD)
            continue;
        row = &grafting->rows.list[row_of(grafting, tree)];
        if (tree->health == HEALTH_WEAK)
            continue;
        row->trees++;
        count_places(grafting, tree, row);
    }
}

static void take_three(const struct grafting_edge *edge, daynum dates[THREE_DATES])
{
    for (int i = 0; i < THREE_DATES; i++) {
        int32_t day;
        enum conetide_status status =
            conetide_event_date(edge->members, edge->days, &edge->shifts, three_chances[i], &day);

        dates[i] = status == CONETIDE_OK ? day : DAY_NEVER;
    }
}

static void take_state(const struct grafting *grafting, const struct grafting_window *window,
                       struct grafting_row *row)
{
    const struct grafting_edge *open = &window->open, *close = &window->close;
    daynum as_of = grafting->as_of;

    if (as_of > row->closes[1])
        row->state = GRAFTING_CLOSED;
    else if (row->opens[1] == DAY_NEVER)
        row->state = GRAFTING_NO_DATE;
    else if (as_of < row->opens[1])
        row->state = GRAFTING_NOT_YET;
    else
        row->state = GRAFTING_OPEN;
    row->chance_open =
        fmax(0, conetide_event_by(open->members, open->days, &open->shifts, as_of) -
                    conetide_event_by(close->members, close->days, &close->shifts, as_of - 1));
    row->state_words = grafting_state_words(row, grafting->arena);
}

/* By the gates of program.json; nights past the season's end are not looked at. */
static bool is_good_day(const struct program *program, const struct season_weather *weather,
                        size_t member, size_t i)
{
    double tmax_c = season_weather_tmax_c(weather, member, i);

    if (tmax_c < program->graft_day_low_c || tmax_c > program->graft_day_high_c)
        return false;
    for (size_t night = i; night <= i + NIGHTS_AFTER && night < weather->days; night++) {
        if (season_weather_tmin_c(weather, member, night) <= program->graft_night_c)
            return false;
    }
    return true;
}

static int good_days(const struct grafting *grafting, const struct grafting_window *window,
                     size_t member)
{
    const struct season_weather *weather = window->weather;
    daynum open = window->open.days[window->open.members == 1 ? 0 : member];
    daynum close = window->close.days[window->close.members == 1 ? 0 : member];
    daynum first = open > grafting->as_of ? open : grafting->as_of;
    int good = 0;

    if (first < weather->first_day)
        first = weather->first_day;
    for (daynum day = first; day <= close && day < weather->first_day + (daynum)weather->days;
         day++)
        good += is_good_day(grafting->program, weather, member, (size_t)(day - weather->first_day));
    return good;
}

static int order_of_numbers(const void *a, const void *b)
{
    double one = *(const double *)a, other = *(const double *)b;

    return (one > other) - (one < other);
}

static int rounded_quantile(size_t n, const double *sorted, double p)
{
    double value;
    enum conetide_status status = conetide_quantile(8, n, sorted, p, &value);

    assert(status == CONETIDE_OK);
    (void)status;
    return (int)lround(value);
}

static void take_good_days(const struct grafting *grafting, const struct grafting_window *window,
                           struct grafting_row *row)
{
    size_t members = window->weather->members;
    double *counts;

    row->good_days_low = row->good_days_left = row->good_days_high = -1;
    if (members < MEMBERS_LEAST)
        return;
    counts = ARENA_ARRAY(grafting->arena, members, double);
    for (size_t m = 0; m < members; m++)
        counts[m] = good_days(grafting, window, m);
    qsort(counts, members, sizeof *counts, order_of_numbers);
    row->good_days_low = rounded_quantile(members, counts, three_chances[0]);
    row->good_days_left = rounded_quantile(members, counts, three_chances[1]);
    row->good_days_high = rounded_quantile(members, counts, three_chances[2]);
}

static bool freezes_after(const struct grafting *grafting, const struct season_weather *weather,
                          size_t member, daynum grafted_on)
{
    daynum end = weather->first_day + (daynum)weather->days;

    for (daynum day = grafted_on + 1; day <= grafted_on + grafting->program->freeze_days; day++) {
        if (day >= weather->first_day && day < end &&
            season_weather_tmin_c(weather, member, (size_t)(day - weather->first_day)) <=
                grafting->program->freeze_c)
            return true;
    }
    return false;
}

static void take_freeze_chance(const struct grafting *grafting,
                               const struct season_weather *weather, struct grafting_row *row)
{
    daynum grafted_on = row->opens[1] > grafting->as_of ? row->opens[1] : grafting->as_of;
    size_t freezing = 0;

    row->freeze_chance = NAN;
    if (weather->members < MEMBERS_LEAST || row->state == GRAFTING_CLOSED ||
        row->state == GRAFTING_NO_DATE)
        return;
    for (size_t m = 0; m < weather->members; m++)
        freezing += freezes_after(grafting, weather, m, grafted_on);
    row->freeze_chance = (double)freezing / (double)weather->members;
}

static void add_caution(struct text *text, const char *what, daynum day)
{
    if (text->length > 0)
        text_add(text, "; ");
    text_add(text, what);
    if (day != DAY_NONE) {
        text_add(text, " ");
        add_date_in_words(text, day, 0);
    }
}

/* Newest cold night and hot day among the last few known ones; only while grafting goes on. */
static void add_recent_weather(const struct grafting *grafting,
                               const struct season_weather *weather, struct text *text)
{
    daynum cold = DAY_NONE, hot = DAY_NONE;

    for (daynum day = grafting->as_of - RECENT_DAYS + 1; day <= grafting->as_of; day++) {
        int64_t i = (int64_t)day - weather->first_day;

        if (i < 0 || i >= (int64_t)weather->known)
            continue;
        if (weather->known_tmin_c[i] <= grafting->program->graft_night_c)
            cold = day;
        if (weather->known_tmax_c[i] > grafting->program->graft_day_high_c)
            hot = day;
    }
    if (cold != DAY_NONE)
        add_caution(text, "too cold a night for fresh grafts on", cold);
    if (hot != DAY_NONE)
        add_caution(text, "too hot a day for grafting on", hot);
}

static void take_caution(const struct grafting *grafting, const struct grafting_window *window,
                         struct grafting_row *row)
{
    size_t members = window->weather->members;
    struct text text;

    text_init(&text, grafting->arena);
    if (row->state == GRAFTING_OPEN)
        add_recent_weather(grafting, window->weather, &text);
    if (window->remark != NULL)
        add_caution(&text, window->remark, DAY_NONE);
    if (members >= MEMBERS_LEAST && members < MEMBERS_MARKED)
        add_caution(&text, "few past years of weather", DAY_NONE);
    row->caution = text.length > 0 ? text.bytes : NULL;
}

static void take_window(const struct grafting *grafting, size_t index, int season)
{
    struct grafting_row *row = &grafting->rows.list[index];
    struct interstock interstock = {row->site, grafting->species[index], row->clone};
    struct grafting_window window;

    grafting_window_of(grafting->dates, grafting->state->orchard, interstock, season,
                       grafting->arena, &window);
    row->season = season;
    take_three(&window.open, row->opens);
    take_three(&window.close, row->closes);
    row->by_heat = window.open.by_heat || window.close.by_heat;
    row->calendar_open = window.open.calendar;
    row->calendar_close = window.close.calendar;
    row->basis = window.open.basis > window.close.basis ? window.open.basis : window.close.basis;
    row->seasons_seen = window.open.seasons_seen < window.close.seasons_seen
                            ? window.open.seasons_seen
                            : window.close.seasons_seen;
    take_state(grafting, &window, row);
    take_good_days(grafting, &window, row);
    take_freeze_chance(grafting, window.weather, row);
    take_caution(grafting, &window, row);
}

/* By site, then clone; trees without a clone last. */
static int order_of_rows(const void *a, const void *b)
{
    const struct grafting_row *one = a, *other = b;
    int order = strcmp(one->site->name, other->site->name);

    if (order != 0)
        return order;
    if (one->clone == NULL || other->clone == NULL)
        return (one->clone == NULL) - (other->clone == NULL);
    return strcmp(one->clone, other->clone);
}

struct grafting_rows grafting_of(const struct state *state, struct dates *dates,
                                 struct arena *arena)
{
    struct grafting grafting = {.state = state,
                                .dates = dates,
                                .arena = arena,
                                .program = &state->orchard->program,
                                .as_of = state->orchard->as_of};

    collect_trees(&grafting);
    for (size_t i = 0; i < grafting.rows.count; i++) {
        struct grafting_row *row = &grafting.rows.list[i];
        int season = day_season(orchard_season_rule(state->orchard, row->site), grafting.as_of);

        take_window(&grafting, i, season);
        if ((int64_t)grafting.as_of - row->closes[1] > LONG_CLOSED_DAYS)
            take_window(&grafting, i, season + 1);
    }
    qsort(grafting.rows.list, grafting.rows.count, sizeof *grafting.rows.list, order_of_rows);
    return grafting.rows;
}
