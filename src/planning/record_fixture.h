/*
 * record_fixture.h - stations with days that are easy to tell apart, for the tests of what a site's
 * weather is made of.
 */
#ifndef PLANNING_RECORD_FIXTURE_H
#define PLANNING_RECORD_FIXTURE_H

#include "orchard/fixture.h"
#include "planning/station_record.h"

/* A row of stations.csv with every optional cell blank. */
static inline struct station *add_station(struct fixture *fixture, const char *name)
{
    struct station *row = FIXTURE_PUSH(fixture, stations);

    *row = (struct station){.place = fixture_place(fixture, "stations.csv"),
                            .name = name,
                            .latitude = NAN,
                            .longitude = NAN,
                            .elevation_m = NAN,
                            .utc_offset_h = NAN,
                            .tmin_lapse_c_per_km = NAN,
                            .tmax_lapse_c_per_km = NAN};
    return row;
}

/* Days from first to last: minimum base_c and a hundredth a day, maximum ten more. */
static inline struct record *add_steps(struct fixture *fixture, const char *station,
                                       const char *first, const char *last, double base_c)
{
    daynum start = fixture_day(first);
    struct record *record =
        add_record(fixture, station, first, (size_t)(fixture_day(last) - start + 1));

    for (size_t i = 0; i < record->count; i++) {
        record->tmin_c[i] = base_c + 0.01 * (double)(start + (daynum)i - fixture_day("2027-01-01"));
        record->tmax_c[i] = record->tmin_c[i] + 10;
    }
    return record;
}

/* A forecast of `days` from first, minimum base_c and maximum ten more. */
static inline struct forecast *add_forecast(struct fixture *fixture, const char *station,
                                            const char *issued, const char *first, size_t days,
                                            double base_c)
{
    struct forecast *row = FIXTURE_PUSH(fixture, forecasts);

    *row = (struct forecast){.place = {.file = station, .line = (unsigned)++fixture->line},
                             .station = station,
                             .issued = fixture_day(issued),
                             .issued_minute = (int64_t)fixture_day(issued) * 1440,
                             .first_day = fixture_day(first),
                             .count = days};
    row->tmin_c = ARENA_ARRAY(&fixture->arena, days, double);
    row->tmax_c = ARENA_ARRAY(&fixture->arena, days, double);
    for (size_t i = 0; i < days; i++) {
        row->tmin_c[i] = base_c;
        row->tmax_c[i] = base_c + 10;
    }
    return row;
}

static inline void lose(struct record *record, const char *first, const char *last)
{
    for (daynum day = fixture_day(first); day <= fixture_day(last); day++)
        record->tmin_c[day - record->first_day] = record->tmax_c[day - record->first_day] =
            (double)NAN;
}

#endif
