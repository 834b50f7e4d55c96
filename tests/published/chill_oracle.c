/*
 * chill_oracle - chilling and growing units, and dates of three dormancy models.
 *
 * Sources: chill_winters_hourly.csv (6,074 real hours, chillR 0.77), chill_bins.csv and
 * chill_constant_T.csv (the same program); chill_forcing_models.csv (99 winters) and
 * chillforce_ka.csv (12 winters), computed outside this repository from the daily temperatures
 * of ../opendata.  chillR lets an hour's temperature count for the hour after: its portions stand
 * one row later than ours, and its hours to a portion are one more.
 */
#include "conetide/chill.h"

#include "base/day.h"
#include "oracle.h"

static void real_hours_agree(void **state)
{
    struct oracle oracle;
    struct conetide_dynamic dynamic = {0, 0};
    double low_and_high = 0, up_to = 0, utah = 0, growing = 0;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "chill_winters_hourly.csv");
    for (; oracle_next(&oracle); rows++) {
        double temperature_c = oracle_number(&oracle, "T");

        assert_near(dynamic.portions, oracle_number(&oracle, "CP"), 1e-11);
        conetide_dynamic_hour(&dynamic, temperature_c);
        low_and_high += conetide_chill_hour(temperature_c, 0, 7.2);
        up_to += conetide_chill_hour(temperature_c, -INFINITY, 7.2);
        utah += conetide_utah_unit(temperature_c);
        growing += conetide_growing_degree_hour(temperature_c, &conetide_anderson);
        assert_near(low_and_high, oracle_number(&oracle, "CH_0_72"), 0);
        assert_near(up_to, oracle_number(&oracle, "CH_le72"), 0);
        assert_near(utah, oracle_number(&oracle, "Utah"), 0);
        assert_near(growing, oracle_number(&oracle, "GDH"), 1e-8); /* of 72,925 */
    }
    print_message("%zu hours: %.9f portions, %.0f chilling hours, %.3f growing degree hours\n",
                  rows, dynamic.portions, low_and_high, growing);
    assert_int_equal(rows, 6074);
}

static void every_bin_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "chill_bins.csv");
    for (; oracle_next(&oracle); rows++) {
        double temperature_c = oracle_number(&oracle, "T");

        assert_near(conetide_utah_unit(temperature_c), oracle_number(&oracle, "utah"), 0);
        assert_near(conetide_chill_hour(temperature_c, 0, 7.2), oracle_number(&oracle, "ch"), 0);
        assert_near(conetide_growing_degree_hour(temperature_c, &conetide_anderson),
                    oracle_number(&oracle, "gdh"), 1e-10);
    }
    assert_int_equal(rows, 200);
}

/* Hours until the portions rise the first and second time, 0 when they do not. */
static void constant_temperatures_agree(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "chill_constant_T.csv");
    for (; oracle_next(&oracle); rows++) {
        struct conetide_dynamic dynamic = {0, 0};
        double first_portion = 0, last = 0, rises[2] = {0, 0};
        size_t count = 0;

        for (int hour = 1; hour < 2000; hour++) {
            if (hour == 1000) /* 999 of ours are 1,000 there */
                assert_near(dynamic.portions, oracle_number(&oracle, "cp1000"), 1e-12 * 1000);
            conetide_dynamic_hour(&dynamic, oracle_number(&oracle, "T"));
            if (dynamic.portions > last && count < 2)
                rises[count++] = hour;
            if (count == 1 && first_portion <= 0)
                first_portion = dynamic.portions;
            last = dynamic.portions;
        }
        assert_near(dynamic.portions, oracle_number(&oracle, "cp2000"), 1e-12 * 2000);
        if (strcmp(oracle_text(&oracle, "first"), "NA") == 0) {
            assert_int_equal(count, 0);
            continue;
        }
        assert_near(rises[0] + 1, oracle_number(&oracle, "first"), 0);
        assert_near(rises[1] + 1, oracle_number(&oracle, "second"), 0);
        assert_near(first_portion, oracle_number(&oracle, "delta1"), 1e-12);
    }
    assert_int_equal(rows, 10);
}

