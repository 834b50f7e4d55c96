#include "planning/station_record.h"

#include "planning/gaps.h"
#include "planning/observed_days.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* What a record is put together from. */
struct sources {
    const struct orchard *orchard;
    const struct station *station; /* may be NULL */
    struct record own, neighbour;
    const struct forecast *forecasts; /* [forecast_count], the newest first */
    size_t forecast_count;
    daynum as_of;
};

static void find_forecasts(struct sources *sources, const char *station)
{
    const struct orchard *orchard = sources->orchard;

    for (size_t i = 0; station != NULL && i < orchard->forecasts.count; i++) {
        const struct forecast *forecast = &orchard->forecasts.list[i];

        if (strcmp(forecast->station, station) != 0 || forecast->issued > sources->as_of)
            continue;
        if (sources->forecast_count++ == 0)
            sources->forecasts = forecast; /* those of a station stand together */
    }
}

static void find_neighbour(struct sources *sources, struct station_record *made,
                           struct arena *arena)
{
    const struct station *station = sources->station;
    const char *name = station != NULL ? station->neighbour : NULL;

    sources->neighbour = (struct record){.first_day = sources->as_of};
    made->neighbour_newest = DAY_NONE;
    if (name == NULL || strcmp(name, station->name) == 0)
        return;
    sources->neighbour =
        observed_days_of(orchard_record(sources->orchard, name),
                         orchard_station(sources->orchard, name), sources->as_of, arena);
    if (sources->neighbour.count == 0)
        return;
    made->neighbour = name;
    made->neighbour_newest = observed_days_newest(&sources->neighbour);
}

static void fit_offsets(const struct sources *sources, struct station_record *made)
{
    const struct station *station = sources->station;
    const struct station *other = orchard_station(sources->orchard, made->neighbour);
    const struct record *own = &sources->own, *neighbour = &sources->neighbour;
    double from_m = other != NULL ? other->elevation_m : (double)NAN;

    assert(station != NULL); /* it names the neighbour */
    made->tmin_offsets = month_offsets_of(
        (struct one_extreme){own->first_day, own->count, own->tmin_c},
        (struct one_extreme){neighbour->first_day, neighbour->count, neighbour->tmin_c},
        elevation_change_c(station->tmin_lapse_c_per_km, from_m, station->elevation_m));
    made->tmax_offsets = month_offsets_of(
        (struct one_extreme){own->first_day, own->count, own->tmax_c},
        (struct one_extreme){neighbour->first_day, neighbour->count, neighbour->tmax_c},
        elevation_change_c(station->tmax_lapse_c_per_km, from_m, station->elevation_m));
}

static daynum end_of(const struct record *days)
{
    return days->first_day + (daynum)days->count;
}

/* Days after this one may be forecast: it was observed, here or at the neighbour. */
static daynum newest_of(const struct station_record *made)
{
    return made->newest_observed > made->neighbour_newest ? made->newest_observed
                                                          : made->neighbour_newest;
}

static void make_room(const struct sources *sources, struct station_record *made,
                      struct arena *arena)
{
    const struct record *own = &sources->own, *neighbour = &sources->neighbour;
    bool both = own->count > 0 && neighbour->count > 0;
    daynum first = own->count > 0 ? own->first_day : neighbour->first_day;
    daynum end = own->count > 0 ? end_of(own) : end_of(neighbour);
    struct record *series = &made->series;

    if (both && neighbour->first_day < first)
        first = neighbour->first_day;
    if (both && end_of(neighbour) > end)
        end = end_of(neighbour);
    for (size_t i = 0; i < sources->forecast_count; i++) {
        daynum last = sources->forecasts[i].first_day + (daynum)sources->forecasts[i].count - 1;

        end = last >= end ? last + 1 : end;
    }
    series->first_day = first;
    series->count = (size_t)(end - first);
    series->tmin_c = ARENA_ARRAY(arena, series->count, double);
    series->tmax_c = ARENA_ARRAY(arena, series->count, double);
    made->tmin_kind = ARENA_ARRAY(arena, series->count, unsigned char);
    made->tmax_kind = ARENA_ARRAY(arena, series->count, unsigned char);
    for (size_t i = 0; i < series->count; i++)
        series->tmin_c[i] = series->tmax_c[i] = (double)NAN;
}

static void put(double *c, unsigned char *kind, double value, enum day_kind of)
{
    if (isnan(value))
        return;
    *c = value;
    *kind = (unsigned char)of;
}

