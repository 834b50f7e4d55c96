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

/* Heat is summed from 1 January. */
static struct season_weather weather_of(struct fixture *fixture, const struct record *record,
                                        struct season_rule rule, int season, daynum as_of,
                                        size_t members_most)
{
    struct season_asked asked = {
        .record = record,
        .rule = rule,
        .season = season,
        .as_of = as_of,
        .members_most = members_most,
        .first_start = {1, 1},
        .last_start = {1, 1},
        .as_they_were = true,
    };

    return season_weather_of(&asked, &fixture->arena);
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
    struct season_weather weather =
        weather_of(fixture, NULL, fixture_north, 2028, fixture_day("2027-12-01"), 30);

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
    struct season_weather weather =
        weather_of(fixture, record, fixture_north, 2027, fixture_day("2027-02-10"), 12);

    assert_int_equal(weather.members, 12);
    for (size_t m = 0; m < weather.members; m++)
        assert_int_equal(weather.member_season[m], 2026 - (int)m);
    assert_int_equal(weather.left_out_count, 0);

    /* Two seasons on, the one that has not ended is no member, nor is it left out. */
    weather = weather_of(fixture, record, fixture_north, 2028, fixture_day("2027-02-10"), 30);
    assert_int_equal(weather.members, 16);
    assert_int_equal(weather.member_season[0], 2026);
    assert_int_equal(weather.member_season[15], 2011);
    assert_int_equal(weather.known, 0);
    assert_int_equal(weather.left_out_count, 1); /* 2010 lacks its summer and autumn */
    assert_int_equal(weather.left_out[0].season, 2010);
    assert_int_equal(weather.left_out[0].reason, LEFT_OUT_RECORD);
    assert_int_equal(weather.left_out[0].missing_days, 243);
}

static void a_season_that_ends_on_the_day_is_whole(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2020-07-01", "2026-06-30");

    assert_int_equal(
        weather_of(fixture, record, fixture_north, 2027, fixture_day("2026-06-30"), 30).members, 6);
    assert_int_equal(
        weather_of(fixture, record, fixture_north, 2027, fixture_day("2026-06-29"), 30).members, 5);
}

