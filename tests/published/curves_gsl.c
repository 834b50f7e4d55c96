/*
 * curves_gsl - every curve and cut-off against numerical integration.
 *
 * Second opinion: GNU Scientific Library, gsl_integration_qags on each smooth piece of the course
 * of temperature, pieces found by bisection.  The rate at a temperature is written down from the
 * definition of the cut-offs, so nothing is shared with the closed forms under test.  Averages and
 * the daily maximum need no integral: they are the rate at one or two temperatures.
 */
#include "conetide/heat.h"

#include "base/test.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>

static const double within = 1e-9;
static const double pi = 3.14159265358979323846;

enum { PIECES_MOST = 4, WORKSPACE = 200 };

/* Where a temperature lies: a rate is smooth within a region. */
enum region { BELOW_LOWER, BETWEEN, ABOVE_UPPER };

/* Half a day's course from one temperature to another. */
struct leg {
    double from, to;
    bool is_sine;
    const struct conetide_heat_rule *rule;
    enum region region; /* of the piece being integrated */
};

static double rate_in(enum region region, const struct conetide_heat_rule *rule, double temperature)
{
    if (region == BELOW_LOWER)
        return 0;
    if (region == BETWEEN || rule->cutoff == CONETIDE_CUTOFF_NONE)
        return temperature - rule->lower;
    if (rule->cutoff == CONETIDE_CUTOFF_HORIZONTAL)
        return rule->upper - rule->lower;
    if (rule->cutoff == CONETIDE_CUTOFF_VERTICAL)
        return 0;
    return (rule->upper - rule->lower) - (temperature - rule->upper);
}

static double rate(const struct conetide_heat_rule *rule, double temperature)
{
    if (temperature <= rule->lower)
        return rate_in(BELOW_LOWER, rule, temperature);
    return rate_in(temperature <= rule->upper ? BETWEEN : ABOVE_UPPER, rule, temperature);
}

/* Temperature less `threshold` at `time` 0 to 1 of the leg, from the nearer end: a difference of a
 * hair must not drown in the rounding of the temperature. */
static double excess(const struct leg *leg, double threshold, double time)
{
    double root = leg->is_sine ? (time < 0.5 ? sin(pi * time / 2) : sin(pi * (1 - time) / 2)) : 0;
    double part = leg->is_sine ? root * root : fmin(time, 1 - time);

    if (time < 0.5)
        return (leg->from - threshold) + (leg->to - leg->from) * part;
    return (leg->to - threshold) - (leg->to - leg->from) * part;
}

static double rate_at(double time, void *leg)
{
    const struct leg *of = leg;

    return rate_in(of->region, of->rule, excess(of, 0, time));
}

static enum region region_at(const struct leg *leg, double time)
{
    if (excess(leg, leg->rule->lower, time) <= 0)
        return BELOW_LOWER;
    return excess(leg, leg->rule->upper, time) <= 0 ? BETWEEN : ABOVE_UPPER;
}

/* The time at which the leg passes a threshold; 0 when it does not. */
static double crossing(const struct leg *leg, double threshold)
{
    double low = 0, high = 1;

    if ((leg->from - threshold) * (leg->to - threshold) >= 0)
        return 0;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;

        if ((leg->from - threshold) * excess(leg, threshold, middle) > 0)
            low = middle;
        else
            high = middle;
    }
    return high;
}

static double integral(struct leg leg)
{
    static gsl_integration_workspace *workspace;
    double first = crossing(&leg, leg.rule->lower), second = 0, total = 0;
    double ends[PIECES_MOST];
    gsl_function function = {rate_at, &leg};

    if (workspace == NULL)
        workspace = gsl_integration_workspace_alloc(WORKSPACE);
    if (leg.rule->cutoff != CONETIDE_CUTOFF_NONE)
        second = crossing(&leg, leg.rule->upper);
    ends[0] = 0;
    ends[1] = fmin(first, second);
    ends[2] = fmax(first, second);
    ends[3] = 1;
    for (int i = 0; i + 1 < PIECES_MOST; i++) {
        double part, error;

        if (ends[i + 1] <= ends[i])
            continue;
        leg.region = region_at(&leg, (ends[i] + ends[i + 1]) / 2);
        gsl_integration_qags(&function, ends[i], ends[i + 1], 1e-12, 1e-13, WORKSPACE, workspace,
                             &part, &error);
        assert_true(error < 1e-10);
        total += part;
    }
    return total;
}

