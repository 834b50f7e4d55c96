/*
 * censored_test.c - fits printed elsewhere, the maximum tried from all sides, and data that are
 * silent.
 */
#include "conetide/censored.h"

#include "conetide/normal.h"

#include "base/test.h"

/* Ten dates between visits, one over at the first before them, one not yet seen after them. */
static const struct conetide_bounds over_first[] = {
    {-INFINITY, 82}, {80, 84}, {84, 87}, {87, 94}, {79, 83}, {90, 97},
    {83, 90},        {86, 88}, {91, 98}, {77, 84}, {88, 91}, {85, INFINITY}};
static const struct conetide_bounds *const visits = over_first + 1;

static struct conetide_normal_fit fit_of(size_t n, const struct conetide_bounds *bounds)
{
    struct conetide_normal_fit fit;

    assert_int_equal(conetide_fit_normal(n, bounds, &fit), CONETIDE_OK);
    return fit;
}

/* R 4.2.2, survival 3.5-3: survreg, dist = gaussian, type = interval2. */
static void visits_give_what_survreg_gives(void **state)
{
    struct conetide_normal_fit fit = fit_of(10, visits);

    (void)state;
    assert_near(fit.mean, 86.914606493076, 1e-7);
    assert_near(fit.sd, 4.2562991629509, 1e-7);
    assert_near(fit.log_likelihood, -14.126969306444, 1e-10);
    fit = fit_of(11, visits);
    assert_near(fit.mean, 87.149361774223, 1e-6);
    assert_near(fit.sd, 4.1962370172163, 1e-6);
    assert_near(fit.log_likelihood, -14.505446038108, 1e-10);
    fit = fit_of(11, over_first);
    assert_near(fit.mean, 86.187283443308, 1e-6);
    assert_near(fit.sd, 4.7214561645058, 1e-6);
    assert_near(fit.log_likelihood, -15.98933713373, 1e-10);
}

static void known_values_give_their_mean_and_spread(void **state)
{
    static const struct conetide_bounds known[] = {{3, 3}, {5, 5}, {7, 7}, {9, 9}};
    struct conetide_normal_fit fit = fit_of(4, known);

    (void)state;
    assert_near(fit.mean, 6, 1e-9);
    assert_near(fit.sd, sqrt(5), 1e-9);
    assert_near(fit.log_likelihood, -2 * log(2 * acos(-1) * 5) - 2, 1e-9);
}

static double likelihood(size_t n, const struct conetide_bounds *bounds, double mean, double sd)
{
    double total = 0;

    for (size_t i = 0; i < n; i++) {
        double low = (bounds[i].lower - mean) / sd, high = (bounds[i].upper - mean) / sd;

        if (bounds[i].lower < bounds[i].upper)
            total +=
                log(low > 0 ? conetide_normal_cumulative(-low) - conetide_normal_cumulative(-high)
                            : conetide_normal_cumulative(high) - conetide_normal_cumulative(low));
        else
            total += -low * low / 2 - log(sd * sqrt(2 * acos(-1)));
    }
    return total;
}

/* Bounds of every kind about values of a fixed sequence; no mean and spread beside may do better.
 */
static void no_step_from_the_fit_leads_up(void **state)
{
    uint32_t seed = 4;
    int fitted = 0;

    (void)state;
    for (int round = 0; round < 300; round++) {
        struct conetide_bounds bounds[12];
        struct conetide_normal_fit fit;
        size_t n = 4 + (size_t)round % 9;

        for (size_t i = 0; i < n; i++) {
            double value = 0, width;

            for (int k = 0; k < 6; k++) {
                seed = seed * 1664525u + 1013904223u;
                value += (double)(seed >> 8) / (1 << 24);
            }
            value = 300 + 40 * value;
            width = 5 + 30 * ((double)((seed >> 16) & 255) / 256);
            bounds[i] = (struct conetide_bounds){floor(value / width) * width,
                                                 floor(value / width) * width + width};
            if (i % 5 == 3)
                bounds[i].upper = INFINITY;
            if (i % 5 == 4)
                bounds[i].lower = -INFINITY;
            if (i % 5 == 2)
                bounds[i].lower = bounds[i].upper = value;
        }
        if (conetide_fit_normal(n, bounds, &fit) != CONETIDE_OK)
            continue;
        fitted++;
        assert_near(likelihood(n, bounds, fit.mean, fit.sd), fit.log_likelihood, 1e-8);
        for (int d = 0; d < 8; d++) {
            double angle = d * acos(-1) / 4, step = 0.01 * fit.sd;

            assert_true(likelihood(n, bounds, fit.mean + step * cos(angle),
                                   fit.sd + step * sin(angle)) < fit.log_likelihood);
        }
    }
    assert_true(fitted > 250);
}

