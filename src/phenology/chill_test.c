/*
 * chill_test.c - units at the ends of their ranges, the Dynamic model at constant and waving
 * temperatures, and dates that need chilling before heat by hand.
 */
#include "conetide/chill.h"

#include "base/test.h"

static void both_ends_of_the_range_chill(void **state)
{
    (void)state;
    assert_near(conetide_chill_hour(0, 0, 8), 1, 0);
    assert_near(conetide_chill_hour(8, 0, 8), 1, 0);
    assert_near(conetide_chill_hour(8.0001, 0, 8), 0, 0);
    assert_near(conetide_chill_hour(-0.0001, 0, 8), 0, 0);
    assert_near(conetide_chill_hour(-30, -INFINITY, 7.2), 1, 0);
    assert_true(isnan(conetide_chill_hour(NAN, 0, 8)));
}

static void utah_steps_close_on_the_right(void **state)
{
    static const double rows[][2] = {{-5, 0},       {1.4, 0},    {1.41, 0.5}, {2.4, 0.5}, {2.41, 1},
                                     {9.1, 1},      {9.11, 0.5}, {12.4, 0.5}, {12.41, 0}, {15.9, 0},
                                     {15.91, -0.5}, {18, -0.5},  {18.01, -1}, {40, -1}};

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_near(conetide_utah_unit(rows[i][0]), rows[i][1], 0);
    assert_true(isnan(conetide_utah_unit(NAN)));
}

static void growing_hours_peak_at_the_optimum(void **state)
{
    (void)state;
    assert_near(conetide_growing_degree_hour(3.9, &conetide_anderson), 0, 0);
    assert_near(conetide_growing_degree_hour(4, &conetide_anderson), 0, 1e-12);
    assert_near(conetide_growing_degree_hour(14.5, &conetide_anderson), 10.5, 1e-12);
    assert_near(conetide_growing_degree_hour(25, &conetide_anderson), 21, 1e-12);
    assert_near(conetide_growing_degree_hour(25 + 1e-12, &conetide_anderson), 21, 1e-9);
    assert_near(conetide_growing_degree_hour(36, &conetide_anderson), 0, 1e-12);
    assert_near(conetide_growing_degree_hour(36.1, &conetide_anderson), 0, 0);
    assert_true(isnan(conetide_growing_degree_hour(NAN, &conetide_anderson)));
}

/* Hours to the first portion at a constant temperature: ceil(ln(1 - 1 / level) / -rate). */
static void the_first_portion_comes_after_a_known_number_of_hours(void **state)
{
    static const struct {
        double temperature_c;
        int hours;
    } rows[] = {{0, 34}, {2, 31}, {4, 30}, {6, 29}, {8, 29}, {10, 31}, {12, 39}};

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct conetide_dynamic dynamic = {0, 0};
        int hours = 0;

        while (dynamic.portions <= 0) {
            conetide_dynamic_hour(&dynamic, rows[i].temperature_c);
            hours++;
        }
        assert_int_equal(hours, rows[i].hours);
    }
}

static void warm_hours_fix_no_portion(void **state)
{
    struct conetide_dynamic dynamic = {0, 0};

    (void)state;
    for (int hour = 0; hour < 2000; hour++)
        conetide_dynamic_hour(&dynamic, 13);
    assert_near(dynamic.portions, 0, 0);
    conetide_dynamic_hour(&dynamic, NAN);
    conetide_dynamic_hour(&dynamic, 5);
    assert_true(isnan(dynamic.portions));
}

/* chillR 0.77 on 30 days of a sine of 8 deg C about the mean, highest at 15 h. */
static void waves_of_thirty_days_give_known_totals(void **state)
{
    static const struct {
        double mean_c, portions, utah, chill_hours, growing;
    } rows[] = {{6, 17.04490, 270, 240, 2080.51105}, {11, 12.74999, 210, 270, 5009.84586}};

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct conetide_dynamic dynamic = {0, 0};
        double utah = 0, chill_hours = 0, growing = 0;

        for (int hour = 0; hour < 720; hour++) {
            double temperature_c = rows[i].mean_c + 8 * sin(2 * acos(-1) * (hour - 9) / 24);

            if (hour < 719) /* there an hour's temperature counts for the hour after */
                conetide_dynamic_hour(&dynamic, temperature_c);
            utah += conetide_utah_unit(temperature_c);
            chill_hours += conetide_chill_hour(temperature_c, 0, 7.2);
            growing += conetide_growing_degree_hour(temperature_c, &conetide_anderson);
        }
        assert_near(dynamic.portions, rows[i].portions, 5.1e-6);
        assert_near(utah, rows[i].utah, 0);
        assert_near(chill_hours, rows[i].chill_hours, 0);
        assert_near(growing, rows[i].growing, 5.1e-6);
    }
}

static void daily_rates_have_their_shapes(void **state)
{
    (void)state;
    assert_near(conetide_chilling_rate(-3.4, -3.4, 3.5, 10.4), 0, 0);
    assert_near(conetide_chilling_rate(0.05, -3.4, 3.5, 10.4), 0.5, 1e-12);
    assert_near(conetide_chilling_rate(3.5, -3.4, 3.5, 10.4), 1, 1e-12);
    assert_near(conetide_chilling_rate(10.4, -3.4, 3.5, 10.4), 0, 0);
    assert_near(conetide_forcing_rate(18.4), 14.2, 1e-12);
    assert_near(conetide_forcing_rate(0), 0, 0);
    assert_true(isnan(conetide_forcing_rate(NAN)));
    assert_true(isnan(conetide_chilling_rate(NAN, -3.4, 3.5, 10.4)));
}

