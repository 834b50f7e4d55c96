#include "planning/neighbour_offset.h"

#include "base/test.h"

static void a_site_higher_up_is_cooler_by_its_lapse_rate(void **state)
{
    (void)state;
    /* Calhoun to Blairsville, 384 m up (facts/degreedays.md 5.7): 5.5 and 4.2 deg C/km were
     * measured there, 5 is what a blank cell takes. */
    assert_near(elevation_change_c(5.5, 200, 584), -2.112, 1e-12);
    assert_near(elevation_change_c(4.2, 200, 584), -1.6128, 1e-12);
    assert_near(elevation_change_c(NAN, 200, 584), -1.92, 1e-12);
    assert_near(elevation_change_c(NAN, 584, 200), 1.92, 1e-12);
    assert_near(elevation_change_c(-2, 0, 500), 1, 1e-12); /* warmer uphill */
    assert_true(isnan(elevation_change_c(5, NAN, 200)));
    assert_true(isnan(elevation_change_c(5, 200, NAN)));
}

enum { DAYS = 90 }; /* January to March */

static struct one_extreme days_from(int month, size_t count, const double *c)
{
    return (struct one_extreme){day_from_civil(2027, month, 1), count, c};
}

static void each_month_has_the_mean_of_its_own_differences(void **state)
{
    double own[DAYS], neighbour[DAYS];
    struct month_offsets offsets;

    (void)state;
    for (int i = 0; i < DAYS; i++) {
        neighbour[i] = i % 11;
        own[i] = neighbour[i] + (i < 31 ? -2 : i < 59 ? 1.5 : 4) + (i % 2 ? 0.25 : -0.25);
    }
    own[31] = NAN;
    neighbour[58] = NAN;
    offsets = month_offsets_of(days_from(1, DAYS, own), days_from(1, DAYS, neighbour), NAN);
    assert_int_equal(offsets.common_days, 88);
    assert_near(offsets.c[0], -2 - 0.25 / 31, 1e-12);
    assert_near(offsets.c[1], 1.5, 1e-12);
    assert_near(offsets.c[2], 4 + 0.25 / 31, 1e-12);
    assert_int_equal(offsets.origin[2], OFFSET_OF_MONTH);
    assert_int_equal(offsets.origin[3], OFFSET_OF_ALL);
    assert_near(offsets.c[3], (31 * -2 - 0.25 + 26 * 1.5 + 31 * 4 + 0.25) / 88, 1e-12);
}

static void nineteen_days_of_a_month_are_too_few_and_twenty_are_enough(void **state)
{
    double own[DAYS], neighbour[DAYS] = {0};

    (void)state;
    for (int i = 0; i < DAYS; i++)
        own[i] = i < 31 ? 1 : 3;
    for (size_t march = 19; march <= 20; march++) {
        struct month_offsets offsets =
            month_offsets_of(days_from(1, 59 + march, own), days_from(1, DAYS, neighbour), NAN);

        assert_int_equal(offsets.origin[2], march < 20 ? OFFSET_OF_ALL : OFFSET_OF_MONTH);
        assert_near(offsets.c[2], march < 20 ? (31.0 + 3 * 47) / 78 : 3, 1e-12);
    }
}

static void with_too_few_common_days_the_elevation_decides(void **state)
{
    double own[19], neighbour[19] = {0};
    struct month_offsets offsets;

    (void)state;
    for (int i = 0; i < 19; i++)
        own[i] = 7;
    offsets = month_offsets_of(days_from(1, 19, own), days_from(1, 19, neighbour), -1.92);
    assert_int_equal(offsets.origin[0], OFFSET_OF_ELEVATION);
    assert_near(offsets.c[0], -1.92, 0);
    offsets = month_offsets_of(days_from(1, 19, own), days_from(6, 19, neighbour), NAN);
    assert_int_equal(offsets.common_days, 0);
    assert_int_equal(offsets.origin[11], OFFSET_NONE);
    assert_near(offsets.c[11], 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_site_higher_up_is_cooler_by_its_lapse_rate),
        cmocka_unit_test(each_month_has_the_mean_of_its_own_differences),
        cmocka_unit_test(nineteen_days_of_a_month_are_too_few_and_twenty_are_enough),
        cmocka_unit_test(with_too_few_common_days_the_elevation_decides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
