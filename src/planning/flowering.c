#include "planning/flowering.h"

#include "orchard/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct flowering {
    const struct state *state;
    struct dates *dates;
    struct flowering_rows rows;
    int season; /* 0: the next two of each graft */
    bool with_past;
};

static double rate_of(const struct flowering *flowering, const struct graft_state *graft,
                      const char *name, int season_number)
{
    return rate_on_graft(flowering->state->orchard, name, graft, season_number);
}

static const struct rate *survival_of(const struct state *state, const struct graft_state *graft,
                                      int season_number)
{
    return rate_find(state->orchard, "survival", graft_rate_subject(graft, season_number));
}

/* What a year leaves of the live grafts; never more than all of them. */
static double kept_in_a_year(const struct flowering_alive *alive)
{
    double first = alive->first != NULL ? number_of_decimal(alive->first->value) : (double)NAN;
    double second = alive->second != NULL ? number_of_decimal(alive->second->value) : (double)NAN;

    if (second >= first)
        return 1;
    return second / first;
}

/*
 * Survival rates are shares of the grafts made.  A graft that was seen alive keeps, for each year
 * from there on, what its second season leaves of the first.  Seen in the season that holds as-of,
 * it counts as alive in the next spring that it can flower in.  A doubtful one: half of that (own
 * choices, no source).  Whoever counted strobili on it saw it alive, too.
 */
struct flowering_alive flowering_alive_of(const struct state *state,
                                          const struct flowering_row *row)
{
    const struct graft_state *graft = row->graft;
    struct season_rule rule = orchard_season_rule(state->orchard, row->site);
    int cycle = row->season - row->season_number;
    int now = day_season(rule, state->orchard->as_of), seen = now;
    struct flowering_alive alive = {.chance = 1, .way = ALIVE_COUNTED};

    if (row->counted && row->strobili > 0 && graft->condition_on <= row->counted_on &&
        graft->condition != CONDITION_DOUBTFUL)
        return alive;
    if (graft->condition != CONDITION_ALIVE && graft->condition != CONDITION_DOUBTFUL) {
        const struct rate *rate = survival_of(state, graft, row->season_number);

        alive.way = ALIVE_NEW;
        *(row->season_number == 1 ? &alive.first : &alive.second) = rate;
        alive.chance = rate != NULL ? number_of_decimal(rate->value) : (double)NAN;
        return alive;
    }
    alive.way = graft->condition == CONDITION_DOUBTFUL ? ALIVE_DOUBTFUL : ALIVE_SEEN;
    if (graft->condition_on != DAY_NONE) /* an undated word is of now */
        seen = day_season(rule, graft->condition_on);
    if (seen >= now && seen <= cycle)
        seen = cycle + 1;
    alive.years = row->season > seen ? row->season - seen : 0;
    if (alive.years > 0) {
        alive.first = survival_of(state, graft, 1);
        alive.second = survival_of(state, graft, 2);
    }
    for (int year = 0; year < alive.years; year++)
        alive.chance *= kept_in_a_year(&alive);
    if (alive.way == ALIVE_DOUBTFUL)
        alive.chance /= 2;
    return alive;
}

static void take_strobili(const struct flowering *flowering, struct flowering_row *row)
{
    daynum on = DAY_NONE;
    int count = state_strobili(flowering->state, row->graft->graft, row->season, &on);

    row->counted = count >= 0;
    row->counted_on = row->counted ? on : DAY_NONE;
    row->strobili = row->counted ? count
                                 : rate_of(flowering, row->graft, "strobili_per_live_graft",
                                           row->season_number);
}

static void take_dates(const struct flowering *flowering, struct flowering_row *row)
{
    daynum as_of = flowering->state->orchard->as_of;

    for (int e = 0; e < EVENTS; e++) {
        for (int i = 0; i < THREE_DATES; i++)
            row->dates[e][i] = e <= EVENT_CLOSED
                                   ? bloom_date(row->bloom, (enum event)e, three_chances[i])
                                   : DAY_NONE;
    }
    row->over = bloom_by(row->bloom, EVENT_LAST, as_of - 1) >= 1 - CONETIDE_CHANCE_TOLERANCE;
}

static void add_row(struct flowering *flowering, const struct graft_state *graft, int season)
{
    struct flowering_row *row = &flowering->rows.list[flowering->rows.count++];

    row->graft = graft;
    row->site = graft->graft->tree->site;
    row->season = season;
    row->season_number = season - orchard_cycle(flowering->state->orchard, graft->graft);
    row->bloom = dates_graft_bloom(flowering->dates, flowering->state, graft, season);
    if (flowering->with_past)
        row->past = dates_bloom_of_past(flowering->dates, row->site, graft_species(graft),
                                        graft->selection, season);
    take_strobili(flowering, row);
    row->chance_alive = flowering_alive_of(flowering->state, row).chance;
    take_dates(flowering, row);
}

static void add_graft(struct flowering *flowering, const struct graft_state *graft)
{
    const struct orchard *orchard = flowering->state->orchard;
    struct season_rule rule = orchard_season_rule(orchard, graft->graft->tree->site);
    int now = day_season(rule, orchard->as_of), cycle = orchard_cycle(orchard, graft->graft);

    if (flowering->season != 0) {
        if (cycle < flowering->season)
            add_row(flowering, graft, flowering->season);
        return;
    }
    for (int number = 1; number <= 2; number++)
        if (cycle + number >= now)
            add_row(flowering, graft, cycle + number);
}

static int order_of_rows(const void *a, const void *b)
{
    const struct flowering_row *one = a, *other = b;
    int order = (one->season > other->season) - (one->season < other->season);

    if (order == 0)
        order = strcmp(one->site->name, other->site->name);
    return order != 0 ? order : strcmp(one->graft->graft->tag, other->graft->graft->tag);
}

static bool has_rows(const struct graft_state *graft)
{
    return !condition_is_gone(graft->condition) && graft->graft->grafted_on != DAY_NONE &&
           graft->graft->tree != NULL && graft->graft->tree->site != NULL;
}

struct flowering_rows flowering_of_graft(const struct state *state, struct dates *dates,
                                         const struct graft_state *graft, struct arena *arena)
{
    struct flowering flowering = {.state = state, .dates = dates};

    flowering.rows.list = ARENA_ARRAY(arena, 2, struct flowering_row);
    if (has_rows(graft))
        add_graft(&flowering, graft);
    return flowering.rows;
}

static void add_grafts(struct flowering *flowering, const struct graft_state *only,
                       struct arena *arena)
{
    size_t grafts = flowering->state->orchard->grafts.count;

    flowering->rows.list = ARENA_ARRAY(arena, 2 * grafts, struct flowering_row);
    for (size_t i = 0; i < grafts; i++) {
        const struct graft_state *graft = &flowering->state->grafts[i];

        if (has_rows(graft) && (only == NULL || only == graft))
            add_graft(flowering, graft);
    }
    qsort(flowering->rows.list, flowering->rows.count, sizeof *flowering->rows.list, order_of_rows);
}

struct flowering_rows flowering_of(const struct state *state, struct dates *dates,
                                   struct arena *arena)
{
    struct flowering flowering = {.state = state, .dates = dates};

    add_grafts(&flowering, NULL, arena);
    return flowering.rows;
}

struct flowering_rows flowering_asked(const struct state *state, struct dates *dates,
                                      struct flowering_asked asked, struct arena *arena)
{
    struct flowering flowering = {
        .state = state, .dates = dates, .season = asked.season, .with_past = true};

    add_grafts(&flowering, asked.only, arena);
    return flowering.rows;
}
