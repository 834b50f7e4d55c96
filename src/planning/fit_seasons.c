#include "planning/fit_seasons.h"

#include "conetide/sum.h"
#include "planning/season_heat.h"
#include "planning/season_weather.h"

#include <math.h>

struct station_record fit_record_of(const struct orchard *orchard, const struct site *site,
                                    struct arena *arena)
{
    return station_record_of(orchard, site, orchard->as_of != DAY_NONE ? orchard->as_of : DAY_LAST,
                             arena);
}

struct fit_season fit_season_of(const struct station_record *record, struct season_rule rule,
                                int season, struct arena *arena)
{
    const struct season_asked asked = {.record = &record->series,
                                       .rule = rule,
                                       .season = season,
                                       .as_of = DAY_LAST, /* the record holds what is known */
                                       .first_start = {1, 1},
                                       .last_start = {1, 1}};
    struct season_weather weather = season_weather_of(&asked, arena);

    return (struct fit_season){.season = season,
                               .rule = rule,
                               .first_day = weather.first_day,
                               .new_year = day_from_civil(season, rule.northern ? 1 : 7, 1),
                               .known = weather.known,
                               .tmin_c = weather.known_tmin_c,
                               .tmax_c = weather.known_tmax_c,
                               .record = record};
}

static bool is_measured(const struct station_record *record, daynum day)
{
    enum day_kind kind = station_record_kind(record, day);

    return kind == DAY_OBSERVED || kind == DAY_NEIGHBOUR;
}

bool fit_season_holds(const struct fit_season *season, daynum from, daynum to, int filled_most)
{
    int filled = 0;

    if (from < season->first_day || to < from || to - season->first_day >= (daynum)season->known)
        return false;
    for (daynum day = from; day <= to; day++) {
        daynum index = day - season->first_day;

        if (!(season->tmin_c[index] <= season->tmax_c[index]))
            return false;
        filled += !is_measured(season->record, day);
    }
    return filled <= filled_most;
}

struct fit_sums fit_sums_of(const struct fit_season *season, const struct fit_clock *clock,
                            struct arena *arena)
{
    struct fit_sums sums = {.new_year = season->new_year, .per_day_c = clock->per_day_c};
    size_t offset, bad_day;
    double *sum;

    sums.start =
        day_on_or_after(season_heat_clock_start(&clock->clock, season->rule), season->first_day);
    offset = (size_t)(sums.start - season->first_day);
    if (offset >= season->known)
        return sums;
    sums.count = season->known - offset;
    if (clock->clock.end_days >= 0 && sums.count > (size_t)clock->clock.end_days)
        sums.count = (size_t)clock->clock.end_days;
    sum = ARENA_ARRAY(arena, sums.count, double);
    /* A faulty day leaves NaN, and so does a rule that cannot be counted. */
    if (conetide_heat_days(&clock->clock.rule, sums.count, season->tmin_c + offset,
                           season->tmax_c + offset, sum, &bad_day) != CONETIDE_OK)
        sums.count = bad_day;
    conetide_heat_sum(sums.count, sum, sum);
    sums.sum = sum;
    return sums;
}

static double x_of(const struct fit_sums *sums, daynum day)
{
    return (double)(day - sums->new_year + 1);
}

double fit_level(const struct fit_sums *sums, daynum day)
{
    double heat = 0;

    if (day >= sums->start && day - sums->start >= (daynum)sums->count)
        return NAN;
    if (day >= sums->start)
        heat = sums->sum[day - sums->start];
    return heat - sums->per_day_c * x_of(sums, day);
}

daynum fit_day_met(const struct fit_sums *sums, double units_c)
{
    const struct conetide_need need = {units_c, sums->per_day_c, x_of(sums, sums->start)};
    size_t index;

    if (conetide_need_reached(sums->count, sums->sum, need, &index) != CONETIDE_OK)
        return DAY_NONE;
    return sums->start + (daynum)index;
}
