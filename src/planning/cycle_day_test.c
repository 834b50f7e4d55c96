#include "planning/cycle_day.h"

#include "base/test.h"

static const struct season_rule north = {{7, 1}, true}, south = {{1, 1}, false};

static void a_day_of_the_cycle_is_read_exactly(void **state)
{
    static const char *const wrong[] = {"",         "Y3",        "Y3-9-12", "y3-09-12", "Y10-09-12",
                                        "Y3-02-30", "Y3-09-12 ", "first+0", "YX-09-12", "Y3/09-12"};
    struct cycle_day day = {7, {7, 7}};
    (void)state;
    for (size_t i = 0; i < COUNT(wrong); i++)
        assert_false(cycle_day_read(wrong[i], &day));
    assert_false(cycle_day_read(NULL, &day));
    assert_int_equal(day.year, 7);
    assert_true(cycle_day_read("Y3-09-12", &day));
    assert_int_equal(day.year, 3);
    assert_int_equal(day.month_day.month, 9);
    assert_int_equal(day.month_day.day, 12);
}

static void the_third_year_is_two_after_the_year_of_the_cycle(void **state)
{
    (void)state;
    assert_int_equal(cycle_day_of((struct cycle_day){3, {9, 12}}, north, 2027),
                     day_from_civil(2029, 9, 12));
    assert_int_equal(cycle_day_of((struct cycle_day){0, {11, 30}}, north, 2027),
                     day_from_civil(2026, 11, 30));
}

/* Cycle 2026 in the south: grafted in August 2026, pollinated in the spring of 2027, ripe in March
 * 2029, half a year after the north's autumn of 2028. */
static void southern_days_fall_six_months_on(void **state)
{
    (void)state;
    assert_int_equal(cycle_day_of((struct cycle_day){3, {9, 12}}, south, 2026),
                     day_from_civil(2029, 3, 12));
    assert_int_equal(cycle_day_of((struct cycle_day){1, {2, 1}}, south, 2026),
                     day_from_civil(2026, 8, 1));
}

static void beyond_the_calendar_there_is_no_day(void **state)
{
    (void)state;
    assert_int_equal(cycle_day_of((struct cycle_day){3, {9, 12}}, north, 9999), DAY_NONE);
    assert_int_equal(cycle_day_of((struct cycle_day){1, {9, 12}}, south, 9999), DAY_NONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_day_of_the_cycle_is_read_exactly),
        cmocka_unit_test(the_third_year_is_two_after_the_year_of_the_cycle),
        cmocka_unit_test(southern_days_fall_six_months_on),
        cmocka_unit_test(beyond_the_calendar_there_is_no_day),
    };

    return cmocka_run_group_tests_name("planning/cycle_day", tests, NULL, NULL) != 0;
}
