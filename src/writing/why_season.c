/*
 * One season of a graft: its dates, whether it lives, its strobili.
 */
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

/* "9 Mar, 14 Mar, 20 Mar". */
static const char *three(struct arena *arena, const daynum days[THREE_DATES])
{
    struct text words;

    text_init(&words, arena);
    for (int i = 0; i < THREE_DATES; i++) {
        text_add(&words, i > 0 ? ", " : "");
        words_add_day_short(&words, days[i]);
    }
    return words.bytes;
}

static bool by_past_years(const struct why_event *event, const daynum dates[THREE_DATES])
{
    return event->past[0] != DAY_NONE && memcmp(event->past, dates, sizeof event->past) != 0;
}

/* What past years alone say: in text of the event whose members are told. */
static void add_past(struct facts *facts, const struct why_season *season,
                     const struct why_event *event)
{
    struct fact fact = fact_of("date by past years alone", three(facts->run->arena, event->past));

    if (event->past[0] == DAY_NONE)
        return;
    fact.event = event_names[event->event];
    memcpy(fact.days, event->past, sizeof fact.days);
    fact.form = FACT_DATA_ONLY;
    facts_add(facts, fact);
    if (event->event != season->told || !by_past_years(event, season->row.dates[event->event]))
        return;
    fact.form = FACT_TEXT_ONLY;
    fact.name = "usual";
    fact.words = arena_printf(facts->run->arena,
                              "past years alone, without this season's days, put %s at %s",
                              why_event_words(event->event), fact.words);
    facts_add(facts, fact);
}

/* "opening after 23 Feb and by 1 Mar". */
static void add_seen(struct facts *facts, const struct looks *looks, int looked)
{
    bool come = looked < looks->come;
    struct fact fact = fact_of("seen", NULL);
    struct text words;

    text_init(&words, facts->run->arena);
    text_add(&words, why_event_words(looked_events[looked]));
    if (come && looks->after[looked] != DAY_NONE) {
        text_add(&words, " came after ");
        words_add_day_short(&words, looks->after[looked]);
        text_add(&words, " and by ");
        words_add_day_short(&words, looks->by[looked]);
    } else if (come) {
        text_add(&words, " had come by the first look, ");
        words_add_day_short(&words, looks->by[looked]);
    } else {
        text_add(&words, " had not come by ");
        words_add_day_short(&words, looks->after[looked]);
    }
    fact.words = words.bytes;
    fact.event = event_names[looked_events[looked]];
    fact.days[0] = looks->after[looked];
    fact.days[2] = come ? looks->by[looked] : DAY_NONE;
    facts_add(facts, fact);
}

static void add_unseen(struct facts *facts, const struct why_season *season)
{
    for (size_t i = 0; i < season->event_count; i++) {
        const struct why_event *event = &season->events[i];
        struct fact fact = fact_of("date without looks", three(facts->run->arena, event->unseen));

        fact.event = event_names[event->event];
        memcpy(fact.days, event->unseen, sizeof fact.days);
        fact.form = FACT_DATA_ONLY;
        facts_add(facts, fact);
        if (event->event != season->told)
            continue;
        fact.form = FACT_TEXT_ONLY;
        fact.name = "unseen";
        fact.words = arena_printf(facts->run->arena, "without these looks %s stood at %s",
                                  why_event_words(event->event), fact.words);
        facts_add(facts, fact);
    }
}

/* What stages noted this season did to the dates. */
static void add_looks(struct facts *facts, const struct why_season *season)
{
    const struct bloom *bloom = season->row.bloom;
    struct text words;

    if (bloom->looks == NULL)
        return;
    for (int i = 0; i < LOOKED_EVENTS && i <= bloom->looks->come; i++)
        add_seen(facts, bloom->looks, i);
    add_unseen(facts, season);
    text_init(&words, facts->run->arena);
    words_add_chance(&words, bloom->left);
    text_add(&words, " of the futures agree with what was seen, the others are dropped");
    if (bloom->looks_alone)
        text_add(&words, "; these are so few that the looks alone tell when it came");
    facts_add(facts, fact_of_number("left", words.bytes, bloom->left, "chance"));
}

