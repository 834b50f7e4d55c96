/*
 * heat_identities - what must hold between heat units whatever the day.
 *
 * Source: own derivation from the definitions in conetide/heat.h.  The days are random with a fixed
 * seed, in whole and half degrees so that equalities with thresholds come up, and with the next
 * minimum above the maximum in some.
 */
#include "conetide/heat.h"

#include "base/test.h"

enum { CASES = 20000 };

static const double rounding = 1e-11;

static uint64_t seed = 1969;

static double halves_between(int low, int high)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return low + 0.5 * (double)((seed >> 33) % (unsigned)(2 * (high - low) + 1));
}

struct random_case {
    struct conetide_day day;
    double lower, upper, beyond; /* beyond >= upper */
};

static struct random_case next_case(void)
{
    struct random_case random;

    random.day.tmin = halves_between(-10, 35);
    random.day.tmax = random.day.tmin + halves_between(0, 25);
    random.day.next_tmin = random.day.tmin + halves_between(-10, 12);
    random.lower = halves_between(-5, 20);
    random.upper = random.lower + halves_between(0, 20);
    random.beyond = random.upper + halves_between(0, 10);
    return random;
}

static double heat(const struct conetide_curve *curve, enum conetide_cutoff cutoff,
                   struct conetide_day day, double lower, double upper)
{
    const struct conetide_heat_rule rule = {curve, cutoff, lower, upper};
    double heat_units = NAN;

    assert_int_equal(conetide_heat_day(&rule, &day, &heat_units), CONETIDE_OK);
    return heat_units;
}

/* Heat of a random case by each cut-off. */
struct by_cutoff {
    double none, horizontal, intermediate, vertical;
};

static struct by_cutoff all_cutoffs(const struct conetide_curve *curve,
                                    const struct random_case *of)
{
    return (struct by_cutoff){
        heat(curve, CONETIDE_CUTOFF_NONE, of->day, of->lower, of->upper),
        heat(curve, CONETIDE_CUTOFF_HORIZONTAL, of->day, of->lower, of->upper),
        heat(curve, CONETIDE_CUTOFF_INTERMEDIATE, of->day, of->lower, of->upper),
        heat(curve, CONETIDE_CUTOFF_VERTICAL, of->day, of->lower, of->upper),
    };
}

static void cutoffs_are_ordered_and_bounded(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();

        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct by_cutoff by = all_cutoffs(conetide_curves[k], &random);

            assert_true(by.none >= by.horizontal - rounding);
            assert_true(by.horizontal >= by.intermediate - rounding);
            assert_true(by.horizontal >= by.vertical - rounding);
            assert_true(by.horizontal <= random.upper - random.lower + rounding);
            assert_true(by.intermediate >= 0 && by.vertical >= 0 && by.horizontal >= 0);
        }
    }
}

static void cutoffs_are_equal_on_days_that_stay_below_the_upper_threshold(void **state)
{
    size_t below = 0;

    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();

        if (fmax(random.day.tmax, random.day.next_tmin) > random.upper)
            continue;
        below++;
        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct by_cutoff by = all_cutoffs(conetide_curves[k], &random);

            assert_near(by.horizontal, by.none, rounding);
            assert_near(by.intermediate, by.none, rounding);
            assert_near(by.vertical, by.none, rounding);
        }
    }
    assert_true(below > CASES / 10);
}

static void curves_are_ordered_by_how_far_they_stay_from_the_mean(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();
        double average = all_cutoffs(&conetide_average, &random).none;
        double triangle = all_cutoffs(&conetide_triangle, &random).none;
        double sine = all_cutoffs(&conetide_sine, &random).none;
        double clipped = all_cutoffs(&conetide_clipped_average, &random).none;

        assert_true(average <= triangle + rounding);
        assert_true(triangle <= sine + rounding);
        assert_true(sine <= clipped + rounding);
        assert_true(clipped <= all_cutoffs(&conetide_daily_maximum, &random).none + rounding);
    }
}

