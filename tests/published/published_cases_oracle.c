/*
 * published_cases_oracle - heat units against collections of published worked numbers.
 *
 * published_cases.csv, published_cases_b.csv: input and answer as printed, the source of each row
 *   beside it, to half a printed unit.  Four rows of the first are errata: they must differ from
 * what is printed and agree with the exact value. published_cutoffs_esparto.csv: a year of a public
 * university degree-day calculator, 50/70 deg F, three cut-offs.
 */
#include "conetide/heat.h"

#include "oracle.h"

static const struct {
    const char *method, *curve;
} methods[] = {
    {"sng_tri", "triangle"},     {"dbl_tri", "double-triangle"}, {"sng_sine", "sine"},
    {"dbl_sine", "double-sine"}, {"avg_mean", "average"},        {"avg_minmax", "clipped-average"},
    {"hdd_mean", "average"}, /* degrees below the base, see below */
};

/* False when the row's method is not offered (one row: a national service's four-case rule). */
static bool heat_of_row(const struct oracle *oracle, struct conetide_day day, double *heat_units)
{
    const char *method = oracle_text(oracle, "method");
    struct conetide_heat_rule rule = {NULL, CONETIDE_CUTOFF_NONE, oracle_number(oracle, "lower"),
                                      oracle_number(oracle, "upper")};

    for (size_t i = 0; i < COUNT(methods); i++) {
        if (strcmp(method, methods[i].method) == 0)
            rule.curve = conetide_curve_named(methods[i].curve);
    }
    if (rule.curve == NULL)
        return false;
    assert_true(conetide_cutoff_named(oracle_text(oracle, "cutoff"), &rule.cutoff));
    if (strcmp(method, "hdd_mean") == 0) {
        /* degrees below a base are degrees above it with all signs turned */
        day = (struct conetide_day){-day.tmax, -day.tmin, NAN};
        rule.lower = -rule.lower;
    }
    assert_int_equal(conetide_heat_day(&rule, &day, heat_units), CONETIDE_OK);
    return true;
}

static struct conetide_day day_of_row(const struct oracle *oracle)
{
    return (struct conetide_day){oracle_number(oracle, "tmin"), oracle_number(oracle, "tmax"),
                                 oracle_number(oracle, "next_tmin")};
}

/* Half of the last printed digit. */
static double half_unit(const struct oracle *oracle)
{
    return 0.5 * pow(10, -oracle_number(oracle, "decimals"));
}

/*
 * What is printed and wrong, by tmin and tmax: a misprint of Zalom et al. 1983, Table 7 (24.88); a
 * fault of TrenchR 1.1.1's single sine above both thresholds (5); two answers of the UC IPM web
 * calculator, Ojai 2016, that rounding in Fahrenheit moved by a hundredth (3.59 and 2.61).
 */
static const struct {
    const char *method;
    double tmin, tmax, printed;
} errata[] = {
    {"dbl_tri", 60, 100, 24.88},
    {"sng_sine", 35, 40, 5},
    {"sng_sine", 5, 22.2, 3.59},
    {"dbl_sine", 6.7, 19.4, 2.61},
};

static bool is_erratum(const struct oracle *oracle)
{
    double printed = oracle_number(oracle, "expected");

    for (size_t i = 0; i < COUNT(errata); i++) {
        if (strcmp(oracle_text(oracle, "method"), errata[i].method) == 0 &&
            fabs(oracle_number(oracle, "tmin") - errata[i].tmin) < 1e-9 &&
            fabs(oracle_number(oracle, "tmax") - errata[i].tmax) < 1e-9 &&
            fabs(printed - errata[i].printed) < 1e-9)
            return true;
    }
    return false;
}

static void every_published_case_agrees_to_half_a_printed_unit(void **state)
{
    struct oracle oracle;
    size_t rows = 0, wrong = 0;

    (void)state;
    oracle_open(&oracle, "published_cases.csv");
    for (; oracle_next(&oracle); rows++) {
        double heat_units = NAN, printed = oracle_number(&oracle, "expected");

        assert_true(heat_of_row(&oracle, day_of_row(&oracle), &heat_units));
        assert_near(heat_units, oracle_number(&oracle, "exact"), 5.1e-7);
        if (is_erratum(&oracle)) {
            assert_true(fabs(heat_units - printed) > half_unit(&oracle));
            wrong++;
        } else if (!(fabs(heat_units - printed) <= half_unit(&oracle) + 1e-9)) {
            fail_msg("row %s, %s: %.6f, published %.6f", oracle_text(&oracle, "id"),
                     oracle_text(&oracle, "source"), heat_units, printed);
        }
    }
    print_message("%zu published cases, %zu errata\n", rows, wrong);
    assert_int_equal(rows, 1576);
    assert_int_equal(wrong, COUNT(errata));
}

static void every_further_published_case_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0, not_offered = 0;

    (void)state;
    oracle_open(&oracle, "published_cases_b.csv");
    for (; oracle_next(&oracle); rows++) {
        double heat_units = NAN;

        if (!heat_of_row(&oracle, day_of_row(&oracle), &heat_units)) {
            assert_string_equal(oracle_text(&oracle, "method"), "met_above");
            not_offered++;
            continue;
        }
        if (!(fabs(heat_units - oracle_number(&oracle, "expected")) <= half_unit(&oracle) + 1e-9))
            fail_msg("row %s, %s: %.9f, published %s", oracle_text(&oracle, "id"),
                     oracle_text(&oracle, "source"), heat_units, oracle_text(&oracle, "expected"));
    }
    assert_int_equal(rows, 35);
    assert_int_equal(not_offered, 1);
}

static void a_calculators_year_agrees_for_three_cutoffs(void **state)
{
    struct oracle oracle;
    size_t rows = 0, unexplained = 0;

    (void)state;
    oracle_open(&oracle, "published_cutoffs_esparto.csv");
    for (; oracle_next(&oracle); rows++) {
        const struct conetide_day day = {oracle_number(&oracle, "tmin_f"),
                                         oracle_number(&oracle, "tmax_f"),
                                         oracle_number(&oracle, "next_tmin_f")};
        double heat_units = NAN;

        assert_true(heat_of_row(&oracle, day, &heat_units));
        assert_near(heat_units, fmax(0, oracle_number(&oracle, "exact")), 1e-8);
        if (oracle_number(&oracle, "ok_0.01") < 1)
            unexplained++;
        else
            assert_near(heat_units, oracle_number(&oracle, "ucipm"), 0.01 + 1e-9);
    }
    print_message("%zu answers of the calculator, %zu of them unexplained\n", rows, unexplained);
    assert_int_equal(rows, 4392);
    assert_int_equal(unexplained, 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_case_agrees_to_half_a_printed_unit),
        cmocka_unit_test(every_further_published_case_agrees),
        cmocka_unit_test(a_calculators_year_agrees_for_three_cutoffs),
    };

    return cmocka_run_group_tests_name("published cases", tests, NULL, NULL) != 0;
}