/* Strobili in a bag are warmer, and looks at it move its dates alone. */
static void add_bag_dates(struct facts *facts, const struct why_season *season)
{
    const char *before = "";
    struct text words;

    if (season->bag_bloom == NULL || season->bag_bloom == season->row.bloom)
        return;
    text_init(&words, facts->run->arena);
    for (int e = EVENT_OPENING; e <= EVENT_LAST; e++) {
        struct fact fact = fact_of("date in the bag", NULL);

        for (int i = 0; i < THREE_DATES; i++)
            fact.days[i] = bloom_date(season->bag_bloom, (enum event)e, three_chances[i]);
        if (fact.days[0] == DAY_NONE)
            continue;
        fact.words = three(facts->run->arena, fact.days);
        text_addf(&words, "%s%s %s", before, why_event_words((enum event)e), fact.words);
        before = "; ";
        fact.event = event_names[e];
        fact.form = FACT_DATA_ONLY;
        facts_add(facts, fact);
    }
    if (words.length > 0) {
        struct fact fact = fact_of("in the bag", words.bytes);

        fact.form = FACT_TEXT_ONLY;
        facts_add(facts, fact);
    }
}

static void add_dates(struct facts *facts, const struct why_season *season)
{
    for (size_t i = 0; i < season->event_count; i++) {
        const struct why_event *event = &season->events[i];
        struct fact fact = fact_of(why_event_words(event->event), NULL);

        for (int k = 0; k < THREE_DATES; k++)
            fact.days[k] = why_date(&season->row, event->event, k);
        fact.words = three(facts->run->arena, fact.days);
        fact.event = event_names[event->event];
        fact.form = FACT_TEXT_ONLY;
        facts_add(facts, fact);
        fact.form = FACT_DATA_ONLY;
        fact.name = "date";
        facts_add(facts, fact);
    }
    for (size_t i = 0; i < season->event_count; i++)
        add_past(facts, season, &season->events[i]);
    add_looks(facts, season);
    add_bag_dates(facts, season);
    if (season->event_count == 0)
        facts_add(facts, fact_of("dates", "no row of thresholds.csv tells any of its events"));
}

static void add_rate(struct text *words, const char *before, const struct rate *rate)
{
    if (rate == NULL)
        return;
    text_add(words, before);
    words_add_amount(words, number_of_decimal(rate->value));
    why_add_place(words, &rate->place);
}

static void add_alive(struct facts *facts, const struct why_season *season)
{
    const struct flowering_alive *alive = &season->alive;
    const struct graft_state *graft = season->row.graft;
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    words_add_chance(&words, alive->chance);
    switch (alive->way) {
    case ALIVE_COUNTED:
        text_add(&words, ": whoever counted its strobili saw it alive");
        break;
    case ALIVE_NEW:
        text_add(&words, ": nobody looked yet");
        if (alive->first == NULL && alive->second == NULL) {
            text_add(&words, ", and no rate tells how many live");
            break;
        }
        text_addf(&words, "; share of grafts made that live in their %s spring",
                  season->row.season_number == 1 ? "first" : "second");
        add_rate(&words, ", ", season->row.season_number == 1 ? alive->first : alive->second);
        break;
    case ALIVE_SEEN:
    case ALIVE_DOUBTFUL:
        text_add(&words,
                 alive->way == ALIVE_SEEN ? ": seen alive" : ": half, being doubtful since");
        if (graft->condition_on != DAY_NONE) {
            text_add(&words, " ");
            words_add_day(&words, graft->condition_on);
        }
        if (alive->years == 0)
            break;
        if (alive->first == NULL || alive->second == NULL) {
            text_add(&words, "; no rate tells what a year leaves");
            break;
        }
        text_add(&words, "; a year leaves second-spring survival");
        add_rate(&words, " ", alive->second);
        add_rate(&words, " over first-spring ", alive->first);
        if (alive->years > 1)
            text_addf(&words, ", %d times", alive->years);
        break;
    }
    fact = fact_of_number("alive", words.bytes, alive->chance, "chance");
    if (alive->first != NULL || alive->second != NULL)
        fact.place = alive->second != NULL ? &alive->second->place : &alive->first->place;
    facts_add(facts, fact);
}

