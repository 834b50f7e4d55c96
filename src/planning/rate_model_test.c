/*
 * rate_model_test.c - groups drawn toward their level, reckoned by hand.
 */
#include "planning/rate_model.h"

#include "base/test.h"

static const struct rate_apart level = {.spread = 0.1, .degrees = 4};

static void a_share_is_drawn_by_what_both_sides_are_worth(void **state)
{
    struct rate_group group = {
        .counted = 8, .of = 10, .pieces = 10, .expected = 0.5, .above = 0.5, .above_spread = 0.02};

    (void)state;
    /* a spread of 0.1 is a prior of 1 / 0.1 - 1 = 9: (9 * 0.5 + 8) / 19 */
    rate_draw(true, 1, &level, &group);
    assert_near(group.value, 12.5 / 19, 1e-14);
    assert_near(group.factor, 12.5 / 6.5, 1e-13);
    /* 0.3 off is 0.6 of a unit: 2 / 4 * 0.36 for a spread that is estimated */
    assert_near(group.spread, 1 / 20.0 + 81 / 361.0 * (0.02 + 0.18), 1e-14);
    /* pieces that scatter twice as much are worth half: (4.5 + 4) / 14 */
    rate_draw(true, 2, &level, &group);
    assert_near(group.value, 8.5 / 14, 1e-14);
}

static void a_mean_is_drawn_by_counts(void **state)
{
    struct rate_group group = {
        .counted = 30, .of = 10, .pieces = 10, .expected = 2, .above = 2, .above_spread = 0.02};

    (void)state;
    /* shape 10 and, at a scatter of 2, 10 more with 15 counted: 2 * (10 + 15) / (10 + 10) */
    rate_draw(false, 2, &level, &group);
    assert_near(group.value, 2.5, 1e-14);
    assert_near(group.factor, 1.25, 1e-14);
    assert_near(group.spread, 1 / 25.0 + 0.25 * (0.02 + 0.125), 1e-14);
}

static void a_bad_season_is_not_laid_to_a_group_seen_in_it(void **state)
{
    struct rate_group share = {.counted = 2, .of = 10, .expected = 0.2, .above = 0.5};
    struct rate_group mean = {.counted = 10, .of = 10, .expected = 1, .above = 3};

    (void)state;
    rate_draw(true, 1, &level, &share);
    assert_near(share.value, 0.5, 1e-14);
    rate_draw(false, 1, &level, &mean);
    assert_near(mean.value, 3, 1e-14);
}

static void how_far_groups_lie_apart_is_found_beside_chance(void **state)
{
    const struct rate_group apart[] = {{.counted = 60, .of = 100, .pieces = 100, .expected = 0.5},
                                       {.counted = 40, .of = 100, .pieces = 100, .expected = 0.5}};
    const struct rate_group alike[] = {{.counted = 51, .of = 100, .pieces = 100, .expected = 0.5},
                                       {.counted = 49, .of = 100, .pieces = 100, .expected = 0.5}};
    const struct rate_group wide[] = {{.counted = 99, .of = 100, .pieces = 100, .expected = 0.01},
                                      {.counted = 0, .of = 100, .pieces = 100, .expected = 0.01}};
    struct rate_prior prior = {0.05, 2, 5};
    struct rate_apart found = rate_apart_of(true, 1, prior, 2, apart);

    (void)state;
    /* 100 * 0.2^2 twice is 8; (8 - 1) / (200 - 100) = 0.07, with two groups of 0.05 before it */
    assert_near(found.spread, (0.07 + 0.1) / 3, 1e-14);
    assert_near(found.degrees, 3, 0);
    assert_true(found.beyond_chance);
    found = rate_apart_of(true, 1, prior, 2, alike);
    assert_near(found.spread, 0.1 / 3, 1e-14);
    assert_false(found.beyond_chance);
    found = rate_apart_of(true, 1, prior, 2, wide);
    assert_near(found.spread, 0.9, 0);
    prior.pieces_least = 101; /* none is asked */
    found = rate_apart_of(true, 1, prior, 2, apart);
    assert_near(found.spread, 0.05, 0);
    assert_false(found.beyond_chance);
}

static void what_was_never_or_always_seen_is_held_off_the_ends(void **state)
{
    (void)state;
    assert_near(rate_held(true, 0), 0.0005, 0);
    assert_near(rate_held(true, 1), 0.9995, 0);
    assert_near(rate_held(false, 7), 7, 0);
    assert_near(rate_times(true, 0.5, 3), 0.75, 1e-15);
    assert_near(rate_times(false, 0.5, 3), 1.5, 1e-15);
    assert_near(rate_unit(true, 0.2), 0.4, 1e-15);
    assert_near(rate_unit(false, 0.2), 0.2, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_share_is_drawn_by_what_both_sides_are_worth),
        cmocka_unit_test(a_mean_is_drawn_by_counts),
        cmocka_unit_test(a_bad_season_is_not_laid_to_a_group_seen_in_it),
        cmocka_unit_test(how_far_groups_lie_apart_is_found_beside_chance),
        cmocka_unit_test(what_was_never_or_always_seen_is_held_off_the_ends),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
