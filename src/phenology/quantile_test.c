/*
 * quantile_test.c - the nine types on samples with known answers, at the ends, and with infinities.
 */
#include "conetide/quantile.h"

#include "base/test.h"

static void a_sample_of_twelve_days_has_its_nine_answers(void **state)
{
    static const double sorted[] = {79, 83, 85, 87, 88, 90, 92, 94, 96, 97, 99, 101};
    static const double expected[] = {83, 83, 79, 79.8, 81.8, 80.2, 83.2, 81 + 4.0 / 15., 81.4};
    double value;

    (void)state;
    for (int type = 1; type <= 9; type++) {
        assert_int_equal(conetide_quantile(type, COUNT(sorted), sorted, 0.1, &value), CONETIDE_OK);
        assert_near(value, expected[type - 1], 1e-12);
    }
}

static void the_quarter_of_one_to_four_has_its_nine_answers(void **state)
{
    static const double sorted[] = {1, 2, 3, 4};
    static const double expected[] = {1, 1.5, 1, 1, 1.5, 1.25, 1.75, 17 / 12.0, 1.4375};
    double value;

    (void)state;
    for (int type = 1; type <= 9; type++) {
        assert_int_equal(conetide_quantile(type, COUNT(sorted), sorted, 0.25, &value), CONETIDE_OK);
        assert_near(value, expected[type - 1], 1e-12);
    }
}

static void ends_are_the_ends_and_one_value_is_itself(void **state)
{
    static const double sorted[] = {-2, 0, 7};
    double value;

    (void)state;
    for (int type = 1; type <= 9; type++) {
        assert_int_equal(conetide_quantile(type, 3, sorted, 0, &value), CONETIDE_OK);
        assert_near(value, -2, 0);
        assert_int_equal(conetide_quantile(type, 3, sorted, 1, &value), CONETIDE_OK);
        assert_near(value, 7, 0);
        for (int tenth = 0; tenth <= 10; tenth++) {
            assert_int_equal(conetide_quantile(type, 1, sorted, tenth / 10.0, &value), CONETIDE_OK);
            assert_near(value, -2, 0);
        }
    }
}

static void a_whole_position_does_not_slip_by_rounding(void **state)
{
    double sorted[1000], value;

    (void)state;
    for (size_t i = 0; i < COUNT(sorted); i++)
        sorted[i] = (double)i + 1;
    for (int n = 10; n <= 1000; n += 10) {
        for (int tenth = 1; tenth <= 10; tenth++) {
            assert_int_equal(conetide_quantile(1, (size_t)n, sorted, tenth / 10.0, &value),
                             CONETIDE_OK);
            assert_near(value, n * tenth / 10, 0);
        }
    }
}

static void dates_not_reached_stay_at_the_end(void **state)
{
    static const double sorted[] = {10, 20, 30, INFINITY, INFINITY};
    double value;

    (void)state;
    assert_int_equal(conetide_quantile(8, 5, sorted, 0.5, &value), CONETIDE_OK);
    assert_near(value, 30, 0);
    assert_int_equal(conetide_quantile(8, 5, sorted, 0.6, &value), CONETIDE_OK);
    assert_true(isinf(value) && value > 0);
    assert_int_equal(conetide_quantile(8, 5, sorted, 1, &value), CONETIDE_OK);
    assert_true(isinf(value) && value > 0);
}

static void senseless_arguments_are_refused(void **state)
{
    static const double sorted[] = {1, 2};
    static const double endless[] = {-INFINITY, INFINITY};
    static const struct {
        int type;
        size_t n;
        double p;
    } rows[] = {{0, 2, 0.5},     {10, 2, 0.5},   {-1, 2, 0.5}, {8, 0, 0.5},
                {8, 2, -0.0001}, {8, 2, 1.0001}, {8, 2, NAN}};
    double value;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        value = 1;
        assert_int_equal(conetide_quantile(rows[i].type, rows[i].n, sorted, rows[i].p, &value),
                         CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(value));
    }
    assert_int_equal(conetide_quantile(7, 2, endless, 0.5, &value), CONETIDE_BAD_ARGUMENT);
    assert_true(isnan(value));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sample_of_twelve_days_has_its_nine_answers),
        cmocka_unit_test(the_quarter_of_one_to_four_has_its_nine_answers),
        cmocka_unit_test(ends_are_the_ends_and_one_value_is_itself),
        cmocka_unit_test(a_whole_position_does_not_slip_by_rounding),
        cmocka_unit_test(dates_not_reached_stay_at_the_end),
        cmocka_unit_test(senseless_arguments_are_refused),
    };

    return cmocka_run_group_tests_name("quantile", tests, NULL, NULL) != 0;
}