/* The newest count of the season. */
static const struct place *place_of_count(const struct why *why, daynum on)
{
    const struct place *place = NULL;

    for (size_t i = 0; i < why->note_count; i++) {
        const struct note *note = why->notes[i].note;

        if (note->kind == NOTE_STROBILI && note->date == on)
            place = &note->place;
    }
    return place;
}

static void add_strobili(struct facts *facts, const struct why_season *season)
{
    const struct flowering_row *row = &season->row;
    struct fact fact = fact_of_number("strobili", NULL, row->strobili, "strobili");
    struct text words;

    text_init(&words, facts->run->arena);
    if (row->counted) {
        text_addf(&words, "%.0f counted ", row->strobili);
        words_add_day(&words, row->counted_on);
        fact.place = place_of_count(facts->why, row->counted_on);
        fact.days[1] = row->counted_on;
    } else if (season->strobili_rate == NULL) {
        text_add(&words, "no rate tells how many to expect");
    } else {
        text_addf(&words, "about %.0f expected of a live graft, none counted yet", row->strobili);
        fact.place = &season->strobili_rate->place;
    }
    why_add_place(&words, fact.place);
    fact.words = words.bytes;
    facts_add(facts, fact);
}

/* Do the events of both hang on the same rows, with the same spread? */
static bool same_needs(const struct why_season *a, const struct why_season *b)
{
    if (b == NULL || a->event_count != b->event_count ||
        a->row.bloom->sigma_days != b->row.bloom->sigma_days ||
        a->weather->left_out_count != b->weather->left_out_count)
        return false;
    for (size_t i = 0; i < a->event_count; i++) {
        if (a->row.bloom->table->event[a->events[i].event].root !=
                b->row.bloom->table->event[b->events[i].event].root ||
            a->events[i].steps[0].row != b->events[i].steps[0].row)
            return false;
    }
    return true;
}

static void add_needs(struct facts *facts, const struct why_season *season)
{
    const char *spring = season->row.season_number == 1 ? "first spring" : "second spring";

    facts_section(facts, "needs", season->row.season,
                  arena_printf(facts->run->arena, "What the dates of %d, its %s, hang on",
                               season->row.season, spring));
    for (size_t i = 0; i < season->clock_count; i++) {
        facts_add_clock(facts, &season->clocks[i]);
        facts_add_so_far(facts, &season->clocks[i]);
    }
    facts_add_rows(facts, season);
    facts_add_years(facts, season);
}

void facts_add_season(struct facts *facts, const struct why_season *season,
                      const struct why_season *before)
{
    const char *spring = season->row.season_number == 1 ? "first spring" : "second spring";

    facts_section(facts, "dates", season->row.season,
                  arena_printf(facts->run->arena, "%d, its %s: days at 10, 50, 90 %%",
                               season->row.season, spring));
    add_dates(facts, season);
    if (season->row.over)
        facts_add(facts, fact_of("over", "the last receptive day is past in every future"));
    facts_section(facts, "live", season->row.season, facts->title);
    add_alive(facts, season);
    add_strobili(facts, season);
    if (same_needs(season, before)) {
        struct fact fact = fact_of(
            "because", arena_printf(facts->run->arena, "of the same rows, clock and spread as %d",
                                    before->row.season));
        fact.form = FACT_TEXT_ONLY;
        facts_add(facts, fact);
        for (size_t i = 0; i < season->clock_count; i++) {
            facts->section = "needs";
            facts_add_so_far(facts, &season->clocks[i]);
        }
        return;
    }
    add_needs(facts, season);
}
