#include "planning/season_others.h"

#include "conetide/robust.h"

#include <math.h>
#include <stdbool.h>

enum { SEASON_DAYS = 366 };

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

/* Mean of one day; NaN when an extreme is missing. */
static double day_mean_c(const struct stretch *stretch, size_t i)
{
    return (stretch->filled.tmin_c[i] + stretch->filled.tmax_c[i]) / 2;
}

/* The usual temperature of a season's days, [366]; NaN: no season tells. */
static void find_usual(const struct others *others, const struct season_asked *asked,
                       struct stretch *stretch, double usual_c[SEASON_DAYS])
{
    int seen[SEASON_DAYS] = {0};

    for (size_t i = 0; i < SEASON_DAYS; i++)
        usual_c[i] = 0;
    for (size_t o = 0; o < others->count; o++) {
        others_read(others, asked, o, stretch);
        for (size_t i = 0; i < stretch->days && i < SEASON_DAYS; i++) {
            double mean_c = day_mean_c(stretch, i);

            usual_c[i] += isnan(mean_c) ? 0 : mean_c;
            seen[i] += !isnan(mean_c);
        }
    }
    for (size_t i = 0; i < SEASON_DAYS; i++)
        usual_c[i] = seen[i] > 0 ? usual_c[i] / seen[i] : (double)NAN;
}

/*
 * Which days, with fifteen before and after them, are usually free of frost: [366].  No heat is
 * counted on others, and winters have warmed by more than springs where it is cold.
 */
static void find_mild(const double usual_c[SEASON_DAYS], bool mild[SEASON_DAYS])
{
    enum { ABOUT = 15 };

    for (size_t day = 0; day < SEASON_DAYS; day++) {
        double total = 0;

        for (size_t i = day < ABOUT ? 0 : day - ABOUT; i <= day + ABOUT && i < SEASON_DAYS; i++)
            total += isnan(usual_c[i]) ? 0 : usual_c[i];
        mild[day] = total > 0;
    }
}

/* Mean temperature of the mild days of the counted part; NaN when a day of it is missing. */
static double mean_c_of(const struct stretch *stretch, const struct season_asked *asked,
                        const bool mild[SEASON_DAYS])
{
    struct counted_part part = counted_part_of(stretch, asked);
    double total = 0;
    size_t end = part.end < stretch->days ? part.end : stretch->days, days = 0;

    for (size_t i = part.from; i < end; i++) {
        if (!mild[i])
            continue;
        total += day_mean_c(stretch, i);
        days++;
    }
    return stretch->covered && days > 0 ? total / (double)days : (double)NAN;
}

void others_find_warming(const struct others *others, const struct season_asked *asked,
                         struct stretch *stretch, struct season_weather *weather,
                         struct arena *arena)
{
    double *season = ARENA_ARRAY(arena, others->count, double);
    double *mean_c = ARENA_ARRAY(arena, others->count, double);
    double usual_c[SEASON_DAYS];
    bool mild[SEASON_DAYS];
    struct conetide_trend trend;
    size_t n = 0;

    find_usual(others, asked, stretch, usual_c);
    find_mild(usual_c, mild);

    for (size_t i = 0; i < others->count; i++) {
        others_read(others, asked, i, stretch);
        season[n] = others->season[i];
        mean_c[n] = mean_c_of(stretch, asked, mild);
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
