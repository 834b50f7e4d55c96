/*
 * ascending_test.c - every length to 40 in every kind of order, and middles.
 */
#include "phenology/ascending.h"

#include "base/test.h"

static void values_come_out_in_order_and_none_is_lost(void **state)
{
    uint32_t seed = 1951;

    (void)state;
    for (int round = 0; round < 4000; round++) {
        size_t n = (size_t)round % 41;
        double values[40], sum = 0, squares = 0;

        for (size_t i = 0; i < n; i++) {
            seed = seed * 1664525u + 1013904223u;
            values[i] = round % 3 == 0 ? (double)i : (double)(seed >> 24) / (round % 5 + 1);
            sum += values[i];
            squares += values[i] * values[i];
        }
        conetide_ascending(n, values);
        for (size_t i = 0; i < n; i++) {
            assert_true(i == 0 || values[i - 1] <= values[i]);
            sum -= values[i];
            squares -= values[i] * values[i];
        }
        assert_near(sum, 0, 1e-9);
        assert_near(squares, 0, 1e-6);
    }
}

static void the_middle_of_an_even_number_is_between_two(void **state)
{
    static const double sorted[] = {1, 2, 4, 8};

    (void)state;
    assert_near(conetide_median_of_sorted(1, sorted), 1, 0);
    assert_near(conetide_median_of_sorted(2, sorted), 1.5, 0);
    assert_near(conetide_median_of_sorted(3, sorted), 2, 0);
    assert_near(conetide_median_of_sorted(4, sorted), 3, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_come_out_in_order_and_none_is_lost),
        cmocka_unit_test(the_middle_of_an_even_number_is_between_two),
    };

    return cmocka_run_group_tests_name("ascending", tests, NULL, NULL) != 0;
}
