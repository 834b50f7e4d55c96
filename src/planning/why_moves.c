/*
 * What would move the dates of a graft: warmer days, a look, a threshold of its own, another label.
 */
#include "planning/fit.h"
#include "planning/why_parts.h"

#include <string.h>

/* Days to come that are made warmer: what a forecast may err by (own choice). */
enum { DAYS_CHANGED = 14 };

/* The same graft and season with other weather to come. */
static void take_warmer(const struct whying *whying, const struct why_season *season, double add_c,
                        struct why_warmer *result)
{
    daynum as_of = whying->state->orchard->as_of;
    struct warmer warmer = {add_c, as_of + 1, as_of + DAYS_CHANGED};
    struct dates *dates = dates_new_warmer(whying->state->orchard, warmer, whying->arena);
    struct flowering_rows rows =
        flowering_of_graft(whying->state, dates, whying->why->graft, whying->arena);

    for (size_t i = 0; i < rows.count; i++) {
        if (rows.list[i].season == season->row.season)
            *result = (struct why_warmer){warmer.from, warmer.to, add_c,
                                          rows.list[i].dates[season->told][1]};
    }
}

static bool holds_season(const struct why_season *season, daynum from, daynum to)
{
    daynum first = season->weather->first_day;

    return to >= first && from < first + (daynum)season->weather->days;
}

static daynum site_date(const struct whying *whying, const struct why_season *season)
{
    const struct flowering_row *row = &season->row;
    const struct bloom *bloom;

    if (row->bloom->selection == NULL)
        return DAY_NONE;
    bloom = dates_bloom(whying->dates, row->site, row->bloom->species, NULL, row->season);
    return bloom_date(bloom, season->told, 0.5);
}

static bool same_text(const char *a, const char *b)
{
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

/* Seasons in which looks near enough to each other date the event here. */
static void count_seasons(const struct whying *whying, struct why_season *season)
{
    struct sights sights = sights_of_notes(whying->state, whying->arena);
    const struct bloom *bloom = season->row.bloom;
    int last = 0, last_of_selection = 0;

    for (size_t i = 0; i < sights.count; i++) {
        const struct sight *sight = &sights.list[i];

        if (sight->site != season->row.site || sight->event != season->told ||
            !same_text(sight->species, bloom->species) || sight->after == DAY_NONE ||
            sight->by == DAY_NONE || sight->by - sight->after > FIT_INTERVAL_MOST)
            continue;
        season->seen_here += sight->season != last;
        last = sight->season;
        if (!selection_same(sight->selection, bloom->selection))
            continue;
        season->seen_of_selection += sight->season != last_of_selection;
        last_of_selection = sight->season;
    }
}

/* From the day before the first strobili may open to the likely last receptive day. */
static void take_look(const struct whying *whying, struct why_season *season)
{
    daynum as_of = whying->state->orchard->as_of;
    daynum from = season->row.dates[EVENT_OPENING][0], to = season->row.dates[EVENT_LAST][1];

    season->look_from = season->look_to = DAY_NONE;
    if (from == DAY_NONE || from == DAY_NEVER || to == DAY_NONE || to == DAY_NEVER || to <= as_of)
        return;
    season->look_from = from - 1 > as_of ? from - 1 : as_of + 1;
    season->look_to = to;
}

void why_take_moves(const struct whying *whying, struct why_season *season)
{
    daynum as_of = whying->state->orchard->as_of;

    season->site_p50 = season->look_from = season->look_to = DAY_NONE;
    if (season->told == EVENTS)
        return;
    season->site_p50 = site_date(whying, season);
    count_seasons(whying, season);
    take_look(whying, season);
    if (season->clock_count == 0 || season->row.over ||
        !holds_season(season, as_of + 1, as_of + DAYS_CHANGED))
        return;
    take_warmer(whying, season, 1, &season->warmer);
    take_warmer(whying, season, -1, &season->colder);
}
