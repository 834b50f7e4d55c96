/*
 * mixed_test.c - parts of values by hand, against the library's fit of one normal distribution, and
 * found again in values drawn at random.
 */
#include "planning/mixed.h"

#include "base/test.h"

static struct arena arena;

static int setup(void **state)
{
    (void)state;
    arena_init(&arena, NULL);
    return 0;
}

static int teardown(void **state)
{
    (void)state;
    arena_release(&arena);
    return 0;
}

#define ARENA_TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)

static struct mixed_value known(double value, size_t season, size_t selection)
{
    return (struct mixed_value){{value, value}, season, selection};
}

static void a_season_that_is_free_is_the_mean_of_its_values(void **state)
{
    const struct mixed_value values[] = {known(10, 0, MIXED_NONE), known(12, 0, MIXED_NONE),
                                         known(14, 0, MIXED_NONE), known(30, 1, MIXED_NONE),
                                         known(20, 2, MIXED_NONE), known(22, 2, MIXED_NONE)};
    const struct mixed_task task = {COUNT(values), values, 4, 0, {INFINITY, 1, 1}};
    const struct mixed found = mixed_fit(&task, &arena);

    (void)state;
    assert_near(found.mean + found.season[0], 12, 1e-9);
    assert_near(found.mean + found.season[1], 30, 1e-9);
    assert_near(found.mean + found.season[2], 21, 1e-9);
    assert_near(found.mean, (12 + 30 + 21) / 3.0, 1e-9); /* a vote for each season */
    assert_true(isnan(found.season[3]));
    assert_true(isinf(found.season_sd));
    for (size_t i = 0; i < COUNT(values); i++)
        assert_near(found.expected[i], values[i].bounds.lower, 0);
}

static void a_selection_of_few_values_is_drawn_to_the_mean(void **state)
{
    struct mixed_value values[26];
    const struct mixed_task task = {26, values, 1, 3, {INFINITY, 5, 2}};
    struct mixed found;
    double ratio, total[3] = {0, 0, 0};
    size_t count[3] = {12, 12, 2};
    size_t n = 0;

    (void)state;
    for (size_t i = 0; i < 12; i++, n += 2) {
        values[n] = known(100 + (i % 2 ? 2 : -2), 0, 0);
        values[n + 1] = known(110 + (i % 2 ? 2 : -2), 0, 1);
    }
    values[n++] = known(128, 0, 2);
    values[n++] = known(132, 0, 2);
    assert_int_equal(n, 26);
    found = mixed_fit(&task, &arena);
    for (size_t i = 0; i < n; i++)
        total[values[i].selection] += values[i].bounds.lower - found.mean - found.season[0];
    ratio = found.spread_sd * found.spread_sd / (found.selection_sd * found.selection_sd);
    for (size_t s = 0; s < 3; s++) {
        double of = (double)count[s];

        assert_near(found.selection[s], total[s] / of * of / (of + ratio), 1e-4);
        assert_near(found.selection_error[s], found.spread_sd / sqrt(of + ratio), 1e-4);
    }
    assert_true(found.selection_error[2] > 2 * found.selection_error[0]);
    assert_true(found.mean + found.season[0] + found.selection[2] < 130);
}

/* The intervals of flowering dates for which R's survreg gives 86.914606 and 4.256299. */
static void bounds_of_one_season_give_the_mean_of_greatest_likelihood(void **state)
{
    static const double bounds[][2] = {{80, 84}, {84, 87}, {87, 94}, {79, 83}, {90, 97},
                                       {83, 90}, {86, 88}, {91, 98}, {77, 84}, {88, 91}};
    struct mixed_value values[10];
    const struct mixed_task task = {10, values, 1, 0, {INFINITY, 1, 4.256299}};
    struct mixed found;

    (void)state;
    for (size_t i = 0; i < 10; i++)
        values[i] = (struct mixed_value){{bounds[i][0], bounds[i][1]}, 0, MIXED_NONE};
    found = mixed_fit(&task, &arena);
    assert_near(found.mean, 86.914606, 0.02); /* the mean of first sights is 89.6 */
    assert_in_range((int)(1000 * found.spread_sd), 4256, 4700); /* n - 1, not n */
    for (size_t i = 0; i < 10; i++)
        assert_true(found.expected[i] > bounds[i][0] && found.expected[i] < bounds[i][1]);
}

