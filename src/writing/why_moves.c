/*
 * What would move the dates.
 */
#include "planning/fit.h"
#include "writing/why_facts.h"
#include "writing/words.h"

#include <stdlib.h>

static bool is_day(daynum day)
{
    return day != DAY_NONE && day != DAY_NEVER;
}

static void add_change(struct facts *facts, const struct why_season *season,
                       const struct why_warmer *change)
{
    daynum p50 = season->row.dates[season->told][1];
    const char *name = change->add_c > 0 ? "warmer" : "colder";
    struct text words;
    struct fact fact;

    if (change->add_c == 0)
        return;
    text_init(&words, facts->run->arena);
    text_addf(&words, "by %s on ", facts->run->units_us ? "1.8 F" : "1 C");
    words_add_range(&words, change->from, change->to);
    text_addf(&words, ": %s comes ", event_names[season->told]);
    if (is_day(p50) && is_day(change->p50))
        why_add_move(&words, (int)(change->p50 - p50));
    else
        words_add_day_short(&words, change->p50);
    fact = fact_of_day(name, words.bytes, change->p50);
    fact.event = event_names[season->told];
    if (is_day(p50) && is_day(change->p50))
        fact.number = change->p50 - p50;
    fact.unit = "days";
    facts_add(facts, fact);
}

static void add_look(struct facts *facts, const struct why_season *season)
{
    struct text words;

    if (!is_day(season->look_from))
        return;
    text_init(&words, facts->run->arena);
    text_add(&words, "the stage of its strobili, noted from ");
    words_add_range(&words, season->look_from, season->look_to);
    text_add(&words, ", also while nothing has come yet");
    facts_add(facts, fact_of_day("a look", words.bytes, season->look_from));
}

/* How much `fit` has to go by: tables.md has the row that it prints. */
static void add_threshold(struct facts *facts, const struct why_season *season)
{
    const struct selection *selection = season->row.bloom->selection;
    size_t seen = season->seen_here;
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_addf(&words, "%s at %s is dated by two looks in ", event_names[season->told],
              season->row.site->name);
    words_add_count(&words, seen, "season", "seasons");
    if (selection != NULL)
        text_addf(&words, ", of %s in %zu", selection->name, season->seen_of_selection);
    if (seen < FIT_SEASONS_LEAST)
        text_addf(&words, "; %zu more and `conetide fit` searches a clock for the site",
                  FIT_SEASONS_LEAST - seen);
    else
        text_add(&words, "; `conetide fit` makes rows of them");
    fact = fact_of_number("a threshold", words.bytes, (double)seen, "seasons");
    fact.event = event_names[season->told];
    facts_add(facts, fact);
}

static void add_label(struct facts *facts, const struct why_season *season)
{
    const struct why *why = facts->why;
    daynum p50 = season->row.dates[season->told][1];
    bool checked = why->graft->graft->identity == IDENTITY_CHECKED || why->verified != NULL ||
                   why->relabelled != NULL;
    struct text words;
    struct fact fact;

    if (checked || !is_day(season->site_p50) || !is_day(p50))
        return;
    text_init(&words, facts->run->arena);
    text_addf(&words, "not checked; were it not %s, %s would come ",
              season->row.bloom->selection->name, event_names[season->told]);
    why_add_move(&words, (int)(season->site_p50 - p50));
    text_add(&words, ", as at the site in general");
    fact = fact_of_day("the label", words.bytes, season->site_p50);
    fact.event = event_names[season->told];
    fact.number = season->site_p50 - p50;
    fact.unit = "days";
    facts_add(facts, fact);
}

static bool is_told(const struct why_season *season)
{
    return season->told != EVENTS && !season->row.over;
}

static void add_moves(struct facts *facts, const struct why_season *season)
{
    facts_section(
        facts, "moves", season->row.season,
        arena_printf(facts->run->arena, "What would move the dates of %d", season->row.season));
    add_change(facts, season, &season->warmer);
    add_change(facts, season, &season->colder);
    add_look(facts, season);
    add_threshold(facts, season);
    add_label(facts, season);
}

/* In text of the next season alone: a year ahead the same things move the dates. */
void facts_add_moves(struct facts *facts)
{
    const struct why *why = facts->why;
    bool shown = false;

    for (size_t i = 0; i < why->season_count; i++) {
        if (!is_told(&why->seasons[i]))
            continue;
        facts->data_only = shown;
        add_moves(facts, &why->seasons[i]);
        shown = true;
    }
    facts->data_only = false;
}
