/*
 * The rows that the events of a season hang on, and the clocks that they are counted by.
 */
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

/* An amount of what the clock counts: degree-days, or its own units. */
static void add_amount(struct text *words, const struct facts *facts, const struct clock *clock,
                       double amount)
{
    if (clock->counts == NULL)
        why_add_heat(words, facts->run, amount);
    else
        text_addf(words, "%.1f %s", amount, clock->counts->unit);
}

static const char *unit_of(const struct clock *clock)
{
    return clock->counts != NULL ? clock->counts->unit : "degree-days C";
}

/* "sine-37f: degree-days C above ...", or what else the clock counts. */
static void add_count(struct text *words, const struct page_run *run, const struct clock *clock)
{
    if (clock->counts != NULL) {
        text_addf(words, "%s: %s (%s)", clock->name, clock->counts->unit, clock->counts->name);
        return;
    }
    text_addf(words, "%s: degree-days %s above ", clock->name, run->units_us ? "F" : "C");
    why_add_temperature(words, run, clock->rule.lower);
    text_addf(words, " by %s", clock->rule.curve->shape);
    if (clock->rule.cutoff != CONETIDE_CUTOFF_NONE) {
        text_addf(words, ", %s cut-off at ", conetide_cutoff_names[clock->rule.cutoff]);
        why_add_temperature(words, run, clock->rule.upper);
    }
}

void facts_add_clock(struct facts *facts, const struct why_clock *why)
{
    const struct page_run *run = facts->run;
    const struct clock *clock = why->clock;
    struct fact fact;
    struct text words;

    text_init(&words, run->arena);
    add_count(&words, run, clock);
    if (clock->after_chilling.counts != NULL)
        text_addf(&words, ", counted after %.0f %s from %02d-%02d", clock->after_chilling.units,
                  clock->after_chilling.counts->unit, clock->after_chilling.start.month,
                  clock->after_chilling.start.day);
    text_add(&words, ", summed from ");
    words_add_day_short(&words, why->start);
    text_addf(&words, " for %d days", clock->end_days);
    if (clock->place.file == NULL)
        text_add(&words, " (shipped)");
    else
        why_add_place(&words, &clock->place);
    fact = fact_of_day("clock", words.bytes, why->start);
    if (clock->counts == NULL) {
        fact.number = clock->rule.lower;
        fact.unit = "C";
    }
    fact.place = &clock->place;
    facts_add(facts, fact);
}

/* With the days foretold. */
static void add_ahead(struct facts *facts, const struct why_clock *why)
{
    struct fact fact = fact_of_day("heat foretold", NULL, why->ahead_day);
    struct text words;

    if (why->ahead_day == DAY_NONE || why->ahead_day < why->start)
        return;
    text_init(&words, facts->run->arena);
    why_add_heat(&words, facts->run, why->ahead.least);
    text_add(&words, " by ");
    words_add_day(&words, why->ahead_day);
    text_add(&words, " if the forecast comes true; usual on that day ");
    why_add_heat(&words, facts->run, why->ahead_usual);
    fact.words = words.bytes;
    fact.number = why->ahead.least;
    fact.unit = "degree-days C";
    facts_add(facts, fact);
}

void facts_add_heat_so_far(struct facts *facts, const struct why_clock *why)
{
    struct fact fact;
    struct text words;

    if (why->day == DAY_NONE || why->day < why->start) {
        struct fact none;

        text_init(&words, facts->run->arena);
        text_add(&words, "none counted yet: until ");
        words_add_day(&words, why->start);
        text_add(&words, " the dates know no more than past years do");
        none = fact_of_number("heat so far", words.bytes, 0, unit_of(why->clock));
        facts_add(facts, none);
        return;
    }
    text_init(&words, facts->run->arena);
    add_amount(&words, facts, why->clock, why->sum.least);
    if (why->sum.most > why->sum.least + 0.05) {
        text_add(&words, " to ");
        add_amount(&words, facts, why->clock, why->sum.most);
    }
    text_add(&words, " on ");
    words_add_day(&words, why->day);
    text_add(&words, "; usual on that day ");
    add_amount(&words, facts, why->clock, why->usual);
    fact = fact_of_day("heat so far", words.bytes, why->day);
    fact.number = why->sum.least;
    fact.unit = unit_of(why->clock);
    facts_add(facts, fact);
    add_ahead(facts, why);
    fact = fact_of_day("usual heat", "mean of the past years on that day", why->day);
    fact.number = why->usual;
    fact.unit = unit_of(why->clock);
    fact.form = FACT_DATA_ONLY;
    facts_add(facts, fact);
}