/* Leap into common, common into leap, on both hemispheres: calendar day for calendar day. */
static void members_lie_on_the_same_calendar_days(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2015-01-01", "2028-12-31");
    const struct season_rule rules[] = {fixture_north, fixture_south, {{3, 1}, true}};

    for (size_t r = 0; r < COUNT(rules); r++) {
        for (int season = 2026; season <= 2028; season++) {
            struct season_weather weather = weather_of(fixture, record, rules[r], season,
                                                       day_season_start(rules[r], season), 30);

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
            weather_of(fixture, record, rule, season, fixture_day("2028-12-31"), 6);

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
    weather = weather_of(fixture, record, fixture_north, 2027, fixture_day("2027-02-10"), 30);

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

/* What was seen of a day stays; the rest lies on a line, and yields where it would be reversed. */
static void a_day_seen_by_half_keeps_what_was_seen(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2014-07-01", "2027-02-10");
    struct season_weather weather;
    size_t half = (size_t)(fixture_day("2026-12-24") - record->first_day);
    size_t day = (size_t)(fixture_day("2026-12-24") - day_season_start(fixture_north, 2027));

    record->tmin_c[half] = NAN;
    record->tmax_c[half] += 5;
    record->tmin_c[half + 10] = NAN;
    record->tmax_c[half + 10] -= 5;
    record->tmin_c[half + 20] += 5;
    record->tmax_c[half + 20] = NAN;
    record->tmin_c[record->count - 1] -= 3; /* the maximum of the last day is still to come */
    record->tmax_c[record->count - 1] = NAN;
    weather = weather_of(fixture, record, fixture_north, 2027, fixture_day("2027-02-10"), 30);
    assert_int_equal(weather.filled_days, 3);
    assert_near(weather.known_tmin_c[day], record->tmin_c[half - 1] + 1, 1e-9);
    assert_near(weather.known_tmax_c[day], record->tmax_c[half], 0);
    assert_near(weather.known_tmin_c[day + 10], record->tmax_c[half + 10], 0);
    assert_near(weather.known_tmax_c[day + 20], record->tmin_c[half + 20], 0);
    assert_day(weather.first_day + (daynum)weather.known - 1, "2027-02-10");
    assert_int_equal(weather.lent_days, 1);
    for (size_t m = 0; m < weather.members; m++) {
        size_t last = weather.known - 1;

        /* Of earlier years, whose numbers are smaller: never above what is known. */
        assert_near(season_weather_tmin_c(&weather, m, last), record->tmin_c[record->count - 1], 0);
        assert_near(season_weather_tmax_c(&weather, m, last), record->tmin_c[record->count - 1], 0);
    }
}

static void lose_every_other(struct record *record, const char *first, int times)
{
    char text[DAY_TEXT];

    for (int i = 0; i < times; i++)
        lose(record, day_text(fixture_day(first) + 2 * i, text), 1);
}

static void years_with_too_much_missing_are_left_out_and_why(void **state)
{
    static const struct left_out_year left_out[] = {{2026, LEFT_OUT_GAPS, 16},
                                                    {2023, LEFT_OUT_GAP, 11},
                                                    {2022, LEFT_OUT_GAP, 32},
                                                    {2009, LEFT_OUT_RECORD, 1}};
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2008-07-02", "2026-06-30");
    struct season_weather weather;

    lose_every_other(record, "2020-10-01", 60); /* each on a line */
    lose(record, "2020-06-15", 30);             /* half on either side of 1 July */
    lose(record, "2018-09-15", 31);             /* long before heat is summed */
    lose(record, "2019-01-10", 10);
    lose(record, "2018-05-01", 11); /* four months after 1 January */
    lose(record, "2021-09-15", 32);
    lose(record, "2023-01-10", 11);
    lose(record, "2026-01-10", 8);
    lose(record, "2026-03-10", 8);
    lose(record, "2016-12-22", 20); /* ten days of it count */
    weather = weather_of(fixture, record, fixture_north, 2027, fixture_day("2026-12-01"), 30);
    assert_int_equal(weather.members, 14);
    for (size_t m = 0; m < weather.members; m++) {
        int season = weather.member_season[m];
        int days = season == 2017   ? 20
                   : season == 2018 ? 11
                   : season == 2019 ? 31 + 10
                   : season == 2020 ? 16
                   : season == 2021 ? 14
                                    : 0;

        assert_int_equal(weather.member_mean_days[m], days);
    }
    assert_int_equal(weather.left_out_count, COUNT(left_out));
    for (size_t i = 0; i < COUNT(left_out); i++) {
        assert_int_equal(weather.left_out[i].season, left_out[i].season);
        assert_int_equal(weather.left_out[i].reason, left_out[i].reason);
        assert_int_equal(weather.left_out[i].missing_days, left_out[i].missing_days);
    }
    for (size_t i = 0; i < weather.members * weather.days; i++)
        assert_true(weather.member_tmin_c[i] <= weather.member_tmax_c[i]);
}

/* The mean of the years that lack nothing, in each extreme; what was seen in the gap stays. */
static void longer_gaps_of_past_years_take_the_mean_of_the_others(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2020-07-01", "2026-06-30");
    size_t warm = (size_t)(fixture_day("2025-01-10") - record->first_day);
    size_t cold = (size_t)(fixture_day("2023-01-10") - record->first_day);
    size_t day = (size_t)(fixture_day("2023-01-10") - day_season_start(fixture_north, 2023));
    struct season_weather weather;

    lose(record, "2023-01-10", 10);
    record->tmax_c[cold + 8] = 19000; /* below the mean of the minima */
    lose(record, "2025-01-10", 9);
    record->tmin_c[warm + 8] = 30000; /* above the mean of the maxima */
    weather = weather_of(fixture, record, fixture_north, 2027, fixture_day("2026-12-01"), 30);
    assert_int_equal(weather.members, 6);
    assert_int_equal(weather.left_out_count, 0);
    for (size_t m = 0; m < 6; m++)
        assert_int_equal(weather.member_mean_days[m], m == 3 ? 10 : m == 1 ? 9 : 0);
    for (size_t i = 0; i < 9; i++) {
        static const size_t whole[] = {0, 2, 4, 5};
        const double *tmin_c = weather.member_tmin_c + day + i;
        const double *tmax_c = weather.member_tmax_c + day + i;
        double mean = 0;

        for (size_t k = 0; k < COUNT(whole); k++)
            mean += tmin_c[whole[k] * weather.days] / 4;
        assert_near(tmin_c[3 * weather.days], i == 8 ? 19000 : mean, 1e-9);
        assert_near(tmax_c[3 * weather.days], i == 8 ? 19000 : mean + 0.1, 1e-9);
        assert_near(tmin_c[weather.days], i == 8 ? 30000 : mean, 1e-9);
        assert_near(tmax_c[weather.days], i == 8 ? 30000 : mean + 0.1, 1e-9);
    }
}

static void without_a_whole_year_there_is_no_mean(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_numbered(fixture, "2024-07-01", "2026-06-30");
    struct season_weather weather;

    lose(record, "2025-01-10", 8);
    lose(record, "2025-09-10", 9);
    weather = weather_of(fixture, record, fixture_north, 2027, fixture_day("2026-12-01"), 30);
    assert_int_equal(weather.members, 0);
    assert_int_equal(weather.left_out_count, 2);
    assert_int_equal(weather.left_out[0].season, 2026);
    assert_int_equal(weather.left_out[0].missing_days, 9);
    assert_int_equal(weather.left_out[1].reason, LEFT_OUT_GAP);
}

static void days_after_the_day_are_not_looked_at(void **state)
{
    struct fixture *fixture = *state;
    struct record *shorter = add_numbered(fixture, "2010-07-01", "2027-01-31");
    struct record *longer = add_numbered(fixture, "2010-07-01", "2027-12-31");
    struct season_weather a, b;

    lose(shorter, "2027-01-29", 3);
    lose(longer, "2027-01-29", 3); /* 1 February would close this gap */
    a = weather_of(fixture, shorter, fixture_north, 2027, fixture_day("2027-01-31"), 30);
    b = weather_of(fixture, longer, fixture_north, 2027, fixture_day("2027-01-31"), 30);
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
    struct season_weather weather =
        weather_of(fixture, record, fixture_north, 2027, fixture_day("2027-02-10"), 30);

    assert_int_equal(weather.members, 0);
    assert_int_equal(weather.left_out_count, 0);
    assert_int_equal(weather.lent_days, 92);
    assert_int_equal(weather.filled_days, 0);
}

/* Half a degree a year, but in one odd season. */
static double warming_c(int season, daynum day)
{
    (void)day;
    return season == 2019 ? -5 : 0.5 * (season - 2000);
}

static struct season_asked warmed(const struct record *record, int season)
{
    return (struct season_asked){.record = record,
                                 .rule = fixture_north,
                                 .season = season,
                                 .as_of = fixture_day("2027-02-10"),
                                 .members_most = 8,
                                 .first_start = {1, 1},
                                 .last_start = {1, 17}};
}

static void members_are_moved_by_the_warming_and_known_days_are_not(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_seasons(fixture, "NORD", fixture_north, 2005, 2027, warming_c);
    struct season_asked asked = warmed(record, 2028), now = warmed(record, 2027);
    struct season_weather weather = season_weather_of(&asked, &fixture->arena);

    assert_near(weather.warming_c, 0.5, 1e-12);
    assert_int_equal(weather.warming_seasons, 22); /* more than there are members */
    for (size_t m = 0; m < weather.members; m++) {
        double mean_c = weather.member_season[m] == 2019 ? -0.5 : 14; /* 4.5 for 9 years; 2028's */

        assert_near(season_weather_tmin_c(&weather, m, 200), mean_c - 3, 1e-9);
        assert_near(season_weather_tmax_c(&weather, m, 200), mean_c + 3, 1e-9);
    }
    weather = season_weather_of(&now, &fixture->arena);
    assert_near(season_weather_tmin_c(&weather, 0, weather.known - 1), 13.5 - 3, 1e-9);
    asked.as_they_were = true;
    weather = season_weather_of(&asked, &fixture->arena);
    assert_near(season_weather_tmin_c(&weather, 1, 200), 12.5 - 3, 1e-9);
    assert_int_equal(weather.warming_seasons, 0);
}

/* Winters grow milder by a degree a year, and stay frozen; springs by a tenth. */
static double cold_winter_c(int season, daynum day)
{
    bool winter = day < day_from_civil(season, 4, 1);

    return winter ? -30 + (season - 2005) : 10 + (season - 2005) / 10.0;
}

/* Fifteen days to either side, and no day of March is free of frost. */
static void frozen_days_tell_nothing_of_the_warming(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_seasons(fixture, "NORD", fixture_north, 2005, 2027, cold_winter_c);
    struct season_asked asked = warmed(record, 2028);

    assert_near(season_weather_of(&asked, &fixture->arena).warming_c, 0.1, 1e-12);
}

static void few_whole_seasons_tell_no_warming(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_seasons(fixture, "NORD", fixture_north, 2017, 2027, warming_c);
    struct season_asked asked = warmed(record, 2027);
    struct season_weather weather = season_weather_of(&asked, &fixture->arena);

    assert_int_equal(weather.warming_seasons, 10);
    lose(record, "2020-08-01", 9); /* nothing is counted in August */
    assert_int_equal(season_weather_of(&asked, &fixture->arena).warming_seasons, 10);
    lose(record, "2020-02-01", 9); /* too long for a line, short enough for a member */
    weather = season_weather_of(&asked, &fixture->arena);
    assert_int_equal(weather.members, 8);
    assert_int_equal(weather.warming_seasons, 0);
    assert_near(weather.warming_c, 0, 0);
}

static void all_other_seasons_are_members_nearest_first(void **state)
{
    static const int want[] = {2023, 2025, 2022, 2026, 2021, 2027, 2020, 2019};
    struct fixture *fixture = *state;
    struct record *record = add_seasons(fixture, "NORD", fixture_north, 2005, 2027, warming_c);
    struct season_asked asked = warmed(record, 2024);
    struct season_weather weather;

    asked.as_of = fixture_day("2024-02-10");
    asked.all_others = true;
    weather = season_weather_of(&asked, &fixture->arena);
    assert_int_equal(weather.members, COUNT(want));
    for (size_t m = 0; m < COUNT(want); m++)
        assert_int_equal(weather.member_season[m], want[m]);
    assert_int_equal(weather.warming_seasons, 22);
    assert_int_equal(weather.known, 225); /* of its own days only those known */
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
        FIXTURE_TEST(a_day_seen_by_half_keeps_what_was_seen),
        FIXTURE_TEST(years_with_too_much_missing_are_left_out_and_why),
        FIXTURE_TEST(longer_gaps_of_past_years_take_the_mean_of_the_others),
        FIXTURE_TEST(without_a_whole_year_there_is_no_mean),
        FIXTURE_TEST(days_after_the_day_are_not_looked_at),
        FIXTURE_TEST(a_record_that_starts_inside_the_season_lends_what_it_lacks),
        FIXTURE_TEST(members_are_moved_by_the_warming_and_known_days_are_not),
        FIXTURE_TEST(frozen_days_tell_nothing_of_the_warming),
        FIXTURE_TEST(few_whole_seasons_tell_no_warming),
        FIXTURE_TEST(all_other_seasons_are_members_nearest_first),
    };
    return cmocka_run_group_tests_name("season weather", tests, NULL, NULL) != 0;
}
