/*
 * dates_boyer1972 - a requirement that declines with the date.
 *
 * Source: W.D. Boyer (1972/73) Air temperature, heat sums, and pollen shedding phenology of
 * longleaf pine.  Ecology 54(2) (pages 420-426 from memory): peak shed on the first day X of the
 * year with H(X) >= 19009 - 89.26 X, H the degree-hours over 50 deg F since 1 January inclusive.
 * Read from: the abstract; the line and its range of peak dates, 23 February to 3 April, stand
 * there. The days below are its plain arithmetic for winters of one temperature.
 */
#include "conetide/heat.h"
#include "conetide/sum.h"

#include "base/test.h"

enum { DAYS = 365 };

static const double intercept = 19009, slope = -89.26;

/* Degree-hours at the end of each day of a year of one temperature. */
static void sum_degree_hours_f(double temperature_f, double *sum)
{
    const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 50, NAN};
    double extreme_f[DAYS], heat_units[DAYS];
    size_t bad_day;

    for (size_t i = 0; i < DAYS; i++)
        extreme_f[i] = temperature_f;
    assert_int_equal(conetide_heat_days(&rule, DAYS, extreme_f, extreme_f, heat_units, &bad_day),
                     CONETIDE_OK);
    for (size_t i = 0; i < DAYS; i++)
        heat_units[i] *= 24;
    conetide_heat_sum(DAYS, heat_units, sum);
}

/* Day of the year on which a line in degree-hours is met; 0 for not reached. */
static int peak_day(const double *sum, struct conetide_need need)
{
    size_t index;
    enum conetide_status status = conetide_need_reached(DAYS, sum, need, &index);

    if (status == CONETIDE_NOT_REACHED) {
        assert_int_equal(index, DAYS);
        return 0;
    }
    assert_int_equal(status, CONETIDE_OK);
    return (int)index + 1;
}

static void winters_of_one_temperature_peak_on_the_day_of_the_line(void **state)
{
    static const struct {
        double temperature_f, before, line_before, on, line_on;
        int day;
    } rows[] = {
        {60, 13680, 13921.18, 13920, 13831.92, 58},
        {58, 12864, 13028.58, 13056, 12939.32, 68},
        {55, 10800, 10975.60, 10920, 10886.34, 91},
    };
    const struct conetide_need need = {intercept, slope, 1};
    double sum[DAYS];

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        sum_degree_hours_f(rows[i].temperature_f, sum);
        assert_int_equal(peak_day(sum, need), rows[i].day);
        assert_near(sum[rows[i].day - 2], rows[i].before, 1e-8);
        assert_near(sum[rows[i].day - 1], rows[i].on, 1e-8);
        assert_near(intercept + slope * (rows[i].day - 1), rows[i].line_before, 1e-8);
        assert_near(intercept + slope * rows[i].day, rows[i].line_on, 1e-8);
    }
}

/* The line runs out on day 213; that is no date, though 0 >= 0. */
static void a_winter_without_heat_is_not_reached(void **state)
{
    static const double temperatures_f[] = {50, 49, 32, -40};
    const struct conetide_need need = {intercept, slope, 1};
    double sum[DAYS];

    (void)state;
    assert_true(intercept + slope * 212 > 0 && intercept + slope * 213 < 0);
    for (size_t i = 0; i < COUNT(temperatures_f); i++) {
        sum_degree_hours_f(temperatures_f[i], sum);
        assert_int_equal(peak_day(sum, need), 0);
    }
}

static void a_day_too_cool_by_a_hair_meets_the_line_before_it_runs_out(void **state)
{
    const struct conetide_need need = {intercept, slope, 1};
    double sum[DAYS];

    (void)state;
    /* 0.05 over the base: 1.2 degree-hours a day, ceil(19009 / 90.46) = 211 */
    sum_degree_hours_f(50.05, sum);
    assert_int_equal(peak_day(sum, need), 211);
}

static void constant_degree_hours_meet_the_line_by_division(void **state)
{
    static const struct {
        double a_day;
        int day;
    } rows[] = {{80, 113}, {120, 91}, {200, 66}, {300, 49}};
    const struct conetide_need need = {intercept, slope, 1};
    double sum[DAYS];

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_near(ceil(intercept / (rows[i].a_day - slope)), rows[i].day, 0);
        sum_degree_hours_f(50 + rows[i].a_day / 24, sum);
        assert_int_equal(peak_day(sum, need), rows[i].day);
    }
}

static void the_line_at_its_printed_days_and_extremes(void **state)
{
    static const struct {
        int day;
        double degree_hours_f;
    } rows[] = {{53, 14278.22}, {60, 13653.40}, {75, 12314.50}, {93, 10707.82}, {54, 14188.96}};

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_near(intercept + slope * rows[i].day, rows[i].degree_hours_f, 1e-8);
    /* in degree-days Fahrenheit and Celsius, to 0.1 */
    assert_near(14188.96 / 24, 591.2, 0.05);
    assert_near(14188.96 / 24 / 1.8, 328.4, 0.05);
    assert_near(10707.82 / 24, 446.2, 0.05);
    assert_near(10707.82 / 24 / 1.8, 247.9, 0.05);
}

/* The same line in degree-days Celsius: 440.02 - 2.0662 X, kept unrounded. */
static void the_line_in_celsius_gives_the_same_days(void **state)
{
    const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN};
    const struct conetide_need need_f = {intercept, slope, 1};
    const struct conetide_need need_c = {intercept / 24 / 1.8, slope / 24 / 1.8, 1};
    double sum_f[DAYS], sum_c[DAYS], extreme_c[DAYS], heat_units[DAYS];
    size_t bad_day, met = 0;

    (void)state;
    assert_near(need_c.units, 440.02, 0.005);
    assert_near(need_c.per_day, -2.0662, 0.00005);
    for (int tenth_f = 480; tenth_f <= 800; tenth_f++) {
        sum_degree_hours_f(tenth_f / 10.0, sum_f);
        for (size_t i = 0; i < DAYS; i++)
            extreme_c[i] = (tenth_f / 10.0 - 32) / 1.8;
        assert_int_equal(
            conetide_heat_days(&rule, DAYS, extreme_c, extreme_c, heat_units, &bad_day),
            CONETIDE_OK);
        conetide_heat_sum(DAYS, heat_units, sum_c);
        assert_int_equal(peak_day(sum_c, need_c), peak_day(sum_f, need_f));
        met += peak_day(sum_c, need_c) > 0;
    }
    assert_true(met > 290);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(winters_of_one_temperature_peak_on_the_day_of_the_line),
        cmocka_unit_test(a_winter_without_heat_is_not_reached),
        cmocka_unit_test(a_day_too_cool_by_a_hair_meets_the_line_before_it_runs_out),
        cmocka_unit_test(constant_degree_hours_meet_the_line_by_division),
        cmocka_unit_test(the_line_at_its_printed_days_and_extremes),
        cmocka_unit_test(the_line_in_celsius_gives_the_same_days),
    };

    return cmocka_run_group_tests_name("Boyer 1972, declining requirement", tests, NULL, NULL) != 0;
}
