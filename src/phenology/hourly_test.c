/*
 * hourly_test.c - curves through their extremes, without jumps, and at hours printed elsewhere.
 */
#include "conetide/hourly.h"

#include "base/test.h"

static const struct conetide_hourly_rule *const rules[] = {
    &conetide_linvill, &conetide_parton_logan_150cm, &conetide_parton_logan_10cm,
    &conetide_wann,    &conetide_cesaraccio,         &conetide_campbell_norman};

static double at(const struct conetide_hourly_rule *rule, const struct conetide_three_days *days,
                 double hour)
{
    double temperature_c;

    assert_int_equal(conetide_temperature_at(rule, days, hour, &temperature_c), CONETIDE_OK);
    return temperature_c;
}

/* Days that differ in everything. */
const struct conetide_three_days unlike = {
    {4, 19, 6.1, 17.9}, {-2, 11, 6.05, 17.95}, {6, 24, 6, 18}};

/* Minimum and maximum of a rule's day, by the sun. */
static double minimum_h(const struct conetide_hourly_rule *rule, const struct conetide_sun_day *day)
{
    return day->sunrise_h + rule->minimum_after_sunrise_h;
}

static double peak_h(const struct conetide_hourly_rule *rule, const struct conetide_sun_day *day)
{
    if (rule->shape == CONETIDE_HOURLY_SQUARE_ROOT)
        return day->sunset_h - 4;
    return (day->sunrise_h + day->sunset_h) / 2 + rule->peak_after_noon_h;
}

static void extremes_are_met_at_their_hours(void **state)
{
    (void)state;
    for (size_t r = 0; r < COUNT(rules) - 1; r++) {
        double low = minimum_h(rules[r], &unlike.today), high = peak_h(rules[r], &unlike.today);

        assert_near(at(rules[r], &unlike, low), unlike.today.tmin_c, 1e-12);
        assert_near(at(rules[r], &unlike, low + 1e-9), unlike.today.tmin_c, 1e-6);
        assert_near(at(rules[r], &unlike, high), unlike.today.tmax_c, 1e-12);
        assert_true(at(rules[r], &unlike, high - 0.1) < unlike.today.tmax_c);
        assert_true(at(rules[r], &unlike, high + 0.1) < unlike.today.tmax_c);
    }
}

static void no_curve_jumps_at_sunset_or_midnight(void **state)
{
    (void)state;
    for (size_t r = 0; r < COUNT(rules) - 1; r++) {
        const struct conetide_three_days before = {unlike.yesterday, unlike.yesterday,
                                                   unlike.today};
        double sunset_h = unlike.today.sunset_h;

        assert_near(at(rules[r], &unlike, sunset_h - 1e-12), at(rules[r], &unlike, sunset_h), 1e-9);
        assert_near(at(rules[r], &before, 24), at(rules[r], &unlike, 0), 1e-12);
    }
}

/* Minutes apart, no step larger than the steepest curve takes. */
static void a_season_has_no_jump_at_any_minute(void **state)
{
    (void)state;
    for (size_t r = 0; r < COUNT(rules) - 1; r++) {
        double last = at(rules[r], &unlike, 0);

        for (int minute = 1; minute <= 24 * 60; minute++) {
            double now = at(rules[r], &unlike, minute / 60.0);

            assert_true(fabs(now - last) < 0.5);
            last = now;
        }
    }
}

static void the_published_exponential_ends_above_the_minimum(void **state)
{
    struct conetide_hourly_rule rule = conetide_wann;
    const struct conetide_sun_day day = {10, 30, 6, 18};
    const struct conetide_three_days days = {day, day, day};
    double sunset_c, left_c;

    (void)state;
    rule.shape = CONETIDE_HOURLY_EXPONENTIAL;
    sunset_c = at(&rule, &days, 18);
    left_c = at(&rule, &days, 7.55) - 10;
    assert_near(left_c, (sunset_c - 10) * exp(-2.2), 1e-12);
    assert_true(left_c > 1.5);
    assert_near(at(&rule, &days, 7.55 + 1e-9), 10, 1e-6);
    assert_near(at(&conetide_wann, &days, 7.55), 10, 1e-12);
}

