/*
 * season_weather.c - one season's weather: what is known, and past years on the same days.
 *
 * A day counts as observed only when both extremes are there and the right way round; gaps are
 * filled for both together, so that a filled day cannot be reversed either.
 */
#include "planning/season_weather.h"

#include <assert.h>
#include <math.h>

/* Days of a record around one season, with what a gap across its edges needs on either side. */
struct stretch {
    size_t days;         /* in the season */
    double *tmin, *tmax; /* [GAP_LINEAR_MOST + days + GAP_LINEAR_MOST]; NaN: not observed */
};

enum { DAYS_MOST = 366, STRETCH_MOST = DAYS_MOST + 2 * GAP_LINEAR_MOST };

static bool is_observed(const struct record *record, size_t index)
{
    return record->tmin_c[index] <= record->tmax_c[index]; /* false for NaN */
}

static void read_stretch(const struct record *record, daynum first_day, daynum as_of,
                         struct stretch *stretch)
{
    int64_t offset = (int64_t)first_day - GAP_LINEAR_MOST - record->first_day;
    int64_t end = (int64_t)as_of - record->first_day + 1;

    if (end > (int64_t)record->count)
        end = (int64_t)record->count;
    for (size_t i = 0; i < stretch->days + 2 * GAP_LINEAR_MOST; i++) {
        int64_t index = offset + (int64_t)i;
        bool observed = index >= 0 && index < end && is_observed(record, (size_t)index);

        stretch->tmin[i] = observed ? record->tmin_c[index] : (double)NAN;
        stretch->tmax[i] = observed ? record->tmax_c[index] : (double)NAN;
    }
}

static void fill_gap(double *values, size_t before, size_t after)
{
    double step = (values[after] - values[before]) / (double)(after - before);

    for (size_t i = before + 1; i < after; i++)
        values[i] = values[before] + step * (double)(i - before);
}

/* Linear over every gap of at most GAP_LINEAR_MOST days that has observed days on both sides. */
static void fill_short_gaps(struct stretch *stretch)
{
    size_t n = stretch->days + 2 * GAP_LINEAR_MOST, before = n;

    for (size_t i = 0; i < n; i++) {
        if (isnan(stretch->tmin[i]))
            continue;
        if (before < i && i - before - 1 <= GAP_LINEAR_MOST) {
            fill_gap(stretch->tmin, before, i);
            fill_gap(stretch->tmax, before, i);
        }
        before = i;
    }
}

/* Missing among the first `days` of the season. */
static size_t missing_days(const struct stretch *stretch, size_t days)
{
    size_t missing = 0;

    for (size_t i = 0; i < days; i++)
        missing += isnan(stretch->tmin[GAP_LINEAR_MOST + i]) != 0;
    return missing;
}

static size_t observed_until(const struct stretch *stretch)
{
    size_t known = stretch->days;

    while (known > 0 && isnan(stretch->tmin[GAP_LINEAR_MOST + known - 1]))
        known--;
    return known;
}

static void take_known(const struct record *record, daynum as_of, struct stretch *stretch,
                       struct season_weather *weather, struct arena *arena)
{
    size_t missing;

    stretch->days = weather->days;
    read_stretch(record, weather->first_day, as_of, stretch);
    weather->known = observed_until(stretch);
    missing = missing_days(stretch, weather->known);
    fill_short_gaps(stretch);
    weather->lent_days = missing_days(stretch, weather->known);
    weather->filled_days = missing - weather->lent_days;
    weather->known_tmin_c = ARENA_ARRAY(arena, weather->known, double);
    weather->known_tmax_c = ARENA_ARRAY(arena, weather->known, double);
    for (size_t i = 0; i < weather->known; i++) {
        weather->known_tmin_c[i] = stretch->tmin[GAP_LINEAR_MOST + i];
        weather->known_tmax_c[i] = stretch->tmax[GAP_LINEAR_MOST + i];
    }
}

/* Which day of season `from` (0 on its first) stands for each day of the season. */
static size_t source_day(const struct season_weather *weather, size_t i, int from, size_t from_days)
{
    daynum day = weather->first_day + (daynum)i;
    daynum source = day_map_season(weather->rule, weather->season, day, from);
    daynum start = day_season_start(weather->rule, from);

    /* Only a season that starts on 29 February has days that map across its edge. */
    if (source < start)
        return 0;
    return (size_t)(source - start) < from_days ? (size_t)(source - start) : from_days - 1;
}

static void add_member(const struct stretch *stretch, int from, struct season_weather *weather)
{
    size_t offset = weather->members * weather->days;

    weather->member_season[weather->members++] = from;
    for (size_t i = 0; i < weather->days; i++) {
        size_t source = GAP_LINEAR_MOST + source_day(weather, i, from, stretch->days);

        weather->member_tmin_c[offset + i] = stretch->tmin[source];
        weather->member_tmax_c[offset + i] = stretch->tmax[source];
    }
}

static void take_members(const struct record *record, daynum as_of, size_t most,
                         struct stretch *stretch, struct season_weather *weather)
{
    for (int from = weather->season - 1; weather->members < most; from--) {
        daynum start = day_season_start(weather->rule, from);
        size_t missing;

        if (start == DAY_NONE)
            return;
        stretch->days = (size_t)day_season_length(weather->rule, from);
        if (start + (daynum)stretch->days <= record->first_day)
            return;
        if (start + (daynum)stretch->days - 1 > as_of)
            continue;
        read_stretch(record, start, as_of, stretch);
        missing = missing_days(stretch, stretch->days);
        fill_short_gaps(stretch);
        if (missing > MISSING_MOST || missing_days(stretch, stretch->days) > 0)
            weather->left_out[weather->left_out_count++] =
                (struct left_out_year){from, (int)missing};
        else
            add_member(stretch, from, weather);
    }
}

struct season_weather season_weather_of(const struct record *record, struct season_rule rule,
                                        int season, daynum as_of, size_t most, struct arena *arena)
{
    struct season_weather weather = {.season = season, .rule = rule};
    struct stretch stretch;
    size_t seasons;

    weather.first_day = day_season_start(rule, season);
    assert(weather.first_day != DAY_NONE);
    weather.days = (size_t)day_season_length(rule, season);
    if (record == NULL || record->count == 0)
        return weather;
    stretch.tmin = ARENA_ARRAY(arena, STRETCH_MOST, double);
    stretch.tmax = ARENA_ARRAY(arena, STRETCH_MOST, double);
    take_known(record, as_of, &stretch, &weather, arena);

    seasons = season > day_season(rule, record->first_day)
                  ? (size_t)(season - day_season(rule, record->first_day))
                  : 0;
    weather.left_out = ARENA_ARRAY(arena, seasons, struct left_out_year);
    if (most > seasons)
        most = seasons;
    weather.member_season = ARENA_ARRAY(arena, most, int);
    weather.member_tmin_c = ARENA_ARRAY(arena, most * weather.days, double);
    weather.member_tmax_c = ARENA_ARRAY(arena, most * weather.days, double);
    take_members(record, as_of, most, &stretch, &weather);
    return weather;
}

double season_weather_tmin_c(const struct season_weather *weather, size_t member, size_t i)
{
    if (i < weather->known && !isnan(weather->known_tmin_c[i]))
        return weather->known_tmin_c[i];
    return weather->member_tmin_c[member * weather->days + i];
}

double season_weather_tmax_c(const struct season_weather *weather, size_t member, size_t i)
{
    if (i < weather->known && !isnan(weather->known_tmax_c[i]))
        return weather->known_tmax_c[i];
    return weather->member_tmax_c[member * weather->days + i];
}
