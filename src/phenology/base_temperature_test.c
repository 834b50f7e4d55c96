/*
 * base_temperature_test.c - exact data, a worked example, and each criterion against its minimum.
 */
#include "conetide/base_temperature.h"

#include "base/test.h"

static struct conetide_base_temperatures bases_of(size_t n, const double *mean, const double *days)
{
    struct conetide_base_temperatures bases;

    assert_int_equal(conetide_base_temperatures_of(n, mean, days, &bases), CONETIDE_OK);
    return bases;
}

static void data_without_error_have_one_base(void **state)
{
    static const double mean[] = {10, 15, 20, 25, 30};
    static const double days[] = {20, 10, 100 / 15.0, 5, 4};
    struct conetide_base_temperatures bases = bases_of(5, mean, days);

    (void)state;
    assert_near(bases.least_sd_heat, 5, 1e-12);
    assert_near(bases.least_sd_days, 5, 1e-12);
    assert_near(bases.least_cv, 5, 1e-12);
    assert_near(bases.zero_regression, 5, 1e-12);
    assert_near(bases.x_intercept, 5, 1e-12);
    assert_near(bases.requirement, 100, 1e-10);
}

/* Worked through in the literature's formulas; a published program gives 10.00926 for the second.
 */
static void four_plantings_have_four_bases(void **state)
{
    static const double mean[] = {25, 20, 15, 10}, days[] = {6, 11, 16, 21};
    struct conetide_base_temperatures bases = bases_of(4, mean, days);

    (void)state;
    assert_near(bases.least_sd_heat, 4, 1e-12);
    assert_near(bases.least_sd_days, 2.51851852, 5.1e-9);
    assert_near(bases.least_cv, 2.21192053, 5.1e-9);
    assert_near(bases.zero_regression, 4, 1e-12);
    assert_near(bases.x_intercept, 5.57894737, 5.1e-9);
    assert_near(bases.requirement, 129.684, 5.1e-4);
}

enum { TRIALS = 9 };
static const double noisy_mean[TRIALS] = {16.8, 20.6, 18.9, 11.2, 12.2, 20.2, 8.1, 19.5, 14.6};
static const double noisy_days[TRIALS] = {15, 13, 15, 26, 24, 12, 42, 12, 18};

/* Standard deviation and mean of the heat sums with a base. */
static double sd_heat(double base, double *mean_heat)
{
    double sum = 0, squares = 0;

    for (size_t i = 0; i < TRIALS; i++) {
        double heat = (noisy_mean[i] - base) * noisy_days[i];

        sum += heat;
        squares += heat * heat;
    }
    *mean_heat = sum / TRIALS;
    return sqrt((squares - sum * sum / TRIALS) / (TRIALS - 1));
}

static double criterion(int which, double base)
{
    double mean_heat, sd = sd_heat(base, &mean_heat), average_c = 0;

    for (size_t i = 0; i < TRIALS; i++)
        average_c += noisy_mean[i] / TRIALS;
    if (which == 0)
        return sd;
    return sd / (which == 1 ? average_c - base : mean_heat);
}

static void each_base_is_the_least_of_its_criterion(void **state)
{
    struct conetide_base_temperatures bases = bases_of(TRIALS, noisy_mean, noisy_days);
    double found[] = {bases.least_sd_heat, bases.least_sd_days, bases.least_cv};

    (void)state;
    for (int which = 0; which < 3; which++) {
        for (double step = 1e-3; step < 3; step *= 3) {
            assert_true(criterion(which, found[which]) < criterion(which, found[which] + step));
            assert_true(criterion(which, found[which]) < criterion(which, found[which] - step));
        }
    }
}

static void what_has_no_base_is_refused(void **state)
{
    static const double same[] = {10, 10}, unlike[] = {10, 12}, days[] = {5, 6}, none[] = {5, 0};
    struct conetide_base_temperatures bases;

    (void)state;
    assert_int_equal(conetide_base_temperatures_of(2, same, days, &bases),
                     CONETIDE_NOT_IDENTIFIABLE);
    assert_true(isnan(bases.least_cv) && isnan(bases.x_intercept) && isnan(bases.requirement));
    assert_int_equal(conetide_base_temperatures_of(1, unlike, days, &bases),
                     CONETIDE_NOT_IDENTIFIABLE);
    assert_int_equal(conetide_base_temperatures_of(0, unlike, days, &bases),
                     CONETIDE_NOT_IDENTIFIABLE);
    assert_int_equal(conetide_base_temperatures_of(2, unlike, none, &bases), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_base_temperatures_of(2, (const double[]){NAN, 1}, days, &bases),
                     CONETIDE_BAD_ARGUMENT);
    /* equal durations: no rate depends on temperature */
    assert_int_equal(conetide_base_temperatures_of(2, unlike, (const double[]){5, 5}, &bases),
                     CONETIDE_OK);
    assert_true(isnan(bases.least_sd_heat) && isnan(bases.x_intercept) && isnan(bases.requirement));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(data_without_error_have_one_base),
        cmocka_unit_test(four_plantings_have_four_bases),
        cmocka_unit_test(each_base_is_the_least_of_its_criterion),
        cmocka_unit_test(what_has_no_base_is_refused),
    };

    return cmocka_run_group_tests_name("base temperature", tests, NULL, NULL) != 0;
}
