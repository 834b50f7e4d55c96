#include "base/day.h"

#include "base/test.h"

#include <time.h>

static daynum known(const char *text)
{
    daynum day = DAY_NONE;
    if (!day_parse(strlen(text), text, &day))
        fail_msg("'%s' is no day", text);
    return day;
}

static void assert_day(daynum day, const char *expected)
{
    char text[DAY_TEXT];
    assert_string_equal(day_text(day, text), expected);
}

/* The C library's calendar is the second opinion, on every day there is. */
static void every_day_agrees_with_the_c_library(void **state)
{
    (void)state;
    assert_true(sizeof(time_t) >= 8);
    for (daynum day = DAY_FIRST; day <= DAY_LAST; day++) {
        time_t seconds = (time_t)day * 86400;
        struct tm tm;
        char iso[32], *end;
        assert_non_null(gmtime_r(&seconds, &tm));
        assert_true(strftime(iso, sizeof iso, "%G %V %u", &tm) > 0);
        int iso_year = (int)strtol(iso, &end, 10);
        int iso_week = (int)strtol(end, &end, 10);
        int weekday = (int)strtol(end, &end, 10);

        struct civil civil = day_to_civil(day);
        int year, week;
        day_iso_week(day, &year, &week);
        if (civil.year != tm.tm_year + 1900 || civil.month != tm.tm_mon + 1 ||
            civil.day != tm.tm_mday || day_year(day) != civil.year ||
            day_of_year(day) != tm.tm_yday + 1 || day_weekday(day) != weekday || year != iso_year ||
            week != iso_week)
            fail_msg("day %d", day);
        if (day_from_civil(civil.year, civil.month, civil.day) != day ||
            day_of_iso_week(year, week) != day - (weekday - 1))
            fail_msg("day %d does not come back", day);
    }
}

static void every_day_comes_back_from_its_text(void **state)
{
    (void)state;
    for (daynum day = DAY_FIRST; day <= DAY_LAST; day++) {
        char text[DAY_TEXT], week_text[DAY_WEEK_TEXT];
        daynum back = DAY_NONE, monday = DAY_NONE;
        day_text(day, text);
        day_week_text(day, week_text);
        if (strlen(text) != 10 || !day_parse(10, text, &back) || back != day)
            fail_msg("%s", text);
        if (strlen(week_text) != 8 || !day_parse_week(8, week_text, &monday) ||
            monday != day - (day_weekday(day) - 1))
            fail_msg("%s of %s", week_text, text);
    }
}

static void known_days_have_their_numbers(void **state)
{
    (void)state;
    assert_int_equal(known("1970-01-01"), 0);
    assert_int_equal(known("0001-01-01"), DAY_FIRST);
    assert_int_equal(known("9999-12-31"), DAY_LAST);
    assert_int_equal(known("2000-02-29"), 11016);
    /* 1970-01-01 is modified Julian day 40587, 2000-01-01 is 51544 (the MJD of J2000 less 0.5) */
    assert_int_equal(known("2000-01-01") + 40587, 51544);
    assert_int_equal(day_of_year(known("2025-03-08")), 67);
    assert_int_equal(day_of_year(known("2028-03-08")), 68);
    /* from grafting to pollination to cones */
    assert_int_equal(known("2028-10-05") - known("2027-03-08"), 577);
    assert_int_equal(known("2028-10-05") - known("2026-02-20"), 958);
}

static void leap_years_follow_the_gregorian_rule(void **state)
{
    (void)state;
    static const int leap[] = {4, 1600, 2000, 2024, 2028, 2400, 9996};
    static const int common[] = {1, 100, 1700, 1900, 2023, 2026, 2027, 2100, 9999};
    for (size_t i = 0; i < COUNT(leap); i++) {
        assert_true(day_is_leap(leap[i]));
        assert_int_equal(day_month_length(leap[i], 2), 29);
    }
    for (size_t i = 0; i < COUNT(common); i++) {
        assert_false(day_is_leap(common[i]));
        assert_int_equal(day_month_length(common[i], 2), 28);
    }
    static const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    for (int month = 1; month <= 12; month++)
        assert_int_equal(day_month_length(2027, month), lengths[month - 1]);
}

