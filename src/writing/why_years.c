/*
 * Past years as futures, those that would make a date early or late, and what the spread is made
 * of.
 */
#include "writing/head.h"
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>

enum { EXTREMES = 3 }; /* members named at either end */

/* "; moved by 0.4 C a decade, as springs have warmed". */
static void add_warming(const struct season_weather *weather, const struct page_run *run,
                        struct text *words)
{
    double a_decade = head_warming_a_decade(weather, run);

    if (a_decade == 0)
        return;
    text_addf(words, "; each moved by %.2f %s a decade to now, as %d springs have %s",
              fabs(a_decade), run->units_us ? "F" : "C", weather->warming_seasons,
              a_decade > 0 ? "warmed" : "cooled");
}

static void add_gaps(struct facts *facts, const struct season_weather *weather)
{
    struct text words;
    size_t told = 0;

    text_init(&words, facts->run->arena);
    if (head_add_mean_days(weather, "with the mean of the others: ", &words) &&
        weather->filled_days + weather->lent_days + (size_t)weather->account.neighbour > 0)
        text_add(&words, "; ");
    if (weather->filled_days > 0) {
        told++;
        words_add_count(&words, weather->filled_days, "day", "days");
        text_addf(&words, " of %d between their neighbours", weather->season);
    }
    if (weather->account.neighbour > 0) {
        text_add(&words, told++ > 0 ? ", " : "");
        words_add_count(&words, (size_t)weather->account.neighbour, "day", "days");
        text_addf(&words, " of %d from neighbour %s", weather->season, weather->record->neighbour);
    }
    if (weather->lent_days > 0) {
        text_add(&words, told > 0 ? ", " : "");
        words_add_count(&words, weather->lent_days, "day", "days");
        text_addf(&words, " of %d lent by each past year", weather->season);
    }
    if (words.length > 0)
        facts_add(facts, fact_of_number("gaps filled", words.bytes,
                                        (double)weather->filled_days + (double)weather->lent_days +
                                            weather->account.neighbour,
                                        "days"));
}

/* "5 days to Tue 9 Mar 2027, issued on Thu 4 Mar 2027 (HOLM.forecast.json)". */
static void add_forecast(struct facts *facts, const struct season_weather *weather)
{
    const struct station_record *record = weather->record;
    struct fact fact;
    struct text words;

    if (record == NULL || record->forecast == NULL || weather->account.forecast == 0)
        return;
    text_init(&words, facts->run->arena);
    words_add_count(&words, (size_t)weather->account.forecast, "day", "days");
    text_add(&words, " to ");
    words_add_day(&words, record->forecast_last);
    text_add(&words, ", issued on ");
    words_add_day(&words, record->forecast->issued);
    why_add_place(&words, &record->forecast->place);
    fact = fact_of_number("forecast", words.bytes, weather->account.forecast, "days");
    fact.place = &record->forecast->place;
    facts_add(facts, fact);
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
    if (weather->neighbour_members > 0)
        text_addf(&words, "; %zu days of %zu of them from neighbour %s", weather->neighbour_days,
                  weather->neighbour_members, weather->record->neighbour);
    head_add_left_out_years(weather, &words);
    add_warming(weather, facts->run, &words);
    if (season->row.bloom->remark != NULL)
        text_addf(&words, "; %s", season->row.bloom->remark);
    else if (season->plain->member_season == NULL)
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
    add_forecast(facts, weather);
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
    if (count < season->plain->members)
        text_addf(&words, "%zu of %zu agree with what was seen; ", count, season->plain->members);
    if (season->members[0].day == season->members[count - 1].day) {
        if (season->members[0].day == CONETIDE_NEVER)
            text_addf(&words, "none of %zu brings %s", count, why_event_words(season->told));
        else
            text_addf(&words, "all %zu bring %s alike on ", count, why_event_words(season->told));
        if (season->members[0].day != CONETIDE_NEVER)
            words_add_day_short(&words, season->members[0].day);
        facts_add(facts, fact_of_day("which years", words.bytes, season->members[0].day));
        return;
    }
    text_addf(&words, "%s comes earliest if the weather goes on like",
              why_event_words(season->told));
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
        fact.words = arena_printf(facts->run->arena, "weight %.3f", season->members[i].weight);
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
    text_add(&words, season->plain != season->row.bloom ? "before what was seen: " : "");
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

void facts_add_years(struct facts *facts, const struct why_season *season)
{
    add_past_years(facts, season);
    add_members(facts, season);
    if (season->leading != EVENTS)
        add_spread(facts, season);
}
