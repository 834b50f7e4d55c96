#include "planning/attention.h"

#include <math.h>
#include <string.h>

struct seeing {
    struct attention attention;
    const struct crossing_plan *plan;
    const struct orchard *orchard;
    struct arena *arena;
};

static void add(struct seeing *seeing, const char *words)
{
    *ARENA_PUSH(seeing->arena, seeing->attention.list, seeing->attention.count,
                seeing->attention.capacity) = words;
}

static const char *plural(size_t count)
{
    return count == 1 ? "" : "s";
}

static void see_moves(struct seeing *seeing)
{
    size_t firm = 0;

    for (size_t i = 0; i < seeing->plan->move_count; i++)
        firm += seeing->plan->moves[i].firm;
    if (firm > 0)
        add(seeing,
            arena_printf(seeing->arena,
                         "%zu visit%s inside the firm days moved or dropped: tell those who "
                         "hold the earlier plan",
                         firm, plural(firm)));
}

static void see_shortfalls(struct seeing *seeing)
{
    daynum as_of = seeing->plan->as_of, first = DAY_NEVER;
    size_t count = 0;
    char day[DAY_TEXT];

    for (size_t i = 0; i < seeing->plan->shortfall_count; i++) {
        daynum by = seeing->plan->shortfalls[i].remedy_by;

        if (by == DAY_NONE || by < as_of || by >= as_of + ATTENTION_HELP_DAYS)
            continue;
        count++;
        first = by < first ? by : first;
    }
    if (count > 0)
        add(seeing,
            arena_printf(seeing->arena,
                         "%zu shortfall%s can be helped only within a week, the first until "
                         "%s: see shortfalls",
                         count, plural(count), day_text(first, day)));
}

daynum attention_newest(const struct record *record)
{
    for (size_t i = record->count; i-- > 0;)
        if (isfinite(record->tmin_c[i]) && isfinite(record->tmax_c[i]))
            return record->first_day + (daynum)i;
    return DAY_NONE;
}

/* Does a site stand on this station? */
static bool is_used(const struct orchard *orchard, const char *station)
{
    for (size_t i = 0; i < orchard->sites.count; i++)
        if (orchard->sites.list[i].station_name &&
            strcmp(orchard->sites.list[i].station_name, station) == 0)
            return true;
    return false;
}

static void see_weather(struct seeing *seeing)
{
    const struct orchard *orchard = seeing->orchard;
    char day[DAY_TEXT];

    for (size_t i = 0; i < orchard->records.count; i++) {
        const struct record *record = &orchard->records.list[i];
        daynum newest = attention_newest(record);

        if (newest == DAY_NONE || seeing->plan->as_of - newest <= ATTENTION_WEATHER_DAYS ||
            !is_used(orchard, record->station))
            continue;
        add(seeing, arena_printf(seeing->arena, "no weather of %s after %s, %d days ago: add it",
                                 record->station, day_text(newest, day),
                                 (int)(seeing->plan->as_of - newest)));
    }
}

/* Of each station the newest comes first. */
static void see_forecasts(struct seeing *seeing)
{
    const struct orchard *orchard = seeing->orchard;
    const char *told = "";
    char day[DAY_TEXT];

    for (size_t i = 0; i < orchard->forecasts.count; i++) {
        const struct forecast *forecast = &orchard->forecasts.list[i];

        if (strcmp(told, forecast->station) == 0)
            continue;
        told = forecast->station;
        if (seeing->plan->as_of - forecast->issued > ATTENTION_FORECAST_DAYS)
            add(seeing,
                arena_printf(seeing->arena, "the newest forecast of %s is of %s: get a new one",
                             told, day_text(forecast->issued, day)));
    }
}

struct attention attention_of(const struct crossing_plan *plan, const struct orchard *orchard,
                              struct arena *arena)
{
    struct seeing seeing = {.plan = plan, .orchard = orchard, .arena = arena};

    see_moves(&seeing);
    see_shortfalls(&seeing);
    see_weather(&seeing);
    see_forecasts(&seeing);
    return seeing.attention;
}
