/*
 * binomial_test.c - needs and intervals of worked examples, every term of small counts, and tails.
 */
#include "conetide/binomial.h"

#include "base/test.h"

static void shares_of_two_and_three_right_labels(void **state)
{
    (void)state;
    assert_near(conetide_binomial_at_least(2, 2, 0.95), 0.9025, 1e-15);
    assert_near(conetide_binomial_at_least(3, 3, 0.95), 0.857375, 1e-15);
    assert_near(conetide_binomial_at_least(2, 2, 0.90), 0.81, 1e-15);
    assert_near(conetide_binomial_at_least(3, 3, 0.90), 0.729, 1e-15);
    assert_near(conetide_binomial_at_least(3, 1, 0.40), 1 - 0.216, 1e-15);
}

/* Grafts to make so that enough live or flower, with 95 %; labels to check so that one wrong one
 * among many is found. */
static void needs_are_those_of_worked_examples(void **state)
{
    static const struct {
        int64_t k;
        double p;
        int64_t n;
    } rows[] = {{1, 0.5452, 4}, {1, 0.1075, 27}, {1, 0.58, 4}, {1, 0.25, 11}, {3, 0.58, 9},
                {3, 0.25, 23},  {5, 0.5, 16},    {2, 0.6, 6},  {1, 0.05, 59}, {1, 0.10, 29},
                {0, 0.3, 0},    {4, 1, 4},       {1, 0.95, 1}};
    int64_t n;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_tries_needed(rows[i].k, rows[i].p, 0.95, &n), CONETIDE_OK);
        assert_int_equal(n, rows[i].n);
    }
    assert_near(conetide_binomial_at_least(9, 3, 0.58), 0.96662, 5.1e-6);
    assert_near(conetide_binomial_at_least(8, 3, 0.58), 0.93663, 5.1e-6);
    assert_near(conetide_binomial_at_least(23, 3, 0.25), 0.95080, 5.1e-6);
    assert_near(conetide_binomial_at_least(16, 5, 0.5), 0.96159, 5.1e-6);
    assert_near(conetide_binomial_at_least(6, 2, 0.6), 0.95904, 5.1e-6);
}

static void intervals_are_those_of_worked_examples(void **state)
{
    double low, high;

    (void)state;
    assert_int_equal(conetide_wilson(81, 15, 1.959964, &low, &high), CONETIDE_OK);
    assert_near(low, 0.1156, 5.1e-5);
    assert_near(high, 0.2833, 5.1e-5);
    assert_int_equal(conetide_wilson(37, 3, 1.959964, &low, &high), CONETIDE_OK);
    assert_near(low, 0.0280, 5.1e-5);
    assert_near(high, 0.2130, 5.1e-5);
    assert_int_equal(conetide_wilson(10, 0, 1.959964, &low, &high), CONETIDE_OK);
    assert_near(low, 0, 0);
    assert_true(high > 0.27 && high < 0.28);
    assert_int_equal(conetide_wilson(10, 10, 1.959964, &low, &high), CONETIDE_OK);
    assert_near(high, 1, 0);
}

/* Term by term, from the definition. */
static double term(int n, int k, double p)
{
    double product = 1;

    for (int i = 0; i < k; i++)
        product *= (n - i) / (i + 1.0) * p;
    for (int i = k; i < n; i++)
        product *= 1 - p;
    return product;
}

static void tails_and_tests_are_the_sums_of_their_terms(void **state)
{
    static const double chances[] = {0.001, 0.1, 0.25, 0.5, 0.58, 0.9, 0.999};

    (void)state;
    for (size_t c = 0; c < COUNT(chances); c++) {
        for (int n = 1; n <= 30; n++) {
            for (int k = 0; k <= n; k++) {
                double p = chances[c], tail = 0, both = 0;

                for (int i = 0; i <= n; i++) {
                    tail += i >= k ? term(n, i, p) : 0;
                    both += term(n, i, p) <= term(n, k, p) * (1 + 1e-7) ? term(n, i, p) : 0;
                }
                assert_near(conetide_binomial_at_least(n, k, p) / tail, 1, 1e-12);
                assert_near(conetide_binomial_test(n, k, p) / both, 1, 1e-12);
            }
        }
    }
}

/* By the same ratios in 40-digit decimal arithmetic. */
static void far_tails_of_a_million_keep_their_digits(void **state)
{
    (void)state;
    assert_near(conetide_binomial_at_least(1000000, 504000, 0.5) / 6.2695480312403363e-16, 1,
                1e-12);
    assert_near(conetide_binomial_at_least(1000000, 971364, 0.97) / 4.0767517997012064e-16, 1,
                1e-12);
}

static void ends_of_the_range_are_sure(void **state)
{
    (void)state;
    assert_near(conetide_binomial_at_least(5, 0, 0), 1, 0);
    assert_near(conetide_binomial_at_least(5, 1, 0), 0, 0);
    assert_near(conetide_binomial_at_least(5, 5, 1), 1, 0);
    assert_near(conetide_binomial_at_least(5, 6, 1), 0, 0);
    assert_near(conetide_binomial_at_least(0, 0, 0.3), 1, 0);
    assert_near(conetide_binomial_at_least(0, 1, 0.3), 0, 0);
    assert_near(conetide_binomial_test(5, 0, 0), 1, 0);
    assert_near(conetide_binomial_test(5, 1, 0), 0, 0);
    assert_near(conetide_binomial_test(5, 4, 1), 0, 0);
    assert_near(conetide_binomial_test(10, 5, 0.5), 1, 1e-12);
}

static void what_is_no_count_or_chance_is_refused(void **state)
{
    double low, high;
    int64_t n;

    (void)state;
    assert_true(isnan(conetide_binomial_at_least(-1, 0, 0.5)));
    assert_true(isnan(conetide_binomial_at_least(5, 2, 1.01)));
    assert_true(isnan(conetide_binomial_at_least(5, 2, NAN)));
    assert_true(isnan(conetide_binomial_at_least(CONETIDE_TRIES_MOST + 1, 2, 0.5)));
    assert_true(isnan(conetide_binomial_test(5, 6, 0.5)));
    assert_true(isnan(conetide_binomial_test(0, 0, 0.5)));
    assert_int_equal(conetide_tries_needed(1, 0, 0.9, &n), CONETIDE_NOT_REACHED);
    assert_int_equal(n, -1);
    assert_int_equal(conetide_tries_needed(1, 0.5, 1, &n), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_tries_needed(-1, 0.5, 0.9, &n), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_wilson(0, 0, 2, &low, &high), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_wilson(5, 6, 2, &low, &high), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_wilson(5, 1, 0, &low, &high), CONETIDE_BAD_ARGUMENT);
    assert_true(isnan(low) && isnan(high));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_of_two_and_three_right_labels),
        cmocka_unit_test(needs_are_those_of_worked_examples),
        cmocka_unit_test(intervals_are_those_of_worked_examples),
        cmocka_unit_test(tails_and_tests_are_the_sums_of_their_terms),
        cmocka_unit_test(far_tails_of_a_million_keep_their_digits),
        cmocka_unit_test(ends_of_the_range_are_sure),
        cmocka_unit_test(what_is_no_count_or_chance_is_refused),
    };

    return cmocka_run_group_tests_name("binomial", tests, NULL, NULL) != 0;
}
