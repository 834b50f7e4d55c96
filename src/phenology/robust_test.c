/*
 * robust_test.c - trends by hand, with ties and outliers, and circular means across New Year.
 */
#include "conetide/robust.h"

#include "base/test.h"

enum { MOST = 16 };
static double workspace[CONETIDE_TREND_WORKSPACE(MOST)];

static struct conetide_trend trend_of(size_t n, const double *x, const double *y)
{
    struct conetide_trend trend;

    assert_true(n <= MOST);
    assert_int_equal(conetide_trend_of(n, x, y, workspace, &trend), CONETIDE_OK);
    return trend;
}

/* SciPy 1.10.1, scipy.stats.theilslopes, both of its intercepts. */
static void five_points_give_what_SciPy_gives(void **state)
{
    static const double x[] = {1, 2, 3, 4, 5}, y[] = {1, 3, 2, 5, 4};
    struct conetide_trend trend = trend_of(5, x, y);

    (void)state;
    assert_near(trend.slope, 0.875, 1e-15);
    assert_near(trend.low95, -1, 0);
    assert_near(trend.high95, 3, 0);
    assert_near(trend.intercept_separate, 0.375, 1e-15);
    assert_near(trend.intercept_joint, 0.125, 1e-15);
}

static void one_wild_year_does_not_turn_the_line(void **state)
{
    double x[11], y[11];
    struct conetide_trend trend;

    (void)state;
    for (int i = 0; i < 11; i++) {
        x[i] = i;
        y[i] = 2 * i + 1;
    }
    y[10] = 1000;
    trend = trend_of(11, x, y);
    assert_near(trend.slope, 2, 0);
    assert_near(trend.intercept_separate, 1, 0);
    assert_near(trend.intercept_joint, 1, 0);
    assert_near(trend.low95, 2, 0);
    assert_near(trend.high95, 2, 0);
}

static void the_order_of_points_makes_no_difference(void **state)
{
    static const double x[] = {3, 1, 2, 1, 5, 4}, y[] = {9, 4, 7, 3, 14, 8};
    double backward_x[6], backward_y[6];
    struct conetide_trend one = trend_of(6, x, y), other;

    (void)state;
    for (int i = 0; i < 6; i++) {
        backward_x[i] = x[5 - i];
        backward_y[i] = y[5 - i];
    }
    other = trend_of(6, backward_x, backward_y);
    assert_memory_equal(&one, &other, sizeof one);
}

/* The variance of S over all orders of the tied values, which is what the closed form stands for.
 */
static double variance_of_s(const double *y, size_t n, double *order, unsigned used)
{
    static double squares, count;
    static size_t depth;

    if (depth == 0)
        squares = count = 0;
    if (depth == n) {
        double s = 0;

        for (size_t i = 0; i < n; i++) {
            for (size_t k = i + 1; k < n; k++)
                s += (order[k] > order[i]) - (order[k] < order[i]);
        }
        squares += s * s;
        count++;
        return 0;
    }
    for (size_t i = 0; i < n; i++) {
        if (used & 1u << i)
            continue;
        order[depth++] = y[i];
        variance_of_s(y, n, order, used | 1u << i);
        depth--;
    }
    return squares / count;
}

static void ties_narrow_the_interval_as_all_orders_say(void **state)
{
    static const double x[] = {1, 2, 3, 4, 5, 6, 7}, y[] = {3, 3, 5, 3, 5, 8, 9};
    double order[7], slopes[21], half = 1.959964 * sqrt(variance_of_s(y, 7, order, 0));
    struct conetide_trend trend = trend_of(7, x, y);
    size_t count = 0, below = 0, above = 0;

    (void)state;
    for (size_t i = 0; i < 7; i++) {
        for (size_t k = i + 1; k < 7; k++)
            slopes[count++] = (y[k] - y[i]) / (x[k] - x[i]);
    }
    for (size_t i = 0; i < count; i++) {
        below += slopes[i] < trend.low95;
        above += slopes[i] > trend.high95;
    }
    /* ranks are whole: the ends lie within one rank of those of the variance */
    assert_true((double)below <= round((21 - half) / 2) - 1);
    assert_true((double)above <= 21 - round((21 + half) / 2) - 1);
    assert_true(trend.low95 < trend.slope && trend.slope < trend.high95);
    assert_near(half * half, 3.841459 * (7 * 6 * 19 - 3 * 2 * 11 - 2 * 1 * 9) / 18.0, 1e-3);
}