static void dates_that_are_not_there_have_no_day(void **state)
{
    (void)state;
    static const struct civil rows[] = {
        {0, 12, 31},          {10000, 1, 1},        {-5, 1, 1},           {2026, 2, 29},
        {2100, 2, 29},        {2028, 2, 30},        {2027, 0, 1},         {2027, 13, 1},
        {2027, 1, 0},         {2027, 4, 31},        {2027, 1, 32},        {2027, -1, 1},
        {2027, 1, -1},        {INT32_MAX, 1, 1},    {INT32_MIN, 1, 1},    {2027, INT32_MAX, 1},
        {2027, 1, INT32_MAX}, {2027, INT32_MIN, 1}, {2027, 1, INT32_MIN},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(day_from_civil(rows[i].year, rows[i].month, rows[i].day), DAY_NONE);
}

static void iso_weeks_at_the_turn_of_the_year(void **state)
{
    (void)state;
    static const struct {
        const char *day, *week;
        int weekday;
    } rows[] = {
        {"2026-12-31", "2026-W53", 4}, {"2027-01-01", "2026-W53", 5}, {"2027-01-02", "2026-W53", 6},
        {"2027-01-03", "2026-W53", 7}, {"2027-01-04", "2027-W01", 1}, {"2024-12-30", "2025-W01", 1},
        {"2025-12-29", "2026-W01", 1}, {"2021-01-03", "2020-W53", 7}, {"2028-12-31", "2028-W52", 7},
        {"2027-03-09", "2027-W10", 2}, {"0001-01-01", "0001-W01", 1}, {"9999-12-31", "9999-W52", 5},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[DAY_WEEK_TEXT];
        daynum day = known(rows[i].day), monday;
        assert_string_equal(day_week_text(day, text), rows[i].week);
        assert_int_equal(day_weekday(day), rows[i].weekday);
        assert_true(day_parse_week(8, rows[i].week, &monday));
        assert_int_equal(monday, day - rows[i].weekday + 1);
    }
}

static void weeks_that_are_not_there_are_refused(void **state)
{
    (void)state;
    assert_int_equal(day_of_iso_week(2027, 53), DAY_NONE);
    assert_int_equal(day_of_iso_week(2027, 0), DAY_NONE);
    assert_int_equal(day_of_iso_week(2027, 54), DAY_NONE);
    assert_int_equal(day_of_iso_week(2026, 54), DAY_NONE);
    assert_int_equal(day_of_iso_week(0, 1), DAY_NONE);
    assert_int_equal(day_of_iso_week(10000, 1), DAY_NONE);
    assert_int_equal(day_of_iso_week(INT32_MIN, 1), DAY_NONE);
    assert_int_equal(day_of_iso_week(2027, INT32_MAX), DAY_NONE);
    assert_day(day_of_iso_week(2026, 53), "2026-12-28");

    int long_years = 0; /* of 400, 71 have 53 weeks */
    for (int year = 2001; year <= 2400; year++)
        long_years += day_of_iso_week(year, 53) != DAY_NONE;
    assert_int_equal(long_years, 71);
}

static void only_exact_dates_are_read(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",           "2026-02-29",  "0000-00-00",  "2027-3-9",
        "20270309",   "2027-03-09 ", " 2027-03-09", "+2027-03-09",
        "-2027-03-0", "+027-03-09",  "-027-03-09",  "2027-03-0",
        "2027-03-9 ", "2027-3-09 ",  "2027-03- 9",  "2027-13-01",
        "2027-00-10", "2027-04-31",  "2027-04-00",  "2027/03/09",
        "2027.03.09", "2027-03/09",  "09-03-2027",  "99999-01-01",
        "0000-01-01", "2027-03-0x",  "x027-03-09",  "2027-W10-2",
        "2027-W10",   "2027-068",    "2027--3-09",  "2027-+3-09",
        "2027-03-+9", "2027-0３-09", "2027-03-09T", "NA",
    };
    for (size_t i = 0; i < COUNT(refused); i++) {
        daynum day = 12345;
        if (day_parse(strlen(refused[i]), refused[i], &day))
            fail_msg("'%s' was read", refused[i]);
        assert_int_equal(day, 12345);
    }
    daynum day = 12345;
    assert_false(day_parse(10,
                           "2027-03\0"
                           "09",
                           &day));
    assert_true(day_parse(10, "2027-03-09T12:00", &day)); /* the length is kept to */
    assert_day(day, "2027-03-09");
}

