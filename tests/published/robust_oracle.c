/*
 * robust_oracle - trends against SciPy 1.10.1 and circular means against R package circular 0.4-95.
 *
 * Sources: theilsen.csv (of its sets the points of `dc_1921_2026`, `small` and `outlier` are known
 * here, the first being ../opendata/washington/bloom.csv), circular_doy.csv.
 */
#include "conetide/robust.h"

#include "oracle.h"

enum { MOST = 120 };
static double workspace[CONETIDE_TREND_WORKSPACE(MOST)];

static void check_set(const char *name, size_t n, const double *x, const double *y)
{
    struct oracle oracle;
    struct conetide_trend trend;
    size_t found = 0;

    assert_int_equal(conetide_trend_of(n, x, y, workspace, &trend), CONETIDE_OK);
    oracle_open(&oracle, "theilsen.csv");
    while (oracle_next(&oracle)) {
        if (strcmp(oracle_text(&oracle, "set"), name) != 0)
            continue;
        found++;
        assert_near((double)n, oracle_number(&oracle, "n"), 0);
        assert_near(trend.slope, oracle_number(&oracle, "slope"), 1e-14);
        assert_near(trend.low95, oracle_number(&oracle, "lo95"), 1e-14);
        assert_near(trend.high95, oracle_number(&oracle, "hi95"), 1e-14);
        assert_near(trend.intercept_separate, oracle_number(&oracle, "intercept_separate"), 1e-11);
        assert_near(trend.intercept_joint, oracle_number(&oracle, "intercept_joint"), 1e-11);
    }
    assert_int_equal(found, 1);
}

static void a_century_of_bloom_agrees(void **state)
{
    struct oracle oracle;
    double year[MOST], doy[MOST];
    size_t n = 0;

    (void)state;
    oracle_open(&oracle, "../opendata/washington/bloom.csv");
    for (; oracle_next(&oracle); n++) {
        assert_true(n < MOST);
        year[n] = oracle_number(&oracle, "year");
        doy[n] = oracle_number(&oracle, "bloom_doy");
    }
    assert_int_equal(n, 106);
    check_set("dc_1921_2026", n, year, doy);
}

static void small_sets_agree(void **state)
{
    static const double x[] = {1, 2, 3, 4, 5}, y[] = {1, 3, 2, 5, 4};
    static const double line_x[] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
    static const double line_y[] = {1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 100};

    (void)state;
    check_set("small", COUNT(x), x, y);
    check_set("outlier", COUNT(line_x), line_x, line_y);
}

static void circular_means_agree(void **state)
{
    struct oracle oracle;
    size_t rows = 0;

    (void)state;
    oracle_open(&oracle, "circular_doy.csv");
    for (; oracle_next(&oracle); rows++) {
        const char *text = oracle_text(&oracle, "doys");
        struct conetide_circular circular;
        double doy[16];
        size_t n = 0;

        for (char *end; *text != '\0' && n < COUNT(doy); text = end)
            doy[n++] = strtod(text, &end);
        assert_int_equal(conetide_circular_of(n, doy, oracle_number(&oracle, "ndays"), &circular),
                         CONETIDE_OK);
        assert_near(circular.mean_doy, oracle_number(&oracle, "mean_doy"), 1e-11);
        assert_near(circular.resultant, oracle_number(&oracle, "R"), 1e-13);
        assert_near(circular.sd_days, oracle_number(&oracle, "circ_sd_days"), 1e-11);
    }
    assert_int_equal(rows, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_century_of_bloom_agrees),
        cmocka_unit_test(small_sets_agree),
        cmocka_unit_test(circular_means_agree),
    };

    return cmocka_run_group_tests_name("trends and circular means", tests, NULL, NULL) != 0;
}
