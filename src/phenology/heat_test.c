/*
 * heat_test.c - names, hand values, faults and identities of heat units.
 *
 * Published tables and numerical integration stand in tests/published.
 */
#include "conetide/heat.h"

#include "base/test.h"

static double heat_of(const struct conetide_curve *curve, enum conetide_cutoff cutoff,
                      struct conetide_day day, double lower, double upper)
{
    const struct conetide_heat_rule rule = {curve, cutoff, lower, upper};
    double heat_units = NAN;

    assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
    return heat_units;
}

static void curves_and_cutoffs_are_found_by_name_alone(void **state)
{
    static const char *const none[] = {"", "sin", "sines", "Sine", "double", "none "};
    enum conetide_cutoff cutoff = CONETIDE_CUTOFF_NONE;
    size_t count = 0;

    (void)state;
    for (; conetide_curves[count] != NULL; count++)
        assert_ptr_equal(conetide_curve_named(conetide_curves[count]->name),
                         conetide_curves[count]);
    assert_int_equal(count, 7);
    assert_ptr_equal(conetide_curve_named("double-sine"), &conetide_double_sine);
    for (int i = 0; conetide_cutoff_names[i] != NULL; i++) {
        assert_true(conetide_cutoff_named(conetide_cutoff_names[i], &cutoff));
        assert_int_equal(cutoff, i);
    }
    for (size_t i = 0; i < COUNT(none); i++) {
        assert_null(conetide_curve_named(none[i]));
        assert_false(conetide_cutoff_named(none[i], &cutoff));
        assert_int_equal(cutoff, CONETIDE_CUTOFF_VERTICAL);
    }
}

/* Worked out by hand to six decimals: heat and share above each threshold, leg by leg. */
static void hand_values_hold(void **state)
{
    static const struct {
        const struct conetide_curve *curve;
        struct conetide_day day;
        double lower, upper;
        double expected[4]; /* none, horizontal, intermediate, vertical */
    } rows[] = {
        {&conetide_triangle, {48, 90, 50}, 50, 86, {19.047619, 18.857143, 18.666667, 15.428571}},
        {&conetide_sine, {48, 90, 50}, 50, 86, {19.186125, 18.657068, 18.128012, 11.466955}},
        {&conetide_double_sine, {48, 90, 50}, 50, 86, {19.593062, 19.057337, 18.521612, 11.775291}},
        {&conetide_sine, {12, 36, 14}, 10, 30, {14, 12.692027, 11.384053, 6.025360}},
        {&conetide_double_triangle, {12, 36, 14}, 10, 30, {14.5, 13.715909, 12.931818, 8.488636}},
        {&conetide_average, {12, 36, 14}, 10, 30, {14, 14, 14, 14}},
        {&conetide_average, {24, 44, 14}, 10, 30, {24, 20, 16, 0}},
        {&conetide_clipped_average, {12, 36, 14}, 10, 30, {14, 11, 8, 1}},
        {&conetide_clipped_average, {5, 25, 8}, 10, 30, {7.5, 7.5, 7.5, 7.5}},
        {&conetide_daily_maximum, {12, 36, 14}, 10, 30, {26, 20, 14, 0}},
        {&conetide_daily_maximum, {12, 30, 14}, 10, 30, {20, 20, 20, 20}},
        {&conetide_daily_maximum, {40, 55, 40}, 10, 30, {45, 20, 0, 0}},
    };

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        for (int c = CONETIDE_CUTOFF_NONE; c <= CONETIDE_CUTOFF_VERTICAL; c++)
            assert_near(heat_of(rows[i].curve, (enum conetide_cutoff)c, rows[i].day, rows[i].lower,
                                rows[i].upper),
                        rows[i].expected[c], 5.1e-7);
    }
}

static void a_flat_day_at_the_upper_threshold_counts_in_full(void **state)
{
    (void)state;
    for (size_t i = 0; conetide_curves[i] != NULL; i++) {
        for (int c = CONETIDE_CUTOFF_NONE; c <= CONETIDE_CUTOFF_VERTICAL; c++)
            assert_near(heat_of(conetide_curves[i], (enum conetide_cutoff)c,
                                (struct conetide_day){30, 30, 30}, 10, 30),
                        20, 0);
    }
}

static void a_warm_night_after_a_cold_day_counts(void **state)
{
    (void)state;
    /* legs 41-43 and 43-91 over 50: (91 - 50)^2 / (2 * 48) / 2, less the part above 86 */
    assert_near(heat_of(&conetide_double_triangle, CONETIDE_CUTOFF_NONE,
                        (struct conetide_day){41, 43, 91}, 50, 86),
                41.0 * 41 / 96 / 2, 1e-13);
    assert_near(heat_of(&conetide_double_triangle, CONETIDE_CUTOFF_HORIZONTAL,
                        (struct conetide_day){41, 43, 91}, 50, 86),
                8.625, 1e-13);
}