static void only_exact_weeks_are_read(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",          "2027-W53",   "2027-W00", "2027-W54",  "2027-w10",  "2027W10",  "2027-W1",
        "2027-W010", "2027-W10-1", "2027-W1 ", " 2027-W10", "2027-W+1",  "2027-W-1", "0000-W01",
        "2027-10",   "2027-010",   "+027-W10", "W10",       "2027-W10 ",
    };
    for (size_t i = 0; i < COUNT(refused); i++) {
        daynum monday = 12345;
        if (day_parse_week(strlen(refused[i]), refused[i], &monday))
            fail_msg("'%s' was read", refused[i]);
        assert_int_equal(monday, 12345);
    }
    daynum monday;
    assert_true(day_parse_week(8, "2027-W10", &monday));
    assert_day(monday, "2027-03-08");
}

static void only_exact_month_days_are_read(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",     "02-30", "00-00", "00-10",  "13-01",  "01-00", "01-32", "04-31", "3-9",   "03-9",
        "3-09", "0309",  "03/09", "03-09 ", " 03-09", "+3-09", "03-+9", "-3-09", "03--9", "--03-09",
    };
    for (size_t i = 0; i < COUNT(refused); i++) {
        struct month_day found = {77, 78};
        if (day_parse_month_day(strlen(refused[i]), refused[i], &found))
            fail_msg("'%s' was read", refused[i]);
        assert_int_equal(found.month, 77);
        assert_int_equal(found.day, 78);
    }
    int count = 0;
    for (int month = 0; month < 100; month++)
        for (int day = 0; day < 100; day++) {
            char text[32];
            struct month_day found;
            snprintf(text, sizeof text, "%02d-%02d", month, day);
            if (!day_parse_month_day(5, text, &found))
                continue;
            assert_int_equal(found.month, month);
            assert_int_equal(found.day, day);
            count++;
        }
    assert_int_equal(count, 366);
}

static void unknown_days_are_written_as_nothing(void **state)
{
    (void)state;
    assert_day(DAY_NONE, "");
    assert_day(DAY_NEVER, "");
    assert_day(DAY_FIRST - 1, "");
    assert_day(DAY_LAST + 1, "");
    char text[DAY_WEEK_TEXT];
    assert_string_equal(day_week_text(DAY_NONE, text), "");
    assert_string_equal(day_week_text(DAY_NEVER, text), "");
}

static void names_are_english_and_short(void **state)
{
    (void)state;
    assert_string_equal(day_weekday_name(day_weekday(known("2027-03-09"))), "Tue");
    assert_string_equal(day_weekday_name(1), "Mon");
    assert_string_equal(day_weekday_name(7), "Sun");
    assert_string_equal(day_month_name(1), "Jan");
    assert_string_equal(day_month_name(9), "Sep");
    assert_string_equal(day_month_name(12), "Dec");
}

static void month_days_fall_in_every_year(void **state)
{
    (void)state;
    struct month_day leap_day = {2, 29}, new_year = {1, 1}, bad = {2, 30}, none = {0, 0};
    assert_day(day_in_year(leap_day, 2027), "2027-02-28");
    assert_day(day_in_year(leap_day, 2028), "2028-02-29");
    assert_day(day_in_year(leap_day, 2100), "2100-02-28");
    assert_int_equal(day_in_year(bad, 2028), DAY_NONE);
    assert_int_equal(day_in_year(none, 2028), DAY_NONE);
    assert_int_equal(day_in_year(new_year, 0), DAY_NONE);
    assert_int_equal(day_in_year(new_year, 10000), DAY_NONE);

    assert_day(day_on_or_after(new_year, known("2027-01-01")), "2027-01-01");
    assert_day(day_on_or_after(new_year, known("2027-01-02")), "2028-01-01");
    assert_day(day_on_or_after(leap_day, known("2027-02-28")), "2027-02-28");
    assert_day(day_on_or_after(leap_day, known("2027-03-01")), "2028-02-29");
    assert_day(day_on_or_after(leap_day, known("2028-02-28")), "2028-02-29");
    assert_int_equal(day_on_or_after(new_year, known("9999-01-02")), DAY_NONE);
    assert_int_equal(day_on_or_after(none, known("2027-01-02")), DAY_NONE);
}

