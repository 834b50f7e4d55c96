#include "conetide/count.h"

#include "base/test.h"

enum { DAYS = 40 };

static double tmin_c[DAYS], tmax_c[DAYS], units[DAYS];
static int day_of_year[DAYS];

/* Days of one temperature from day 330 of the year on. */
static struct conetide_counted_days flat(double degree_c, double latitude_deg)
{
    for (int i = 0; i < DAYS; i++) {
        tmin_c[i] = tmax_c[i] = degree_c;
        day_of_year[i] = 330 + i > 365 ? 330 + i - 365 : 330 + i;
        units[i] = -1;
    }
    return (struct conetide_counted_days){DAYS, tmin_c, tmax_c, day_of_year, latitude_deg};
}

static double of_a_day(const char *name, double degree_c)
{
    struct conetide_counted_days days = flat(degree_c, 45);

    conetide_count_units(conetide_count_named(name), &days, 0, DAYS, units);
    return units[1];
}

static void every_count_is_found_by_its_name_and_no_other(void **state)
{
    (void)state;
    for (size_t i = 0; conetide_counts[i] != NULL; i++) {
        const struct conetide_count *count = conetide_counts[i];

        assert_ptr_equal(conetide_count_named(count->name), count);
        assert_true(strlen(count->unit) > 0 && strlen(count->source) > 0);
        assert_int_equal(count->of_temperature == NULL,
                         count->of == CONETIDE_OF_PORTIONS || count->of == CONETIDE_OF_DAY_LENGTH);
        assert_int_equal(conetide_count_needs_latitude(count), count->of != CONETIDE_OF_MEANS);
    }
    assert_null(conetide_count_named("chilling-hours"));
}

/* A day of one temperature has 24 hours of it. */
static void days_without_a_range_count_all_hours_alike(void **state)
{
    static const struct {
        const char *name;
        double at_minus_1, at_2, at_7_5, at_10;
    } cases[] = {{"chilling-hours-0-8", 0, 24, 24, 0},
                 {"chilling-hours-0-7.2", 0, 24, 0, 0},
                 {"chilling-hours-up-to-7.2", 24, 24, 0, 0},
                 {"chilling-hours-0-12", 0, 24, 24, 24},
                 {"utah-units", 0, 12, 24, 12},
                 {"chilling-days-up-to-5", 1, 1, 0, 0},
                 {"chilling-days-up-to-7.2", 1, 1, 0, 0}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        assert_near(of_a_day(cases[i].name, -1), cases[i].at_minus_1, 0);
        assert_near(of_a_day(cases[i].name, 2), cases[i].at_2, 0);
        assert_near(of_a_day(cases[i].name, 7.5), cases[i].at_7_5, 0);
        assert_near(of_a_day(cases[i].name, 10), cases[i].at_10, 0);
    }
    assert_near(of_a_day("triangular-chilling", 3.5), 1, 1e-12);
    assert_near(of_a_day("growing-degree-hours", 25), 24 * 21, 1e-9);
    assert_near(of_a_day("sigmoid-forcing", 18.4), 14.2, 1e-12);
}

/* 6 deg C fixes its first portion in hour 29, so on the second day; facts of the Dynamic model. */
static void portions_begin_without_memory_where_counting_begins(void **state)
{
    const struct conetide_count *portions = conetide_count_named("chill-portions");
    struct conetide_counted_days days = flat(6, 45);

    (void)state;
    conetide_count_units(portions, &days, 3, DAYS, units);
    assert_near(units[2], -1, 0); /* not touched */
    assert_near(units[3], 0, 0);
    assert_true(units[4] > 0.5);
    tmin_c[20] = NAN;
    conetide_count_units(portions, &days, 3, DAYS, units);
    assert_true(units[18] >= 0);
    for (int i = 19; i < DAYS; i++)
        assert_true(isnan(units[i]));
}

