/*
 * The rows that the events of a season hang on, and the clocks that they are counted by.
 */
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

static void add_heat_rule(const struct clock *clock, const struct page_run *run, struct text *words)
{
    text_addf(words, "degree-days %s above ", run->units_us ? "F" : "C");
    why_add_temperature(words, run, clock->rule.lower);
    text_addf(words, " by %s", clock->rule.curve->shape);
    if (clock->rule.cutoff != CONETIDE_CUTOFF_NONE) {
        text_addf(words, ", %s cut-off at ", conetide_cutoff_names[clock->rule.cutoff]);
        why_add_temperature(words, run, clock->rule.upper);
    }
}

void facts_add_clock(struct facts *facts, const struct why_clock *why)
{
    const struct clock *clock = why->clock;
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_addf(&words, "%s: ", clock->name);
    if (clock->counts == NULL)
        add_heat_rule(clock, facts->run, &words);
    else
        text_addf(&words, "%s (%s)", clock->counts->unit, clock->counts->name);
    text_add(&words, ", counted from ");
    words_add_day_short(&words, why->start);
    text_addf(&words, " for %d days", clock->end_days);
    if (clock->after_chilling.counts != NULL) {
        text_add(&words, ", but only after ");
        words_add_amount(&words, clock->after_chilling.units);
        text_addf(&words, " %s (%s) from ", clock->after_chilling.counts->unit,
                  clock->after_chilling.counts->name);
        words_add_day_short(&words, why->chilling_start);
    }
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
    struct fact fact = fact_of_day("foretold", NULL, why->ahead_day);
    struct text words;

    if (why->ahead_day == DAY_NONE || why->ahead_day < why->start)
        return;
    text_init(&words, facts->run->arena);
    why_add_amount(&words, facts->run, why->clock, why->ahead.least);
    text_add(&words, " by ");
    words_add_day(&words, why->ahead_day);
    text_add(&words, " if the forecast comes true; usual on that day ");
    why_add_amount(&words, facts->run, why->clock, why->ahead_usual);
    fact.words = words.bytes;
    fact.number = why->ahead.least;
    fact.unit = why_unit(why->clock);
    facts_add(facts, fact);
}

/* "309.7 on Tue 2 Mar 2027; usual on that day 350.5". */
static const char *so_far(const struct page_run *run, const struct clock *clock,
                          const struct why_clock *why, struct sum_range sum, double usual)
{
    struct text words;

    text_init(&words, run->arena);
    why_add_amount(&words, run, clock, sum.least);
    if (sum.most > sum.least + 0.05) {
        text_add(&words, " to ");
        why_add_amount(&words, run, clock, sum.most);
    }
    text_add(&words, " on ");
    words_add_day(&words, why->day);
    text_add(&words, "; usual on that day ");
    why_add_amount(&words, run, clock, usual);
    return words.bytes;
}

static void add_so_far(struct facts *facts, struct fact fact, double usual)
{
    facts_add(facts, fact);
    fact.name = arena_printf(facts->run->arena, "usual %s", fact.name);
    fact.words = "mean of the past years on that day";
    fact.number = usual;
    fact.form = FACT_DATA_ONLY;
    facts_add(facts, fact);
}

static void add_chilling_so_far(struct facts *facts, const struct why_clock *why)
{
    const struct chilling_need *need = &why->clock->after_chilling;
    struct clock chilling = {.counts = need->counts};
    struct fact fact = fact_of_day("cold so far", NULL, why->day);

    if (isnan(why->chilling.least) || why->day < why->chilling_start)
        return;
    fact.words = so_far(facts->run, &chilling, why, why->chilling, why->chilling_usual);
    if (why->chilling.least >= need->units)
        fact.words = arena_printf(facts->run->arena, "%s; enough", fact.words);
    fact.number = why->chilling.least;
    fact.unit = need->counts->unit;
    add_so_far(facts, fact, why->chilling_usual);
}

void facts_add_so_far(struct facts *facts, const struct why_clock *why)
{
    const char *name = why->clock->counts == NULL ? "heat so far" : "so far";
    struct fact fact = fact_of_number(name, NULL, 0, why_unit(why->clock));

    add_chilling_so_far(facts, why);
    if (why->day == DAY_NONE || why->day < why->start) {
        struct text words;

        text_init(&words, facts->run->arena);
        text_add(&words, "none counted yet: ");
        text_add(&words, why->clock->after_chilling.counts == NULL ? "until " : "not before ");
        words_add_day(&words, why->start);
        if (why->clock->after_chilling.counts == NULL)
            text_add(&words, " the dates know no more than past years do");
        fact.words = words.bytes;
        facts_add(facts, fact);
        return;
    }
    fact.days[1] = why->day;
    fact.words = so_far(facts->run, why->clock, why, why->sum, why->usual);
    fact.number = why->sum.least;
    add_so_far(facts, fact, why->usual);
    add_ahead(facts, why);
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

/* "heat 512.6 by sine-37f, 109.6 to go". */
static void add_sum(struct facts *facts, const struct why_season *season,
                    const struct threshold *row, struct text *words)
{
    const struct why_clock *clock = clock_of(season, row);
    double need = why_need(row);

    text_add(words, row->clock->counts == NULL ? "heat " : "");
    why_add_amount(words, facts->run, row->clock, need);
    if (row->clock->counts != NULL)
        text_addf(words, " %s", row->clock->counts->unit);
    if (row->per_day_c != 0) {
        text_addf(words, " %s ", row->per_day_c < 0 ? "less" : "and");
        why_add_heat(words, facts->run, fabs(row->per_day_c));
        text_add(words, " a day of the year");
    }
    if (season->clock_count > 1)
        text_addf(words, " by %s", row->clock->name);
    if (clock == NULL || clock->day == DAY_NONE || clock->day < clock->start || row->per_day_c != 0)
        return;
    if (clock->sum.least >= need) {
        text_add(words, ", reached");
        return;
    }
    text_add(words, ", ");
    why_add_amount(words, facts->run, row->clock, need - clock->sum.least);
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
        fact.number = why_need(step->row);
        fact.unit = why_unit(step->row->clock);
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
    if (event->unchilled > 0 && event->step_count == 1)
        text_addf(&words, "; chilling is not met in %zu of %zu futures", event->unchilled,
                  season->plain->members);
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