static void values_far_outside_their_bounds_do_no_harm(void **state)
{
    const struct mixed_value values[] = {known(0, 0, MIXED_NONE),
                                         known(0.1, 0, MIXED_NONE),
                                         {{-INFINITY, INFINITY}, 0, MIXED_NONE}, /* says nothing */
                                         {{1e6, INFINITY}, 1, 0}, /* much later than all others */
                                         {{-INFINITY, -1e6}, 2, 0}};
    const struct mixed_task task = {COUNT(values), values, 3, 1, {1, 1, 1e-3}};
    const struct mixed found = mixed_fit(&task, &arena);

    (void)state;
    for (size_t i = 0; i < COUNT(values); i++)
        assert_true(isfinite(found.expected[i]));
    assert_true(isfinite(found.mean) && isfinite(found.season[1]) && isfinite(found.selection[0]));
    assert_true(found.season[1] > found.season[0] && found.season[2] < found.season[0]);
}

static uint32_t seed;

static double even(void)
{
    seed = seed * 1664525u + 1013904223u;
    return ((seed >> 8) + 0.5) / 16777216.0;
}

static double normal(double sd)
{
    return sd * sqrt(-2 * log(even())) * cos(6.28318530717958648 * even());
}

enum { SEASONS = 12, SELECTIONS = 30, VALUES = 1500 };

static void parts_are_found_again_behind_visits_days_apart(void **state)
{
    static struct mixed_value values[VALUES];
    const struct mixed_task task = {VALUES, values, SEASONS, SELECTIONS, {40, 30, 10}};
    double season[SEASONS], selection[SELECTIONS], off = 0, first_sight = 0, centre = 0;
    struct mixed found;

    (void)state;
    seed = 20;
    for (size_t i = 0; i < SEASONS; i++)
        season[i] = normal(20);
    for (size_t i = 0; i < SELECTIONS; i++) {
        selection[i] = normal(35);
        centre += selection[i] / SELECTIONS;
    }
    for (size_t i = 0; i < VALUES; i++) {
        size_t y = i % SEASONS, s = (size_t)(SELECTIONS * even());
        double truth = 300 + season[y] + selection[s] + normal(12);
        double lower = 30 * floor(truth / 30);

        values[i] = (struct mixed_value){{lower, lower + 30}, y, s};
        first_sight += (lower + 30 - truth) / VALUES;
    }
    found = mixed_fit(&task, &arena);
    for (size_t s = 0; s < SELECTIONS; s++)
        off += fabs(found.selection[s] - (selection[s] - centre)) / SELECTIONS;
    assert_true(first_sight > 14);
    assert_true(off < 2.5);
    assert_in_range((int)found.spread_sd, 11, 12);
    assert_in_range((int)found.selection_sd, 27, 43);
    for (size_t y = 1; y < SEASONS; y++)
        assert_near(found.season[y] - found.season[0], season[y] - season[0], 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        ARENA_TEST(a_season_that_is_free_is_the_mean_of_its_values),
        ARENA_TEST(a_selection_of_few_values_is_drawn_to_the_mean),
        ARENA_TEST(bounds_of_one_season_give_the_mean_of_greatest_likelihood),
        ARENA_TEST(values_far_outside_their_bounds_do_no_harm),
        ARENA_TEST(parts_are_found_again_behind_visits_days_apart),
    };

    return cmocka_run_group_tests_name("mixed", tests, NULL, NULL) != 0;
}