/* Daily means of a station, a NaN for each day without. */
enum { MOST_DAYS = 40000 };
struct means {
    daynum first;
    size_t days;
    double mean_c[MOST_DAYS];
};

static struct means station;

static void read_station(const char *name)
{
    struct oracle oracle;

    station.days = 0;
    oracle_open(&oracle, name);
    while (oracle_next(&oracle)) {
        const char *date = oracle_text(&oracle, "date");
        daynum day;
        size_t i;

        assert_true(day_parse(strlen(date), date, &day));
        if (station.days == 0)
            station.first = day;
        i = (size_t)(day - station.first);
        assert_true(i >= station.days && i < MOST_DAYS);
        while (station.days < i)
            station.mean_c[station.days++] = NAN;
        station.mean_c[station.days++] =
            (oracle_number(&oracle, "tmin_c") + oracle_number(&oracle, "tmax_c")) / 2;
    }
}

enum { SEASON = 400 };
static double chill[SEASON], heat[SEASON];

/* The rates of a season from its first day to 31 August; how many days. */
static struct conetide_dormancy season_of(daynum from, int year, double (*chill_of)(double mean_c),
                                          double (*heat_of)(double mean_c))
{
    size_t days = (size_t)(day_from_civil(year, 8, 31) - from);

    assert_true(days < SEASON);
    for (size_t i = 0; i < days; i++) {
        size_t at = (size_t)(from - station.first) + i;
        double mean_c =
            from >= station.first && at < station.days ? station.mean_c[at] : (double)NAN;

        chill[i] = chill_of(mean_c);
        heat[i] = heat_of(mean_c);
    }
    return (struct conetide_dormancy){days, chill, heat};
}

/* Day of the year of an index; of the year before: counted back from 0 on 31 December. */
static double day_of(daynum from, size_t index, int year)
{
    return (double)(from + (daynum)index - day_from_civil(year, 1, 1) + 1);
}

static double up_to_7_2(double mean_c)
{
    return conetide_chill_hour(mean_c, -INFINITY, 7.2);
}

static double up_to_5(double mean_c)
{
    return conetide_chill_hour(mean_c, -INFINITY, 5);
}

static double over_5(double mean_c)
{
    return isnan(mean_c) ? mean_c : fmax(0, mean_c - 5);
}

static double triangle(double mean_c)
{
    return conetide_chilling_rate(mean_c, -3.4, 3.5, 10.4);
}

/* The three models from 1 October with chill up to 7.2 and heat over 5; alternating chill up to 5
 * from 1 November and heat from 1 January. */
static size_t check_winter(const struct oracle *oracle, int year)
{
    static const struct conetide_sequential_need sequential = {40, 150};
    static const struct conetide_parallel_need parallel = {60, 150, 0.2};
    daynum october = day_from_civil(year - 1, 10, 1), november = day_from_civil(year - 1, 11, 1);
    struct conetide_alternating_need alternating = {(size_t)(day_from_civil(year, 1, 1) - november),
                                                    50, 400, -0.03};
    struct conetide_dormancy season = season_of(october, year, up_to_7_2, over_5);
    enum conetide_status status;
    size_t index, checked = 2;

    status = conetide_sequential(&season, &sequential, &index);
    if (*oracle_text(oracle, "sequential_doy") == '\0') {
        assert_int_equal(status, CONETIDE_NOT_REACHED); /* too few chilling days */
    } else {
        assert_int_equal(status, CONETIDE_OK);
        assert_near(day_of(october, index, year), oracle_number(oracle, "sequential_doy"), 0);
        checked++;
    }
    /* here a day's own chill counts for its heat, that of 1 October too */
    season = season_of(october - 1, year, up_to_7_2, over_5);
    season.chill = chill + 1;
    season.days--;
    heat[0] = 0;
    assert_int_equal(conetide_parallel(&season, &parallel, &index), CONETIDE_OK);
    assert_near(day_of(october - 1, index, year), oracle_number(oracle, "parallel_doy"), 0);
    season = season_of(november, year, up_to_5, over_5);
    assert_int_equal(conetide_alternating(&season, &alternating, &index), CONETIDE_OK);
    assert_near(day_of(november, index, year), oracle_number(oracle, "alternating_doy"), 0);
    return checked;
}