static const double chill[] = {1, 1, 0, 1, 0, 0, 0, 0}, heat[] = {5, 4, 6, 2, 8, 3, 9, 7};
static const struct conetide_dormancy dormancy = {COUNT(chill), chill, heat};

static void heat_counts_after_chilling_is_done(void **state)
{
    static const struct {
        struct conetide_sequential_need need;
        size_t index;
    } rows[] = {{{2, 6}, 2}, {{2, 6.1}, 3}, {{3, 8}, 4}, {{3, 27}, 7}, {{3, 27.1}, 8}, {{4, 1}, 8}};
    size_t index;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_sequential(&dormancy, &rows[i].need, &index),
                         rows[i].index < 8 ? CONETIDE_OK : CONETIDE_NOT_REACHED);
        assert_int_equal(index, rows[i].index);
    }
}

static void heat_counts_in_part_while_chilling_goes_on(void **state)
{
    /* k = .2 .6 1 1 ...: sums 1, 3.4, 9.4, 11.4, 19.4 */
    static const struct {
        double heat_need;
        size_t index;
    } rows[] = {{1, 0}, {3.4, 1}, {3.5, 2}, {9.4, 2}, {11.5, 4}, {39, 8}};
    size_t index;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct conetide_parallel_need need = {2, rows[i].heat_need, 0.2};

        assert_int_equal(conetide_parallel(&dormancy, &need, &index),
                         rows[i].index < 8 ? CONETIDE_OK : CONETIDE_NOT_REACHED);
        assert_int_equal(index, rows[i].index);
    }
}

static void the_need_falls_as_chilling_grows(void **state)
{
    /* from day 1: sums 4, 10, 12, 20, ... against 3 + 40 exp(-0.7 * 2, 2, 3, ...) */
    static const struct conetide_alternating_need need = {1, 3, 40, -0.7},
                                                  hard = {1, 3, 4000, -0.7};
    size_t index;

    (void)state;
    assert_true(10 < 3 + 40 * exp(-1.4) && 12 >= 3 + 40 * exp(-2.1));
    assert_int_equal(conetide_alternating(&dormancy, &need, &index), CONETIDE_OK);
    assert_int_equal(index, 3);
    assert_int_equal(conetide_alternating(&dormancy, &hard, &index), CONETIDE_NOT_REACHED);
    assert_int_equal(index, 8);
}

static void a_missing_day_hides_what_comes_after(void **state)
{
    static const double holes[] = {1, 1, 0, 1, NAN, 0, 0, 0};
    static const struct conetide_dormancy with_hole = {COUNT(holes), holes, heat};
    size_t index;

    (void)state;
    assert_int_equal(
        conetide_sequential(&with_hole, &(struct conetide_sequential_need){2, 6}, &index),
        CONETIDE_OK);
    assert_int_equal(
        conetide_sequential(&with_hole, &(struct conetide_sequential_need){3, 8}, &index),
        CONETIDE_MISSING);
    assert_int_equal(index, 8);
    assert_int_equal(
        conetide_parallel(&with_hole, &(struct conetide_parallel_need){2, 12, 0.2}, &index),
        CONETIDE_MISSING);
    assert_int_equal(conetide_alternating(
                         &with_hole, &(struct conetide_alternating_need){1, 30, 40, -0.7}, &index),
                     CONETIDE_MISSING);
}

static void needs_out_of_range_are_refused(void **state)
{
    size_t index;

    (void)state;
    assert_int_equal(
        conetide_sequential(&dormancy, &(struct conetide_sequential_need){0, 6}, &index),
        CONETIDE_BAD_ARGUMENT);
    assert_int_equal(
        conetide_sequential(&dormancy, &(struct conetide_sequential_need){2, NAN}, &index),
        CONETIDE_BAD_ARGUMENT);
    assert_int_equal(
        conetide_parallel(&dormancy, &(struct conetide_parallel_need){2, 6, 1.1}, &index),
        CONETIDE_BAD_ARGUMENT);
    assert_int_equal(
        conetide_parallel(&dormancy, &(struct conetide_parallel_need){-2, 6, 0.1}, &index),
        CONETIDE_BAD_ARGUMENT);
    assert_int_equal(
        conetide_alternating(&dormancy, &(struct conetide_alternating_need){0, 3, 40, 0.1}, &index),
        CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_alternating(
                         &dormancy, &(struct conetide_alternating_need){0, -1, 40, -0.1}, &index),
                     CONETIDE_BAD_ARGUMENT);
    assert_int_equal(index, 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_ends_of_the_range_chill),
        cmocka_unit_test(utah_steps_close_on_the_right),
        cmocka_unit_test(growing_hours_peak_at_the_optimum),
        cmocka_unit_test(the_first_portion_comes_after_a_known_number_of_hours),
        cmocka_unit_test(warm_hours_fix_no_portion),
        cmocka_unit_test(waves_of_thirty_days_give_known_totals),
        cmocka_unit_test(daily_rates_have_their_shapes),
        cmocka_unit_test(heat_counts_after_chilling_is_done),
        cmocka_unit_test(heat_counts_in_part_while_chilling_goes_on),
        cmocka_unit_test(the_need_falls_as_chilling_grows),
        cmocka_unit_test(a_missing_day_hides_what_comes_after),
        cmocka_unit_test(needs_out_of_range_are_refused),
    };

    return cmocka_run_group_tests_name("chill", tests, NULL, NULL) != 0;
}
