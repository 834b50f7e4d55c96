#include "planning/gaps.h"

#include "base/test.h"

enum { DAYS = 40 };

static double seen_tmin[DAYS], seen_tmax[DAYS], filled_tmin[DAYS], filled_tmax[DAYS];
static const struct extremes seen = {seen_tmin, seen_tmax}, filled = {filled_tmin, filled_tmax};

/* Minimum i on day i, maximum 10 more. */
static int setup(void **state)
{
    (void)state;
    for (size_t i = 0; i < DAYS; i++) {
        seen_tmin[i] = (double)i;
        seen_tmax[i] = (double)i + 10;
    }
    return 0;
}

static void lose(double *series, size_t first, size_t days)
{
    for (size_t i = first; i < first + days; i++)
        series[i] = (double)NAN;
}

static void what_was_seen_is_copied(void **state)
{
    (void)state;
    gaps_fill(DAYS, seen, filled);
    assert_memory_equal(filled_tmin, seen_tmin, sizeof filled_tmin);
    assert_memory_equal(filled_tmax, seen_tmax, sizeof filled_tmax);
}

static void each_extreme_is_filled_for_itself(void **state)
{
    (void)state;
    lose(seen_tmin, 10, 7);
    lose(seen_tmax, 13, 8);
    seen_tmax[12] = 20;
    gaps_fill(DAYS, seen, filled);
    for (size_t i = 0; i < DAYS; i++) {
        assert_near(filled_tmin[i], (double)i, 1e-12);
        if (i >= 13 && i < 21)
            assert_true(isnan(filled_tmax[i]));
        else
            assert_near(filled_tmax[i], i == 12 ? 20 : (double)i + 10, 1e-12);
    }
}

static void ends_stay_open(void **state)
{
    (void)state;
    lose(seen_tmin, 0, 2);
    lose(seen_tmax, DAYS - 1, 1);
    gaps_fill(DAYS, seen, filled);
    assert_true(isnan(filled_tmin[0]) && isnan(filled_tmin[1]));
    assert_near(filled_tmax[1], 11, 0);
    assert_true(isnan(filled_tmax[DAYS - 1]));
    assert_near(filled_tmin[DAYS - 1], DAYS - 1, 0);
}

static void a_reversed_day_was_not_seen(void **state)
{
    (void)state;
    seen_tmin[20] = 55;
    gaps_fill(DAYS, seen, filled);
    assert_near(filled_tmin[20], 20, 1e-12);
    assert_near(filled_tmax[20], 30, 1e-12);
}

static void what_is_filled_yields_to_what_was_seen(void **state)
{
    (void)state;
    seen_tmin[10] = (double)NAN;
    seen_tmax[10] = 4;
    seen_tmin[20] = 37;
    seen_tmax[20] = (double)NAN;
    gaps_fill(DAYS, seen, filled);
    assert_near(filled_tmin[10], 4, 0);
    assert_near(filled_tmax[10], 4, 0);
    assert_near(filled_tmin[20], 37, 0);
    assert_near(filled_tmax[20], 37, 0);
}

/* A minimum that rises to day 4 alone, and a maximum that has not come so far. */
static void of_two_filled_ones_the_minimum_yields(void **state)
{
    (void)state;
    lose(seen_tmin, 1, 3);
    lose(seen_tmax, 1, 7);
    seen_tmin[4] = 16;
    gaps_fill(DAYS, seen, filled);
    assert_near(filled_tmax[3], 13, 1e-12);
    assert_near(filled_tmin[3], 12, 1e-12);
    seen_tmin[4] = 24;
    gaps_fill(DAYS, seen, filled);
    assert_near(filled_tmax[3], 13, 1e-12);
    assert_near(filled_tmin[3], 13, 1e-12); /* the line has 18 */
    assert_near(filled_tmax[4], 24, 0);     /* the line has 14 */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(what_was_seen_is_copied, setup),
        cmocka_unit_test_setup(each_extreme_is_filled_for_itself, setup),
        cmocka_unit_test_setup(ends_stay_open, setup),
        cmocka_unit_test_setup(a_reversed_day_was_not_seen, setup),
        cmocka_unit_test_setup(what_is_filled_yields_to_what_was_seen, setup),
        cmocka_unit_test_setup(of_two_filled_ones_the_minimum_yields, setup),
    };
    return cmocka_run_group_tests_name("gaps", tests, NULL, NULL) != 0;
}
