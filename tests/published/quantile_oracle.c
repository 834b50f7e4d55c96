/*
 * quantile_oracle - sample quantiles against R's quantile(), types 1 to 9.
 *
 * Source: quantile_types.csv, made with R 4.2.2 on five samples, among them one of a single value
 * and one with ties.  Definitions: Hyndman & Fan 1996, The American Statistician 50:361-365.
 */
#include "conetide/quantile.h"

#include "oracle.h"

static int by_value(const void *one, const void *other)
{
    double a = *(const double *)one, b = *(const double *)other;

    return (a > b) - (a < b);
}

/* The numbers of a cell, parted by blanks, in ascending order. */
static size_t sorted_sample(const char *text, double *sample, size_t most)
{
    size_t n = 0;
    char *end;

    for (; *text != '\0'; text = end) {
        assert_true(n < most);
        sample[n++] = strtod(text, &end);
        assert_ptr_not_equal(text, end);
    }
    qsort(sample, n, sizeof *sample, by_value);
    return n;
}

static void every_row_agrees(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "quantile_types.csv");
    for (; oracle_next(&oracle); rows++) {
        double sample[64], value;
        size_t n = sorted_sample(oracle_text(&oracle, "data"), sample, COUNT(sample));
        int type = (int)oracle_number(&oracle, "type");

        assert_near((double)n, oracle_number(&oracle, "n"), 0);
        assert_int_equal(conetide_quantile(type, n, sample, oracle_number(&oracle, "p"), &value),
                         CONETIDE_OK);
        assert_near(value, oracle_number(&oracle, "q"), 1e-12);
    }
    assert_int_equal(rows, 450);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_agrees),
    };

    return cmocka_run_group_tests_name("quantiles of R", tests, NULL, NULL) != 0;
}
