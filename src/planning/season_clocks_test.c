/*
 * Dates by clocks that count cold or light, through blooms and on plain records.
 */
#include "planning/count_days.h"
#include "planning/weather_fixture.h"

/* Autumn and winter of 4 deg C when the season's number is even, else of 9; 10 from January on. */
static double cold_by_turns_c(int season, daynum day)
{
    bool autumn = day < day_from_civil(season, 1, 1);

    return !autumn ? 10 : season % 2 == 0 ? 4 : 9;
}

static void turn_to(struct fixture *fixture, const char *name, struct clock changed)
{
    struct clock *clock = (struct clock *)(uintptr_t)program_clock(&fixture->orchard.program, name);

    clock->counts = changed.counts;
    clock->after_chilling = changed.after_chilling;
    clock->start = changed.start;
}

static struct chilling_need chilling_days(double units)
{
    return (struct chilling_need){conetide_count_named("chilling-days-up-to-5"), units, {11, 1}};
}

static void one_future_in_two_without_chilling_is_told_and_dates_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2007, 2026, cold_by_turns_c);
    turn_to(fixture, "flat", (struct clock){.start = {1, 1}, .after_chilling = chilling_days(40)});
    add_sum(fixture, EVENT_FIRST, "flat", 300);
    add_after(fixture, EVENT_PEAK, EVENT_FIRST, 2);
    add_sum(fixture, EVENT_LAST, "sine-37f", 300);
    dates = dates_on(fixture, "2026-07-31");
    bloom = dates_bloom(dates, orchard_site(&fixture->orchard, "Nord"), NULL, NULL, 2027);

    assert_int_equal(bloom->members, 20);
    assert_int_equal(bloom->unchilled[EVENT_FIRST], 10);
    assert_int_equal(bloom->unchilled[EVENT_PEAK], 10);
    assert_int_equal(bloom->unchilled[EVENT_LAST], 10); /* raised to a first that never comes */
    assert_string_equal(bloom->remark, "chilling not met in 10 of 20 past years");
    for (size_t m = 0; m < bloom->members; m++) {
        if (bloom->member_season[m] % 2 == 0)
            assert_day(bloom->days[EVENT_FIRST][m], "2027-01-30"); /* 30 days of 10 */
        else
            assert_int_equal(bloom->days[EVENT_FIRST][m], CONETIDE_NEVER);
    }
    assert_int_equal(bloom_date(bloom, EVENT_FIRST, 0.9), DAY_NEVER);
    assert_true(bloom_unchilled(bloom, EVENT_FIRST, 0.9));
    assert_false(bloom_unchilled(bloom, EVENT_FIRST, 0.5));
    assert_false(bloom_unchilled(bloom, EVENT_SHED_PEAK, 0.9));
}

static void heat_waits_for_the_day_after_chilling_is_met(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2007, 2026, cold_by_turns_c);
    /* 40 days of 4 deg C from 1 November end on 10 December; heat of 4 a day from the 11th. */
    turn_to(fixture, "flat", (struct clock){.start = {11, 1}, .after_chilling = chilling_days(40)});
    add_sum(fixture, EVENT_PEAK, "flat", 4);
    dates = dates_on(fixture, "2026-07-31");
    assert_day(dates_bloom(dates, orchard_site(&fixture->orchard, "Nord"), NULL, NULL, 2027)
                   ->days[EVENT_PEAK][0],
               "2026-12-11");
}

static void a_clock_of_chilling_itself_is_reached_or_not_met(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2007, 2026, cold_by_turns_c);
    turn_to(
        fixture, "flat",
        (struct clock){.start = {11, 1}, .counts = conetide_count_named("chilling-days-up-to-5")});
    add_sum(fixture, EVENT_PEAK, "flat", NAN)->clock_units = 30;
    dates = dates_on(fixture, "2026-07-31");
    bloom = dates_bloom(dates, orchard_site(&fixture->orchard, "Nord"), NULL, NULL, 2027);
    assert_int_equal(bloom->unchilled[EVENT_PEAK], 10);
    assert_day(bloom->days[EVENT_PEAK][0], "2026-11-30"); /* the newest member is of 2026 */
}

