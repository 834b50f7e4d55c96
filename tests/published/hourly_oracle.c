/*
 * hourly_oracle - hourly temperatures against R package TrenchR 1.1.1.
 *
 * Source: hourly_curves_TrenchR.csv, 1,296 hours.  The library describes one day alone: its
 * exponential is that of Wann et al. 1985 and ends above the minimum; its square root was given a
 * next minimum two degrees above this day's and falls to it on both nights.
 */
#include "conetide/hourly.h"

#include "oracle.h"

static double at(const struct conetide_hourly_rule *rule, struct conetide_sun_day today,
                 struct conetide_sun_day tomorrow, double hour)
{
    const struct conetide_three_days days = {today, today, tomorrow};
    double temperature_c;

    assert_int_equal(conetide_temperature_at(rule, &days, hour, &temperature_c), CONETIDE_OK);
    return temperature_c;
}

static void every_row_agrees(void **state)
{
    struct conetide_hourly_rule wann = conetide_wann;
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    wann.shape = CONETIDE_HOURLY_EXPONENTIAL;
    oracle_open(&oracle, "hourly_curves_TrenchR.csv");
    for (; oracle_next(&oracle); rows++) {
        const struct conetide_sun_day day = {
            oracle_number(&oracle, "T_min"), oracle_number(&oracle, "T_max"),
            oracle_number(&oracle, "t_r"), oracle_number(&oracle, "t_s")};
        struct conetide_sun_day warmer = day;
        double hour = oracle_number(&oracle, "t"), root_c;

        warmer.tmin_c += 2;
        if (hour > day.sunrise_h)
            root_c = at(&conetide_cesaraccio, day, warmer, hour);
        else
            root_c = at(&conetide_cesaraccio, warmer, warmer, hour);
        assert_near(root_c, oracle_number(&oracle, "sinesqrt"), 1e-9);
        assert_near(at(&wann, day, day, hour), oracle_number(&oracle, "parton_logan"), 1e-9);
        assert_near(at(&conetide_campbell_norman, day, day, hour),
                    oracle_number(&oracle, "campbell"), 1e-9);
    }
    print_message("%zu hours of three curves within 1e-9\n", rows);
    assert_int_equal(rows, 1296);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_agrees),
    };

    return cmocka_run_group_tests_name("hourly curves of TrenchR", tests, NULL, NULL) != 0;
}