static void put_day(struct station_record *made, size_t i, const double extreme_c[2],
                    enum day_kind kind)
{
    put(&made->series.tmin_c[i], &made->tmin_kind[i], extreme_c[0], kind);
    put(&made->series.tmax_c[i], &made->tmax_kind[i], extreme_c[1], kind);
}

static void take_own(const struct sources *sources, struct station_record *made)
{
    const struct record *own = &sources->own;
    size_t at = (size_t)(own->first_day - made->series.first_day);

    for (size_t i = 0; i < own->count; i++)
        put_day(made, at + i, (const double[2]){own->tmin_c[i], own->tmax_c[i]}, DAY_OBSERVED);
}

/* ---- the neighbour --------------------------------------------------------------------------- */

/* One extreme: the series, and the neighbour's moved to the station. */
struct filling {
    double *c;
    unsigned char *kind;
    struct one_extreme neighbour;
    const struct month_offsets *offsets;
};

static void fill_from_neighbour(const struct filling *filling, daynum first_day, size_t from,
                                size_t end)
{
    for (size_t i = from; i < end; i++) {
        daynum day = first_day + (daynum)i;
        int64_t at = (int64_t)day - filling->neighbour.first_day;

        if (at < 0 || at >= (int64_t)filling->neighbour.count)
            continue;
        put(&filling->c[i], &filling->kind[i],
            filling->neighbour.c[at] + filling->offsets->c[day_to_civil(day).month - 1],
            DAY_NEIGHBOUR);
    }
}

static void fill_gaps(const struct filling *filling, const struct record *series)
{
    size_t i = 0;

    while (i < series->count) {
        size_t from = i;
        bool on_a_line;

        while (i < series->count && filling->kind[i] == DAY_OPEN)
            i++;
        on_a_line = from > 0 && i < series->count && i - from <= GAP_LINEAR_MOST;
        if (!on_a_line)
            fill_from_neighbour(filling, series->first_day, from, i);
        i += i < series->count; /* the day that ended the gap */
    }
}

static void take_neighbour(const struct sources *sources, struct station_record *made)
{
    const struct record *neighbour = &sources->neighbour;
    struct filling minimum = {made->series.tmin_c,
                              made->tmin_kind,
                              {neighbour->first_day, neighbour->count, neighbour->tmin_c},
                              &made->tmin_offsets};
    struct filling maximum = {made->series.tmax_c,
                              made->tmax_kind,
                              {neighbour->first_day, neighbour->count, neighbour->tmax_c},
                              &made->tmax_offsets};

    if (made->neighbour == NULL)
        return;
    fit_offsets(sources, made);
    fill_gaps(&minimum, &made->series);
    fill_gaps(&maximum, &made->series);
}

/* ---- forecasts ------------------------------------------------------------------------------- */

static bool tells(const struct forecast *forecast, daynum day, double extreme_c[2])
{
    int64_t at = (int64_t)day - forecast->first_day;

    if (at < 0 || at >= (int64_t)forecast->count)
        return false;
    extreme_c[0] = forecast->tmin_c[at];
    extreme_c[1] = forecast->tmax_c[at];
    return true;
}

/* The newest forecast that tells a day whole, else the newest that tells anything of it. */
static const struct forecast *forecast_of_day(const struct sources *sources, daynum day,
                                              double extreme_c[2])
{
    const struct forecast *half = NULL;

    for (size_t i = 0; i < sources->forecast_count; i++) {
        const struct forecast *forecast = &sources->forecasts[i];

        if (!tells(forecast, day, extreme_c))
            continue;
        if (extreme_c[0] <= extreme_c[1])
            return forecast;
        if (half == NULL && !(isnan(extreme_c[0]) && isnan(extreme_c[1])))
            half = forecast;
    }
    if (half != NULL)
        tells(half, day, extreme_c);
    return half;
}

/* A whole forecast day replaces a day of which one extreme was observed; half a one adds to it. */
static bool put_forecast(struct station_record *made, size_t i, const double extreme_c[2])
{
    bool whole = extreme_c[0] <= extreme_c[1];
    bool lacks_minimum = made->tmin_kind[i] == DAY_OPEN && !isnan(extreme_c[0]);
    bool lacks_maximum = made->tmax_kind[i] == DAY_OPEN && !isnan(extreme_c[1]);

    if (!lacks_minimum && !lacks_maximum)
        return false;
    if (whole || lacks_minimum)
        put(&made->series.tmin_c[i], &made->tmin_kind[i], extreme_c[0], DAY_FORECAST);
    if (whole || lacks_maximum)
        put(&made->series.tmax_c[i], &made->tmax_kind[i], extreme_c[1], DAY_FORECAST);
    return true;
}