static const struct why_clock *clock_of(const struct why_season *season,
                                        const struct threshold *row)
{
    for (size_t i = 0; i < season->clock_count; i++) {
        if (season->clocks[i].clock == row->clock)
            return &season->clocks[i];
    }
    return NULL;
}

/* What the row asks for, in the unit of its clock. */
static double need_of(const struct threshold *row)
{
    return row->clock->counts != NULL ? row->clock_units : row->heat_units_c;
}

/* "needs 512.6 by sine-37f, 109.6 to go". */
static void add_sum(struct facts *facts, const struct why_season *season,
                    const struct threshold *row, struct text *words)
{
    const struct why_clock *clock = clock_of(season, row);

    text_add(words, row->clock->counts == NULL ? "heat " : "");
    add_amount(words, facts, row->clock, need_of(row));
    if (row->per_day_c != 0) {
        text_addf(words, " %s ", row->per_day_c < 0 ? "less" : "and");
        why_add_heat(words, facts->run, fabs(row->per_day_c));
        text_add(words, " a day of the year");
    }
    if (season->clock_count > 1)
        text_addf(words, " by %s", row->clock->name);
    if (clock == NULL || clock->day == DAY_NONE || clock->day < clock->start || row->per_day_c != 0)
        return;
    if (clock->sum.least >= need_of(row)) {
        text_add(words, ", reached");
        return;
    }
    text_add(words, ", ");
    add_amount(words, facts, row->clock, need_of(row) - clock->sum.least);
    text_add(words, " to go");
}

static void add_calendar(struct facts *facts, const struct why_event *event,
                         const struct threshold *row, struct text *words)
{
    struct month_day day = row->calendar_day;

    (void)facts;
    text_addf(words, "%d %s at 32.2 N, 61 m", day.day, day_month_name(day.month));
    if (event->calendar_days != 0) {
        text_add(words, ", ");
        why_add_move(words, event->calendar_days);
        text_add(words, " here by latitude and elevation");
    }
}

/* Who stands behind a row: "fitted here, 8 seasons seen". */
static void add_origin(const struct event_days *days, struct text *words)
{
    const struct threshold *row = days->root;

    text_add(words, basis_names[days->basis]);
    if (days->basis == BASIS_OTHER_SITE && row->site_name != NULL)
        text_addf(words, " (%s)", row->site_name);
    if (row->selection_name != NULL)
        text_add(words, ", for this selection");
    if (row->seasons_seen >= 0) {
        text_add(words, ", ");
        words_add_count(words, (size_t)row->seasons_seen, "season", "seasons");
        text_add(words, " seen");
    }
}

static const char *origin_of(const struct facts *facts, const struct why_season *season,
                             const struct why_event *event)
{
    struct text words;

    text_init(&words, facts->run->arena);
    add_origin(&season->row.bloom->table->event[event->event], &words);
    if (event->days_late != 0) {
        text_add(&words, "; ");
        why_add_move(&words, event->days_late);
        text_add(&words, " for this selection");
        why_add_place(&words, &season->row.bloom->selection->place);
    }
    return words.bytes;
}

/* One origin of all events, or NULL. */
static const char *common_origin(const struct facts *facts, const struct why_season *season)
{
    const char *common = NULL;

    for (size_t i = 0; i < season->event_count; i++) {
        const char *origin = origin_of(facts, season, &season->events[i]);

        if (common != NULL && strcmp(common, origin) != 0)
            return NULL;
        common = origin;
    }
    return common;
}

static void add_step(struct facts *facts, const struct why_season *season,
                     const struct why_event *event, const struct why_step *step, struct text *words)
{
    if (step != event->steps)
        text_addf(words, "; %s: ", why_event_words(step->event));
    if (step->row != NULL && step->row->kind == THRESHOLD_SUM) {
        add_sum(facts, season, step->row, words);
    } else if (step->row != NULL && step->row->kind == THRESHOLD_CALENDAR) {
        add_calendar(facts, event, step->row, words);
    } else {
        words_add_count(words, (size_t)(step->days < 0 ? -step->days : step->days), "day", "days");
        text_addf(words, " %s %s", step->days < 0 ? "before" : "after",
                  why_event_words(step->after));
    }
    if (step->row != NULL)
        why_add_place(words, &step->row->place);
}

