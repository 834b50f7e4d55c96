#include "planning/season_weather.h"

#include "planning/weather_fixture.h"

/* Each day tells its own date: minimum its day number, maximum a tenth more. */
static struct record *add_numbered(struct fixture *fixture, const char *first, const char *last)
{
    daynum start = fixture_day(first);
    struct record *record =
        add_record(fixture, "NORD", first, (size_t)(fixture_day(last) - start + 1));

    for (size_t i = 0; i < record->count; i++) {
        record->tmin_c[i] = start + (double)i;
        record->tmax_c[i] = record->tmin_c[i] + 0.1;
    }
    return record;
}

static void lose(struct record *record, const char *first, size_t days)
{
    size_t from = (size_t)(fixture_day(first) - record->first_day);

    for (size_t i = from; i < from + days; i++)
        record->tmin_c[i] = record->tmax_c[i] = NAN;
}

static void without_a_record_there_are_no_members(void **state)
{
    struct fixture *fixture = *state;
    struct season_weather weather = season_weather_of(
        NULL, fixture_north, 2028, fixture_day("2027-12-01"), 30, &fixture->arena);

    assert_int_equal(weather.members, 0);
    assert_int_equal(weather.known, 0);
    assert_int_equal(weather.left_out_count, 0);
    assert_int_equal(weather.days, 366);
    assert_day(weather.first_day, "2027-07-01");
}

static void members_are_the_newest_whole_seasons_before(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2010-03-01", "2027-02-10");
    struct season_weather weather = season_weather_of(
        record, fixture_north, 2027, fixture_day("2027-02-10"), 12, &fixture->arena);

    assert_int_equal(weather.members, 12);
    for (size_t m = 0; m < weather.members; m++)
        assert_int_equal(weather.member_season[m], 2026 - (int)m);
    assert_int_equal(weather.left_out_count, 0);

    /* Two seasons on, the one that has not ended is no member, nor is it left out. */
    weather = season_weather_of(record, fixture_north, 2028, fixture_day("2027-02-10"), 30,
                                &fixture->arena);
    assert_int_equal(weather.members, 16);
    assert_int_equal(weather.member_season[0], 2026);
    assert_int_equal(weather.member_season[15], 2011);
    assert_int_equal(weather.known, 0);
    assert_int_equal(weather.left_out_count, 1); /* 2010 lacks its summer and autumn */
    assert_int_equal(weather.left_out[0].season, 2010);
    assert_int_equal(weather.left_out[0].missing_days, 243);
}

static void a_season_that_ends_on_the_day_is_whole(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2020-07-01", "2026-06-30");

    assert_int_equal(season_weather_of(record, fixture_north, 2027, fixture_day("2026-06-30"), 30,
                                       &fixture->arena)
                         .members,
                     6);
    assert_int_equal(season_weather_of(record, fixture_north, 2027, fixture_day("2026-06-29"), 30,
                                       &fixture->arena)
                         .members,
                     5);
}

/* Leap into common, common into leap, on both hemispheres: calendar day for calendar day. */
static void members_lie_on_the_same_calendar_days(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2015-01-01", "2028-12-31");
    const struct season_rule rules[] = {fixture_north, fixture_south, {{3, 1}, true}};

    for (size_t r = 0; r < COUNT(rules); r++) {
        for (int season = 2026; season <= 2028; season++) {
            struct season_weather weather = season_weather_of(
                record, rules[r], season, day_season_start(rules[r], season), 30, &fixture->arena);

            assert_true(weather.members >= 8);
            for (size_t m = 0; m < weather.members; m++) {
                for (size_t i = 0; i < weather.days; i++) {
                    struct civil own = day_to_civil(weather.first_day + (daynum)i);
                    struct civil source =
                        day_to_civil((daynum)weather.member_tmin_c[m * weather.days + i]);

                    assert_int_equal(own.month, source.month);
                    assert_int_equal(source.year - own.year, weather.member_season[m] - season);
                    if (own.month == 2 && own.day == 29 && !day_is_leap(source.year))
                        assert_int_equal(source.day, 28);
                    else
                        assert_int_equal(source.day, own.day);
                }
            }
        }
    }
}

static void a_season_that_starts_on_29_february_is_laid_within_itself(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2015-01-01", "2028-12-31");
    const struct season_rule rule = {{2, 29}, true};

    for (int season = 2023; season <= 2026; season++) {
        struct season_weather weather =
            season_weather_of(record, rule, season, fixture_day("2028-12-31"), 6, &fixture->arena);

        for (size_t m = 0; m < weather.members; m++) {
            for (size_t i = 0; i < weather.days; i++)
                assert_int_equal(
                    day_season(rule, (daynum)weather.member_tmin_c[m * weather.days + i]),
                    weather.member_season[m]);
        }
    }
}

