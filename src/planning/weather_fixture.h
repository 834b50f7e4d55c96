/*
 * weather_fixture.h - sites with weather that is easy to reckon with, for the unit tests of this
 * room.
 *
 * Two sites stand where calendar dates of the base site move by no day, one on each hemisphere.
 * Their clock "flat" counts the mean of a day from the first day of the calendar year (south: from
 * 1 July), so that a day of h degrees gives h heat units.
 */
#ifndef PLANNING_WEATHER_FIXTURE_H
#define PLANNING_WEATHER_FIXTURE_H

#include "orchard/fixture.h"
#include "planning/dates.h"

static const struct season_rule fixture_north = {{7, 1}, true}, fixture_south = {{1, 1}, false};

static inline void add_clock(struct fixture *fixture, const char *name, struct month_day start)
{
    struct program *program = &fixture->orchard.program;
    struct clock *clocks = ARENA_ARRAY(&fixture->arena, program->clock_count + 1, struct clock);

    memcpy(clocks, program->clocks, program->clock_count * sizeof *clocks);
    clocks[program->clock_count++] =
        (struct clock){.name = name,
                       .rule = {&conetide_average, CONETIDE_CUTOFF_NONE, 0, NAN},
                       .start = start,
                       .end_days = 240,
                       .place = {"program.json", 1, 0}};
    program->clocks = clocks;
}

/* Sites Nord and Syd of stations NORD and SYD, clocks "flat" and "flat-south". */
static inline void add_weather_sites(struct fixture *fixture)
{
    struct site *north = add_site(fixture, "Nord"), *south;

    north->station_name = "NORD";
    north->latitude = 32.2;
    north->elevation_m = 60.96;
    south = add_site(fixture, "Syd");
    south->station_name = "SYD";
    south->latitude = -32.2;
    south->elevation_m = 60.96;
    add_clock(fixture, "flat", (struct month_day){1, 1});
    add_clock(fixture, "flat-south", (struct month_day){7, 1});
}

typedef double mean_c_function(int season, daynum day);

/* Seasons first to last of a rule; a day runs 3 degrees either side of its mean. */
static inline struct record *add_seasons(struct fixture *fixture, const char *station,
                                         struct season_rule rule, int first, int last,
                                         mean_c_function *mean_c)
{
    daynum start = day_season_start(rule, first), end = day_season_start(rule, last + 1);
    char text[DAY_TEXT];
    struct record *record =
        add_record(fixture, station, day_text(start, text), (size_t)(end - start));

    for (daynum day = start; day < end; day++) {
        double mean = mean_c(day_season(rule, day), day);

        record->tmin_c[day - start] = mean - 3;
        record->tmax_c[day - start] = mean + 3;
    }
    return record;
}

/* 4, 5 and 6 degrees by turns of seasons. */
static inline double by_turns_c(int season, daynum day)
{
    (void)day;
    return 4 + season % 3;
}

static inline struct threshold *add_sum(struct fixture *fixture, enum event event,
                                        const char *clock, double units_c)
{
    struct threshold *row = add_threshold(fixture, event, NULL, NULL, NULL);

    row->clock_name = clock;
    row->heat_units_c = units_c;
    return row;
}

static inline struct threshold *add_after(struct fixture *fixture, enum event event,
                                          enum event after, int days)
{
    struct threshold *row = add_threshold(fixture, event, NULL, NULL, NULL);

    row->kind = THRESHOLD_AFTER;
    row->clock_name = NULL;
    row->after = after;
    row->after_days = days;
    return row;
}

static inline struct threshold *add_calendar(struct fixture *fixture, enum event event, int month,
                                             int day)
{
    struct threshold *row = add_threshold(fixture, event, NULL, NULL, NULL);

    row->kind = THRESHOLD_CALENDAR;
    row->clock_name = NULL;
    row->calendar_day = (struct month_day){month, day};
    row->basis = BASIS_CALENDAR;
    row->shipped = true;
    return row;
}

/* Peak on 8 March, the other events some days from it, as shipped defaults have them. */
static inline void add_calendar_events(struct fixture *fixture)
{
    static const struct {
        enum event event, after;
        int days;
    } rows[] = {{EVENT_OPENING, EVENT_PEAK, -7},
                {EVENT_FIRST, EVENT_PEAK, -3},
                {EVENT_LAST, EVENT_PEAK, 4}};

    add_calendar(fixture, EVENT_PEAK, 3, 8);
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct threshold *row = add_after(fixture, rows[i].event, rows[i].after, rows[i].days);

        row->basis = BASIS_CALENDAR;
        row->shipped = true;
    }
}

/* Forget what as_of does not know, link, and start the dates of a run. */
static inline struct dates *dates_on(struct fixture *fixture, const char *as_of)
{
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    return dates_new(&fixture->orchard, &fixture->arena);
}

#define assert_day(got, want)                                                                      \
    do {                                                                                           \
        char got_text_[DAY_TEXT];                                                                  \
        assert_string_equal(day_text((got), got_text_), want);                                     \
    } while (0)

#endif