static void an_outlier_far_off_is_fitted_too(void **state)
{
    static const struct conetide_bounds bounds[] = {
        {100, 101}, {100, 101}, {101, 102}, {99, 100}, {5000, 5001}};
    struct conetide_normal_fit fit = fit_of(COUNT(bounds), bounds);

    (void)state;
    assert_near(fit.mean, 1080.5, 0.1);
    assert_near(fit.sd, 1960, 1);
}

static void the_unit_makes_no_difference(void **state)
{
    static const struct conetide_bounds celsius[] = {{80, 90}, {85, 95}, {97, 105}, {70, INFINITY}};
    static const struct conetide_bounds fahrenheit[] = {
        {144, 162}, {153, 171}, {174.6, 189}, {126, INFINITY}};
    struct conetide_normal_fit c = fit_of(4, celsius), f = fit_of(4, fahrenheit);

    (void)state;
    assert_near(f.mean, 1.8 * c.mean, 1e-8);
    assert_near(f.sd, 1.8 * c.sd, 1e-8);
    assert_near(f.log_likelihood, c.log_likelihood, 1e-10);
}

static void one_without_bounds_does_no_harm(void **state)
{
    struct conetide_bounds with[11] = {{-INFINITY, INFINITY}};
    struct conetide_normal_fit fit;

    (void)state;
    memcpy(with + 1, visits, 10 * sizeof *with);
    fit = fit_of(COUNT(with), with);
    assert_near(fit.mean, 86.914606493076, 1e-7);
    assert_near(fit.log_likelihood, -14.126969306444, 1e-10);
}

static void data_that_are_silent_are_told_so(void **state)
{
    static const struct {
        size_t n;
        struct conetide_bounds bounds[3];
    } rows[] = {
        {0, {{0, 0}}},
        {1, {{3, 3}}},
        {1, {{3, 5}}},
        {3, {{3, 3}, {3, 3}, {3, 3}}},
        {3, {{1, 5}, {2, 6}, {4, 8}}},                      /* 4 to 5 in all */
        {2, {{1, 4}, {4, 8}}},                              /* 4 */
        {3, {{1, INFINITY}, {2, INFINITY}, {9, INFINITY}}}, /* none ever seen */
        {2, {{-INFINITY, 1}, {-INFINITY, 3}}},              /* all over at the first visit */
        {2, {{-INFINITY, 80}, {100, INFINITY}}},            /* any spread, however large */
        {1, {{-INFINITY, INFINITY}}},
    };
    struct conetide_normal_fit fit;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_fit_normal(rows[i].n, rows[i].bounds, &fit),
                         CONETIDE_NOT_IDENTIFIABLE);
        assert_true(isnan(fit.mean) && isnan(fit.sd) && isnan(fit.log_likelihood));
    }
}

static void visits_that_only_say_before_or_after_may_do(void **state)
{
    static const struct conetide_bounds bounds[] = {{-INFINITY, 100}, {-INFINITY, 100},
                                                    {-INFINITY, 80},  {80, INFINITY},
                                                    {80, INFINITY},   {100, INFINITY}};
    struct conetide_normal_fit fit = fit_of(COUNT(bounds), bounds);

    (void)state;
    assert_near(fit.mean, 90, 1e-6);
    assert_near(conetide_normal_cumulative(10 / fit.sd), 2 / 3.0, 1e-6);
}

static void bounds_that_are_none_are_refused(void **state)
{
    static const struct conetide_bounds rows[] = {
        {5, 3}, {NAN, 3}, {3, NAN}, {INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    struct conetide_normal_fit fit;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(conetide_fit_normal(1, &rows[i], &fit), CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(fit.mean));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(visits_give_what_survreg_gives),
        cmocka_unit_test(known_values_give_their_mean_and_spread),
        cmocka_unit_test(no_step_from_the_fit_leads_up),
        cmocka_unit_test(an_outlier_far_off_is_fitted_too),
        cmocka_unit_test(the_unit_makes_no_difference),
        cmocka_unit_test(one_without_bounds_does_no_harm),
        cmocka_unit_test(data_that_are_silent_are_told_so),
        cmocka_unit_test(visits_that_only_say_before_or_after_may_do),
        cmocka_unit_test(bounds_that_are_none_are_refused),
    };

    return cmocka_run_group_tests_name("censored", tests, NULL, NULL) != 0;
}
