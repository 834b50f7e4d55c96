#include "planning/heat_days.h"

#include "base/test.h"

enum { DAYS = 60 };

struct world {
    struct arena arena;
    struct record record;
    double tmin_c[DAYS], tmax_c[DAYS];
};

static const struct conetide_heat_rule average = {
    .curve = &conetide_average, .cutoff = CONETIDE_CUTOFF_NONE, .lower = 10};
static const struct month_day february = {2, 1}, no_start = {0, 0};

/* 60 days from 2027-01-20, 5 and 25 degrees: 5 heat units each. */
static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    for (size_t i = 0; i < DAYS; i++) {
        world.tmin_c[i] = 5;
        world.tmax_c[i] = 25;
    }
    world.record = (struct record){.station = "HOLM",
                                   .first_day = day_from_civil(2027, 1, 20),
                                   .count = DAYS,
                                   .tmin_c = world.tmin_c,
                                   .tmax_c = world.tmax_c};
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static struct heat_days all_of(struct world *world, struct month_day start)
{
    return heat_days_of(&world->record, &average, start, DAY_NONE, DAY_NONE, &world->arena);
}

static void the_sum_starts_on_the_start_day_and_is_unknown_before(void **state)
{
    struct heat_days days = all_of(*state, february);
    assert_int_equal(days.count, DAYS);
    assert_true(isnan(days.heat_sum[11])); /* 31 January */
    assert_near(days.heat_units[11], 5, 1e-12);
    assert_near(days.heat_sum[12], 5, 1e-12);
    assert_near(days.heat_sum[DAYS - 1], 5 * (DAYS - 12), 1e-9);
    assert_int_equal(days.filled_days + days.missing_days, 0);
    assert_false(days.own_minimum_as_next);
}

static void the_sum_starts_again_every_year(void **state)
{
    struct world *world = *state;
    struct heat_days days = all_of(world, (struct month_day){2, 29});
    assert_true(isnan(days.heat_sum[38])); /* 27 February */
    assert_near(days.heat_sum[39], 5, 1e-12);
    assert_near(days.heat_sum[40], 10, 1e-12);

    static double two_years[800];
    for (size_t i = 0; i < COUNT(two_years); i++)
        two_years[i] = 11;
    struct record long_record = {.station = "HOLM",
                                 .first_day = day_from_civil(2027, 1, 31),
                                 .count = COUNT(two_years),
                                 .tmin_c = two_years,
                                 .tmax_c = two_years};
    days = heat_days_of(&long_record, &average, february, DAY_NONE, DAY_NONE, &world->arena);
    assert_near(days.heat_sum[365], 365, 1e-9);
    assert_near(days.heat_sum[366], 1, 1e-9);
}

static void without_a_start_there_is_one_sum_from_the_first_day_given(void **state)
{
    struct world *world = *state;
    assert_near(all_of(world, no_start).heat_sum[0], 5, 1e-12);
    daynum from = world->record.first_day + 10;
    struct heat_days days =
        heat_days_of(&world->record, &average, no_start, from, from + 4, &world->arena);
    assert_int_equal(days.first_day, from);
    assert_int_equal(days.count, 5);
    assert_near(days.heat_sum[0], 5, 1e-12);
    assert_near(days.heat_sum[4], 25, 1e-12);
}

static void a_cut_does_not_change_the_sums(void **state)
{
    struct world *world = *state;
    struct heat_days all = all_of(world, february);
    struct heat_days cut = heat_days_of(&world->record, &average, february,
                                        world->record.first_day + 30, DAY_NONE, &world->arena);
    assert_int_equal(cut.count, DAYS - 30);
    for (size_t i = 0; i < cut.count; i++)
        assert_near(cut.heat_sum[i], all.heat_sum[30 + i], 0);
    struct heat_days none = heat_days_of(&world->record, &average, february,
                                         world->record.first_day + DAYS, DAY_NONE, &world->arena);
    assert_int_equal(none.count, 0);
    assert_int_equal(
        heat_days_of(NULL, &average, february, DAY_NONE, DAY_NONE, &world->arena).count, 0);
}

static void seven_missing_days_are_filled_on_a_line(void **state)
{
    struct world *world = *state;
    for (size_t i = 20; i < 27; i++)
        world->tmin_c[i] = world->tmax_c[i] = (double)NAN;
    world->tmin_c[27] = 13;
    struct heat_days days = all_of(world, february);
    for (size_t i = 20; i < 27; i++) {
        assert_near(days.tmin_c[i], 5 + (double)(i - 19), 1e-12);
        assert_near(days.tmax_c[i], 25, 1e-12);
    }
    assert_int_equal(days.filled_days, 7);
    assert_int_equal(days.missing_days, 0);
    assert_true(isfinite(days.heat_sum[DAYS - 1]));
}

static void eight_missing_days_leave_the_sum_unknown_until_the_next_start(void **state)
{
    struct world *world = *state;
    for (size_t i = 2; i < 10; i++)
        world->tmin_c[i] = (double)NAN;
    struct heat_days days = all_of(world, no_start);
    assert_int_equal(days.missing_days, 8);
    assert_int_equal(days.filled_days, 0);
    assert_near(days.heat_sum[1], 10, 1e-12);
    for (size_t i = 2; i < DAYS; i++)
        assert_true(isnan(days.heat_sum[i]));
    assert_near(all_of(world, february).heat_sum[12], 5, 1e-12);
}

static void gaps_at_the_ends_are_never_filled(void **state)
{
    struct world *world = *state;
    world->tmax_c[0] = world->tmin_c[DAYS - 1] = (double)NAN;
    struct heat_days days = all_of(world, february);
    assert_int_equal(days.missing_days, 2);
    assert_true(isnan(days.tmax_c[0]));
    assert_true(isnan(days.heat_units[DAYS - 1]));
}

static void a_filled_minimum_yields_to_an_observed_maximum(void **state)
{
    struct world *world = *state;
    world->tmin_c[30] = (double)NAN;
    world->tmax_c[30] = 2;
    struct heat_days days = all_of(world, february);
    assert_near(days.tmin_c[30], 2, 0);
    assert_near(days.heat_units[30], 0, 0);
}

static void a_double_curve_borrows_its_own_minimum_only_on_the_last_day_of_the_record(void **state)
{
    struct world *world = *state;
    struct conetide_heat_rule rule = average;
    rule.curve = &conetide_double_sine;
    struct heat_days all =
        heat_days_of(&world->record, &rule, february, DAY_NONE, DAY_NONE, &world->arena);
    assert_true(all.own_minimum_as_next);
    struct heat_days cut = heat_days_of(&world->record, &rule, february, DAY_NONE,
                                        world->record.first_day + 40, &world->arena);
    assert_false(cut.own_minimum_as_next);
    assert_int_equal(cut.count, 41);
}

int main(void)
{
#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(the_sum_starts_on_the_start_day_and_is_unknown_before),
        TEST(the_sum_starts_again_every_year),
        TEST(without_a_start_there_is_one_sum_from_the_first_day_given),
        TEST(a_cut_does_not_change_the_sums),
        TEST(seven_missing_days_are_filled_on_a_line),
        TEST(eight_missing_days_leave_the_sum_unknown_until_the_next_start),
        TEST(gaps_at_the_ends_are_never_filled),
        TEST(a_filled_minimum_yields_to_an_observed_maximum),
        TEST(a_double_curve_borrows_its_own_minimum_only_on_the_last_day_of_the_record),
    };
    return cmocka_run_group_tests_name("heat_days", tests, NULL, NULL) != 0;
}
