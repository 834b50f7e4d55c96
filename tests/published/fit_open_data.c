/*
 * fit_open_data - requirements fitted to published series of dates, each season predicted by the
 * search done without it.
 *
 * Data: ../opendata/washington (70 % of Yoshino cherry blossoms open, 1951 to 2025),
 * ../opendata/klein_altendorf (sweet cherry, 1999 to 2008), ../opendata/tudela (nectarine, start of
 * bloom, 2001 to 2010), ../opendata/lodgepole (receptivity of lodgepole pine in two orchards,
 * 1997 to 2009), each with a SOURCE.md.
 *
 * Searched, the same for all: single sine without cut-off, lower thresholds -4 to 10 deg C by 0.5,
 * sums from day -60 (1 November) to day 80 of the year by 5, constant requirement: 841 cells.  The
 * rule is the library's usual one: mean requirement, middle of the cells within a standard error of
 * the best.  Limits are what a search by itself gave on the same data outside this repository.
 */
#include "conetide/requirement_fit.h"

#include "base/day.h"
#include "oracle.h"

#include <time.h>

enum {
    SEASONS_MOST = 80,
    DAYS = 240,
    LOWERS = 29,
    STARTS = 29,
    STATION_MOST = 30000,
    TREES_MOST = 1000,
    WORKSPACE = 200000
};

static double station_tmin_c[STATION_MOST], station_tmax_c[STATION_MOST];
static daynum station_first;
static size_t station_days;

static void read_station(const char *name)
{
    struct oracle oracle;

    station_days = 0;
    oracle_open(&oracle, name);
    while (oracle_next(&oracle)) {
        const char *date = oracle_text(&oracle, "date");
        daynum day;

        assert_true(day_parse(strlen(date), date, &day));
        if (station_days == 0)
            station_first = day;
        assert_true(station_days < STATION_MOST && (size_t)(day - station_first) >= station_days);
        for (; station_days < (size_t)(day - station_first); station_days++)
            station_tmin_c[station_days] = station_tmax_c[station_days] = NAN;
        station_tmin_c[station_days] = oracle_number(&oracle, "tmin_c");
        station_tmax_c[station_days++] = oracle_number(&oracle, "tmax_c");
    }
}

static double tmin_c[SEASONS_MOST * DAYS], tmax_c[SEASONS_MOST * DAYS];
static struct conetide_visits events[SEASONS_MOST];

/* Day 0 of a season: day -60 of the year, when 1 January is day 1. */
static daynum first_of(int year)
{
    return day_from_civil(year, 1, 1) - 61;
}

/* Lay the station's days on season `n` and its event on its day of the year. */
static void add_season(size_t n, int year, int doy)
{
    assert_true(n < SEASONS_MOST);
    for (int i = 0; i < DAYS; i++) {
        daynum at = first_of(year) + i - station_first;
        bool known = at >= 0 && (size_t)at < station_days;

        tmin_c[n * DAYS + (size_t)i] = known ? station_tmin_c[at] : (double)NAN;
        tmax_c[n * DAYS + (size_t)i] = known ? station_tmax_c[at] : (double)NAN;
    }
    events[n] = (struct conetide_visits){doy + 59, doy + 60};
}

static void say(const char *what, const struct conetide_errors *errors)
{
    print_message("  %-9s RMSE %5.2f  MAE %5.2f  bias %+5.2f  worst %4.1f days\n", what,
                  errors->rmse_days, errors->mae_days, errors->bias_days, errors->worst_days);
}

static double lower_of(size_t index)
{
    return -4 + 0.5 * (double)index;
}

static int start_of(size_t index)
{
    return 5 * (int)index - 60;
}

static struct conetide_requirement fit(const char *what, size_t seasons)
{
    static const struct conetide_curve *const curves[] = {&conetide_sine};
    static const double constant[] = {0};
    static double lower[LOWERS], workspace[WORKSPACE];
    static int32_t start[STARTS];
    const struct conetide_fit_task task = {
        {seasons, DAYS, tmin_c, tmax_c, events},
        {1, LOWERS, STARTS, 1, curves, lower, start, constant, CONETIDE_CUTOFF_NONE, NAN},
        conetide_usual_fit};
    struct conetide_requirement found;
    clock_t began;

    for (size_t i = 0; i < LOWERS; i++)
        lower[i] = lower_of(i);
    for (size_t i = 0; i < STARTS; i++)
        start[i] = start_of(i) + 60;
    assert_true(conetide_fit_workspace(&task) <= WORKSPACE);
    began = clock();
    assert_int_equal(conetide_fit_requirement(&task, workspace, NULL, &found), CONETIDE_OK);
    print_message("%s: %zu seasons in %.0f ms: over %.1f deg C from day %d: %.1f, sd %.1f\n", what,
                  seasons, 1000.0 * (double)(clock() - began) / CLOCKS_PER_SEC,
                  lower_of(found.chosen.lower), start_of(found.chosen.start), found.units,
                  found.units_sd);
    print_message("  valley of %zu cells: %.1f to %.1f deg C, days %d to %d\n", found.valley_cells,
                  lower_of(found.valley_least.lower), lower_of(found.valley_most.lower),
                  start_of(found.valley_least.start), start_of(found.valley_most.start));
    say("fitted", &found.fitted);
    say("left out", &found.left_out);
    say("nested", &found.nested);
    say("calendar", &found.calendar);
    assert_int_equal(found.edges, 0);
    assert_true(found.nested.rmse_days < 0.6 * found.calendar.rmse_days);
    return found;
}