/* How often the days came up on which mistakes hide. */
static struct {
    size_t cases, double_cases, beyond_mirror, halves_differ, next_above_tmax;
} seen;

static double expected_heat(const struct conetide_heat_rule *rule, const struct conetide_day *day)
{
    bool is_sine = rule->curve == &conetide_sine || rule->curve == &conetide_double_sine;
    double up = integral((struct leg){day->tmin, day->tmax, is_sine, rule, BETWEEN});
    double down = up;

    seen.cases++;
    if (rule->curve->uses_next_tmin) {
        down = integral((struct leg){day->tmax, day->next_tmin, is_sine, rule, BETWEEN});
        seen.double_cases++;
        seen.next_above_tmax += day->next_tmin > day->tmax;
    }
    if (rule->cutoff == CONETIDE_CUTOFF_INTERMEDIATE) {
        seen.beyond_mirror += day->tmax > 2 * rule->upper - rule->lower;
        seen.halves_differ += (up < 0 && down > 0) || (up > 0 && down < 0);
        return fmax(0, (up + down) / 2);
    }
    return (up + down) / 2;
}

static void check_day(const struct conetide_curve *curve, const struct conetide_day *day,
                      double lower, double upper)
{
    for (int c = CONETIDE_CUTOFF_NONE; c <= CONETIDE_CUTOFF_VERTICAL; c++) {
        const struct conetide_heat_rule rule = {curve, (enum conetide_cutoff)c, lower, upper};
        double heat_units, expected = expected_heat(&rule, day);

        assert_int_equal(conetide_heat_day(&rule, day, &heat_units), CONETIDE_OK);
        if (!(fabs(heat_units - expected) <= within))
            fail_msg("%s, %s, day %.17g %.17g %.17g over %.17g %.17g: %.12f, integral %.12f",
                     curve->name, conetide_cutoff_names[c], day->tmin, day->tmax, day->next_tmin,
                     lower, upper, heat_units, expected);
    }
}

static const struct conetide_curve *const courses[] = {
    &conetide_triangle, &conetide_double_triangle, &conetide_sine, &conetide_double_sine};

static void check_courses(const struct conetide_day *day, double lower, double upper)
{
    for (size_t i = 0; i < COUNT(courses); i++)
        check_day(courses[i], day, lower, upper);
}

static void report_and_demand(size_t differ_least_percent)
{
    size_t of_intermediate = seen.cases / 4, of_doubles = seen.double_cases / 4;

    print_message("%zu integrals; of the intermediate, tmax beyond 2 upper - lower in %zu of %zu, "
                  "halves of differing sign in %zu of %zu; next minimum above the maximum in %zu "
                  "of %zu\n",
                  seen.cases, seen.beyond_mirror, of_intermediate, seen.halves_differ, of_doubles,
                  seen.next_above_tmax, seen.double_cases);
    assert_true(seen.beyond_mirror * 100 >= of_intermediate * 15);
    assert_true(seen.halves_differ * 100 >= of_doubles * differ_least_percent);
    assert_true(seen.next_above_tmax * 100 >= seen.double_cases * 3);
    memset(&seen, 0, sizeof seen);
}

static void courses_agree_with_integration_over_a_grid(void **state)
{
    static const double thresholds[][2] = {{10, 30}, {0, 12.5}, {10, 10}, {7.5, 22.5}, {-5, 2.5}};

    (void)state;
    for (size_t t = 0; t < COUNT(thresholds); t++) {
        for (int low = -4; low <= 12; low += 2) {
            for (int range = 0; range <= 16; range += 2) {
                for (int next = -4; next <= 20; next += 4) {
                    const struct conetide_day day = {low * 2.5, (low + range) * 2.5, next * 2.5};

                    check_courses(&day, thresholds[t][0], thresholds[t][1]);
                }
            }
        }
    }
    report_and_demand(3);
}

static uint64_t seed = 1983;

/* 0 to 1, of a fixed sequence, so that the same cases come every time. */
static double uniform(void)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static double between(double low, double high)
{
    return low + (high - low) * uniform();
}

