/*
 * dates.c - blooms: the events of one selection, site and season as distributions.
 */
#include "planning/dates.h"

#include "planning/cache.h"
#include "planning/spread.h"

#include <assert.h>
#include <math.h>
#include <string.h>

struct word {
    const char *text;
    struct word *next;
};

struct dates {
    const struct orchard *orchard;
    struct arena *arena;
    struct season_heat heat;
    struct event_maker maker;
    struct cache blooms, interstocks;
    struct spreads spreads;
    struct word *words; /* species and clones met so far: few */
};

struct dates *dates_new(const struct orchard *orchard, struct arena *arena)
{
    return dates_new_warmer(orchard, (struct warmer){.add_c = 0}, arena);
}

struct dates *dates_new_warmer(const struct orchard *orchard, struct warmer warmer,
                               struct arena *arena)
{
    struct dates *dates = ARENA_NEW(arena, struct dates);

    assert(orchard->as_of != DAY_NONE);
    dates->orchard = orchard;
    dates->arena = arena;
    season_heat_init(&dates->heat, orchard, arena);
    dates->heat.warmer = warmer;
    event_maker_init(&dates->maker, &dates->heat);
    cache_init(&dates->blooms, arena);
    cache_init(&dates->interstocks, arena);
    spreads_init(&dates->spreads, arena);
    return dates;
}

/* One address for equal texts, so that they make equal keys. */
static const char *same_word(struct dates *dates, const char *text)
{
    struct word *word;

    if (text == NULL)
        return NULL;
    for (word = dates->words; word != NULL; word = word->next) {
        if (strcmp(word->text, text) == 0)
            return word->text;
    }
    word = ARENA_NEW(dates->arena, struct word);
    *word = (struct word){text, dates->words};
    dates->words = word;
    return text;
}

const struct season_weather *dates_weather(struct dates *dates, const struct site *site, int season)
{
    return season_heat_weather(&dates->heat, site, season);
}

static const enum event window_events[] = {EVENT_OPENING, EVENT_FIRST, EVENT_LAST};

static void take_basis(const struct event_table *table, struct bloom *bloom)
{
    const struct event_days *leading = spread_leading_event(table);

    bloom->basis = leading == NULL ? BASIS_CALENDAR : leading->basis;
    bloom->seasons_seen = -1;
    for (size_t i = 0; i < sizeof window_events / sizeof *window_events; i++) {
        const struct event_days *event = &table->event[window_events[i]];
        int seen;

        if (event->members == 0)
            continue;
        seen = event->root->seasons_seen;
        if (event->basis > bloom->basis)
            bloom->basis = event->basis;
        if (seen >= 0 && (bloom->seasons_seen < 0 || seen < bloom->seasons_seen))
            bloom->seasons_seen = seen;
    }
}

static void take_spreads(struct dates *dates, const struct event_table *table, struct bloom *bloom)
{
    bool of_one = bloom->selection != NULL;
    struct spread strobili = spread_of_strobili(&dates->spreads, table, of_one, bloom->basis);
    struct spread pollen = spread_of_pollen(&dates->spreads, table, of_one);

    bloom->sigma_days = strobili.sigma_days;
    bloom->shifts = strobili.shifts;
    bloom->shed_sigma_days = pollen.sigma_days;
    bloom->shed_shifts = pollen.shifts;
}

static void take_windows(struct bloom *bloom, struct arena *arena)
{
    struct conetide_window *windows;

    for (size_t i = 0; i < sizeof window_events / sizeof *window_events; i++) {
        if (bloom->days[window_events[i]] == NULL)
            return;
    }
    windows = ARENA_ARRAY(arena, bloom->members, struct conetide_window);
    for (size_t m = 0; m < bloom->members; m++)
        windows[m] = (struct conetide_window){
            bloom->days[EVENT_OPENING][m], bloom->days[EVENT_FIRST][m], bloom->days[EVENT_LAST][m]};
    bloom->windows = windows;
}

