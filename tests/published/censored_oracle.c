/*
 * censored_oracle - normal fits to bounds.
 *
 * Source: interval_censored.csv, R 4.2.2, survival 3.5-3, survreg with dist = gaussian.
 */
#include "conetide/censored.h"

#include "oracle.h"

static void every_case_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "interval_censored.csv");
    for (; oracle_next(&oracle); rows++) {
        const char *left = oracle_text(&oracle, "left"), *right = oracle_text(&oracle, "right");
        struct conetide_bounds bounds[32];
        struct conetide_normal_fit fit;
        size_t n = 0;

        for (char *end; *left != '\0' && n < COUNT(bounds); left = end)
            bounds[n++].lower = strtod(left, &end);
        for (size_t i = 0; i < n; i++) {
            char *end;

            bounds[i].upper = strtod(right, &end);
            right = end;
        }
        assert_int_equal(conetide_fit_normal(n, bounds, &fit), CONETIDE_OK);
        /* survreg stops at a relative change of 1e-9 of its log likelihood */
        print_message("%zu values: mean %.9f, sd %.9f, log likelihood %.12f\n", n, fit.mean, fit.sd,
                      fit.log_likelihood);
        assert_near(fit.mean, oracle_number(&oracle, "mu"), 1e-6);
        assert_near(fit.sd, oracle_number(&oracle, "sigma"), 1e-6);
        assert_near(fit.log_likelihood, oracle_number(&oracle, "loglik"), 1e-10);
    }
    assert_int_equal(rows, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_case_agrees),
    };

    return cmocka_run_group_tests_name("censored values", tests, NULL, NULL) != 0;
}