static void courses_agree_with_integration_on_random_days(void **state)
{
    (void)state;
    for (int i = 0; i < 6000; i++) {
        struct conetide_day day;
        double lower, upper;

        day.tmin = between(-10, 35);
        day.tmax = day.tmin + between(0, 25);
        day.next_tmin = between(day.tmin - 10, day.tmax + 5);
        lower = between(-5, 20);
        upper = lower + between(0, 20);
        check_courses(&day, lower, upper);
    }
    report_and_demand(1);
}

/* Thresholds a hair from the extremes, where the sine is flat and asin would lose its digits. */
static void courses_agree_with_integration_at_the_extremes(void **state)
{
    static const double hairs[] = {0, 1e-12, 1e-9, 1e-6, 1e-3};

    (void)state;
    for (size_t h = 0; h < COUNT(hairs); h++) {
        for (int side = -1; side <= 1; side += 2) {
            const struct conetide_day day = {8, 26, 27};
            double hair = side * hairs[h];

            check_courses(&day, 8 + hair, 26);
            check_courses(&day, 8, 26 + hair);
            check_courses(&day, 26 + hair, 40);
            check_courses(&day, 17 + hair, 26 + hair);
            check_courses(&day, 0, 8 + hair);
        }
    }
    memset(&seen, 0, sizeof seen);
}

/* The averages are a temperature for the day or half of it; a rate at each. */
static double arithmetic(const struct conetide_heat_rule *rule, const struct conetide_day *day)
{
    double heat;

    if (rule->curve == &conetide_average)
        heat = rate(rule, (day->tmin + day->tmax) / 2);
    else if (rule->curve == &conetide_clipped_average)
        heat = (rate(rule, day->tmin) + rate(rule, day->tmax)) / 2;
    else
        heat = rate(rule, day->tmax);
    return fmax(0, heat);
}

static void averages_and_daily_maximum_agree_with_plain_arithmetic(void **state)
{
    static const struct conetide_curve *const curves[] = {
        &conetide_average, &conetide_clipped_average, &conetide_daily_maximum};

    (void)state;
    for (int i = 0; i < 20000; i++) {
        struct conetide_day day;
        double lower, upper;

        /* whole degrees, so that days at a threshold come up often */
        day.tmin = floor(between(-10, 35));
        day.tmax = day.tmin + floor(between(0, 25));
        day.next_tmin = NAN;
        lower = floor(between(-5, 20));
        upper = lower + floor(between(0, 20));
        for (size_t k = 0; k < COUNT(curves); k++) {
            for (int c = CONETIDE_CUTOFF_NONE; c <= CONETIDE_CUTOFF_VERTICAL; c++) {
                const struct conetide_heat_rule rule = {curves[k], (enum conetide_cutoff)c, lower,
                                                        upper};
                double heat_units;

                assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
                assert_near(heat_units, arithmetic(&rule, &day), 1e-12);
            }
        }
    }
}

/* McMaster & Wilhelm's method 2 and the corn rule clip both extremes before the mean. */
static void a_horizontal_clipped_average_clips_both_extremes(void **state)
{
    (void)state;
    for (int i = 0; i < 5000; i++) {
        const struct conetide_heat_rule rule = {&conetide_clipped_average,
                                                CONETIDE_CUTOFF_HORIZONTAL, 50, 86};
        double tmin = between(20, 100), tmax = tmin + between(0, 40), heat_units;
        const struct conetide_day day = {tmin, tmax, NAN};

        assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
        assert_near(heat_units, (fmin(fmax(tmin, 50), 86) + fmin(fmax(tmax, 50), 86)) / 2 - 50,
                    1e-12);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(courses_agree_with_integration_over_a_grid),
        cmocka_unit_test(courses_agree_with_integration_on_random_days),
        cmocka_unit_test(courses_agree_with_integration_at_the_extremes),
        cmocka_unit_test(averages_and_daily_maximum_agree_with_plain_arithmetic),
        cmocka_unit_test(a_horizontal_clipped_average_clips_both_extremes),
    };

    gsl_set_error_handler_off();
    return cmocka_run_group_tests_name("curves and numerical integration", tests, NULL, NULL) != 0;
}
