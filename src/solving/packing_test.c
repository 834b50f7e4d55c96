#include "solving/packing.h"

#include "base/test.h"

#include <stdlib.h>

/* One site, one worker; jobs have one step, all on day 0. */
struct small {
    struct pack_way way;
    bool open[1];
    struct pack_lane lane;
    struct pack_group groups[3];
    int32_t minutes[2][PACK_SETS], limits[1];
    struct pack_stand stand;
    struct packing packing;
    void *workspace;
};

static void set_up(struct small *small, int32_t minutes)
{
    *small = (struct small){
        .way = {1, PACK_NONE, {0, PACK_NONE}, PACK_NONE},
        .open = {true},
        .limits = {3},
    };
    for (int set = 0; set < PACK_SETS; set++)
        small->minutes[0][set] = minutes;
    small->lane = (struct pack_lane){0, PACK_LIFT, small->open};
    small->stand = (struct pack_stand){0, {small->minutes[0], small->minutes[1]}, {0, 0}, {0, 0}};
    for (int g = 0; g < 3; g++)
        small->groups[g] = (struct pack_group){
            .worth = 40 - 10 * g,
            .ways = &small->way,
            .way_count = 1,
            .most = 1,
            .early_from = PACK_NONE,
            .minutes = {0, 25, 0},
            .limit = {PACK_NONE, 0, PACK_NONE},
        };
    small->packing = (struct packing){
        .site_count = 1,
        .day_count = 1,
        .late_days = 1,
        .lanes = &small->lane,
        .lane_count = 1,
        .groups = small->groups,
        .group_count = 3,
        .limits = small->limits,
        .limit_count = 1,
        .stands = &small->stand,
        .stand_count = 1,
    };
}

static struct pack_plan solve(struct small *small)
{
    small->workspace = malloc(packing_workspace(&small->packing));
    return packing_solve(&small->packing, small->workspace);
}

/* The worked example of docs/handbook.md. */
static void two_of_three_bags_fit_and_the_bound_says_so(void **state)
{
    struct small small;

    (void)state;
    set_up(&small, 60);
    struct pack_plan plan = solve(&small);
    assert_near(plan.value, 70, 1e-9);
    assert_near(plan.bound, 70, 1e-6);
    assert_int_equal(plan.item_count, 2);
    assert_int_equal(plan.items[0].group, 0);
    assert_int_equal(plan.items[1].group, 1);
    free(small.workspace);
}

static void a_limit_counts_jobs(void **state)
{
    struct small small;

    (void)state;
    set_up(&small, 500);
    small.limits[0] = 1;
    struct pack_plan plan = solve(&small);
    assert_near(plan.value, 40, 1e-9);
    assert_near(plan.bound, 40, 1e-2);
    free(small.workspace);
}

static void what_must_be_comes_first(void **state)
{
    struct small small;

    (void)state;
    set_up(&small, 30);
    small.groups[2].must = true;
    struct pack_plan plan = solve(&small);
    assert_int_equal(plan.item_count, 1);
    assert_int_equal(plan.items[0].group, 2);
    free(small.workspace);
}

static void high_work_takes_the_minutes_of_lifts_that_reach_it(void **state)
{
    struct small small;

    (void)state;
    set_up(&small, 60);
    small.lane.work = PACK_HIGH;
    small.minutes[0][PACK_HIGH] = 30;
    struct pack_plan plan = solve(&small);
    assert_near(plan.value, 40, 1e-9);
    free(small.workspace);
}

static void nothing_to_do_is_worth_nothing(void **state)
{
    struct small small;

    (void)state;
    set_up(&small, 60);
    small.packing.group_count = 0;
    struct pack_plan plan = solve(&small);
    assert_int_equal(plan.item_count, 0);
    assert_near(plan.bound, 0, 0);
    free(small.workspace);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_of_three_bags_fit_and_the_bound_says_so),
        cmocka_unit_test(a_limit_counts_jobs),
        cmocka_unit_test(what_must_be_comes_first),
        cmocka_unit_test(high_work_takes_the_minutes_of_lifts_that_reach_it),
        cmocka_unit_test(nothing_to_do_is_worth_nothing),
    };

    return cmocka_run_group_tests_name("packing", tests, NULL, NULL);
}