static void points_without_a_slope_are_refused(void **state)
{
    static const double x[] = {2, 2, 2}, y[] = {1, 5, 3}, hole[] = {1, NAN, 3};
    struct conetide_trend trend;

    (void)state;
    assert_int_equal(conetide_trend_of(3, x, y, workspace, &trend), CONETIDE_NOT_IDENTIFIABLE);
    assert_true(isnan(trend.slope) && isnan(trend.low95) && isnan(trend.intercept_joint));
    assert_int_equal(conetide_trend_of(1, y, x, workspace, &trend), CONETIDE_NOT_IDENTIFIABLE);
    assert_int_equal(conetide_trend_of(0, y, x, workspace, &trend), CONETIDE_NOT_IDENTIFIABLE);
    assert_int_equal(conetide_trend_of(3, hole, y, workspace, &trend), CONETIDE_MISSING);
    assert_int_equal(conetide_trend_of(3, y, hole, workspace, &trend), CONETIDE_MISSING);
}

/* R package circular 0.4-95. */
static void days_about_new_year_have_their_mean_there(void **state)
{
    static const double winter[] = {350, 355, 360, 365, 3, 8, 12, 20},
                        spring[] = {90, 92, 95, 97, 101};
    struct conetide_circular circular;

    (void)state;
    assert_int_equal(conetide_circular_of(8, winter, 365, &circular), CONETIDE_OK);
    assert_near(circular.mean_doy, 1.6180212558086, 1e-10);
    assert_near(circular.resultant, 0.98258395840142, 1e-12);
    assert_near(circular.sd_days, 10.889489244277, 1e-10);
    assert_int_equal(conetide_circular_of(5, spring, 365, &circular), CONETIDE_OK);
    assert_near(circular.mean_doy, 94.999287899769, 1e-10);
    assert_near(circular.resultant, 0.99780864244983, 1e-12);
    assert_near(circular.sd_days, 3.8478909656507, 1e-10);
}

static void days_that_cancel_out_have_no_mean(void **state)
{
    static const double opposite[] = {10, 10 + 182.5}, one[] = {365};
    struct conetide_circular circular;

    (void)state;
    assert_int_equal(conetide_circular_of(2, opposite, 365, &circular), CONETIDE_OK);
    assert_true(isnan(circular.mean_doy) && isinf(circular.sd_days));
    assert_near(circular.resultant, 0, 0);
    assert_int_equal(conetide_circular_of(1, one, 365, &circular), CONETIDE_OK);
    assert_near(circular.mean_doy, 365, 1e-10);
    assert_near(circular.sd_days, 0, 1e-5);
    assert_int_equal(conetide_circular_of(0, one, 365, &circular), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_circular_of(1, one, 0, &circular), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_circular_of(1, (const double[]){NAN}, 365, &circular),
                     CONETIDE_MISSING);
    assert_true(isnan(circular.resultant));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(five_points_give_what_SciPy_gives),
        cmocka_unit_test(one_wild_year_does_not_turn_the_line),
        cmocka_unit_test(the_order_of_points_makes_no_difference),
        cmocka_unit_test(ties_narrow_the_interval_as_all_orders_say),
        cmocka_unit_test(points_without_a_slope_are_refused),
        cmocka_unit_test(days_about_new_year_have_their_mean_there),
        cmocka_unit_test(days_that_cancel_out_have_no_mean),
    };

    return cmocka_run_group_tests_name("robust", tests, NULL, NULL) != 0;
}