static const struct season_rule north = {{7, 1}, true};
static const struct season_rule south = {{1, 1}, false};

static void seasons_hold_the_spring_of_their_year(void **state)
{
    (void)state;
    static const struct season_rule southern_july = {{7, 1}, false},
                                    northern_march = {{3, 1}, true},
                                    northern_october = {{10, 15}, true};
    static const struct {
        const struct season_rule *rule;
        const char *day;
        int season, index;
    } rows[] = {
        {&north, "2026-06-30", 2026, 364},
        {&north, "2026-07-01", 2027, 0},
        {&north, "2027-01-01", 2027, 184},
        {&north, "2027-03-09", 2027, 251},
        {&north, "2027-06-30", 2027, 364},
        {&north, "2028-06-30", 2028, 365},
        {&south, "2026-12-31", 2026, 364},
        {&south, "2027-01-01", 2027, 0},
        {&south, "2028-12-31", 2028, 365},
        {&south, "2027-09-15", 2027, 257},
        {&southern_july, "2027-06-30", 2026, 364},
        {&southern_july, "2027-07-01", 2027, 0},
        {&northern_march, "2027-02-28", 2026, 364},
        {&northern_march, "2028-02-29", 2027, 365},
        {&northern_october, "2026-10-15", 2027, 0},
        {&northern_october, "2026-10-14", 2026, 364},
        {&north, "9999-12-31", 10000, 183},
        {&north, "0001-01-01", 1, 184},
        {&south, "0001-01-01", 1, 0},
        {&southern_july, "0001-01-01", 0, 184},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        daynum day = known(rows[i].day);
        if (day_season(*rows[i].rule, day) != rows[i].season ||
            day_of_season(*rows[i].rule, day) != rows[i].index)
            fail_msg("%s is day %d of season %d", rows[i].day, day_of_season(*rows[i].rule, day),
                     day_season(*rows[i].rule, day));
    }
    assert_day(day_season_start(north, 2027), "2026-07-01");
    assert_day(day_season_start(south, 2027), "2027-01-01");
    assert_int_equal(day_season_start(north, 1), DAY_NONE);
    assert_int_equal(day_season_start(south, 10000), DAY_NONE);
}

static void seasons_are_366_days_when_they_hold_a_leap_day(void **state)
{
    (void)state;
    assert_int_equal(day_season_length(north, 2027), 365);
    assert_int_equal(day_season_length(north, 2028), 366);
    assert_int_equal(day_season_length(south, 2028), 366);
    assert_int_equal(day_season_length(south, 2029), 365);
    assert_int_equal(day_season_length(north, 2100), 365);
    assert_int_equal(day_season_length(south, 1), 365);
    assert_int_equal(day_season_length(north, 1), 365);
    assert_int_equal(day_season_length(south, 9999), 365);
    struct season_rule march = {{3, 1}, true};
    assert_int_equal(day_season_length(march, 2027), 366);
    assert_int_equal(day_season_length(march, 2028), 365);
}

static void seasons_follow_each_other_without_gap(void **state)
{
    (void)state;
    for (int month = 1; month <= 12; month++)
        for (int northern = 0; northern < 2; northern++) {
            struct season_rule rule = {{month, month == 2 ? 29 : 15}, northern};
            int season = day_season(rule, known("1895-01-01"));
            int index = day_of_season(rule, known("1895-01-01"));
            for (daynum day = known("1895-01-01"); day <= known("2105-12-31"); day++) {
                if (index == day_season_length(rule, season)) {
                    season++;
                    index = 0;
                    assert_int_equal(day_season_start(rule, season), day);
                }
                assert_int_equal(day_season(rule, day), season);
                assert_int_equal(day_of_season(rule, day), index);
                index++;
            }
        }
}

