/*
 * One season of a graft: its dates, what they hang on, whether it lives, its strobili.
 */
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum { EXTREMES = 3 }; /* members named at either end */

static const char *event_words(enum event event)
{
    static const char *const words[EVENTS] = {
        [EVENT_BAG_BY] = "bag by", [EVENT_OPENING] = "opening", [EVENT_FIRST] = "first",
        [EVENT_PEAK] = "peak",     [EVENT_LAST] = "last",       [EVENT_CLOSED] = "closed",
    };

    return words[event];
}

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
                              event_words(event->event), fact.words);
    facts_add(facts, fact);
}

static void add_dates(struct facts *facts, const struct why_season *season)
{
    for (size_t i = 0; i < season->event_count; i++) {
        const struct why_event *event = &season->events[i];
        const daynum *dates = season->row.dates[event->event];
        struct fact fact = fact_of(event_words(event->event), three(facts->run->arena, dates));

        fact.event = event_names[event->event];
        memcpy(fact.days, dates, sizeof fact.days);
        fact.form = FACT_TEXT_ONLY;
        facts_add(facts, fact);
        fact.form = FACT_DATA_ONLY;
        fact.name = "date";
        facts_add(facts, fact);
    }
    for (size_t i = 0; i < season->event_count; i++)
        add_past(facts, season, &season->events[i]);
    if (season->event_count == 0)
        facts_add(facts, fact_of("dates", "no row of thresholds.csv tells any of its events"));
}

static void add_clock_rule(struct facts *facts, const struct why_clock *why)
{
    const struct page_run *run = facts->run;
    const struct clock *clock = why->clock;
    struct fact fact;
    struct text words;

    text_init(&words, run->arena);
    text_addf(&words, "%s: degree-days %s above ", clock->name, run->units_us ? "F" : "C");
    why_add_temperature(&words, run, clock->rule.lower);
    text_addf(&words, " by %s", clock->rule.curve->shape);
    if (clock->rule.cutoff != CONETIDE_CUTOFF_NONE) {
        text_addf(&words, ", %s cut-off at ", conetide_cutoff_names[clock->rule.cutoff]);
        why_add_temperature(&words, run, clock->rule.upper);
    }
    text_add(&words, ", summed from ");
    words_add_day_short(&words, why->start);
    text_addf(&words, " for %d days", clock->end_days);
    if (clock->place.file == NULL)
        text_add(&words, " (shipped)");
    else
        why_add_place(&words, &clock->place);
    fact = fact_of_day("clock", words.bytes, why->start);
    fact.number = clock->rule.lower;
    fact.unit = "C";
    fact.place = &clock->place;
    facts_add(facts, fact);
}