/* Divided by ln(night) a night of 12 hours falls ln(13)/ln(12) - 1 = 3.2 % too far. */
static void the_logarithm_reaches_the_minimum_and_no_lower(void **state)
{
    const struct conetide_sun_day day = {10, 30, 6, 18};
    const struct conetide_three_days days = {day, day, day};
    double sunset_c = at(&conetide_linvill, &days, 18);

    (void)state;
    assert_near(sunset_c, 10 + 20 * sin(acos(-1) * 12 / 16), 1e-12);
    assert_near(at(&conetide_linvill, &days, 6), 10, 1e-12);
    assert_near(at(&conetide_linvill, &days, 21), sunset_c - (sunset_c - 10) * log(4) / log(13),
                1e-12);
    for (double hour = 0; hour <= 24; hour += 0.25)
        assert_true(at(&conetide_linvill, &days, hour) >= 10 - 1e-12);
}

/* R package TrenchR 1.1.1, from the examples of its tests. */
static void hours_are_as_TrenchR_prints_them(void **state)
{
    static const struct conetide_sun_day day = {10, 30, 6, 18}, later = {12, 30, 6, 18};
    const struct conetide_three_days same = {day, day, day};
    /* its square root takes the minimum after for both nights */
    const struct conetide_three_days evening = {day, day, later}, morning = {day, later, later};
    struct conetide_hourly_rule wann = conetide_wann;

    (void)state;
    wann.shape = CONETIDE_HOURLY_EXPONENTIAL;
    assert_near(at(&wann, &same, 11), 23.91954, 5e-6);
    assert_near(at(&wann, &same, 20), 20.46866, 5e-6);
    assert_near(at(&wann, &same, 3), 13.35971, 5e-6);
    assert_near(at(&conetide_cesaraccio, &evening, 8), 17.65367, 5e-6);
    assert_near(at(&conetide_cesaraccio, &evening, 16), 27.94389, 5e-6);
    assert_near(at(&conetide_cesaraccio, &evening, 20), 18.49743, 5e-6);
    assert_near(at(&conetide_cesaraccio, &morning, 2), 14.01487, 5e-6);
    assert_near(at(&conetide_campbell_norman, &same, 11), 25.08958, 5e-6);
}

static void two_waves_stay_three_hundredths_within_the_extremes(void **state)
{
    static const struct conetide_sun_day day = {0, 1, NAN, NAN};
    const struct conetide_three_days same = {day, day, day};
    double low = 1, high = 0;

    (void)state;
    for (int minute = 0; minute <= 24 * 60; minute++) {
        double now = at(&conetide_campbell_norman, &same, minute / 60.0);

        low = fmin(low, now);
        high = fmax(high, now);
    }
    assert_true(low > 0.02 && low < 0.03);
    assert_true(high > 0.97 && high <= 1);
}

static void a_short_day_has_its_maximum_in_mid_day(void **state)
{
    static const struct conetide_sun_day day = {-9, -3, 10, 14};
    const struct conetide_three_days same = {day, day, day};

    (void)state;
    assert_near(at(&conetide_cesaraccio, &same, 12), -3, 1e-12);
    assert_near(at(&conetide_cesaraccio, &same, 10), -9, 1e-12);
    assert_near(at(&conetide_cesaraccio, &same, 14 - 1e-12), at(&conetide_cesaraccio, &same, 14),
                1e-9);
}

