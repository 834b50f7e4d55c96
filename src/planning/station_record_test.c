#include "planning/station_record.h"

#include "planning/record_fixture.h"
#include "planning/season_rows.h"

static struct station_record record_on(struct fixture *fixture, const char *as_of)
{
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    return station_record_of(&fixture->orchard, &fixture->orchard.sites.list[0], fixture_day(as_of),
                             &fixture->arena);
}

static double tmin_on(const struct station_record *record, const char *day)
{
    return record->series.tmin_c[fixture_day(day) - record->series.first_day];
}

static double tmax_on(const struct station_record *record, const char *day)
{
    return record->series.tmax_c[fixture_day(day) - record->series.first_day];
}

#define assert_kind(record, day, kind)                                                             \
    assert_int_equal(station_record_kind(record, fixture_day(day)), kind)

/* Site Nord of HOLM at 300 m, with neighbour TARN. */
static struct station *add_pair(struct fixture *fixture)
{
    struct station *station;

    add_station(fixture, "TARN");
    station = add_station(fixture, "HOLM");
    add_site(fixture, "Nord");
    station->neighbour = "TARN";
    return station;
}

static void a_site_without_any_weather_has_an_empty_record(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    record = record_on(fixture, "2027-02-01");
    assert_int_equal(record.series.count, 0);
    assert_int_equal(record.newest_observed, DAY_NONE);
    assert_null(record.neighbour);
    assert_kind(&record, "2027-02-01", DAY_OPEN);
}

static void a_station_without_a_row_is_taken_as_it_is(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_site(fixture, "Nord");
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-10", 1);
    record = record_on(fixture, "2027-02-01");
    assert_int_equal(record.series.count, 32);
    assert_near(tmin_on(&record, "2027-01-01"), 1, 0);
    assert_kind(&record, "2027-02-01", DAY_OBSERVED);
    assert_false(record.no_elevation);
    assert_int_equal(record.days_ahead, 0);
}

static void both_extremes_move_to_the_site_by_their_own_rates(void **state)
{
    struct fixture *fixture = *state;
    struct station *station = add_pair(fixture);
    struct station_record record;

    /* 384 m up by the Georgia rates of facts/degreedays.md 5.7 */
    station->elevation_m = 300 - 384;
    station->tmin_lapse_c_per_km = 5.5;
    station->tmax_lapse_c_per_km = 4.2;
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-10", 1);
    record = record_on(fixture, "2027-02-01");
    assert_near(record.tmin_change_c, -2.112, 1e-12);
    assert_near(tmin_on(&record, "2027-01-01"), 1 - 2.112, 1e-12);
    assert_near(tmax_on(&record, "2027-01-01"), 11 - 1.6128, 1e-12);
}

static void without_both_elevations_nothing_is_moved(void **state)
{
    struct fixture *fixture = *state;
    struct station *station = add_pair(fixture);
    struct station_record record;

    station->tmin_lapse_c_per_km = 6;
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-10", 1);
    record = record_on(fixture, "2027-02-01");
    assert_true(record.no_elevation);
    assert_near(tmin_on(&record, "2027-01-01"), 1, 0);
}

static void rates_that_turn_a_day_round_leave_its_mean(void **state)
{
    struct fixture *fixture = *state;
    struct station *station = add_pair(fixture);
    struct record *days = add_steps(fixture, "HOLM", "2027-01-01", "2027-01-03", 1);
    struct station_record record;

    station->elevation_m = -700; /* 1 km below */
    station->tmin_lapse_c_per_km = 3;
    station->tmax_lapse_c_per_km = 7;
    days->tmax_c[1] = days->tmin_c[1] + 2; /* less than the 4 by which the rates differ */
    record = record_on(fixture, "2027-02-01");
    assert_near(tmin_on(&record, "2027-01-02"), 1.01 + (2 - 3 - 7) / 2.0, 1e-12);
    assert_near(tmax_on(&record, "2027-01-02"), tmin_on(&record, "2027-01-02"), 0);
}

