/*
 * season_weather.c - one season's weather: what is known, and past years on the same days.
 *
 * Minimum and maximum are filled each for itself, so that a day of which one was seen keeps it.
 */
#include "planning/season_weather.h"

#include "planning/season_others.h"

#include <assert.h>
#include <math.h>

static bool is_unknown(const struct stretch *stretch, size_t i)
{
    return isnan(stretch->filled.tmin_c[i]) && isnan(stretch->filled.tmax_c[i]);
}

static bool is_seen_whole(const struct stretch *stretch, size_t i)
{
    return stretch->seen.tmin_c[i] <= stretch->seen.tmax_c[i];
}

static void take_known(const struct known_record *known, struct stretch *stretch,
                       struct season_weather *weather, struct arena *arena)
{
    stretch_read(stretch, known, weather->first_day, weather->days);
    weather->known = weather->days;
    while (weather->known > 0 && is_unknown(stretch, weather->known - 1))
        weather->known--;
    weather->known_tmin_c = ARENA_ARRAY(arena, weather->known, double);
    weather->known_tmax_c = ARENA_ARRAY(arena, weather->known, double);
    for (size_t i = 0; i < weather->known; i++) {
        weather->known_tmin_c[i] = stretch->filled.tmin_c[i];
        weather->known_tmax_c[i] = stretch->filled.tmax_c[i];
        if (stretch_is_missing(stretch, i))
            weather->lent_days++;
        else if (!is_seen_whole(stretch, i))
            weather->filled_days++;
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
    size_t member = weather->members++, offset = member * weather->days;

    weather->member_season[member] = from;
    weather->member_mean_days[member] = 0;
    for (size_t i = 0; i < weather->days; i++) {
        size_t day = source_day(weather, i, from, stretch->days);

        weather->member_tmin_c[offset + i] = stretch->filled.tmin_c[day];
        weather->member_tmax_c[offset + i] = stretch->filled.tmax_c[day];
        weather->member_mean_days[member] += stretch_is_missing(stretch, day);
    }
}

struct limits {
    int gap_most, missing_most;
};

/* Whether the past season read lacks too much to be a member, and what. */
static bool is_left_out(const struct stretch *stretch, const struct season_asked *asked,
                        struct limits limits, struct left_out_year *year)
{
    struct counted_part part = counted_part_of(stretch, asked);
    struct gaps_found found = stretch_gaps(stretch, part.from, part.end);

    if (!stretch->covered) {
        year->reason = LEFT_OUT_RECORD;
        year->missing_days = found.all;
    } else if (found.longest > limits.gap_most) {
        year->reason = LEFT_OUT_GAP;
        year->missing_days = found.longest;
    } else {
        year->reason = found.counted > found.counted_longest ? LEFT_OUT_GAPS : LEFT_OUT_GAP;
        year->missing_days = found.counted;
        return found.counted > limits.missing_most;
    }
    return true;
}

static void take_members(const struct season_asked *asked, const struct others *others,
                         struct limits limits, struct stretch *stretch,
                         struct season_weather *weather)
{
    weather->members = weather->left_out_count = 0;
    for (size_t i = 0; i < others->count && weather->members < asked->members_most; i++) {
        struct left_out_year year = {.season = others->season[i]};

        others_read(others, asked, i, stretch);
        if (is_left_out(stretch, asked, limits, &year))
            weather->left_out[weather->left_out_count++] = year;
        else
            add_member(stretch, year.season, weather);
    }
}

static void shift_members(struct season_weather *weather)
{
    for (size_t m = 0, at = 0; m < weather->members; m++) {
        double warmer_c = weather->warming_c * (weather->season - weather->member_season[m]);

        for (size_t i = 0; i < weather->days; i++, at++) {
            weather->member_tmin_c[at] += warmer_c;
            weather->member_tmax_c[at] += warmer_c;
        }
    }
}

static size_t whole_members(const struct season_weather *weather)
{
    size_t whole = 0;

    for (size_t m = 0; m < weather->members; m++)
        whole += weather->member_mean_days[m] == 0;
    return whole;
}

/* Mean over the whole members, of one extreme on day i. */
static double mean_of_whole(const struct season_weather *weather, const double *series, size_t i)
{
    double total = 0;

    for (size_t m = 0; m < weather->members; m++) {
        if (weather->member_mean_days[m] == 0)
            total += series[m * weather->days + i];
    }
    return total / (double)whole_members(weather);
}

/* Days of longer gaps become the usual ones; an extreme that was seen stays, and the mean yields.
 */
static void fill_with_means(struct season_weather *weather, size_t member)
{
    double *tmin_c = weather->member_tmin_c + member * weather->days;
    double *tmax_c = weather->member_tmax_c + member * weather->days;

    for (size_t i = 0; i < weather->days; i++) {
        bool minimum_missing = isnan(tmin_c[i]), maximum_missing = isnan(tmax_c[i]);

        if (minimum_missing)
            tmin_c[i] = mean_of_whole(weather, weather->member_tmin_c, i);
        if (maximum_missing)
            tmax_c[i] = mean_of_whole(weather, weather->member_tmax_c, i);
        if (minimum_missing && tmin_c[i] > tmax_c[i])
            tmin_c[i] = tmax_c[i];
        if (maximum_missing && tmin_c[i] > tmax_c[i])
            tmax_c[i] = tmin_c[i];
    }
}

/* The last day of which something is known. */
static daynum last_known(const struct season_asked *asked)
{
    return asked->days_ahead < (size_t)(DAY_LAST - asked->as_of)
               ? asked->as_of + (daynum)asked->days_ahead
               : DAY_LAST;
}

static void make_room(const struct season_asked *asked, const struct others *others,
                      struct season_weather *weather, struct arena *arena)
{
    size_t most = asked->members_most < others->count ? asked->members_most : others->count;