static struct bloom *make_bloom(struct dates *dates, const struct event_subject *subject)
{
    struct bloom *bloom = ARENA_NEW(dates->arena, struct bloom);
    struct event_table *made = ARENA_NEW(dates->arena, struct event_table), table;

    *made = table = event_days_of(&dates->maker, subject);
    bloom->table = made;
    bloom->site = subject->site;
    bloom->species = subject->species;
    bloom->selection = subject->selection;
    bloom->season = subject->season;
    bloom->members = table.members;
    bloom->member_season = table.by_weather ? table.weather->member_season : NULL;
    bloom->few_members = table.by_weather && table.members < MEMBERS_MARKED;
    bloom->remark = table.remark;
    for (int e = 0; e < EVENTS; e++) {
        bloom->days[e] = table.event[e].members > 0 ? table.event[e].days : NULL;
        bloom->threshold[e] = table.event[e].threshold;
    }
    take_basis(&table, bloom);
    take_spreads(dates, &table, bloom);
    take_windows(bloom, dates->arena);
    return bloom;
}

static const struct bloom *bloom_of(struct dates *dates, struct event_subject subject)
{
    struct cache_key key;
    void **found;

    /* All names of one clone are one question. */
    if (subject.selection != NULL && subject.selection->self != NULL)
        subject.selection = subject.selection->self;
    subject.species = same_word(dates, subject.species);
    key = (struct cache_key){{cache_pointer(subject.site), cache_pointer(subject.species),
                              cache_pointer(subject.selection), (uint64_t)(uint32_t)subject.season,
                              (uint64_t)subject.futures}};
    found = cache_at(&dates->blooms, key);
    if (*found == NULL)
        *found = make_bloom(dates, &subject);
    return *found;
}

const struct bloom *dates_bloom(struct dates *dates, const struct site *site, const char *species,
                                const struct selection *selection, int season)
{
    return bloom_of(dates, (struct event_subject){.site = site,
                                                  .species = species,
                                                  .selection = selection,
                                                  .season = season,
                                                  .futures = FUTURES_OF_NOW});
}

const struct bloom *dates_bloom_of_past(struct dates *dates, const struct site *site,
                                        const char *species, const struct selection *selection,
                                        int season)
{
    return bloom_of(dates, (struct event_subject){.site = site,
                                                  .species = species,
                                                  .selection = selection,
                                                  .season = season,
                                                  .futures = FUTURES_OF_PAST});
}

const struct event_table *dates_interstock(struct dates *dates, const struct site *site,
                                           const char *species, const char *clone, int season)
{
    struct event_subject subject = {.site = site,
                                    .species = same_word(dates, species),
                                    .interstock = true,
                                    .clone = same_word(dates, clone),
                                    .season = season,
                                    .futures = FUTURES_OF_NOW};
    struct cache_key key = {{cache_pointer(site), cache_pointer(subject.species),
                             cache_pointer(subject.clone), (uint64_t)(uint32_t)season}};
    void **found = cache_at(&dates->interstocks, key);

    if (*found == NULL) {
        struct event_table *table = ARENA_NEW(dates->arena, struct event_table);

        *table = event_days_of(&dates->maker, &subject);
        *found = table;
    }
    return *found;
}

static const struct conetide_shifts *shifts_for(const struct bloom *bloom, enum event event)
{
    bool is_shed =
        event == EVENT_SHED_FIRST || event == EVENT_SHED_PEAK || event == EVENT_SHED_LAST;

    return is_shed ? bloom->shed_shifts : bloom->shifts;
}

daynum bloom_date(const struct bloom *bloom, enum event event, double p)
{
    int32_t day;

    if (bloom->days[event] == NULL)
        return DAY_NONE;
    return conetide_event_date(bloom->members, bloom->days[event], shifts_for(bloom, event), p,
                               &day) == CONETIDE_OK
               ? day
               : DAY_NEVER;
}

