/*
 * normal_test.c - the normal distribution in the middle and in both tails.
 */
#include "conetide/normal.h"

#include "base/test.h"

/* Abramowitz & Stegun 1964, tables 26.1 and 26.2 (from memory; recomputed with 30 digits). */
static void known_values_hold_in_both_tails(void **state)
{
    static const struct {
        double z, cumulative;
    } rows[] = {
        {0, 0.5},
        {1, 0.841344746068542949},
        {1.959963984540054, 0.975},
        {-1, 0.158655253931457051},
        {-3, 1.34989803163009452e-3},
        {-6, 9.86587645037698141e-10},
        {-10, 7.61985302416052606e-24},
    };

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_near(conetide_normal_cumulative(rows[i].z) / rows[i].cumulative, 1, 2e-14);
    assert_near(conetide_normal_cumulative(INFINITY), 1, 0);
    assert_near(conetide_normal_cumulative(-INFINITY), 0, 0);
    assert_true(isnan(conetide_normal_cumulative(NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_values_hold_in_both_tails),
    };

    return cmocka_run_group_tests_name("normal", tests, NULL, NULL) != 0;
}