static void add_heat_so_far(struct facts *facts, const struct why_clock *why)
{
    struct fact fact;
    struct text words;

    if (why->day == DAY_NONE || why->day < why->start) {
        struct fact none;

        text_init(&words, facts->run->arena);
        text_add(&words, "none counted yet: until ");
        words_add_day(&words, why->start);
        text_add(&words, " the dates know no more than past years do");
        none = fact_of_number("heat so far", words.bytes, 0, "degree-days C");
        facts_add(facts, none);
        return;
    }
    text_init(&words, facts->run->arena);
    why_add_heat(&words, facts->run, why->sum.least);
    if (why->sum.most > why->sum.least + 0.05) {
        text_add(&words, " to ");
        why_add_heat(&words, facts->run, why->sum.most);
    }
    text_add(&words, " on ");
    words_add_day(&words, why->day);
    text_add(&words, "; usual on that day ");
    why_add_heat(&words, facts->run, why->usual);
    fact = fact_of_day("heat so far", words.bytes, why->day);
    fact.number = why->sum.least;
    fact.unit = "degree-days C";
    facts_add(facts, fact);
    fact = fact_of_day("usual heat", "mean of the past years on that day", why->day);
    fact.number = why->usual;
    fact.unit = "degree-days C";
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

/* "needs 512.6 by sine-37f, 109.6 to go". */
static void add_sum(struct facts *facts, const struct why_season *season,
                    const struct threshold *row, struct text *words)
{
    const struct why_clock *clock = clock_of(season, row);

    text_add(words, "heat ");
    why_add_heat(words, facts->run, row->heat_units_c);
    if (row->per_day_c != 0) {
        text_addf(words, " %s ", row->per_day_c < 0 ? "less" : "and");
        why_add_heat(words, facts->run, fabs(row->per_day_c));
        text_add(words, " a day of the year");
    }
    if (season->clock_count > 1)
        text_addf(words, " by %s", row->clock->name);
    if (clock == NULL || clock->day == DAY_NONE || clock->day < clock->start || row->per_day_c != 0)
        return;
    if (clock->sum.least >= row->heat_units_c) {
        text_add(words, ", reached");
        return;
    }
    text_add(words, ", ");
    why_add_heat(words, facts->run, row->heat_units_c - clock->sum.least);
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
        text_addf(words, "; %s: ", event_words(step->event));
    if (step->row != NULL && step->row->kind == THRESHOLD_SUM) {
        add_sum(facts, season, step->row, words);
    } else if (step->row != NULL && step->row->kind == THRESHOLD_CALENDAR) {
        add_calendar(facts, event, step->row, words);
    } else {
        words_add_count(words, (size_t)(step->days < 0 ? -step->days : step->days), "day", "days");
        text_addf(words, " %s %s", step->days < 0 ? "before" : "after", event_words(step->after));
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
        fact.number = step->row->heat_units_c;
        fact.unit = "degree-days C";
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
    struct fact fact = fact_of(event_words(event->event), NULL);
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
    if (event->raised > 0)
        text_addf(&words, "; moved in %zu of %zu futures, so that events keep their order",
                  event->raised, season->row.bloom->members);
    fact.words = words.bytes;
    fact.event = event_names[event->event];
    fact.form = FACT_TEXT_ONLY;
    facts_add(facts, fact);
    add_data_origin(facts, season, event);
}

static void add_all_needs(struct facts *facts, const struct why_season *season)
{
    const char *common = common_origin(facts, season);
    struct fact fact = fact_of("origin", common);

    for (size_t i = 0; i < season->event_count; i++)
        add_need(facts, season, &season->events[i], common);
    fact.form = FACT_TEXT_ONLY;
    if (common != NULL)
        facts_add(facts, fact);
}

static void add_left_out(const struct season_weather *weather, struct text *words)
{
    static const char *const reasons[] = {
        [LEFT_OUT_GAP] = "a gap of ",
        [LEFT_OUT_GAPS] = "long gaps of together ",
        [LEFT_OUT_RECORD] = "the record lacks ",
    };

    for (size_t i = 0; i < weather->left_out_count; i++) {
        const struct left_out_year *year = &weather->left_out[i];

        text_addf(words, "%s%d (%s", i > 0 ? ", " : "; left out ", year->season,
                  reasons[year->reason]);
        words_add_count(words, (size_t)year->missing_days, "day", "days");
        text_add(words, ")");
    }
}

/* "; moved by 0.4 C a decade, as springs have warmed". */
static void add_warming(const struct season_weather *weather, const struct page_run *run,
                        struct text *words)
{
    double a_decade = 10 * weather->warming_c * (run->units_us ? 1.8 : 1);

    if (fabs(a_decade) < 0.005)
        return;
    text_addf(words, "; each moved by %.2f %s a decade to now, as %d springs have %s",
              fabs(a_decade), run->units_us ? "F" : "C", weather->warming_seasons,
              a_decade > 0 ? "warmed" : "cooled");
}

/* Past years whose longer gaps were filled with the mean of the others. */
static void add_mean_days(const struct season_weather *weather, struct text *words)
{
    size_t told = 0;

    for (size_t m = 0; m < weather->members; m++) {
        if (weather->member_mean_days[m] == 0)
            continue;
        text_addf(words, "%s%d (",
                  told++ > 0 ? ", " : "with the mean of the others: ", weather->member_season[m]);
        words_add_count(words, (size_t)weather->member_mean_days[m], "day", "days");
        text_add(words, ")");
    }
    if (told > 0 && weather->filled_days + weather->lent_days > 0)
        text_add(words, "; ");
}

static void add_gaps(struct facts *facts, const struct season_weather *weather)
{
    struct text words;

    text_init(&words, facts->run->arena);
    add_mean_days(weather, &words);
    if (weather->filled_days > 0) {
        words_add_count(&words, weather->filled_days, "day", "days");
        text_addf(&words, " of %d between their neighbours", weather->season);
    }
    if (weather->lent_days > 0) {
        text_add(&words, weather->filled_days > 0 ? ", " : "");
        words_add_count(&words, weather->lent_days, "day", "days");
        text_addf(&words, " of %d lent by each past year", weather->season);
    }
    if (words.length > 0)
        facts_add(facts,
                  fact_of_number("gaps filled", words.bytes,
                                 (double)(weather->filled_days + weather->lent_days), "days"));
}

static void add_past_years(struct facts *facts, const struct why_season *season)
{
    const struct season_weather *weather = season->weather;
    struct text words;

    text_init(&words, facts->run->arena);
    if (weather->members == 0)
        text_add(&words, "none");
    else
        words_add_count(&words, weather->members, "spring", "springs");
    if (weather->members > 0)
        text_addf(&words, " of weather as futures, %d to %d",
                  weather->member_season[weather->members - 1], weather->member_season[0]);
    add_left_out(weather, &words);
    add_warming(weather, facts->run, &words);
    if (season->row.bloom->remark != NULL)
        text_addf(&words, "; %s", season->row.bloom->remark);
    else if (season->member_count == 0)
        text_add(&words, "; these dates do not use them");
    facts_add(facts, fact_of_number("past years", words.bytes, (double)weather->members, "years"));
    if (weather->warming_c != 0) {
        struct fact fact = fact_of_number("warming", NULL, weather->warming_c, "C a year");

        fact.form = FACT_DATA_ONLY;
        facts_add(facts, fact);
    }
    for (size_t i = 0; i < weather->left_out_count; i++) {
        struct fact fact = fact_of_number("left out", NULL, weather->left_out[i].season, "year");

        fact.form = FACT_DATA_ONLY;
        facts_add(facts, fact);
    }
    add_gaps(facts, weather);
}

static void add_named(struct text *words, const struct why_member *members, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        text_addf(words, "%s%d (", i > 0 ? ", " : " ", members[i].season);
        words_add_day_short(words, members[i].day);
        text_add(words, ")");
    }
}

static void add_members(struct facts *facts, const struct why_season *season)
{
    size_t count = season->member_count;
    struct text words;
    struct fact fact;

    if (count < 2 * EXTREMES)
        return;
    text_init(&words, facts->run->arena);
    text_addf(&words, "%s comes earliest if the weather goes on like", event_words(season->told));
    add_named(&words, season->members, EXTREMES);
    text_add(&words, "; latest like");
    add_named(&words, season->members + count - EXTREMES, EXTREMES);
    fact = fact_of("which years", words.bytes);
    fact.form = FACT_TEXT_ONLY;
    facts_add(facts, fact);
    for (size_t i = 0; i < count; i++) {
        fact = fact_of_day("past year", NULL, season->members[i].day);
        fact.event = event_names[season->told];
        fact.number = season->members[i].season;
        fact.unit = "year";
        fact.form = FACT_DATA_ONLY;
        facts_add(facts, fact);
    }
}

static void add_part(struct facts *facts, const char *name, double days)
{
    struct fact fact = fact_of_number(name, NULL, days, "days");

    fact.form = FACT_DATA_ONLY;
    if (days > 0)
        facts_add(facts, fact);
}

static void add_spread(struct facts *facts, const struct why_season *season)
{
    const struct event_unknowns *parts = &season->unknowns;
    double sigma = season->row.bloom->sigma_days;
    struct text words;

    text_init(&words, facts->run->arena);
    if (!isnan(season->member_sd_days)) {
        text_add(&words, "between past years ");
        why_add_days(&words, season->member_sd_days);
        text_add(&words, "; besides, ");
    }
    text_addf(&words, "what weather does not tell: %.1f days (%.1f the rule itself%s", sigma,
              parts->residual_days,
              parts->residual_raised ? ", raised as it is of another site" : "");
    if (parts->after_days > 0)
        text_addf(&words, ", %.1f days counted after an event", parts->after_days);
    if (parts->clone_days > 0)
        text_addf(&words, ", %.1f between selections, this one having no row of its own",
                  parts->clone_days);
    text_addf(&words, ", %.1f between grafts of one selection", parts->graft_days);
    if (sigma > season->unknowns_sd_days + 0.05)
        text_addf(&words,
                  "; these make %.1f, raised so that a %s date never claims less than 9 "
                  "days in all",
                  season->unknowns_sd_days, basis_names[season->row.bloom->basis]);
    text_add(&words, ")");
    facts_add(facts, fact_of_number("spread", words.bytes, sigma, "days"));
    add_part(facts, "spread between past years", season->member_sd_days);
    add_part(facts, "spread of the rule", parts->residual_days);
    add_part(facts, "spread of days after", parts->after_days);
    add_part(facts, "spread between selections", parts->clone_days);
    add_part(facts, "spread between grafts", parts->graft_days);
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
        add_clock_rule(facts, &season->clocks[i]);
        add_heat_so_far(facts, &season->clocks[i]);
    }
    add_all_needs(facts, season);
    add_past_years(facts, season);
    add_members(facts, season);
    if (season->leading != EVENTS)
        add_spread(facts, season);
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
            add_heat_so_far(facts, &season->clocks[i]);
        }
        return;
    }
    add_needs(facts, season);
}