static void day_length_is_read_and_needs_no_weather(void **state)
{
    const struct conetide_count *length = conetide_count_named("day-length");
    struct conetide_counted_days days = flat(NAN, 45);

    (void)state;
    conetide_count_units(length, &days, 0, DAYS, units);
    assert_near(units[36], 8.826005, 1e-6); /* 1 January at 45 N: facts of the CBM model */
    days.latitude_deg = NAN;
    conetide_count_units(length, &days, 0, DAYS, units);
    assert_true(isnan(units[0]));
    conetide_count_units(conetide_count_named("utah-units"), &days, 0, DAYS, units);
    assert_true(isnan(units[0]));
}

static void hours_are_made_where_the_sun_does_not_rise(void **state)
{
    struct conetide_counted_days days = flat(4, 80);

    (void)state;
    conetide_count_units(conetide_count_named("chilling-hours-0-8"), &days, 0, DAYS, units);
    assert_near(units[10], 24, 0);
    conetide_count_units(conetide_count_named("chilling-hours-0-8"), &days, 5, 5, units);
}

static void heat_counts_from_the_day_after_chilling_is_enough(void **state)
{
    static const double chill[8] = {NAN, 3, 3, 3, 3, 3, 3, 3}, heat[8] = {9, 9, 9, 9, 5, 6, 7, 8};
    struct conetide_chilled_heat given = {8, chill, heat, 1, 0, 9};
    double chill_sum[8], heat_sum[8];

    (void)state;
    assert_int_equal(conetide_heat_after_chilling(&given, chill_sum, heat_sum), 3);
    assert_near(chill_sum[0], 0, 0);
    assert_near(chill_sum[7], 21, 0);
    assert_near(heat_sum[3], 0, 0);
    assert_near(heat_sum[4], 5, 0);
    assert_near(heat_sum[7], 26, 0);
    given.heat_from = 6; /* not before the clock's own start */
    (void)conetide_heat_after_chilling(&given, chill_sum, heat_sum);
    assert_near(heat_sum[5], 0, 0);
    assert_near(heat_sum[7], 15, 0);
    given.chill_need = 22;
    assert_int_equal(conetide_heat_after_chilling(&given, chill_sum, heat_sum), 8);
    assert_near(heat_sum[7], 0, 0);
}

static void a_missing_day_of_chilling_makes_all_heat_unknown_unless_it_was_enough(void **state)
{
    static const double chill[5] = {3, 3, NAN, 3, 3}, heat[5] = {1, 1, 1, 1, 1};
    struct conetide_chilled_heat given = {5, chill, heat, 0, 0, 6};
    double chill_sum[5], heat_sum[5];

    (void)state;
    assert_int_equal(conetide_heat_after_chilling(&given, chill_sum, heat_sum), 1);
    assert_near(heat_sum[4], 3, 0);
    given.chill_need = 7;
    assert_int_equal(conetide_heat_after_chilling(&given, chill_sum, heat_sum), 5);
    assert_near(heat_sum[1], 0, 0);
    assert_true(isnan(heat_sum[4]));
}

static void the_first_at_least_passes_over_what_falls_later(void **state)
{
    static const double value[6] = {9, 2, 4, 3, NAN, 9};

    (void)state;
    assert_int_equal(conetide_first_at_least(value, 1, 6, 4 + 5e-7), 2);
    assert_int_equal(conetide_first_at_least(value, 1, 6, 5), 6);
    assert_int_equal(conetide_first_at_least(value, 1, 1, 0), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_count_is_found_by_its_name_and_no_other),
        cmocka_unit_test(days_without_a_range_count_all_hours_alike),
        cmocka_unit_test(portions_begin_without_memory_where_counting_begins),
        cmocka_unit_test(day_length_is_read_and_needs_no_weather),
        cmocka_unit_test(hours_are_made_where_the_sun_does_not_rise),
        cmocka_unit_test(heat_counts_from_the_day_after_chilling_is_enough),
        cmocka_unit_test(a_missing_day_of_chilling_makes_all_heat_unknown_unless_it_was_enough),
        cmocka_unit_test(the_first_at_least_passes_over_what_falls_later),
    };

    return cmocka_run_group_tests_name("counts", tests, NULL, NULL) != 0;
}
