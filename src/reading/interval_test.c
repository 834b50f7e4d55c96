#include "reading/interval.h"

#include "base/day.h"
#include "base/test.h"

static int64_t second_of(const char *text)
{
    int64_t second;
    if (!moment_parse(strlen(text), text, &second))
        fail_msg("'%s' is no moment", text);
    return second;
}

static int64_t at(int year, int month, int day, int64_t second)
{
    return (int64_t)day_from_civil(year, month, day) * 86400 + second;
}

static void a_moment_is_told_in_utc(void **state)
{
    (void)state;
    assert_int_equal(second_of("2027-03-08T13:00:00+00:00"), at(2027, 3, 8, 13 * 3600));
    assert_int_equal(second_of("2027-03-08T13:00:05Z"), at(2027, 3, 8, 13 * 3600 + 5));
    assert_int_equal(second_of("2027-03-08T13:00Z"), at(2027, 3, 8, 13 * 3600));
    assert_int_equal(second_of("2027-03-08T13:00:05.250Z"), at(2027, 3, 8, 13 * 3600 + 5));
    assert_int_equal(second_of("2027-03-08T22:30:00-05:00"), at(2027, 3, 9, 3 * 3600 + 1800));
    assert_int_equal(second_of("2027-03-08T02:00:00+0330"), at(2027, 3, 7, 22 * 3600 + 1800));
    assert_int_equal(second_of("2027-03-08T02:00:00+02"), at(2027, 3, 8, 0));
    assert_int_equal(second_of("2027-02-28T24:00:00Z"), at(2027, 3, 1, 0));
    assert_int_equal(second_of("1969-12-31T23:59:59Z"), at(1969, 12, 31, 86399));
}

static void what_is_no_moment_is_refused(void **state)
{
    static const char *const texts[] = {"",
                                        "2027-03-08",
                                        "2027-03-08T",
                                        "2027-03-08T13",
                                        "2027-03-08T13:00:00",
                                        "2027-02-29T13:00:00Z",
                                        "2027-03-08 13:00:00Z",
                                        "2027-03-08T1:00:00Z",
                                        "2027-03-08T25:00:00Z",
                                        "2027-03-08T24:00:01Z",
                                        "2027-03-08T13:60:00Z",
                                        "2027-03-08T13:00:60Z",
                                        "2027-03-08T13:00:0Z",
                                        "2027-03-08T13:00:00.Z",
                                        "2027-03-08T13:00:00+15:00",
                                        "2027-03-08T13:00:00+5:00",
                                        "2027-03-08T13:00:00+05:",
                                        "2027-03-08T13:00:00+05:60",
                                        "2027-03-08T13:00:00Zz",
                                        "1799-12-31T13:00:00Z",
                                        "2200-01-01T13:00:00Z",
                                        "NOW"};
    int64_t second;
    (void)state;
    for (size_t i = 0; i < COUNT(texts); i++)
        if (moment_parse(strlen(texts[i]), texts[i], &second))
            fail_msg("'%s' was taken", texts[i]);
}

static void a_duration_is_its_months_and_seconds(void **state)
{
    static const struct {
        const char *text;
        int64_t months, seconds;
    } cases[] = {{"PT13H", 0, 46800},        {"P1D", 0, 86400},        {"P1DT6H", 0, 108000},
                 {"P7DT21H", 0, 680400},     {"P2W", 0, 1209600},      {"PT1H30M", 0, 5400},
                 {"PT45S", 0, 45},           {"P1DT1H1M1S", 0, 90061}, {"P1M", 1, 0},
                 {"P1Y2M3DT4H", 14, 273600}, {"P0Y0M1D", 0, 86400},    {"PT1.5H", 0, 5400},
                 {"P0,25D", 0, 21600},       {"PT1H0.5M", 0, 3630},    {"PT36H", 0, 129600}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct duration duration;
        if (!duration_parse(strlen(cases[i].text), cases[i].text, &duration))
            fail_msg("'%s' is no duration", cases[i].text);
        assert_int_equal(duration.months, cases[i].months);
        assert_int_equal(duration.seconds, cases[i].seconds);
    }
}

static void what_is_no_duration_is_refused(void **state)
{
    static const char *const texts[] = {
        "",       "P",     "PT",    "P1",       "13H",      "P0.5M",    "P1.5Y",      "PT0H",
        "PT1H1H", "PT1.H", "PT1.",  "PT1.5H1M", "P1.5DT1H", "PT1.2.3H", "PT1M1H",     "P1H",
        "PT1D",   "P1D1D", "P1M1Y", "P-1D",     "P1DT",     "PT13Hx",   "PT9999999H", "P0.0D"};
    struct duration duration;
    (void)state;
    for (size_t i = 0; i < COUNT(texts); i++)
        if (duration_parse(strlen(texts[i]), texts[i], &duration))
            fail_msg("'%s' was taken", texts[i]);
}

static void months_are_those_of_the_calendar(void **state)
{
    static const struct {
        const char *text;
        int start[3], end[3];
    } cases[] = {{"2027-01-31T00:00:00Z/P1M", {2027, 1, 31}, {2027, 2, 28}},
                 {"2028-01-31T00:00:00Z/P1M1D", {2028, 1, 31}, {2028, 3, 1}},
                 {"P1Y/2028-02-29T00:00:00Z", {2027, 2, 28}, {2028, 2, 29}}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct interval interval;
        const int *start = cases[i].start, *end = cases[i].end;
        assert_true(interval_parse(strlen(cases[i].text), cases[i].text, &interval));
        assert_int_equal(interval.start, at(start[0], start[1], start[2], 0));
        assert_int_equal(interval.end, at(end[0], end[1], end[2], 0));
    }
}

static void an_interval_has_three_shapes(void **state)
{
    static const char *const texts[] = {"2027-03-08T13:00:00+00:00/PT13H",
                                        "2027-03-08T13:00:00+00:00/2027-03-08T21:00:00-05:00",
                                        "PT13H/2027-03-09T02:00:00Z"};
    (void)state;
    for (size_t i = 0; i < COUNT(texts); i++) {
        struct interval interval;
        if (!interval_parse(strlen(texts[i]), texts[i], &interval))
            fail_msg("'%s' is no interval", texts[i]);
        assert_int_equal(interval.start, at(2027, 3, 8, 13 * 3600));
        assert_int_equal(interval.end, at(2027, 3, 9, 2 * 3600));
    }
}

static void what_is_no_interval_is_refused(void **state)
{
    static const char *const texts[] = {"2027-03-08T13:00:00Z",
                                        "2027-03-08T13:00:00Z/",
                                        "/PT13H",
                                        "PT1H/PT1H",
                                        "NOW/PT13H",
                                        "PT13H/NOW",
                                        "2027-03-08T13:00:00Z/2027-03-08T13:00:00Z",
                                        "2027-03-08T13:00:00Z/P99999Y",
                                        "2027-03-08T13:00:00Z/2027-03-07T13:00:00Z"};
    struct interval interval;
    (void)state;
    for (size_t i = 0; i < COUNT(texts); i++)
        if (interval_parse(strlen(texts[i]), texts[i], &interval))
            fail_msg("'%s' was taken", texts[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_moment_is_told_in_utc),
        cmocka_unit_test(what_is_no_moment_is_refused),
        cmocka_unit_test(a_duration_is_its_months_and_seconds),
        cmocka_unit_test(what_is_no_duration_is_refused),
        cmocka_unit_test(months_are_those_of_the_calendar),
        cmocka_unit_test(an_interval_has_three_shapes),
        cmocka_unit_test(what_is_no_interval_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