static void take_forecasts(const struct sources *sources, struct station_record *made)
{
    struct record *series = &made->series;
    daynum newest = newest_of(made);
    daynum day = newest == DAY_NONE ? series->first_day : newest + 1;

    for (; day < end_of(series); day++) {
        double extreme_c[2];
        const struct forecast *forecast = forecast_of_day(sources, day, extreme_c);

        if (forecast == NULL || !put_forecast(made, (size_t)(day - series->first_day), extreme_c))
            continue;
        made->forecast_last = day;
        if (made->forecast == NULL || forecast < made->forecast)
            made->forecast = forecast;
    }
    /* Days that no forecast was taken of lie before as_of: the newest of any kind ends the series.
     */
    while (series->count > 0 && made->tmin_kind[series->count - 1] == DAY_OPEN &&
           made->tmax_kind[series->count - 1] == DAY_OPEN)
        series->count--;
    if (end_of(series) - 1 > sources->as_of)
        made->days_ahead = (size_t)(end_of(series) - 1 - sources->as_of);
}

/* ---- the site -------------------------------------------------------------------------------- */

static void find_changes(const struct site *site, struct station_record *made)
{
    const struct station *station = site->station;

    if (station == NULL)
        return;
    made->tmin_change_c =
        elevation_change_c(station->tmin_lapse_c_per_km, station->elevation_m, site->elevation_m);
    made->tmax_change_c =
        elevation_change_c(station->tmax_lapse_c_per_km, station->elevation_m, site->elevation_m);
    made->no_elevation = isnan(made->tmin_change_c);
    if (made->no_elevation)
        made->tmin_change_c = made->tmax_change_c = 0;
}

/* What is less direct yields; of equals, which only rates that differ can turn round, both to their
 * mean, so that no heat is made. */
static void keep_order(struct station_record *made)
{
    for (size_t i = 0; i < made->series.count; i++) {
        double *tmin_c = &made->series.tmin_c[i], *tmax_c = &made->series.tmax_c[i];

        if (!(*tmin_c > *tmax_c))
            continue;
        if (made->tmin_kind[i] > made->tmax_kind[i])
            *tmin_c = *tmax_c;
        else if (made->tmin_kind[i] < made->tmax_kind[i])
            *tmax_c = *tmin_c;
        else
            *tmin_c = *tmax_c = (*tmin_c + *tmax_c) / 2;
    }
}

static void move_to_site(struct station_record *made)
{
    for (size_t i = 0; i < made->series.count; i++) {
        made->series.tmin_c[i] += made->tmin_change_c;
        made->series.tmax_c[i] += made->tmax_change_c;
    }
    keep_order(made);
}

struct station_record station_record_of(const struct orchard *orchard, const struct site *site,
                                        daynum as_of, struct arena *arena)
{
    struct sources sources = {.orchard = orchard, .station = site->station, .as_of = as_of};
    struct station_record made = {.series = {.station = site->station_name, .first_day = as_of},
                                  .reads_morning =
                                      site->station != NULL && site->station->reads_morning,
                                  .forecast_last = DAY_NONE};

    sources.own = observed_days_of(site->record, site->station, as_of, arena);
    made.newest_observed = observed_days_newest(&sources.own);
    find_neighbour(&sources, &made, arena);
    find_changes(site, &made);
    if (sources.own.count == 0 && sources.neighbour.count == 0)
        return made;
    find_forecasts(&sources, site->station_name);
    make_room(&sources, &made, arena);
    take_own(&sources, &made);
    take_neighbour(&sources, &made);
    take_forecasts(&sources, &made);
    move_to_site(&made);
    return made;
}

enum day_kind station_record_kind(const struct station_record *record, daynum day)
{
    int64_t i = (int64_t)day - record->series.first_day;
    unsigned char minimum, maximum;

    if (i < 0 || i >= (int64_t)record->series.count)
        return DAY_OPEN;
    minimum = record->tmin_kind[i];
    maximum = record->tmax_kind[i];
    if (minimum == DAY_OPEN || maximum == DAY_OPEN)
        return DAY_OPEN;
    return (enum day_kind)(minimum > maximum ? minimum : maximum);
}