static void winters_of_two_stations_agree(void **state)
{
    static const char *const stations[][2] = {
        {"griffin_ga", "../opendata/south/griffin_ga_daily.csv"},
        {"washingtondc", "../opendata/washington/weather.csv"}};
    size_t checked = 0;

    (void)state;
    for (size_t s = 0; s < COUNT(stations); s++) {
        struct oracle oracle;

        read_station(stations[s][1]);
        oracle_open(&oracle, "chill_forcing_models.csv");
        while (oracle_next(&oracle)) {
            if (strcmp(oracle_text(&oracle, "site"), stations[s][0]) == 0)
                checked += check_winter(&oracle, (int)oracle_number(&oracle, "year"));
        }
    }
    print_message("%zu dates\n", checked);
    assert_int_equal(checked, 294); /* of 297: three winters chill too little */
}

/* Triangular chilling and sigmoid forcing from 1 September; Sitka spruce's alternating need. */
static void winters_of_klein_altendorf_agree(void **state)
{
    static const struct conetide_sequential_need sequential = {60, 130};
    static const struct conetide_parallel_need parallel = {60, 130, 0.1};
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    read_station("../opendata/klein_altendorf/ka_daily.csv");
    oracle_open(&oracle, "chillforce_ka.csv");
    for (; oracle_next(&oracle); rows++) {
        int year = (int)oracle_number(&oracle, "year");
        daynum september = day_from_civil(year - 1, 9, 1);
        daynum november = day_from_civil(year - 1, 11, 1), february = day_from_civil(year, 2, 1);
        const struct conetide_alternating_need alternating = {(size_t)(february - november), 67.4,
                                                              4401.8, -0.042};
        struct conetide_dormancy season =
            season_of(september, year, triangle, conetide_forcing_rate);
        size_t index;
        double chill_days = 0, heat_sum = 0, doy;

        assert_int_equal(conetide_sequential(&season, &sequential, &index), CONETIDE_OK);
        assert_near(day_of(september, index, year),
                    oracle_number(&oracle, "sequential_doy_C60_F130"), 0);
        assert_int_equal(conetide_parallel(&season, &parallel, &index), CONETIDE_OK);
        doy = day_of(september, index, year);
        if (doy < 1) /* printed as the day of its own year */
            doy = day_of_year(september + (daynum)index);
        assert_near(doy, oracle_number(&oracle, "parallel_doy_C60_F130_km0.1"), 0);
        season = season_of(november, year, up_to_5, over_5);
        assert_int_equal(conetide_alternating(&season, &alternating, &index), CONETIDE_OK);
        assert_near(day_of(november, index, year), oracle_number(&oracle, "alternating_doy"), 0);
        for (size_t i = 0; i <= index; i++) {
            chill_days += chill[i];
            heat_sum += i >= alternating.heat_from ? heat[i] : 0;
        }
        assert_near(chill_days, oracle_number(&oracle, "alternating_chilldays"), 0);
        assert_near(heat_sum, oracle_number(&oracle, "alternating_thermaltime"), 1e-9);
    }
    assert_int_equal(rows, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(real_hours_agree),
        cmocka_unit_test(every_bin_agrees),
        cmocka_unit_test(constant_temperatures_agree),
        cmocka_unit_test(winters_of_two_stations_agree),
        cmocka_unit_test(winters_of_klein_altendorf_agree),
    };

    return cmocka_run_group_tests_name("chilling", tests, NULL, NULL) != 0;
}