static void days_map_to_the_same_calendar_day_of_another_season(void **state)
{
    (void)state;
    static const struct {
        const struct season_rule *rule;
        const char *day;
        int from;
        const char *source;
    } rows[] = {
        {&north, "2026-07-01", 2024, "2023-07-01"}, {&north, "2027-06-30", 2024, "2024-06-30"},
        {&north, "2027-02-28", 2024, "2024-02-28"}, {&north, "2027-03-01", 2024, "2024-03-01"},
        {&north, "2028-02-28", 2023, "2023-02-28"}, {&north, "2028-02-29", 2023, "2023-02-28"},
        {&north, "2028-03-01", 2023, "2023-03-01"}, {&north, "2028-02-29", 2024, "2024-02-29"},
        {&north, "2028-02-29", 2100, "2100-02-28"}, {&south, "2028-02-29", 2026, "2026-02-28"},
        {&south, "2027-12-31", 2024, "2024-12-31"}, {&south, "2027-01-01", 2024, "2024-01-01"},
        {&north, "2027-03-09", 2027, "2027-03-09"}, {&north, "2027-03-09", 0, ""},
        {&south, "2027-03-09", 10000, ""},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        daynum day = known(rows[i].day);
        int season = day_season(*rows[i].rule, day);
        assert_day(day_map_season(*rows[i].rule, season, day, rows[i].from), rows[i].source);
    }
}

/* Laying one season into another asks for each source day once, but for the end of February. */
static void a_mapped_season_is_whole(void **state)
{
    (void)state;
    const struct season_rule rules[] = {north, south, {{3, 1}, true}, {{10, 1}, false}};
    for (size_t r = 0; r < COUNT(rules); r++)
        for (int season = 2023; season <= 2032; season++)
            for (int from = 1896; from <= 1905; from++) {
                daynum start = day_season_start(rules[r], season);
                daynum source_start = day_season_start(rules[r], from);
                int length = day_season_length(rules[r], season);
                int source_length = day_season_length(rules[r], from);
                int asked[366] = {0};
                for (daynum day = start; day < start + length; day++) {
                    daynum source = day_map_season(rules[r], season, day, from);
                    assert_in_range(source - source_start, 0, source_length - 1);
                    asked[source - source_start]++;

                    struct civil here = day_to_civil(day), there = day_to_civil(source);
                    daynum back = day_map_season(rules[r], from, source, season);
                    if (here.month == there.month && here.day == there.day)
                        assert_int_equal(back, day);
                    else
                        assert_true(here.month == 2 && here.day == 29 && there.day == 28);
                }
                for (int i = 0; i < source_length; i++) {
                    struct civil source = day_to_civil(source_start + i);
                    int expected = 1;
                    if (source.month == 2 && source.day == 28 && length > source_length)
                        expected = 2;
                    if (source.month == 2 && source.day == 29 && length < source_length)
                        expected = 0;
                    assert_int_equal(asked[i], expected);
                }
            }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_day_agrees_with_the_c_library),
        cmocka_unit_test(every_day_comes_back_from_its_text),
        cmocka_unit_test(known_days_have_their_numbers),
        cmocka_unit_test(leap_years_follow_the_gregorian_rule),
        cmocka_unit_test(dates_that_are_not_there_have_no_day),
        cmocka_unit_test(iso_weeks_at_the_turn_of_the_year),
        cmocka_unit_test(weeks_that_are_not_there_are_refused),
        cmocka_unit_test(only_exact_dates_are_read),
        cmocka_unit_test(only_exact_weeks_are_read),
        cmocka_unit_test(only_exact_month_days_are_read),
        cmocka_unit_test(unknown_days_are_written_as_nothing),
        cmocka_unit_test(names_are_english_and_short),
        cmocka_unit_test(month_days_fall_in_every_year),
        cmocka_unit_test(seasons_hold_the_spring_of_their_year),
        cmocka_unit_test(seasons_are_366_days_when_they_hold_a_leap_day),
        cmocka_unit_test(seasons_follow_each_other_without_gap),
        cmocka_unit_test(days_map_to_the_same_calendar_day_of_another_season),
        cmocka_unit_test(a_mapped_season_is_whole),
    };
    return cmocka_run_group_tests_name("day", tests, NULL, NULL) != 0;
}
