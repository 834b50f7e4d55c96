/*
 * degree_days_oracle - heat units against reference tables made elsewhere.
 *
 * degree_days.csv: curve x cut-off by numerical integration (SciPy), printed to 1e-9.
 * degday_reference.csv: single and double triangle and sine on lattice, random, edge and sweep
 * days, from closed forms checked against SciPy, GSL and 50-digit arithmetic, printed to 1e-12. Its
 *   intermediate is the signed day total; ours floors that at 0.
 */
#include "conetide/heat.h"

#include "oracle.h"

static struct conetide_heat_rule rule_named(const char *curve, const char *cutoff, double lower,
                                            double upper)
{
    struct conetide_heat_rule rule = {conetide_curve_named(curve), CONETIDE_CUTOFF_NONE, lower,
                                      upper};

    assert_non_null(rule.curve);
    assert_true(conetide_cutoff_named(cutoff, &rule.cutoff));
    return rule;
}

/*
 * Half a day flat at exactly the upper threshold counts under `vertical`, which cuts what is above
 * it; the integral's own rounding put those temperatures above.
 */
static bool is_flat_at_upper(const struct conetide_heat_rule *rule, const struct conetide_day *day)
{
    double flat = rule->curve->uses_next_tmin ? fabs(day->next_tmin - day->tmax) : 1;

    return rule->cutoff == CONETIDE_CUTOFF_VERTICAL && flat <= 0 &&
           fabs(day->tmax - rule->upper) <= 0;
}

static void every_row_of_degree_days_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0, flat = 0;

    (void)state;
    oracle_open(&oracle, "degree_days.csv");
    for (; oracle_next(&oracle); rows++) {
        const struct conetide_heat_rule rule =
            rule_named(oracle_text(&oracle, "curve"), oracle_text(&oracle, "cutoff"),
                       oracle_number(&oracle, "lower_c"), oracle_number(&oracle, "upper_c"));
        const struct conetide_day day = {oracle_number(&oracle, "tmin_c"),
                                         oracle_number(&oracle, "tmax_c"),
                                         oracle_number(&oracle, "next_tmin_c")};
        double heat_units, expected = oracle_number(&oracle, "degree_days");

        assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
        if (is_flat_at_upper(&rule, &day)) {
            expected += (rule.upper - rule.lower) / 2;
            flat++;
        }
        assert_near(heat_units, expected, 1e-9);
    }
    assert_int_equal(rows, 1120);
    assert_int_equal(flat, 2);
}

static void check_reference_row(const struct oracle *oracle, const struct conetide_day *day)
{
    static const char *const methods[][2] = {{"sng_tri", "triangle"},
                                             {"dbl_tri", "double-triangle"},
                                             {"sng_sine", "sine"},
                                             {"dbl_sine", "double-sine"}};
    static const char *const averages[][3] = {
        {"avg_mean_nocut", "average", "none"},
        {"avg_mean_clip", "average", "horizontal"},
        {"avg_minmax_clip", "clipped-average", "horizontal"},
    };
    double lower = oracle_number(oracle, "lower"), upper = oracle_number(oracle, "upper");
    double heat_units;

    for (size_t m = 0; m < COUNT(methods); m++) {
        for (int c = CONETIDE_CUTOFF_NONE; c <= CONETIDE_CUTOFF_VERTICAL; c++) {
            const struct conetide_heat_rule rule =
                rule_named(methods[m][1], conetide_cutoff_names[c], lower, upper);
            char column[64];

            snprintf(column, sizeof column, "%s_%s", methods[m][0], conetide_cutoff_names[c]);
            assert_int_equal(conetide_heat_day(&rule, day, &heat_units), CONETIDE_OK);
            assert_near(heat_units, fmax(0, oracle_number(oracle, column)), 1e-10);
        }
    }
    for (size_t m = 0; m < COUNT(averages); m++) {
        const struct conetide_heat_rule rule =
            rule_named(averages[m][1], averages[m][2], lower, upper);

        assert_int_equal(conetide_heat_day(&rule, day, &heat_units), CONETIDE_OK);
        assert_near(heat_units, oracle_number(oracle, averages[m][0]), 1e-9); /* printed to that */
    }
}

static void every_row_of_the_reference_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0, floored = 0;

    (void)state;
    oracle_open(&oracle, "degday_reference.csv");
    for (; oracle_next(&oracle); rows++) {
        const struct conetide_day day = {oracle_number(&oracle, "tmin"),
                                         oracle_number(&oracle, "tmax"),
                                         oracle_number(&oracle, "next_tmin")};

        check_reference_row(&oracle, &day);
        floored += oracle_number(&oracle, "dbl_sine_intermediate") < 0;
    }
    print_message("%zu rows, the signed intermediate below 0 in %zu\n", rows, floored);
    assert_int_equal(rows, 2015);
    assert_true(floored > 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_of_degree_days_agrees),
        cmocka_unit_test(every_row_of_the_reference_agrees),
    };

    return cmocka_run_group_tests_name("degree-day reference tables", tests, NULL, NULL) != 0;
}