static void a_double_curve_with_equal_nights_is_the_single_one(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        struct random_case random = next_case();
        struct by_cutoff once, twice;

        random.day.next_tmin = random.day.tmin;
        for (int is_sine = 0; is_sine <= 1; is_sine++) {
            once = all_cutoffs(is_sine ? &conetide_sine : &conetide_triangle, &random);
            twice =
                all_cutoffs(is_sine ? &conetide_double_sine : &conetide_double_triangle, &random);
            assert_near(twice.none, once.none, rounding);
            assert_near(twice.horizontal, once.horizontal, rounding);
            assert_near(twice.intermediate, once.intermediate, rounding);
            assert_near(twice.vertical, once.vertical, rounding);
        }
    }
}

static void horizontal_bands_add_up(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();

        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct conetide_curve *curve = conetide_curves[k];
            double low =
                heat(curve, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.lower, random.upper);
            double high =
                heat(curve, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.upper, random.beyond);

            assert_near(
                low + high,
                heat(curve, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.lower, random.beyond),
                rounding);
        }
    }
}

/* Degrees below a threshold are degrees above it with all signs turned. */
static void heat_above_less_cold_below_is_the_mean_less_the_threshold(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();
        const struct conetide_day day = random.day;
        double mean = (day.tmin + day.tmax) / 2, end = (day.tmax + day.next_tmin) / 2;

        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct conetide_curve *curve = conetide_curves[k];
            struct conetide_day turned = {-day.tmax, -day.tmin, -day.tmin};
            double expected = curve->uses_next_tmin ? (mean + end) / 2 : mean, below;

            if (curve == &conetide_daily_maximum)
                continue;
            if (curve->uses_next_tmin) {
                /* turned, the day starts at its old maximum: take its halves one by one */
                const struct conetide_curve *half =
                    curve == &conetide_double_sine ? &conetide_sine : &conetide_triangle;
                struct conetide_day night = {-fmax(day.tmax, day.next_tmin),
                                             -fmin(day.tmax, day.next_tmin), NAN};

                below = (heat(half, CONETIDE_CUTOFF_NONE, turned, -random.lower, 0) +
                         heat(half, CONETIDE_CUTOFF_NONE, night, -random.lower, 0)) /
                        2;
            } else {
                below = heat(curve, CONETIDE_CUTOFF_NONE, turned, -random.lower, 0);
            }
            assert_near(heat(curve, CONETIDE_CUTOFF_NONE, day, random.lower, 0) - below,
                        expected - random.lower, rounding);
        }
    }
}

static void heat_units_follow_a_change_of_unit_and_of_origin(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case c = next_case();
        /* whole degrees Celsius times 1.8 and a shift of 32 are not exact: leave out `vertical`,
         * which jumps where a temperature of a flat day falls to either side of the threshold */
        const struct random_case f = {
            {1.8 * c.day.tmin + 32, 1.8 * c.day.tmax + 32, 1.8 * c.day.next_tmin + 32},
            1.8 * c.lower + 32,
            1.8 * c.upper + 32,
            0};
        const struct random_case shifted = {
            {c.day.tmin + 64, c.day.tmax + 64, c.day.next_tmin + 64},
            c.lower + 64,
            c.upper + 64,
            0};

        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct by_cutoff in_c = all_cutoffs(conetide_curves[k], &c);
            const struct by_cutoff in_f = all_cutoffs(conetide_curves[k], &f);
            const struct by_cutoff moved = all_cutoffs(conetide_curves[k], &shifted);

            assert_near(in_f.none, 1.8 * in_c.none, rounding);
            assert_near(in_f.horizontal, 1.8 * in_c.horizontal, rounding);
            assert_near(in_f.intermediate, 1.8 * in_c.intermediate, rounding);
            assert_near(moved.none, in_c.none, rounding);
            assert_near(moved.horizontal, in_c.horizontal, rounding);
            assert_near(moved.intermediate, in_c.intermediate, rounding);
            assert_near(moved.vertical, in_c.vertical, rounding);
        }
    }
}