static void a_week_stays_for_the_line_and_a_longer_gap_is_the_neighbours(void **state)
{
    struct fixture *fixture = *state;
    struct record *own;
    struct station_record record;

    add_pair(fixture);
    own = add_steps(fixture, "HOLM", "2027-01-01", "2027-03-31", 1);
    add_steps(fixture, "TARN", "2027-01-01", "2027-03-31", 5); /* 4 warmer, to the hundredth */
    lose(own, "2027-01-05", "2027-01-11");
    lose(own, "2027-02-03", "2027-02-10");
    record = record_on(fixture, "2027-03-31");
    assert_kind(&record, "2027-01-08", DAY_OPEN);
    assert_kind(&record, "2027-02-02", DAY_OBSERVED);
    assert_kind(&record, "2027-02-03", DAY_NEIGHBOUR);
    assert_kind(&record, "2027-02-10", DAY_NEIGHBOUR);
    assert_near(tmin_on(&record, "2027-02-03"), 1.33, 1e-12);
    assert_near(tmax_on(&record, "2027-02-10"), 11.4, 1e-12);
    assert_near(record.tmin_offsets.c[1], -4, 1e-12);
    assert_int_equal(record.tmin_offsets.common_days, 90 - 15);
    assert_string_equal(record.neighbour, "TARN");
}

static void each_extreme_is_filled_for_itself_and_yields_to_the_one_observed(void **state)
{
    struct fixture *fixture = *state;
    struct record *own;
    struct station_record record;

    add_pair(fixture);
    own = add_steps(fixture, "HOLM", "2027-01-01", "2027-03-31", 1);
    add_steps(fixture, "TARN", "2027-01-01", "2027-03-31", 5);
    for (size_t i = 40; i < 60; i++)
        own->tmax_c[i] = NAN;
    own->tmin_c[50] = 30; /* above what the neighbour lends */
    record = record_on(fixture, "2027-03-31");
    assert_kind(&record, "2027-02-10", DAY_NEIGHBOUR);
    assert_near(tmin_on(&record, "2027-02-10"), 1.4, 1e-12);
    assert_near(tmax_on(&record, "2027-02-10"), 11.4, 1e-9);
    assert_near(tmin_on(&record, "2027-02-20"), 30, 0);
    assert_near(tmax_on(&record, "2027-02-20"), 30, 0);
}

static void a_young_logger_has_its_past_from_the_neighbour(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    add_steps(fixture, "HOLM", "2027-01-10", "2027-02-20", 1);
    add_steps(fixture, "TARN", "2015-01-01", "2027-02-28", 5);
    record = record_on(fixture, "2027-02-25");
    assert_int_equal(record.series.first_day, fixture_day("2015-01-01"));
    assert_kind(&record, "2015-01-01", DAY_NEIGHBOUR);
    assert_near(tmin_on(&record, "2026-02-01"), 1 + 0.01 * -334, 1e-9);
    assert_kind(&record, "2027-02-20", DAY_OBSERVED);
    assert_kind(&record, "2027-02-25", DAY_NEIGHBOUR); /* after its last day too */
    assert_int_equal(record.newest_observed, fixture_day("2027-02-20"));
    assert_int_equal(record.neighbour_newest, fixture_day("2027-02-25"));
    assert_kind(&record, "2027-02-26", DAY_OPEN);
}

static void a_site_without_a_day_of_its_own_lives_by_the_neighbour_and_elevations(void **state)
{
    struct fixture *fixture = *state;
    struct station *station = add_pair(fixture);
    struct station_record record;

    station->elevation_m = 300;
    station->tmin_lapse_c_per_km = 6;
    fixture->orchard.stations.list[0].elevation_m = 100;
    add_steps(fixture, "TARN", "2027-01-01", "2027-02-28", 5);
    record = record_on(fixture, "2027-02-25");
    assert_int_equal(record.tmin_offsets.origin[0], OFFSET_OF_ELEVATION);
    assert_near(tmin_on(&record, "2027-01-01"), 5 - 1.2, 1e-12);
    assert_near(tmax_on(&record, "2027-01-01"), 15 - 1, 1e-12); /* 5 deg C/km */
}

static void a_neighbours_neighbour_is_not_followed(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    add_station(fixture, "WICK");
    for (size_t i = 0; i < 3; i++)
        if (strcmp(fixture->orchard.stations.list[i].name, "TARN") == 0)
            fixture->orchard.stations.list[i].neighbour = "WICK";
    add_steps(fixture, "HOLM", "2027-01-01", "2027-01-31", 1);
    add_steps(fixture, "WICK", "2020-01-01", "2027-02-28", 5);
    record = record_on(fixture, "2027-02-25");
    assert_null(record.neighbour);
    assert_int_equal(record.series.count, 31);
}

