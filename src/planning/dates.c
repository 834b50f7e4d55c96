/*
 * dates.c - blooms: the events of one selection, site and season as distributions.
 */
#include "planning/dates.h"

#include "planning/cache.h"
#include "planning/condition.h"
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
    struct cache blooms, interstocks, seen;
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
    cache_init(&dates->seen, arena);
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

/* An event that follows another by days with a spread of their own errs by more than those that
 * share its shift. */
static void take_own_spreads(struct dates *dates, const struct event_table *table,
                             struct bloom *bloom)
{
    for (int e = EVENT_OPENING; e <= EVENT_SHED_LAST; e++) {
        const struct event_days *leading =
            e <= EVENT_CLOSED ? spread_leading_event(table) : spread_leading_pollen(table);
        double more;

        if (leading == NULL || table->event[e].members == 0)
            continue;
        more = table->event[e].after_variance - leading->after_variance;
        if (more > 0)
            bloom->own[e] = spread_of_days(&dates->spreads, sqrt(more)).shifts;
    }
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
        bloom->unchilled[e] = table.event[e].unchilled;
    }
    take_basis(&table, bloom);
    take_spreads(dates, &table, bloom);
    take_own_spreads(dates, &table, bloom);
    bloom_take_windows(bloom, dates->arena);
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

/* The same for the same bloom and the same looks. */
static const struct bloom *seen_bloom(struct dates *dates, const struct bloom *plain,
                                      const struct looks *looks)
{
    struct cache_key key = {{cache_pointer(plain)}};
    void **found;

    if (looks->count == 0)
        return plain;
    for (int i = 0; i < LOOKED_EVENTS; i++)
        key.word[1 + i] =
            (uint64_t)(uint32_t)looks->after[i] << 32 | (uint64_t)(uint32_t)looks->by[i];
    found = cache_at(&dates->seen, key);
    if (*found == NULL)
        *found = condition_bloom(plain, looks, &dates->spreads, dates->arena);
    return *found;
}

const char *graft_species(const struct graft_state *graft)
{
    const struct selection *selection =
        graft->selection != NULL ? graft->selection : graft->graft->selection;

    return selection != NULL ? selection->species : graft->graft->tree->species;
}

static const struct bloom *plain_bloom(struct dates *dates, const struct graft_state *graft,
                                       int season)
{
    return dates_bloom(dates, graft->graft->tree->site, graft_species(graft), graft->selection,
                       season);
}

const struct bloom *dates_graft_bloom(struct dates *dates, const struct state *state,
                                      const struct graft_state *graft, int season)
{
    const struct looks looks = looks_at_graft(state, graft->graft, season);

    return seen_bloom(dates, plain_bloom(dates, graft, season), &looks);
}

const struct bloom *dates_bag_bloom(struct dates *dates, const struct state *state,
                                    const struct bag *bag)
{
    const struct looks looks = looks_at_bag(state, bag);

    return seen_bloom(dates, plain_bloom(dates, state_graft(state, bag->graft), bag->season),
                      &looks);
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

struct member_sums dates_member_sums(struct dates *dates, const struct site *site, int season,
                                     const struct clock *clock)
{
    const struct season_weather *weather = dates_weather(dates, site, season);
    const struct heat_sums *sums;

    if (weather->members == 0)
        return (struct member_sums){.sums = NULL, .first = DAY_NONE};
    sums = season_heat_sums(&dates->heat, weather, clock, FUTURES_OF_NOW);
    return (struct member_sums){.sums = sums->sums + sums->first,
                                .members = weather->members,
                                .stride = weather->days,
                                .first = weather->first_day + (daynum)sums->first,
                                .days = sums->end - sums->first};
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