static void a_warmer_day_brings_no_less_and_no_more_than_it_is_warmer(void **state)
{
    static const enum conetide_cutoff cutoffs[] = {CONETIDE_CUTOFF_NONE,
                                                   CONETIDE_CUTOFF_HORIZONTAL};

    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();
        double by = halves_between(0, 4);
        struct conetide_day warmer = random.day, night = random.day;

        warmer.tmin += by;
        warmer.tmax += by;
        warmer.next_tmin += by;
        night.tmin = fmin(night.tmin + by, night.tmax);
        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct conetide_curve *curve = conetide_curves[k];

            for (size_t c = 0; c < COUNT(cutoffs); c++) {
                double before = heat(curve, cutoffs[c], random.day, random.lower, random.upper);
                double after = heat(curve, cutoffs[c], warmer, random.lower, random.upper);

                assert_true(after >= before - rounding && after <= before + by + rounding);
                assert_true(heat(curve, cutoffs[c], night, random.lower, random.upper) >=
                            before - rounding);
                assert_true(heat(curve, cutoffs[c], random.day, random.lower, random.beyond) >=
                            before - rounding);
                assert_true(heat(curve, cutoffs[c], random.day, random.lower - by, random.upper) >=
                            before - rounding);
            }
        }
    }
}

static void limits_hold(void **state)
{
    (void)state;
    for (int i = 0; i < CASES; i++) {
        const struct random_case random = next_case();
        const struct conetide_day flat = {random.day.tmin, random.day.tmin, random.day.tmin};

        for (size_t k = 0; conetide_curves[k] != NULL; k++) {
            const struct conetide_curve *curve = conetide_curves[k];

            assert_near(heat(curve, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.lower, 1e6),
                        heat(curve, CONETIDE_CUTOFF_NONE, random.day, random.lower, 0), 0);
            assert_near(
                heat(curve, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.lower, random.lower), 0,
                0);
            assert_near(heat(curve, CONETIDE_CUTOFF_NONE, flat, random.lower, 0),
                        fmax(0, flat.tmin - random.lower), 0);
            assert_near(heat(curve, CONETIDE_CUTOFF_VERTICAL, flat, random.lower, random.upper),
                        flat.tmin <= random.upper ? fmax(0, flat.tmin - random.lower) : 0, 0);
        }
    }
}

/* Mean of the same sine at the middle of each of 96 quarter hours: within 6e-5 of its range. */
static void a_fine_sampling_of_the_sine_agrees(void **state)
{
    static const double pi = 3.14159265358979323846;

    (void)state;
    for (int i = 0; i < 2000; i++) {
        const struct random_case random = next_case();
        double mean = (random.day.tmin + random.day.tmax) / 2, sum = 0;
        double range = random.day.tmax - random.day.tmin;

        for (int quarter = 0; quarter < 96; quarter++) {
            double temperature = mean - range / 2 * cos(2 * pi * (quarter + 0.5) / 96);

            sum += fmin(fmax(temperature, random.lower), random.upper) - random.lower;
        }
        assert_near(heat(&conetide_sine, CONETIDE_CUTOFF_HORIZONTAL, random.day, random.lower,
                         random.upper),
                    sum / 96, 2 * 6e-5 * range + rounding);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cutoffs_are_ordered_and_bounded),
        cmocka_unit_test(cutoffs_are_equal_on_days_that_stay_below_the_upper_threshold),
        cmocka_unit_test(curves_are_ordered_by_how_far_they_stay_from_the_mean),
        cmocka_unit_test(a_double_curve_with_equal_nights_is_the_single_one),
        cmocka_unit_test(horizontal_bands_add_up),
        cmocka_unit_test(heat_above_less_cold_below_is_the_mean_less_the_threshold),
        cmocka_unit_test(heat_units_follow_a_change_of_unit_and_of_origin),
        cmocka_unit_test(a_warmer_day_brings_no_less_and_no_more_than_it_is_warmer),
        cmocka_unit_test(limits_hold),
        cmocka_unit_test(a_fine_sampling_of_the_sine_agrees),
    };

    return cmocka_run_group_tests_name("identities of heat units", tests, NULL, NULL) != 0;
}