static void a_station_that_is_its_own_neighbour_has_none(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture)->neighbour = "HOLM";
    add_steps(fixture, "HOLM", "2027-01-01", "2027-01-31", 1);
    record = record_on(fixture, "2027-02-25");
    assert_null(record.neighbour);
    assert_int_equal(record.series.count, 31);
}

static void morning_readers_are_put_right_before_they_are_compared(void **state)
{
    struct fixture *fixture = *state;
    struct record *own;
    struct station_record record;

    add_pair(fixture)->reads_morning = true;
    own = add_steps(fixture, "HOLM", "2027-01-01", "2027-03-31", 1);
    add_steps(fixture, "TARN", "2027-01-01", "2027-03-31", 5);
    lose(own, "2027-02-10", "2027-02-25");
    record = record_on(fixture, "2027-03-10");
    assert_true(record.reads_morning);
    assert_near(record.tmin_offsets.c[1], -4, 1e-12);
    assert_near(record.tmax_offsets.c[1], -3.99, 1e-12); /* a row later is 0.01 warmer */
    assert_kind(&record, "2027-02-09", DAY_NEIGHBOUR);   /* its maximum was not read on the 10th */
    assert_kind(&record, "2027-02-25", DAY_NEIGHBOUR);
    assert_near(tmin_on(&record, "2027-02-09"), 1.39, 1e-12);
    assert_near(tmax_on(&record, "2027-02-09"), 11.4, 1e-9);
    assert_int_equal(record.newest_observed, fixture_day("2027-03-09"));
    assert_kind(&record, "2027-03-10", DAY_NEIGHBOUR); /* of the day itself only the maximum */
    assert_near(tmin_on(&record, "2027-03-10"), 1.68, 1e-12);
}

/* ---- forecasts ------------------------------------------------------------------------------- */

static void forecast_days_follow_the_observed_ones(void **state)
{
    struct fixture *fixture = *state;
    struct station *station = add_pair(fixture);
    struct station_record record;

    station->elevation_m = 100; /* the site at 300: 1 degree cooler */
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-20", 1);
    add_forecast(fixture, "HOLM", "2027-02-19", "2027-02-19", 7, 20);
    record = record_on(fixture, "2027-02-20");
    assert_kind(&record, "2027-02-20", DAY_OBSERVED);
    assert_kind(&record, "2027-02-21", DAY_FORECAST);
    assert_near(tmax_on(&record, "2027-02-25"), 29, 1e-12);
    assert_int_equal(record.days_ahead, 5);
    assert_int_equal(record.forecast->issued, fixture_day("2027-02-19"));
    assert_int_equal(record.forecast_last, fixture_day("2027-02-25"));
    assert_kind(&record, "2027-02-26", DAY_OPEN);
}

static void the_newest_forecast_wins_day_by_day(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-20", 1);
    add_forecast(fixture, "HOLM", "2027-02-15", "2027-02-15", 12, 20);
    add_forecast(fixture, "HOLM", "2027-02-20", "2027-02-21", 3, 22);
    add_forecast(fixture, "HOLM", "2027-02-21", "2027-02-21", 9, 24); /* not known yet */
    add_forecast(fixture, "WICK", "2027-02-20", "2027-02-21", 9, 26);
    record = record_on(fixture, "2027-02-20");
    assert_near(tmin_on(&record, "2027-02-23"), 22, 0);
    assert_near(tmin_on(&record, "2027-02-24"), 20, 0);
    assert_int_equal(record.forecast->issued, fixture_day("2027-02-20"));
    assert_int_equal(record.days_ahead, 6);
}

static void a_half_forecast_day_gives_way_to_a_whole_older_one(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-20", 1);
    add_forecast(fixture, "HOLM", "2027-02-19", "2027-02-20", 2, 20);
    add_forecast(fixture, "HOLM", "2027-02-20", "2027-02-21", 2, 22)->tmin_c[0] = NAN;
    fixture->orchard.forecasts.list[1].tmin_c[1] = NAN;
    record = record_on(fixture, "2027-02-20");
    assert_near(tmax_on(&record, "2027-02-21"), 30, 0);
    assert_near(tmax_on(&record, "2027-02-22"), 32, 0); /* nothing better of this one */
    assert_true(isnan(tmin_on(&record, "2027-02-22")));
    assert_kind(&record, "2027-02-22", DAY_OPEN);
}

