#include "planning/season_others.h"

#include "conetide/robust.h"

#include <math.h>

struct counted_part counted_part_of(const struct stretch *stretch, const struct season_asked *asked)
{
    daynum first = stretch->first_day, from = day_on_or_after(asked->first_start, first),
           end = day_on_or_after(asked->last_start, first) + COUNTED_DAYS;

    return (struct counted_part){(size_t)(from - first), (size_t)(end - first)};
}

static void add_other(const struct season_asked *asked, daynum known_to, int season,
                      struct others *others)
{
    daynum start = day_season_start(asked->rule, season), end;

    if (start == DAY_NONE)
        return;
    end = start + (daynum)day_season_length(asked->rule, season);
    if (end > asked->record->first_day && end - 1 <= known_to)
        others->season[others->count++] = season;
}

static size_t seasons_between(int first, int last)
{
    return last > first ? (size_t)(last - first) : 0;
}

struct others others_of(const struct season_asked *asked, struct arena *arena)
{
    const struct record *record = asked->record;
    daynum last_day = record->first_day + (daynum)record->count - 1;
    daynum known_to = asked->all_others ? last_day : asked->as_of;
    int first = day_season(asked->rule, record->first_day);
    int last = asked->all_others ? day_season(asked->rule, last_day) : asked->season;
    struct others others = {.known = known_record_of(record, known_to)};

    others.season = ARENA_ARRAY(
        arena, seasons_between(first, asked->season) + seasons_between(asked->season, last), int);
    for (int far = 1; asked->season - far >= first || asked->season + far <= last; far++) {
        if (asked->season - far >= first)
            add_other(asked, known_to, asked->season - far, &others);
        if (asked->season + far <= last)
            add_other(asked, known_to, asked->season + far, &others);
    }
    return others;
}

void others_read(const struct others *others, const struct season_asked *asked, size_t i,
                 struct stretch *stretch)
{
    stretch_read(stretch, &others->known, day_season_start(asked->rule, others->season[i]),
                 (size_t)day_season_length(asked->rule, others->season[i]));
}

/* Mean temperature of the counted part; NaN when a day of it is missing. */
static double mean_c_of(const struct stretch *stretch, const struct season_asked *asked)
{
    struct counted_part part = counted_part_of(stretch, asked);
    double total = 0;
    size_t end = part.end < stretch->days ? part.end : stretch->days;

    for (size_t i = part.from; i < end; i++)
        total += (stretch->filled.tmin_c[i] + stretch->filled.tmax_c[i]) / 2;
    return stretch->covered && end > part.from ? total / (double)(end - part.from) : (double)NAN;
}

void others_find_warming(const struct others *others, const struct season_asked *asked,
                         struct stretch *stretch, struct season_weather *weather,
                         struct arena *arena)
{
    double *season = ARENA_ARRAY(arena, others->count, double);
    double *mean_c = ARENA_ARRAY(arena, others->count, double);
    struct conetide_trend trend;
    size_t n = 0;

    for (size_t i = 0; i < others->count; i++) {
        others_read(others, asked, i, stretch);
        season[n] = others->season[i];
        mean_c[n] = mean_c_of(stretch, asked);
        n += isnan(mean_c[n]) ? 0 : 1;
    }
    if (n < WARMING_LEAST ||
        conetide_trend_of(n, season, mean_c,
                          ARENA_ARRAY(arena, CONETIDE_TREND_WORKSPACE(n), double),
                          &trend) != CONETIDE_OK)
        return;
    weather->warming_c = trend.slope;
    weather->warming_seasons = (int)n;
}