/* At 33.262 N day 80 of the year has 12.1257 hours, facts of the CBM model; the day before less. */
static void day_length_is_reached_in_every_future_on_one_day(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    fixture->orchard.sites.list[0].latitude = 33.262;
    add_seasons(fixture, "NORD", fixture_north, 2007, 2026, by_turns_c);
    turn_to(fixture, "flat",
            (struct clock){.start = {1, 1}, .counts = conetide_count_named("day-length")});
    add_sum(fixture, EVENT_PEAK, "flat", NAN)->clock_units = 12.1256;
    add_sum(fixture, EVENT_LAST, "flat", NAN)->clock_units = 15;
    dates = dates_on(fixture, "2026-07-31");
    bloom = dates_bloom(dates, orchard_site(&fixture->orchard, "Nord"), NULL, NULL, 2027);
    for (size_t m = 0; m < bloom->members; m++)
        assert_day(bloom->days[EVENT_PEAK][m], "2027-03-21");
    assert_int_equal(bloom->days[EVENT_LAST][0], CONETIDE_NEVER); /* there is no such day */
    assert_int_equal(bloom->unchilled[EVENT_LAST], 0);
    assert_null(bloom->remark);
}

/* A clock that ships starts six months later in the south: chilling from 1 April. */
static void shipped_chilling_starts_six_months_on_in_the_south(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;

    add_weather_sites(fixture);
    add_seasons(fixture, "SYD", fixture_south, 2007, 2026, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "chilling-hours-0-8", NAN)->clock_units = 30;
    dates = dates_on(fixture, "2026-12-31");
    assert_day(dates_bloom(dates, orchard_site(&fixture->orchard, "Syd"), NULL, NULL, 2027)
                   ->days[EVENT_PEAK][0],
               "2027-04-02"); /* 24 hours on 1 April and the day after */
}

static void a_warm_year_of_a_plain_record_never_starts_its_heat(void **state)
{
    struct fixture *fixture = *state;
    const struct record *record =
        add_seasons(fixture, "NORD", fixture_north, 2019, 2022, cold_by_turns_c);
    struct clock clock = {.name = "own",
                          .rule = {&conetide_average, CONETIDE_CUTOFF_NONE, 0, NAN},
                          .start = {1, 1},
                          .end_days = 240,
                          .after_chilling = chilling_days(40)};
    struct count_place place = {NAN, fixture_north};
    struct heat_days days = count_days_of(record, &clock, &place, fixture_day("2019-12-30"),
                                          fixture_day("2021-01-02"), &fixture->arena);

    assert_int_equal(days.count, 370);
    assert_true(isnan(days.heat_sum[0])); /* before the clock's own start */
    assert_near(days.chilling_sum[0], 60, 0);
    assert_near(days.heat_sum[2], 10, 1e-12);         /* 1 January */
    assert_near(days.heat_sum[days.count - 1], 0, 0); /* 2021: autumn of 9 deg C */
    assert_near(days.chilling_sum[days.count - 1], 0, 0);
    clock.start.month = 0; /* one sum from the first day shown */
    clock.after_chilling.counts = NULL;
    clock.counts = conetide_count_named("chilling-days-up-to-5");
    days =
        count_days_of(record, &clock, &place, fixture_day("2019-12-30"), DAY_NONE, &fixture->arena);
    assert_near(days.heat_sum[1], 2, 0);
    assert_null(days.chilling_sum);
    assert_int_equal(count_days_of(NULL, &clock, &place, DAY_NONE, DAY_NONE, &fixture->arena).count,
                     0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(one_future_in_two_without_chilling_is_told_and_dates_nothing),
        FIXTURE_TEST(heat_waits_for_the_day_after_chilling_is_met),
        FIXTURE_TEST(a_clock_of_chilling_itself_is_reached_or_not_met),
        FIXTURE_TEST(day_length_is_reached_in_every_future_on_one_day),
        FIXTURE_TEST(shipped_chilling_starts_six_months_on_in_the_south),
        FIXTURE_TEST(a_warm_year_of_a_plain_record_never_starts_its_heat),
    };

    return cmocka_run_group_tests_name("clocks of cold and light", tests, NULL, NULL) != 0;
}