static void half_an_observed_day_gives_way_to_a_whole_forecast(void **state)
{
    struct fixture *fixture = *state;
    struct record *own;
    struct station_record record;

    add_pair(fixture);
    own = add_steps(fixture, "HOLM", "2027-01-01", "2027-02-21", 1);
    own->tmax_c[own->count - 2] = own->tmax_c[own->count - 1] = NAN;
    add_forecast(fixture, "HOLM", "2027-02-19", "2027-02-20", 2, 20)->tmin_c[1] = NAN;
    fixture->orchard.forecasts.list[0].tmax_c[1] = 0.5;
    record = record_on(fixture, "2027-02-21");
    assert_near(tmin_on(&record, "2027-02-20"), 20, 0);
    assert_near(tmax_on(&record, "2027-02-20"), 30, 0);
    assert_near(tmin_on(&record, "2027-02-21"), 1.51, 1e-12); /* observed, and above */
    assert_near(tmax_on(&record, "2027-02-21"), 1.51, 1e-12);
    assert_kind(&record, "2027-02-21", DAY_FORECAST);
}

static void a_day_the_neighbour_observed_is_not_forecast(void **state)
{
    struct fixture *fixture = *state;
    struct station_record record;

    add_pair(fixture);
    add_steps(fixture, "HOLM", "2027-01-01", "2027-02-10", 1);
    add_steps(fixture, "TARN", "2027-01-01", "2027-02-19", 5);
    add_forecast(fixture, "HOLM", "2027-02-09", "2027-02-09", 13, 20);
    record = record_on(fixture, "2027-02-20");
    assert_kind(&record, "2027-02-11", DAY_NEIGHBOUR);
    assert_kind(&record, "2027-02-19", DAY_NEIGHBOUR);
    assert_kind(&record, "2027-02-20", DAY_FORECAST);
    assert_int_equal(record.days_ahead, 1);
}

/* ---- seasons --------------------------------------------------------------------------------- */

static void each_season_tells_where_its_days_come_from(void **state)
{
    struct fixture *fixture = *state;
    struct season_heat heat;
    struct season_rows rows;
    struct record *own;

    add_pair(fixture);
    own = add_steps(fixture, "HOLM", "2021-07-01", "2027-02-20", 1);
    add_steps(fixture, "TARN", "2019-07-01", "2024-06-30", 5);
    lose(own, "2023-01-01", "2023-01-05");
    lose(own, "2024-01-01", "2024-01-20");
    lose(own, "2025-01-01", "2025-02-20");
    lose(own, "2026-01-01", "2026-01-09");
    add_forecast(fixture, "HOLM", "2027-02-19", "2027-02-19", 7, 20);
    fixture->orchard.program.members_most = 5;
    record_on(fixture, "2027-02-20");
    season_heat_init(&heat, &fixture->orchard, &fixture->arena);
    rows = season_rows_of(&heat, &fixture->orchard.sites.list[0]);
    assert_int_equal(rows.count, 8);
    assert_int_equal(rows.list[0].season, 2020);
    assert_int_equal(rows.list[0].use, SEASON_SPARE);
    assert_int_equal(rows.list[0].days.neighbour, 366);
    assert_int_equal(rows.list[1].use, SEASON_MEMBER);
    assert_int_equal(rows.list[2].days.observed, 365);
    assert_int_equal(rows.list[3].days.on_line, 5);
    assert_int_equal(rows.list[3].days.observed, 360);
    assert_int_equal(rows.list[4].days.neighbour, 20);
    assert_int_equal(rows.list[5].use, SEASON_LEFT_OUT);
    assert_int_equal(rows.list[5].left_out.missing_days, 51);
    assert_int_equal(rows.list[6].use, SEASON_MEMBER);
    assert_int_equal(rows.list[6].mean_days, 9);
    assert_int_equal(rows.list[6].days.open, 9);
    assert_int_equal(rows.list[7].use, SEASON_OF_NOW);
    assert_int_equal(rows.list[7].days.observed, 235);
    assert_int_equal(rows.list[7].days.forecast, 5);
    assert_int_equal(rows.list[7].days.open, 125);
}