static void short_gaps_are_filled_in_a_line_and_longer_ones_lent(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2014-07-01", "2027-02-10");
    struct season_weather weather;
    size_t gap;

    lose(record, "2026-06-28", 7); /* across the start of the season */
    lose(record, "2026-09-01", 7);
    lose(record, "2026-11-01", 8);
    lose(record, "2027-02-09", 2); /* not yet reported */
    record->tmin_c[fixture_day("2026-12-24") - record->first_day] = NAN;
    record->tmax_c[fixture_day("2026-12-25") - record->first_day] = NAN;
    record->tmin_c[fixture_day("2026-12-30") - record->first_day] += 1; /* minimum above maximum */
    weather = season_weather_of(record, fixture_north, 2027, fixture_day("2027-02-10"), 30,
                                &fixture->arena);

    assert_int_equal(weather.known, fixture_day("2027-02-09") - weather.first_day);
    assert_int_equal(weather.filled_days, 4 + 7 + 3);
    assert_int_equal(weather.lent_days, 8);
    gap = (size_t)(fixture_day("2026-11-01") - weather.first_day);
    for (size_t i = 0; i < weather.known; i++) {
        daynum day = weather.first_day + (daynum)i;

        if (i >= gap && i < gap + 8) {
            assert_true(isnan(weather.known_tmin_c[i]) && isnan(weather.known_tmax_c[i]));
            assert_near(season_weather_tmin_c(&weather, 2, i),
                        weather.member_tmin_c[2 * weather.days + i], 0);
        } else {
            assert_near(weather.known_tmin_c[i], day, 1e-9);
            assert_near(weather.known_tmax_c[i], day + 0.1, 1e-9);
            assert_near(season_weather_tmax_c(&weather, 2, i), day + 0.1, 1e-9);
        }
    }
    assert_near(season_weather_tmax_c(&weather, 1, weather.known),
                weather.member_tmax_c[weather.days + weather.known], 0);
}

static void years_with_too_much_missing_are_left_out_by_name(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2009-07-01", "2026-06-30");
    struct season_weather weather;

    for (int day = 1; day <= 20; day += 2) { /* ten days, each alone: kept */
        char text[DAY_TEXT];

        lose(record, day_text(fixture_day("2019-10-01") + day, text), 1);
    }
    for (int day = 1; day <= 22; day += 2) { /* eleven: left out */
        char text[DAY_TEXT];

        lose(record, day_text(fixture_day("2020-10-01") + day, text), 1);
    }
    lose(record, "2022-01-10", 7); /* kept */
    lose(record, "2023-01-10", 8); /* too long to fill: left out */
    weather = season_weather_of(record, fixture_north, 2027, fixture_day("2026-12-01"), 30,
                                &fixture->arena);

    assert_int_equal(weather.members, 15);
    assert_int_equal(weather.left_out_count, 2);
    assert_int_equal(weather.left_out[0].season, 2023);
    assert_int_equal(weather.left_out[0].missing_days, 8);
    assert_int_equal(weather.left_out[1].season, 2021);
    assert_int_equal(weather.left_out[1].missing_days, 11);
    for (size_t i = 0; i < weather.members * weather.days; i++) {
        assert_true(isnan(weather.member_tmin_c[i]) == 0);
        assert_near(weather.member_tmax_c[i] - weather.member_tmin_c[i], 0.1, 1e-9);
    }
}

static void days_after_the_day_are_not_looked_at(void **state)
{
    struct fixture *fixture = *state;
    struct record *shorter = add_numbered(fixture, "2010-07-01", "2027-01-31");
    struct record *longer = add_numbered(fixture, "2010-07-01", "2027-12-31");
    struct season_weather a, b;

    lose(shorter, "2027-01-29", 3);
    lose(longer, "2027-01-29", 3); /* 1 February would close this gap */
    a = season_weather_of(shorter, fixture_north, 2027, fixture_day("2027-01-31"), 30,
                          &fixture->arena);
    b = season_weather_of(longer, fixture_north, 2027, fixture_day("2027-01-31"), 30,
                          &fixture->arena);
    assert_day(a.first_day + (daynum)a.known, "2027-01-29");
    assert_int_equal(a.known, b.known);
    assert_int_equal(a.filled_days, b.filled_days);
    assert_int_equal(a.members, b.members);
    assert_memory_equal(a.known_tmin_c, b.known_tmin_c, a.known * sizeof *a.known_tmin_c);
    assert_memory_equal(a.member_tmax_c, b.member_tmax_c,
                        a.members * a.days * sizeof *a.member_tmax_c);
}

static void a_record_that_starts_inside_the_season_lends_what_it_lacks(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2026-10-01", "2027-02-10");
    struct season_weather weather = season_weather_of(
        record, fixture_north, 2027, fixture_day("2027-02-10"), 30, &fixture->arena);

    assert_int_equal(weather.members, 0);
    assert_int_equal(weather.left_out_count, 0);
    assert_int_equal(weather.lent_days, 92);
    assert_int_equal(weather.filled_days, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(without_a_record_there_are_no_members),
        FIXTURE_TEST(members_are_the_newest_whole_seasons_before),
        FIXTURE_TEST(a_season_that_ends_on_the_day_is_whole),
        FIXTURE_TEST(members_lie_on_the_same_calendar_days),
        FIXTURE_TEST(a_season_that_starts_on_29_february_is_laid_within_itself),
        FIXTURE_TEST(short_gaps_are_filled_in_a_line_and_longer_ones_lent),
        FIXTURE_TEST(years_with_too_much_missing_are_left_out_by_name),
        FIXTURE_TEST(days_after_the_day_are_not_looked_at),
        FIXTURE_TEST(a_record_that_starts_inside_the_season_lends_what_it_lacks),
    };
    return cmocka_run_group_tests_name("season weather", tests, NULL, NULL) != 0;
}
