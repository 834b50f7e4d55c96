/*
 * daylength_oracle - day lengths against an ephemeris and the two published models.
 *
 * Source: daylength.csv; 544 days of 2023 from 45 S to 70 N.  The ephemeris is PyEphem 4.1.4, upper
 * limb, 34' of refraction; the models were computed outside this repository, printed to 1e-5 h
 * (equation of time to 1e-4 min).
 */
#include "conetide/daylength.h"

#include "oracle.h"

static void check_cbm(const struct oracle *oracle, double latitude_deg, double day)
{
    static const struct {
        const char *column;
        double below_deg;
    } horizons[] = {{"cbm_p0.8333_h", CONETIDE_SUN_RISE},
                    {"cbm_p0.26667_h", CONETIDE_SUN_UPPER_LIMB},
                    {"cbm_p0_h", CONETIDE_SUN_CENTRE},
                    {"cbm_p6_h", CONETIDE_SUN_CIVIL_TWILIGHT}};

    for (size_t i = 0; i < COUNT(horizons); i++) {
        struct conetide_sun sun;

        assert_int_equal(conetide_sun_of_day(latitude_deg, day, horizons[i].below_deg, &sun),
                         CONETIDE_OK);
        assert_near(sun.length_h, oracle_number(oracle, horizons[i].column), 5.1e-6);
    }
}

static void every_row_agrees(void **state)
{
    struct oracle oracle;
    double worst_cbm_h = 0, worst_series_h = 0, worst_far_north_h = 0;
    size_t rows = 0, far_north = 0;

    (void)state;
    oracle_open(&oracle, "daylength.csv");
    for (; oracle_next(&oracle); rows++) {
        double latitude_deg = oracle_number(&oracle, "lat"), day = oracle_number(&oracle, "doy");
        double seen_h = oracle_number(&oracle, "ephem_upperlimb_refr34_h");
        struct conetide_sun sun;
        struct conetide_sun_utc sun_utc;

        check_cbm(&oracle, latitude_deg, day);
        assert_int_equal(conetide_sun_of_day(latitude_deg, day, CONETIDE_SUN_RISE, &sun),
                         CONETIDE_OK);
        assert_int_equal(conetide_sun_utc_of_day(latitude_deg, 0, day, &sun_utc), CONETIDE_OK);
        assert_near(sun_utc.sun.length_h, oracle_number(&oracle, "noaa_spencer_h"), 5.1e-6);
        assert_near(sun_utc.sun.declination_deg, oracle_number(&oracle, "noaa_decl_deg"), 5.1e-6);
        assert_near(sun_utc.equation_of_time_min, oracle_number(&oracle, "noaa_eqtime_min"),
                    5.1e-5);
        assert_near(sun_utc.sun.declination_deg, oracle_number(&oracle, "ephem_decl_deg"), 0.34);
        if (fabs(latitude_deg) <= 45) {
            worst_cbm_h = fmax(worst_cbm_h, fabs(sun.length_h - seen_h));
            worst_series_h = fmax(worst_series_h, fabs(sun_utc.sun.length_h - seen_h));
        } else {
            worst_far_north_h = fmax(worst_far_north_h, fabs(sun.length_h - seen_h));
            far_north++;
        }
    }
    print_message("%zu rows; from the ephemeris at most %.2f min (CBM), %.2f min (series) up to 45 "
                  "degrees, %.1f min beyond\n",
                  rows, 60 * worst_cbm_h, 60 * worst_series_h, 60 * worst_far_north_h);
    assert_int_equal(rows, 544);
    assert_int_equal(far_north, 204);
    assert_true(worst_cbm_h <= 3 / 60.0 && worst_series_h <= 3 / 60.0);
    assert_true(worst_far_north_h <= 24 / 60.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_agrees),
    };

    return cmocka_run_group_tests_name("day length", tests, NULL, NULL) != 0;
}