static void a_record_without_a_day_has_no_seasons(void **state)
{
    struct fixture *fixture = *state;
    struct season_heat heat;

    add_pair(fixture);
    record_on(fixture, "2027-02-20");
    season_heat_init(&heat, &fixture->orchard, &fixture->arena);
    assert_int_equal(season_rows_of(&heat, &fixture->orchard.sites.list[0]).count, 0);
}

static void sites_of_one_station_share_a_record_when_they_are_moved_alike(void **state)
{
    struct fixture *fixture = *state;
    const struct site *sites;
    struct season_heat heat;

    add_pair(fixture)->elevation_m = 100;
    add_site(fixture, "Ost");
    add_site(fixture, "West")->elevation_m = 500;
    add_site(fixture, "Zell")->elevation_m = NAN;
    add_steps(fixture, "HOLM", "2026-01-01", "2027-02-20", 1);
    record_on(fixture, "2027-02-20");
    season_heat_init(&heat, &fixture->orchard, &fixture->arena);
    sites = fixture->orchard.sites.list;
    assert_ptr_equal(season_heat_record(&heat, &sites[0]), season_heat_record(&heat, &sites[1]));
    assert_ptr_not_equal(season_heat_record(&heat, &sites[0]),
                         season_heat_record(&heat, &sites[2]));
    assert_true(season_heat_record(&heat, &sites[3])->no_elevation);
}

static void forecast_days_are_known_days_of_the_season_and_of_no_member(void **state)
{
    struct fixture *fixture = *state;
    const struct season_weather *weather;
    struct season_heat heat;

    add_pair(fixture);
    add_steps(fixture, "HOLM", "2015-07-01", "2026-06-28", 1);
    add_forecast(fixture, "HOLM", "2026-06-28", "2026-06-29", 7, 20);
    record_on(fixture, "2026-06-28");
    season_heat_init(&heat, &fixture->orchard, &fixture->arena);
    weather = season_heat_weather(&heat, &fixture->orchard.sites.list[0], 2027);
    assert_int_equal(weather->known, 5); /* 1 to 5 July */
    assert_int_equal(weather->account.forecast, 5);
    assert_int_equal(weather->member_season[0], 2025); /* 2026 is not over */
    assert_near(season_weather_tmin_c(weather, 0, 4), 20, 0);
    weather = season_heat_weather(&heat, &fixture->orchard.sites.list[0], 2026);
    assert_int_equal(weather->known, 365);
    assert_int_equal(weather->account.forecast, 2);
    assert_int_equal(weather->neighbour_members, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_site_without_any_weather_has_an_empty_record),
        FIXTURE_TEST(a_station_without_a_row_is_taken_as_it_is),
        FIXTURE_TEST(both_extremes_move_to_the_site_by_their_own_rates),
        FIXTURE_TEST(without_both_elevations_nothing_is_moved),
        FIXTURE_TEST(rates_that_turn_a_day_round_leave_its_mean),
        FIXTURE_TEST(a_week_stays_for_the_line_and_a_longer_gap_is_the_neighbours),
        FIXTURE_TEST(each_extreme_is_filled_for_itself_and_yields_to_the_one_observed),
        FIXTURE_TEST(a_young_logger_has_its_past_from_the_neighbour),
        FIXTURE_TEST(a_site_without_a_day_of_its_own_lives_by_the_neighbour_and_elevations),
        FIXTURE_TEST(a_neighbours_neighbour_is_not_followed),
        FIXTURE_TEST(a_station_that_is_its_own_neighbour_has_none),
        FIXTURE_TEST(morning_readers_are_put_right_before_they_are_compared),
        FIXTURE_TEST(forecast_days_follow_the_observed_ones),
        FIXTURE_TEST(the_newest_forecast_wins_day_by_day),
        FIXTURE_TEST(a_half_forecast_day_gives_way_to_a_whole_older_one),
        FIXTURE_TEST(half_an_observed_day_gives_way_to_a_whole_forecast),
        FIXTURE_TEST(a_day_the_neighbour_observed_is_not_forecast),
        FIXTURE_TEST(each_season_tells_where_its_days_come_from),
        FIXTURE_TEST(a_record_without_a_day_has_no_seasons),
        FIXTURE_TEST(sites_of_one_station_share_a_record_when_they_are_moved_alike),
        FIXTURE_TEST(forecast_days_are_known_days_of_the_season_and_of_no_member),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