/* Is the chain of an event, from `step` on, told in a row of its own above or below? */
static bool is_told(const struct why_season *season, const struct why_event *event, size_t step)
{
    for (size_t i = 0; i < season->event_count; i++) {
        if (&season->events[i] != event && season->events[i].event == event->steps[step].event)
            return true;
    }
    return false;
}

static void add_data_step(struct facts *facts, const struct why_step *step)
{
    struct arena *arena = facts->run->arena;
    struct fact fact = fact_of("needs", NULL);

    fact.event = event_names[step->event];
    fact.form = FACT_DATA_ONLY;
    fact.place = step->row != NULL ? &step->row->place : NULL;
    if (step->row != NULL && step->row->kind == THRESHOLD_SUM) {
        fact.number = need_of(step->row);
        fact.unit = unit_of(step->row->clock);
        fact.words = step->row->clock->name;
    } else if (step->row != NULL && step->row->kind == THRESHOLD_CALENDAR) {
        fact.words = arena_printf(arena, "%02d-%02d", step->row->calendar_day.month,
                                  step->row->calendar_day.day);
    } else {
        fact.number = step->days;
        fact.unit = "days";
        fact.words = arena_printf(arena, "after %s", event_names[step->after]);
    }
    facts_add(facts, fact);
}

static void add_data_origin(struct facts *facts, const struct why_season *season,
                            const struct why_event *event)
{
    const struct event_days *days = &season->row.bloom->table->event[event->event];
    struct fact fact = fact_of("basis", basis_names[days->basis]);

    fact.event = event_names[event->event];
    fact.form = FACT_DATA_ONLY;
    if (days->root->seasons_seen >= 0) {
        fact.number = days->root->seasons_seen;
        fact.unit = "seasons";
    }
    fact.place = &days->root->place;
    facts_add(facts, fact);
    fact.words = NULL;
    if (event->days_late != 0) {
        fact.name = "days late of the selection";
        fact.number = event->days_late;
        fact.unit = "days";
        fact.place = &season->row.bloom->selection->place;
        facts_add(facts, fact);
    }
    if (event->calendar_days != 0) {
        fact.name = "calendar shift of the site";
        fact.number = event->calendar_days;
        fact.unit = "days";
        fact.place = &season->row.site->place;
        facts_add(facts, fact);
    }
}

/* One row an event: the row that tells it, and those behind until one that is told elsewhere. */
static void add_need(struct facts *facts, const struct why_season *season,
                     const struct why_event *event, const char *common)
{
    struct fact fact = fact_of(why_event_words(event->event), NULL);
    struct text words;
    size_t i = 0;

    text_init(&words, facts->run->arena);
    do {
        add_step(facts, season, event, &event->steps[i], &words);
        add_data_step(facts, &event->steps[i]);
        i++;
    } while (i < event->step_count && !is_told(season, event, i));
    if (common == NULL && i == event->step_count)
        text_addf(&words, "; %s", origin_of(facts, season, event));
    if (event->own_days > 0)
        text_addf(&words, "; errs by %.1f days of its own", event->own_days);
    if (event->raised > 0)
        text_addf(&words, "; moved in %zu of %zu futures, so that events keep their order",
                  event->raised, season->plain->members);
    fact.words = words.bytes;
    fact.event = event_names[event->event];
    fact.form = FACT_TEXT_ONLY;
    if (event->event != EVENT_BAG_BY || season->event_count == 1)
        facts_add(facts, fact); /* the foot says what bag by is */
    add_data_origin(facts, season, event);
}

void facts_add_rows(struct facts *facts, const struct why_season *season)
{
    const char *common = common_origin(facts, season);
    struct fact fact = fact_of("origin", common);

    for (size_t i = 0; i < season->event_count; i++)
        add_need(facts, season, &season->events[i], common);
    fact.form = FACT_TEXT_ONLY;
    if (common != NULL)
        facts_add(facts, fact);
}