    weather->left_out = ARENA_ARRAY(arena, others->count, struct left_out_year);
    weather->member_season = ARENA_ARRAY(arena, most, int);
    weather->member_mean_days = ARENA_ARRAY(arena, most, int);
    weather->member_tmin_c = ARENA_ARRAY(arena, most * weather->days, double);
    weather->member_tmax_c = ARENA_ARRAY(arena, most * weather->days, double);
}

/* Everything that other seasons lend. */
static void make_members(const struct season_asked *asked, struct stretch *stretch,
                         struct season_weather *weather, struct arena *arena)
{
    static const struct limits usual = {GAP_MEAN_MOST, MISSING_MOST}, none = {0, 0};
    struct others others = others_of(asked, arena);

    make_room(asked, &others, weather, arena);
    take_members(asked, &others, usual, stretch, weather);
    if (whole_members(weather) == 0) /* nothing to take means of */
        take_members(asked, &others, none, stretch, weather);
    for (size_t m = 0; m < weather->members; m++) {
        if (weather->member_mean_days[m] > 0)
            fill_with_means(weather, m);
    }
    if (asked->as_they_were)
        return;
    others_find_warming(&others, asked, stretch, weather, arena);
    shift_members(weather);
}

struct season_weather season_weather_of(const struct season_asked *asked, struct arena *arena)
{
    struct season_weather weather = {.season = asked->season, .rule = asked->rule};
    struct known_record known;
    struct stretch stretch;

    weather.first_day = day_season_start(asked->rule, asked->season);
    assert(weather.first_day != DAY_NONE);
    weather.days = (size_t)day_season_length(asked->rule, asked->season);
    if (asked->record == NULL || asked->record->count == 0)
        return weather;
    known = known_record_of(asked->record, last_known(asked));
    stretch = stretch_new(arena);
    take_known(&known, &stretch, &weather, arena);
    if (asked->members_most > 0)
        make_members(asked, &stretch, &weather, arena);
    return weather;
}

struct season_weather season_weather_on(const struct season_weather *weather,
                                        const struct season_asked *asked, struct arena *arena)
{
    struct season_weather on = *weather;
    struct known_record known = known_record_of(asked->record, last_known(asked));
    struct stretch stretch = stretch_new(arena);

    on.filled_days = on.lent_days = 0;
    take_known(&known, &stretch, &on, arena);
    return on;
}

double season_weather_tmin_c(const struct season_weather *weather, size_t member, size_t i)
{
    double lent = weather->member_tmin_c[member * weather->days + i];

    if (i >= weather->known)
        return lent;
    if (!isnan(weather->known_tmin_c[i]))
        return weather->known_tmin_c[i];
    return fmin(lent, weather->known_tmax_c[i]); /* a NaN is passed over */
}

double season_weather_tmax_c(const struct season_weather *weather, size_t member, size_t i)
{
    double lent = weather->member_tmax_c[member * weather->days + i];

    if (i >= weather->known)
        return lent;
    if (!isnan(weather->known_tmax_c[i]))
        return weather->known_tmax_c[i];
    return fmax(lent, weather->known_tmin_c[i]);
}
