/*
 * dates_daily_maximum - sums of the daily maximum over 55 deg F from 1 February.
 *
 * Source: K. Wing (2019) state forestry extension note on the start of the pine pollen season,
 * North Carolina: about 300 when trees begin to shed, 636 at the peak.  The second stands in
 * Celsius, 353 over 13 deg C, in Baker & Langdon 1990, Pinus taeda, Silvics of North America,
 * AH-654 (from memory).  The days are the rule's plain arithmetic for winters of one maximum.
 */
#include "conetide/heat.h"
#include "conetide/sum.h"

#include "base/test.h"

enum { DAYS = 120 }; /* from 1 February */

/* Days from 1 February, inclusive, to the day a requirement is met; 0 for not reached. */
static int days_to(double lower, double tmax, double units)
{
    const struct conetide_heat_rule rule = {&conetide_daily_maximum, CONETIDE_CUTOFF_NONE, lower,
                                            NAN};
    double tmins[DAYS], tmaxes[DAYS], sum[DAYS];
    size_t bad_day, index;
    enum conetide_status status;

    for (size_t i = 0; i < DAYS; i++) {
        tmins[i] = tmax - 20 - (double)(i % 7); /* the night must not matter */
        tmaxes[i] = tmax;
    }
    assert_int_equal(conetide_heat_days(&rule, DAYS, tmins, tmaxes, sum, &bad_day), CONETIDE_OK);
    conetide_heat_sum(DAYS, sum, sum);
    status = conetide_need_reached(DAYS, sum, (struct conetide_need){units, 0, 0}, &index);
    assert_int_equal(status, index < DAYS ? CONETIDE_OK : CONETIDE_NOT_REACHED);
    return index < DAYS ? (int)index + 1 : 0;
}

static double in_c(double degrees_f)
{
    return (degrees_f - 32) / 1.8;
}

static const struct {
    double tmax_f, units_f;
    int days; /* the day of the year is 31 more: 30 days are 2 March, in leap years the 1st */
} rows[] = {
    {65, 300, 30}, {65, 636, 64}, {70, 300, 20}, {70, 636, 43}, {55, 300, 0}, {40, 300, 0},
};

static void winters_of_one_maximum_meet_both_sums_on_their_days(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(days_to(55, rows[i].tmax_f, rows[i].units_f), rows[i].days);
}

static void the_same_in_celsius_gives_the_same_days(void **state)
{
    (void)state;
    assert_near(300 / 1.8, 166.667, 0.0005);
    assert_near(636 / 1.8, 353.333, 0.0005);
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(days_to(in_c(55), in_c(rows[i].tmax_f), rows[i].units_f / 1.8),
                         rows[i].days);
}

static void a_base_rounded_to_13_deg_c_moves_the_date(void **state)
{
    (void)state;
    assert_int_equal(days_to(13, in_c(65), 636 / 1.8), 67);
    assert_int_equal(days_to(in_c(55), in_c(65), 636 / 1.8), 64);
}

static void a_day_at_the_base_adds_nothing(void **state)
{
    const struct conetide_heat_rule rule = {&conetide_daily_maximum, CONETIDE_CUTOFF_NONE, 55, NAN};
    const struct conetide_day day = {30, 55, NAN};
    double heat_units;

    (void)state;
    assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
    assert_near(heat_units, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(winters_of_one_maximum_meet_both_sums_on_their_days),
        cmocka_unit_test(the_same_in_celsius_gives_the_same_days),
        cmocka_unit_test(a_base_rounded_to_13_deg_c_moves_the_date),
        cmocka_unit_test(a_day_at_the_base_adds_nothing),
    };

    return cmocka_run_group_tests_name("daily maximum over 55 deg F", tests, NULL, NULL) != 0;
}