static void days_and_rules_that_are_none_are_refused(void **state)
{
    static const struct conetide_sun_day good = {1, 9, 6, 18};
    static const struct {
        struct conetide_sun_day day;
        enum conetide_status status;
    } rows[] = {
        {{NAN, 9, 6, 18}, CONETIDE_MISSING},     {{1, INFINITY, 6, 18}, CONETIDE_MISSING},
        {{1, 9, NAN, 18}, CONETIDE_MISSING},     {{9, 1, 6, 18}, CONETIDE_REVERSED},
        {{1, 9, 18, 6}, CONETIDE_BAD_ARGUMENT},  {{1, 9, 0, 24}, CONETIDE_BAD_ARGUMENT},
        {{1, 9, 12, 12}, CONETIDE_BAD_ARGUMENT}, {{1, 9, -1, 18}, CONETIDE_BAD_ARGUMENT},
    };
    const struct conetide_three_days days = {good, good, good};
    struct conetide_hourly_rule rule = conetide_linvill;
    double temperature_c;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct conetide_three_days around[] = {
            {rows[i].day, good, good}, {good, rows[i].day, good}, {good, good, rows[i].day}};

        for (size_t k = 0; k < COUNT(around); k++) {
            assert_int_equal(
                conetide_temperature_at(&conetide_linvill, &around[k], 3, &temperature_c),
                rows[i].status);
            assert_true(isnan(temperature_c));
        }
    }
    assert_int_equal(conetide_temperature_at(&rule, &days, 24.1, &temperature_c),
                     CONETIDE_BAD_ARGUMENT);
    rule.peak_after_noon_h = -6.5;
    assert_int_equal(conetide_temperature_at(&rule, &days, 3, &temperature_c),
                     CONETIDE_BAD_ARGUMENT);
    rule = conetide_wann;
    rule.decay = 0;
    assert_int_equal(conetide_temperature_at(&rule, &days, 3, &temperature_c),
                     CONETIDE_BAD_ARGUMENT);
    rule.shape = (enum conetide_hourly_shape)77;
    assert_int_equal(conetide_temperature_at(&rule, &days, 3, &temperature_c),
                     CONETIDE_BAD_ARGUMENT);
}

static void days_in_a_row_are_the_hours_of_each(void **state)
{
    struct conetide_sun_day days[] = {unlike.yesterday, unlike.today, unlike.tomorrow, unlike.today,
                                      unlike.today};
    double hours[24 * COUNT(days)];
    size_t bad_day;

    (void)state;
    assert_int_equal(
        conetide_hourly_temperatures(&conetide_linvill, COUNT(days), days, hours, &bad_day),
        CONETIDE_OK);
    assert_int_equal(bad_day, COUNT(days));
    for (int hour = 0; hour < 24; hour++)
        assert_near(hours[24 + hour], at(&conetide_linvill, &unlike, hour), 0);
    days[3].tmax_c = NAN;
    assert_int_equal(
        conetide_hourly_temperatures(&conetide_linvill, COUNT(days), days, hours, &bad_day),
        CONETIDE_MISSING);
    assert_int_equal(bad_day, 2); /* its evening falls to what is missing */
    assert_true(!isnan(hours[47]) && isnan(hours[48]) && isnan(hours[119]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(extremes_are_met_at_their_hours),
        cmocka_unit_test(no_curve_jumps_at_sunset_or_midnight),
        cmocka_unit_test(a_season_has_no_jump_at_any_minute),
        cmocka_unit_test(the_published_exponential_ends_above_the_minimum),
        cmocka_unit_test(the_logarithm_reaches_the_minimum_and_no_lower),
        cmocka_unit_test(hours_are_as_TrenchR_prints_them),
        cmocka_unit_test(two_waves_stay_three_hundredths_within_the_extremes),
        cmocka_unit_test(a_short_day_has_its_maximum_in_mid_day),
        cmocka_unit_test(days_and_rules_that_are_none_are_refused),
        cmocka_unit_test(days_in_a_row_are_the_hours_of_each),
    };

    return cmocka_run_group_tests_name("hourly", tests, NULL, NULL) != 0;
}