static void faults_are_told_and_nothing_is_computed(void **state)
{
    static const struct {
        struct conetide_heat_rule rule;
        struct conetide_day day;
        enum conetide_status status;
    } rows[] = {
        {{&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN}, {5, 20, NAN}, CONETIDE_OK},
        {{&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN}, {NAN, 20, 5}, CONETIDE_MISSING},
        {{&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN}, {5, INFINITY, 5}, CONETIDE_MISSING},
        {{&conetide_double_sine, CONETIDE_CUTOFF_NONE, 10, 0}, {5, 20, NAN}, CONETIDE_MISSING},
        {{&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN}, {20, 5, 5}, CONETIDE_REVERSED},
        {{&conetide_double_sine, CONETIDE_CUTOFF_NONE, 10, 0}, {5, 20, 30}, CONETIDE_OK},
        {{&conetide_sine, CONETIDE_CUTOFF_NONE, NAN, 30}, {5, 20, 5}, CONETIDE_BAD_THRESHOLDS},
        {{&conetide_sine, CONETIDE_CUTOFF_HORIZONTAL, 10, 9}, {5, 20, 5}, CONETIDE_BAD_THRESHOLDS},
        {{&conetide_sine, CONETIDE_CUTOFF_VERTICAL, 10, INFINITY},
         {5, 20, 5},
         CONETIDE_BAD_THRESHOLDS},
        {{&conetide_sine, CONETIDE_CUTOFF_INTERMEDIATE, 10, NAN},
         {5, 20, 5},
         CONETIDE_BAD_THRESHOLDS},
        {{&conetide_sine, CONETIDE_CUTOFF_HORIZONTAL, 10, 10}, {5, 20, 5}, CONETIDE_OK},
        {{&conetide_sine, (enum conetide_cutoff)4, 10, 30}, {5, 20, 5}, CONETIDE_BAD_ARGUMENT},
    };

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        double heat_units = -1;

        assert_int_equal(conetide_heat_day(&rows[i].rule, &rows[i].day, &heat_units),
                         rows[i].status);
        assert_true(rows[i].status == CONETIDE_OK ? heat_units >= 0 : isnan(heat_units));
    }
}

static void days_at_once_are_the_days_one_by_one(void **state)
{
    static const double tmin[] = {3, 8, NAN, 12, 25, 9, 14};
    static const double tmax[] = {20, 31, 30, 35, 24, 9, 41};
    static const enum conetide_status single[] = {0, 0, -1, 0, -2, 0, 0};
    static const enum conetide_status twice[] = {0, -1, -1, 0, -2, 0, 0};

    (void)state;
    for (size_t k = 0; conetide_curves[k] != NULL; k++) {
        const struct conetide_heat_rule rule = {conetide_curves[k], CONETIDE_CUTOFF_HORIZONTAL, 10,
                                                30};
        const enum conetide_status *expected = rule.curve->uses_next_tmin ? twice : single;
        double heat_units[COUNT(tmin)], one;
        size_t bad_day = 99;

        assert_int_equal(conetide_heat_days(&rule, COUNT(tmin), tmin, tmax, heat_units, &bad_day),
                         CONETIDE_MISSING);
        assert_int_equal(bad_day, rule.curve->uses_next_tmin ? 1 : 2);
        for (size_t i = 0; i < COUNT(tmin); i++) {
            const struct conetide_day day = {tmin[i], tmax[i],
                                             i + 1 < COUNT(tmin) ? tmin[i + 1] : tmin[i]};

            assert_int_equal(conetide_heat_day(&rule, &day, &one), expected[i]);
            assert_memory_equal(&one, &heat_units[i], sizeof one);
        }
    }
}

static void days_without_fault_and_no_days_at_all_are_fine(void **state)
{
    static const double tmin[] = {3, 8}, tmax[] = {20, 31};
    const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN};
    const struct conetide_heat_rule bad = {&conetide_sine, CONETIDE_CUTOFF_HORIZONTAL, 10, NAN};
    double heat_units[2] = {-1, -1};
    size_t bad_day = 99;

    (void)state;
    assert_int_equal(conetide_heat_days(&rule, 2, tmin, tmax, heat_units, &bad_day), CONETIDE_OK);
    assert_int_equal(bad_day, 2);
    assert_int_equal(conetide_heat_days(&rule, 0, tmin, tmax, heat_units, &bad_day), CONETIDE_OK);
    assert_int_equal(bad_day, 0);
    assert_int_equal(conetide_heat_days(&bad, 2, tmin, tmax, heat_units, &bad_day),
                     CONETIDE_BAD_THRESHOLDS);
    assert_int_equal(bad_day, 0);
    assert_true(isnan(heat_units[0]) && isnan(heat_units[1]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curves_and_cutoffs_are_found_by_name_alone),
        cmocka_unit_test(hand_values_hold),
        cmocka_unit_test(a_flat_day_at_the_upper_threshold_counts_in_full),
        cmocka_unit_test(a_warm_night_after_a_cold_day_counts),
        cmocka_unit_test(faults_are_told_and_nothing_is_computed),
        cmocka_unit_test(days_at_once_are_the_days_one_by_one),
        cmocka_unit_test(days_without_fault_and_no_days_at_all_are_fine),
    };

    return cmocka_run_group_tests_name("heat", tests, NULL, NULL) != 0;
}