static void washington(void **state)
{
    struct oracle oracle;
    struct conetide_requirement found;
    size_t n = 0;

    (void)state;
    read_station("../opendata/washington/weather.csv");
    oracle_open(&oracle, "../opendata/washington/bloom.csv");
    while (oracle_next(&oracle)) {
        int year = (int)oracle_number(&oracle, "year");

        if (year >= 1951 && year <= 2025)
            add_season(n++, year, (int)oracle_number(&oracle, "bloom_doy"));
    }
    assert_int_equal(n, 75);
    found = fit("Washington", n);
    assert_true(found.nested.rmse_days <= 3.8);
    assert_true(fabs(found.nested.bias_days) <= 0.5);
}

static void klein_altendorf(void **state)
{
    struct oracle oracle;
    struct conetide_requirement found;
    size_t n = 0;

    (void)state;
    read_station("../opendata/klein_altendorf/ka_daily.csv");
    oracle_open(&oracle, "../opendata/klein_altendorf/ka_bloom.csv");
    while (oracle_next(&oracle)) {
        int year = (int)oracle_number(&oracle, "Year");

        if (year >= 1999)
            add_season(n++, year, (int)oracle_number(&oracle, "pheno"));
    }
    assert_int_equal(n, 10);
    found = fit("Klein-Altendorf", n);
    assert_true(found.nested.rmse_days <= 1.8);
}

static void tudela(void **state)
{
    struct oracle oracle;
    struct conetide_requirement found;
    size_t n = 0;

    (void)state;
    read_station("../opendata/tudela/tudela_daily.csv");
    oracle_open(&oracle, "../opendata/tudela/bigtop_phenology.csv");
    while (oracle_next(&oracle))
        add_season(n++, (int)oracle_number(&oracle, "Year"), (int)oracle_number(&oracle, "sbloom"));
    assert_int_equal(n, 10);
    found = fit("Tudela", n);
    assert_true(found.nested.rmse_days <= 2.4);
}

static int by_day(const void *one, const void *other)
{
    daynum a = *(const daynum *)one, b = *(const daynum *)other;

    return (a > b) - (a < b);
}

/* The middle tree of an orchard's year, by its last visit before and its first visit after; false
 * when fewer than 20 trees have both. */
static bool middle_tree(const char *site, int year, struct conetide_visits *visits)
{
    static daynum before[TREES_MOST], after[TREES_MOST];
    struct oracle oracle;
    size_t n = 0;

    oracle_open(&oracle, "../opendata/lodgepole/dates.csv");
    while (oracle_next(&oracle)) {
        const char *not_yet = oracle_text(&oracle, "last_not_yet");
        const char *seen = oracle_text(&oracle, "first_seen");

        if (strcmp(oracle_text(&oracle, "sex"), "female") == 0 &&
            strcmp(oracle_text(&oracle, "site"), site) == 0 &&
            (int)oracle_number(&oracle, "year") == year && n < TREES_MOST &&
            day_parse(strlen(not_yet), not_yet, &before[n]) &&
            day_parse(strlen(seen), seen, &after[n]))
            n++;
    }
    if (n < 20)
        return false;
    qsort(before, n, sizeof *before, by_day);
    qsort(after, n, sizeof *after, by_day);
    *visits =
        (struct conetide_visits){before[n / 2] - first_of(year), after[n / 2] - first_of(year)};
    return true;
}

/* One requirement for both orchards. */
static void lodgepole_pine(void **state)
{
    static const char *const sites[][2] = {
        {"PGTIS", "../opendata/lodgepole/weather_PGTIS.csv"},
        {"Kalamalka", "../opendata/lodgepole/weather_Kalamalka.csv"}};
    struct conetide_requirement found;
    size_t n = 0;

    (void)state;
    for (size_t site = 0; site < COUNT(sites); site++) {
        read_station(sites[site][1]);
        for (int year = 1997; year <= 2009; year++) {
            struct conetide_visits visits;

            if (middle_tree(sites[site][0], year, &visits)) {
                add_season(n, year, 1);
                events[n++] = visits;
            }
        }
    }
    assert_int_equal(n, 14);
    found = fit("lodgepole pine", n);
    assert_true(found.nested.mae_days <= 1.9); /* of a base chosen beforehand: 1.7 to 1.9 */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(washington),
        cmocka_unit_test(klein_altendorf),
        cmocka_unit_test(tudela),
        cmocka_unit_test(lodgepole_pine),
    };

    return cmocka_run_group_tests_name("fits to open data", tests, NULL, NULL) != 0;
}