double bloom_by(const struct bloom *bloom, enum event event, daynum day)
{
    if (bloom->days[event] == NULL)
        return 0;
    return conetide_event_by(bloom->members, bloom->days[event], shifts_for(bloom, event), day);
}

struct conetide_futures bloom_futures(const struct bloom *bloom)
{
    assert(bloom->windows != NULL);
    return (struct conetide_futures){bloom->members, bloom->windows, bloom->shifts};
}

/* Chance that a member's event lies before `day`. */
static double past(const struct bloom *bloom, enum event event, size_t member, daynum day)
{
    int32_t event_day = bloom->days[event][bloom->members == 1 ? 0 : member];

    if (event_day == CONETIDE_NEVER)
        return 0;
    return conetide_shift_cumulative(shifts_for(bloom, event), (int64_t)day - 1 - event_day);
}

double bloom_safe_to_unbag(const struct bloom *bloom, const struct bloom *shed, daynum day)
{
    size_t members = bloom->members;
    double total = 0;

    if (bloom->days[EVENT_CLOSED] == NULL)
        return 0;
    if (shed != NULL && shed->days[EVENT_SHED_LAST] == NULL)
        shed = NULL;
    if (shed != NULL && shed->members > members)
        members = shed->members;
    assert(bloom->members == 1 || bloom->members == members);
    assert(shed == NULL || shed->members == 1 || shed->members == members);
    for (size_t m = 0; m < members; m++)
        total += past(bloom, EVENT_CLOSED, m, day) *
                 (shed != NULL ? past(shed, EVENT_SHED_LAST, m, day) : 1);
    return total / (double)members;
}

double dates_mean_sum(struct dates *dates, const struct site *site, int season,
                      const struct clock *clock, daynum day)
{
    const struct season_weather *weather = dates_weather(dates, site, season);
    const struct heat_sums *sums;
    double total = 0;
    size_t index;

    if (weather->members == 0)
        return NAN;
    sums = season_heat_sums(&dates->heat, weather, clock, FUTURES_OF_PAST);
    if (day < weather->first_day + (daynum)sums->first || sums->end == sums->first)
        return 0;
    index = (size_t)(day - weather->first_day);
    if (index >= sums->end)
        index = sums->end - 1;
    for (size_t m = 0; m < weather->members; m++)
        total += sums->sums[m * weather->days + index];
    return total / (double)weather->members;
}

struct sum_range dates_sum(struct dates *dates, const struct site *site, int season,
                           const struct clock *clock, daynum day)
{
    const struct season_weather *weather = dates_weather(dates, site, season);
    struct sum_range range = {NAN, NAN};
    const struct heat_sums *sums;
    size_t index;

    if (weather->members == 0)
        return range;
    sums = season_heat_sums(&dates->heat, weather, clock, FUTURES_OF_NOW);
    if (day < weather->first_day + (daynum)sums->first || sums->end == sums->first)
        return (struct sum_range){0, 0};
    index = (size_t)(day - weather->first_day);
    if (index >= sums->end)
        index = sums->end - 1;
    for (size_t m = 0; m < weather->members; m++) {
        double sum = sums->sums[m * weather->days + index];

        range.least = fmin(range.least, sum); /* a NaN is passed over */
        range.most = fmax(range.most, sum);
    }
    return range;
}

daynum dates_sum_start(struct dates *dates, const struct site *site, int season,
                       const struct clock *clock)
{
    const struct season_weather *weather = dates_weather(dates, site, season);

    if (weather->members == 0)
        return DAY_NONE;
    return weather->first_day +
           (daynum)season_heat_sums(&dates->heat, weather, clock, FUTURES_OF_NOW)->first;
}

const int32_t *dates_reached(struct dates *dates, const struct site *site, int season,
                             const struct clock *clock, double units_c, double per_day_c)
{
    const struct season_weather *weather = dates_weather(dates, site, season);

    if (weather->members == 0)
        return NULL;
    return season_heat_reached(&dates->heat, weather, (struct heat_need){clock, units_c, per_day_c},
                               FUTURES_OF_NOW);
}
