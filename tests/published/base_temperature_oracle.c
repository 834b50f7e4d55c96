/*
 * base_temperature_oracle - base temperatures by five criteria.
 *
 * Source: base_temperature.csv: closed forms of Yang, Logan & Coffey 1995 computed outside this
 * repository to 1e-8, with the minimum found by numerical search beside, to 1e-5.
 */
#include "conetide/base_temperature.h"

#include "oracle.h"

static size_t numbers(const char *text, double *values, size_t most)
{
    size_t n = 0;

    for (char *end; *text != '\0' && n < most; text = end)
        values[n++] = strtod(text, &end);
    return n;
}

static void every_row_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "base_temperature.csv");
    for (; oracle_next(&oracle); rows++) {
        double mean[32], days[32];
        size_t n = numbers(oracle_text(&oracle, "tavg"), mean, COUNT(mean));
        struct conetide_base_temperatures bases;

        assert_int_equal(numbers(oracle_text(&oracle, "days"), days, COUNT(days)), n);
        assert_int_equal(conetide_base_temperatures_of(n, mean, days, &bases), CONETIDE_OK);
        assert_near(bases.least_sd_heat, oracle_number(&oracle, "sd_gdd"), 1e-7);
        assert_near(bases.least_sd_days, oracle_number(&oracle, "sd_day"), 1e-7);
        assert_near(bases.least_cv, oracle_number(&oracle, "cv_day"), 1e-7);
        assert_near(bases.zero_regression, oracle_number(&oracle, "reg_coef"), 1e-7);
        assert_near(bases.x_intercept, oracle_number(&oracle, "x_intercept"), 1e-7);
        assert_near(bases.least_sd_heat, oracle_number(&oracle, "brute_sd_gdd"), 1e-5);
        assert_near(bases.least_sd_days, oracle_number(&oracle, "brute_sd_day"), 1e-5);
        assert_near(bases.least_cv, oracle_number(&oracle, "brute_cv"), 1e-5);
        assert_near(bases.zero_regression, oracle_number(&oracle, "brute_reg"), 1e-5);
    }
    assert_int_equal(rows, 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_agrees),
    };

    return cmocka_run_group_tests_name("base temperatures", tests, NULL, NULL) != 0;
}
