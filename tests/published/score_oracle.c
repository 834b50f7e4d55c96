/*
 * score_oracle - ensemble scores against an integral made outside this repository, binomial tails
 * against the GNU Scientific Library.
 *
 * Source: crps.csv (SciPy 1.10.1: closed form and quadrature of (F - step)^2).
 */
#include "conetide/binomial.h"
#include "conetide/score.h"

#include "oracle.h"

#include <gsl/gsl_cdf.h>

static void every_ensemble_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "crps.csv");
    for (; oracle_next(&oracle); rows++) {
        const char *text = oracle_text(&oracle, "ensemble");
        double sorted[16], equal[16], crps, fair, weighted, expected;
        struct conetide_weighted_days days = {0, sorted, equal};

        for (char *end; *text != '\0' && days.n < COUNT(sorted); text = end) {
            sorted[days.n] = strtod(text, &end);
            equal[days.n++] = 1;
        }
        assert_int_equal(
            conetide_crps_ensemble(days.n, sorted, oracle_number(&oracle, "obs"), &crps, &fair),
            CONETIDE_OK);
        assert_int_equal(conetide_crps_weighted(&days, oracle_number(&oracle, "obs"), &weighted),
                         CONETIDE_OK);
        assert_near(crps, oracle_number(&oracle, "crps"), 1e-11);
        assert_near(weighted, oracle_number(&oracle, "crps_by_integral"), 1e-11);
        expected = oracle_number(&oracle, "fair_crps");
        if (days.n > 1)
            assert_near(fair, expected, 1e-11);
        else
            assert_true(isnan(fair) && isnan(expected));
    }
    assert_int_equal(rows, 6);
}

static void binomial_tails_agree(void **state)
{
    static const unsigned tries[] = {7, 100, 3000, 1000000};
    static const double chances[] = {1e-4, 0.03, 0.5, 0.97};
    double worst = 0, worst_of_a_million = 0;
    size_t checked = 0;

    (void)state;
    for (size_t t = 0; t < COUNT(tries); t++) {
        for (size_t c = 0; c < COUNT(chances); c++) {
            double sd = sqrt(tries[t] * chances[c] * (1 - chances[c]));

            for (int off = -8; off <= 8; off++) {
                double k = floor(tries[t] * chances[c] + off * sd);
                double expected, off_by;

                if (k < 1 || k > tries[t])
                    continue;
                expected = gsl_cdf_binomial_Q((unsigned)k - 1, chances[c], tries[t]);
                off_by =
                    conetide_binomial_at_least(tries[t], (int64_t)k, chances[c]) / expected - 1;
                if (tries[t] < 1000000)
                    worst = fmax(worst, fabs(off_by));
                else /* here the other loses digits: by 40-digit arithmetic ours is off by 2e-13 */
                    worst_of_a_million = fmax(worst_of_a_million, fabs(off_by));
                checked++;
            }
        }
    }
    print_message("%zu tails, worst relative difference %.2g, of a million tries %.2g\n", checked,
                  worst, worst_of_a_million);
    assert_true(checked > 100);
    assert_true(worst < 1e-11 && worst_of_a_million < 1e-8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_ensemble_agrees),
        cmocka_unit_test(binomial_tails_agree),
    };

    return cmocka_run_group_tests_name("scores", tests, NULL, NULL) != 0;
}
