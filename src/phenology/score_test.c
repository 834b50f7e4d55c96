/*
 * score_test.c - scores by hand, by integral, and printed elsewhere.
 */
#include "conetide/score.h"

#include "conetide/normal.h"

#include "base/test.h"

static void pinball_leans_to_its_side(void **state)
{
    (void)state;
    assert_near(conetide_pinball(0.9, 100, 110), 9, 1e-12);
    assert_near(conetide_pinball(0.9, 100, 90), 1, 1e-12);
    assert_near(conetide_pinball(0.5, 100, 90), 5, 1e-12);
    assert_near(conetide_pinball(0.1, 100, 100), 0, 0);
}

static const double five[] = {88, 90, 91, 93, 97}, tied[] = {90, 90, 90, 95};

static void check_ensemble(size_t n, const double *sorted, double observed, double crps,
                           double fair)
{
    double got, got_fair, pinballs = 0;

    assert_int_equal(conetide_crps_ensemble(n, sorted, observed, &got, &got_fair), CONETIDE_OK);
    assert_near(got, crps, 1e-12);
    assert_near(got_fair, fair, 1e-12);
    /* twice the mean loss of the members as quantiles (i - 1/2) / n is the same score */
    for (size_t i = 0; i < n; i++)
        pinballs += conetide_pinball(((double)i + 0.5) / (double)n, sorted[i], observed);
    assert_near(2 * pinballs / (double)n, crps, 1e-12);
}

static void ensembles_score_by_the_mean_differences(void **state)
{
    double crps, fair;

    (void)state;
    check_ensemble(5, five, 92, 0.92, 0.5);
    check_ensemble(5, five, 80, 10.12, 9.7);
    check_ensemble(5, five, 101, 7.52, 7.1);
    check_ensemble(4, tied, 90, 0.3125, 0);
    assert_int_equal(conetide_crps_ensemble(1, five, 91, &crps, &fair), CONETIDE_OK);
    assert_near(crps, 3, 0);
    assert_true(isnan(fair));
}

static void a_normal_scores_by_its_formula_and_by_its_integral(void **state)
{
    double area = 0;

    (void)state;
    assert_near(conetide_crps_normal(0, 1, 0), 0.2336949773, 5.1e-11);
    assert_near(conetide_crps_normal(0, 1, 1), 0.6024413576, 5.1e-11);
    assert_near(conetide_crps_normal(90, 4, 93), 1.7925770088, 5.1e-11);
    assert_near(conetide_crps_normal(90, 0, 93), 3, 0);
    assert_true(isnan(conetide_crps_normal(90, -1, 93)));
    for (int i = -80000; i < 80000; i++) {
        double z = (i + 0.5) / 10000, share = conetide_normal_cumulative(z) - (z > 0.7);

        area += share * share / 10000;
    }
    assert_near(conetide_crps_normal(0, 1, 0.7), area, 1e-8);
}

static void equal_weights_score_as_an_ensemble(void **state)
{
    static const double ones[] = {2, 2, 2, 2, 2};
    static const struct conetide_weighted_days days = {5, five, ones};
    double crps, fair, weighted;

    (void)state;
    for (double observed = 80; observed < 105; observed += 0.25) {
        assert_int_equal(conetide_crps_ensemble(5, five, observed, &crps, &fair), CONETIDE_OK);
        assert_int_equal(conetide_crps_weighted(&days, observed, &weighted), CONETIDE_OK);
        assert_near(weighted, crps, 1e-12);
    }
}

static void weights_score_as_so_many_members(void **state)
{
    static const double days[] = {88, 90, 95}, weight[] = {0.25, 0.5, 0.25};
    static const double members[] = {88, 90, 90, 95};
    static const struct conetide_weighted_days distribution = {3, days, weight};
    double crps, fair, weighted;

    (void)state;
    for (double observed = 80; observed < 105; observed += 0.5) {
        assert_int_equal(conetide_crps_ensemble(4, members, observed, &crps, &fair), CONETIDE_OK);
        assert_int_equal(conetide_crps_weighted(&distribution, observed, &weighted), CONETIDE_OK);
        assert_near(weighted, crps, 1e-12);
    }
}

static void what_was_observed_lies_between_two_shares(void **state)
{
    static const double days[] = {88, 90, 95}, weight[] = {1, 2, 1};
    static const struct conetide_weighted_days distribution = {3, days, weight};
    static const double rows[][3] = {{87, 0, 0},       {88, 0, 0.25}, {89, 0.25, 0.25},
                                     {90, 0.25, 0.75}, {95, 0.75, 1}, {96, 1, 1}};
    double below, up_to;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_pit(&distribution, rows[i][0], &below, &up_to), CONETIDE_OK);
        assert_near(below, rows[i][1], 0);
        assert_near(up_to, rows[i][2], 0);
    }
}

static void brier_is_the_mean_square(void **state)
{
    static const double chance[] = {1, 0, 0.5, 0.2}, outcome[] = {1, 0, 1, 1};

    (void)state;
    assert_near(conetide_brier(4, chance, outcome), (0.25 + 0.64) / 4, 1e-15);
    assert_near(conetide_brier(2, chance, outcome), 0, 0);
    assert_true(isnan(conetide_brier(0, chance, outcome)));
}

static void what_is_no_distribution_is_refused(void **state)
{
    static const double days[] = {1, 2}, backward[] = {2, 1}, hole[] = {1, NAN};
    static const double good[] = {1, 0}, none[] = {0, 0}, less[] = {1, -1},
                        endless[] = {1, INFINITY};
    static const struct conetide_weighted_days rows[] = {
        {0, days, good}, {2, backward, good}, {2, hole, good},   {2, days, none},
        {2, days, less}, {2, days, hole},     {2, days, endless}};
    double one, other;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_crps_weighted(&rows[i], 1, &one), CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(one));
        assert_int_equal(conetide_pit(&rows[i], 1, &one, &other), CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(one) && isnan(other));
    }
    assert_int_equal(conetide_crps_ensemble(2, backward, 1, &one, &other), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_crps_ensemble(2, days, NAN, &one, &other), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_crps_ensemble(0, days, 1, &one, &other), CONETIDE_BAD_ARGUMENT);
    assert_true(isnan(one) && isnan(other));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pinball_leans_to_its_side),
        cmocka_unit_test(ensembles_score_by_the_mean_differences),
        cmocka_unit_test(a_normal_scores_by_its_formula_and_by_its_integral),
        cmocka_unit_test(equal_weights_score_as_an_ensemble),
        cmocka_unit_test(weights_score_as_so_many_members),
        cmocka_unit_test(what_was_observed_lies_between_two_shares),
        cmocka_unit_test(brier_is_the_mean_square),
        cmocka_unit_test(what_is_no_distribution_is_refused),
    };

    return cmocka_run_group_tests_name("score", tests, NULL, NULL) != 0;
}
