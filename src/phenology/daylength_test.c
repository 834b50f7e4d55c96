/*
 * daylength_test.c - day lengths of other programs and an ephemeris, the poles, and refusals.
 */
#include "conetide/daylength.h"

#include "base/test.h"

static double length_h(double latitude_deg, double day_of_year, double below_deg)
{
    struct conetide_sun sun;

    assert_int_equal(conetide_sun_of_day(latitude_deg, day_of_year, below_deg, &sun), CONETIDE_OK);
    assert_near(sun.set_h - sun.rise_h, sun.length_h, 1e-12);
    assert_near(sun.set_h + sun.rise_h, 24, 1e-12);
    return sun.length_h;
}

/* R package geosphere 1.5-18, daylength(), printed to seven digits. */
static void days_are_as_long_as_geosphere_says(void **state)
{
    static const double rows[][3] = {{33.262, 80, 12.125679},
                                     {33.262, 172, 14.355227},
                                     {33.262, 355, 9.947495},
                                     {45, 1, 8.826005},
                                     {52, 50, 10.166368}};

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_near(length_h(rows[i][0], rows[i][1], CONETIDE_SUN_RISE), rows[i][2], 6e-7);
}

/* Swiss Ephemeris 2.10.03 for 33.262 N on 20 June 2023: 04:50:57.4 to 19:12:10.2. */
static void the_longest_day_agrees_with_an_ephemeris(void **state)
{
    struct conetide_sun_utc sun_utc;

    (void)state;
    assert_near(length_h(33.262, 171, CONETIDE_SUN_RISE), 14.3535, 1.0 / 60);
    assert_int_equal(conetide_sun_utc_of_day(33.262, 0, 171, &sun_utc), CONETIDE_OK);
    assert_near(sun_utc.sun.length_h, 14.3535, 1.0 / 60);
    assert_near(sun_utc.rise_utc_h, 4 + 50 / 60.0 + 57.4 / 3600, 1.0 / 60);
    assert_near(sun_utc.set_utc_h, 19 + 12 / 60.0 + 10.2 / 3600, 1.0 / 60);
}

static void a_degree_west_is_four_minutes_later(void **state)
{
    struct conetide_sun_utc here, west;

    (void)state;
    assert_int_equal(conetide_sun_utc_of_day(31.5, -83, 40, &here), CONETIDE_OK);
    assert_int_equal(conetide_sun_utc_of_day(31.5, -84, 40, &west), CONETIDE_OK);
    assert_near(west.rise_utc_h - here.rise_utc_h, 4 / 60.0, 1e-12);
    assert_near(west.set_utc_h - here.set_utc_h, 4 / 60.0, 1e-12);
}

static void the_lower_the_sun_may_be_the_longer_the_day(void **state)
{
    (void)state;
    for (double day = 1; day <= 366; day++) {
        double centre = length_h(33.262, day, CONETIDE_SUN_CENTRE);
        double limb = length_h(33.262, day, CONETIDE_SUN_UPPER_LIMB);
        double rise = length_h(33.262, day, CONETIDE_SUN_RISE);
        double twilight = length_h(33.262, day, CONETIDE_SUN_CIVIL_TWILIGHT);

        assert_true(centre < limb && limb < rise && rise < twilight);
        /* what is day on one half of the earth is night on the other */
        assert_near(centre + length_h(-33.262, day, CONETIDE_SUN_CENTRE), 24, 1e-9);
    }
}

static void beyond_the_polar_circles_days_are_whole_or_none(void **state)
{
    struct conetide_sun_utc sun_utc;

    (void)state;
    assert_near(length_h(70, 172, CONETIDE_SUN_RISE), 24, 0);
    assert_near(length_h(70, 355, CONETIDE_SUN_RISE), 0, 0);
    assert_near(length_h(90, 172, CONETIDE_SUN_RISE), 24, 0);
    assert_near(length_h(-90, 172, CONETIDE_SUN_RISE), 0, 0);
    assert_int_equal(conetide_sun_utc_of_day(70, 20, 172, &sun_utc), CONETIDE_OK);
    assert_near(sun_utc.sun.length_h, 24, 0);
    assert_true(isnan(sun_utc.rise_utc_h) && isnan(sun_utc.set_utc_h));
}

static void places_and_days_that_are_none_are_refused(void **state)
{
    static const double rows[][3] = {{90.1, 1, 0}, {-91, 1, 0},     {NAN, 1, 0}, {0, 0.5, 0},
                                     {0, 367, 0},  {0, NAN, 0},     {0, 1, 19},  {0, 1, -19},
                                     {0, 1, NAN},  {INFINITY, 1, 0}};
    struct conetide_sun sun;
    struct conetide_sun_utc sun_utc;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_sun_of_day(rows[i][0], rows[i][1], rows[i][2], &sun),
                         CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(sun.length_h) && isnan(sun.rise_h) && isnan(sun.declination_deg));
    }
    assert_int_equal(conetide_sun_utc_of_day(0, 181, 1, &sun_utc), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_sun_utc_of_day(0, NAN, 1, &sun_utc), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_sun_utc_of_day(95, 0, 1, &sun_utc), CONETIDE_BAD_ARGUMENT);
    assert_true(isnan(sun_utc.sun.length_h) && isnan(sun_utc.rise_utc_h));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_are_as_long_as_geosphere_says),
        cmocka_unit_test(the_longest_day_agrees_with_an_ephemeris),
        cmocka_unit_test(a_degree_west_is_four_minutes_later),
        cmocka_unit_test(the_lower_the_sun_may_be_the_longer_the_day),
        cmocka_unit_test(beyond_the_polar_circles_days_are_whole_or_none),
        cmocka_unit_test(places_and_days_that_are_none_are_refused),
    };

    return cmocka_run_group_tests_name("daylength", tests, NULL, NULL) != 0;
}
