/*
 * rate_range_test.c - shares and means by their closed forms.
 */
#include "planning/rate_range.h"

#include "base/test.h"
#include "conetide/binomial.h"

#include <math.h>

static void a_beta_of_whole_numbers_is_a_binomial_tail(void **state)
{
    (void)state;
    assert_near(rate_beta_cumulative(0.3, 1, 1), 0.3, 1e-14);
    /* two or more of four: 1 - 0.6^4 - 4 * 0.4 * 0.6^3 */
    assert_near(rate_beta_cumulative(0.4, 2, 3), 0.5248, 1e-13);
    for (int64_t k = 1; k <= 40; k++)
        assert_near(rate_beta_cumulative(0.37, (double)k, (double)(41 - k)),
                    conetide_binomial_at_least(40, k, 0.37), 1e-12);
    assert_near(rate_beta_cumulative(0, 2, 3), 0, 0);
    assert_near(rate_beta_cumulative(1, 2, 3), 1, 0);
}

static void a_gamma_of_whole_shape_is_a_poisson_tail(void **state)
{
    (void)state;
    assert_near(rate_gamma_cumulative(0.7, 1), 1 - exp(-0.7), 1e-14);
    assert_near(rate_gamma_cumulative(2, 3), 1 - exp(-2) * (1 + 2 + 2), 1e-14);
    assert_near(rate_gamma_cumulative(9, 3), 1 - exp(-9) * (1 + 9 + 40.5), 1e-14);
    assert_near(rate_gamma_cumulative(0, 3), 0, 0);
}

static void a_range_leaves_out_as_much_below_as_above(void **state)
{
    struct rate_range range;

    (void)state;
    /* a = b = 1: the uniform share, of mean 1/2 and variance 1/12 */
    range = rate_beta_range(0.5, 1.0 / 12, 0.2);
    assert_near(range.low, 0.1, 1e-12);
    assert_near(range.high, 0.9, 1e-12);
    /* shape 1: the exponential mean of 3 */
    range = rate_gamma_range(3, 9, 0.2);
    assert_near(range.low, -3 * log(0.9), 1e-11);
    assert_near(range.high, -3 * log(0.1), 1e-11);
    /* more variance than a share can have is held */
    range = rate_beta_range(0.02, 5, 0.2);
    assert_true(range.low >= 0 && range.low <= range.high && range.high <= 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_beta_of_whole_numbers_is_a_binomial_tail),
        cmocka_unit_test(a_gamma_of_whole_shape_is_a_poisson_tail),
        cmocka_unit_test(a_range_leaves_out_as_much_below_as_above),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
