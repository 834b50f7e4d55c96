/*
 * crossing_test.c - plans small enough to be reckoned by hand.
 */
#include "planning/crossing.h"

#include "planning/crossing_fixture.h"

static void whole_bags_and_a_half_bag_more_make_places(void **state)
{
    static const struct {
        double strobili, per_bag;
        int most, places;
    } cases[] = {{0, 3, 3, 0},   {1, 3, 3, 0},   {1.5, 3, 3, 1},    {3, 3, 3, 1}, {4.4, 3, 3, 1},
                 {4.5, 3, 3, 2}, {9, 3, 3, 3},   {30, 3, 3, 3},     {9, 3, 0, 0}, {NAN, 3, 3, 0},
                 {9, 0, 3, 0},   {9, NAN, 3, 0}, {0.3 * 5, 3, 3, 1}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++)
        assert_int_equal(bag_places_of(cases[i].strobili, cases[i].per_bag, cases[i].most),
                         cases[i].places);
}

static void a_lot_holds_whole_doses(void **state)
{
    static const struct {
        double balance_ml, dose_ml;
        int64_t doses;
    } cases[] = {{0.3, 0.1, 3},    {1.5, 0.5, 3},           {0.7, 0.1, 7},
                 {0.29, 0.1, 2},   {0.4, 0.5, 0},           {0, 0.5, 0},
                 {-0.5, 0.5, 0},   {10 - 99 * 0.1, 0.1, 1}, {1e6, 0.000001, INT64_C(1000000000000)},
                 {1, 0.0000001, 0}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++)
        assert_int_equal(whole_doses_of(cases[i].balance_ml, cases[i].dose_ml), cases[i].doses);
}

/* Sunday 28 February is the last clean day; Saturdays and Sundays are free; 7 March is a Sunday,
 * so the second visit is 3 days after the first. */
static void one_bag_hangs_as_late_as_is_safe_and_takes_the_first_of_its_best_visits(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 1);
    const struct planned_bag *bag = &plan.bags[0];
    assert_string_equal(bag->name, "A1-27-1");
    assert_string_equal(option_text(fixture, bag), "2027-02-26 2027-03-05 2027-03-08 2027-03-18");
    assert_string_equal(bag->lot->name, "P2");
    for (int task = 0; task < BAG_TASKS; task++) {
        assert_string_equal(bag->tasks[task].crew, "Aspen");
        assert_int_equal(bag->tasks[task].half_day, 0);
        assert_near(bag->chance[task], 1, 0);
        assert_false(bag->done[task]);
    }
    assert_day(bag->latest[TASK_BAG], "2027-02-28");
    assert_day(bag->latest[TASK_POLLINATE_1], "2027-03-11");
    assert_day(bag->latest[TASK_UNBAG], "2027-04-01");
    assert_near(bag->chance_any, 1, 0);
    assert_near(bag->chance_both, 1, 0);
    assert_near(bag->seeds_expected, 45, 1e-9);
    assert_near(plan.value, 45 * 0.5, 1e-9); /* priority 3 */
    assert_false(bag->pencilled);
    assert_int_equal(plan.shortfall_count, 0);
    assert_int_equal(plan.warning_count, 0);
}

static void visits_are_rows_by_day(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 90;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");
    struct visits visits = crossing_visits(&plan, &fixture->arena);

    assert_int_equal(plan.bag_count, 2);
    assert_int_equal(visits.count, 8);
    for (size_t i = 0; i < visits.count; i++) {
        assert_int_equal(visits.list[i].task, i / 2);
        assert_string_equal(visits.list[i].bag->name, i % 2 == 0 ? "A1-27-1" : "A1-27-2");
    }
    assert_string_equal(bag_task_words[visits.list[4].task], "pollinate again");
}

static void a_cross_spreads_over_its_grafts_and_trees(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_tree(fixture, "T0", "Nord");
    add_graft(fixture, "A2", "S1", "T1");
    add_graft(fixture, "A3", "S1", "T0");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A2", "9");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A3", "9");
    fixture->orchard.crosses.list[0].seeds_wanted = 90;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    assert_string_equal(plan.bags[0].name, "A1-27-1");
    assert_string_equal(plan.bags[1].name, "A3-27-1"); /* A2 is on the tree of A1 */
}

static void one_lot_a_bag_and_whole_doses(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 120;
    fixture->orchard.lots.list[0].volume_ml = 1.1; /* two doses of 0.5 ml */
    add_lot(fixture, "P1", "S2")->volume_ml = 0.4;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    /* Two bags with one visit each are worth more than one with two. */
    assert_int_equal(plan.bag_count, 2);
    for (int i = 0; i < 2; i++) {
        assert_string_equal(option_text(fixture, &plan.bags[i]),
                            "2027-02-26 2027-03-05 - 2027-03-16");
        assert_near(plan.bags[i].seeds_expected, 45 * 0.86 / 0.92, 1e-9);
    }
    assert_int_equal(plan.shortfall_count, 2); /* and in 2028 */
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_LOT_USED_UP);
    assert_int_equal(plan.shortfalls[0].bags_wanted, 3);
    assert_int_equal(plan.shortfalls[0].bags_short, 1);
    assert_string_equal(plan.shortfalls[0].detail, "lot P2 has no whole dose left");
}

/* A stronger lot goes first; a weak one lowers the seed in proportion. */
static void germination_lowers_seed_and_chooses_the_lot(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].germination_pct = 40;
    fixture->orchard.lots.list[0].tested_on = fixture_day("2027-01-10");
    struct lot *lot = add_lot(fixture, "P3", "S2");
    lot->volume_ml = 10;
    lot->germination_pct = 30;
    lot->tested_on = fixture_day("2027-01-10");
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_string_equal(plan.bags[0].lot->name, "P2");
    assert_near(plan.bags[0].seeds_expected, 45 * 0.8, 1e-9);
}

static void an_either_way_cross_may_be_turned_round(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct cross *cross = add_cross(fixture, "C2", "S2", "S1");
    cross->seeds_wanted = 30;
    cross->either_way = true;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    const struct group *group = plan.bags[1].group;
    assert_string_equal(group->cross->name, "C2");
    assert_true(group->turned_round);
    assert_string_equal(group->seed_parent->name, "S1");
    assert_string_equal(group->pollen_parent->name, "S2");
}

static void a_mix_is_carried_by_its_own_lot(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    struct lot *mix = add_lot(fixture, "MX", NULL);
    mix->parts = ARENA_ARRAY(&fixture->arena, 2, struct mix_part);
    mix->parts[0] = (struct mix_part){.selection_name = "S2", .share = 0.5};
    mix->parts[1] = (struct mix_part){.selection_name = "S3", .share = 0.5};
    mix->part_count = 2;
    mix->volume_ml = 5;
    add_cross(fixture, "C2", "S1", "MX")->seeds_wanted = 30;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    assert_string_equal(plan.bags[0].lot->name, "P2");
    assert_string_equal(plan.bags[1].lot->name, "MX");
    assert_null(plan.bags[1].group->pollen_parent);
}

static void what_is_left_is_pencilled_into_the_next_season(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 210; /* five bags; three places */
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(plan.bags[i].pencilled, i >= 3);
        assert_int_equal(plan.bags[i].group->season, i < 3 ? 2027 : 2028);
    }
    assert_string_equal(plan.bags[3].name, "A1-28-1");
    /* 2028 has a 29 February: the sum is there a day earlier, and nobody's week ends. */
    assert_string_equal(option_text(fixture, &plan.bags[3]),
                        "2028-02-28 2028-03-04 2028-03-06 2028-03-16");
    assert_null(plan.bags[3].tasks[TASK_BAG].crew);
    assert_int_equal(plan.shortfall_count, 1);
    assert_int_equal(plan.shortfalls[0].season, 2027);
    assert_int_equal(plan.shortfalls[0].bags_short, 2);
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_NO_STROBILI);
    assert_string_equal(plan.shortfalls[0].detail, "all 3 bag places on 1 graft are taken");
}

/* A half-day of 60 minutes less 30 of set-up holds three bags of 9.2 minutes; the afternoon, with
 * the crew there, six. */
static void half_days_fill_up_and_the_afternoon_needs_no_set_up(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].hours_per_day = 2;
    fixture->orchard.crosses.list[0].seeds_wanted = 360;
    for (int i = 0; i < 3; i++) {
        const char *tag = arena_printf(&fixture->arena, "A%d", i + 2);

        add_graft(fixture, tag, "S1", "T1");
        note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, tag, "9");
    }
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");
    int halves[2] = {0, 0};

    assert_int_equal(plan.bag_count, 8);
    for (size_t i = 0; i < plan.bag_count; i++) {
        assert_string_equal(option_text(fixture, &plan.bags[i]),
                            "2027-02-26 2027-03-05 2027-03-08 2027-03-18");
        halves[plan.bags[i].tasks[TASK_BAG].half_day]++;
    }
    assert_int_equal(halves[0], 3);
    assert_int_equal(halves[1], 5);
}

/* Nine bags a day, as above: of twelve three are hung the day before, and none earlier. */
static void bags_that_do_not_fit_the_last_day_go_back_day_by_day(void **state)
{
    struct fixture *fixture = *state;
    int on_the_day_before = 0;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].hours_per_day = 2;
    fixture->orchard.crosses.list[0].seeds_wanted = 540;
    fixture->orchard.lots.list[0].volume_ml = 20;
    for (int i = 0; i < 3; i++) {
        const char *tag = arena_printf(&fixture->arena, "A%d", i + 2);

        add_graft(fixture, tag, "S1", "T1");
        note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, tag, "9");
    }
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 12);
    for (size_t i = 0; i < plan.bag_count; i++) {
        const char *days = option_text(fixture, &plan.bags[i]);
        bool before = strncmp(days, "2027-02-25", 10) == 0;

        assert_string_equal(days + 10, " 2027-03-05 2027-03-08 2027-03-18");
        assert_true(before || strncmp(days, "2027-02-26", 10) == 0);
        on_the_day_before += before;
        assert_day(plan.bags[i].latest[TASK_BAG], "2027-02-28");
    }
    assert_int_equal(on_the_day_before, 3);
}

/* A clone that opens three days earlier has its last safe day on the 25th, and the crew is there.
 */
static void a_place_that_is_open_earlier_does_not_hold_a_bag_there(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_selection(fixture, "S3", NULL, NULL)->days_late = -3;
    add_graft(fixture, "A2", "S3", "T1");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A2", "3");
    struct cross *early = add_cross(fixture, "C2", "S3", "S2");
    early->seeds_wanted = 30;
    early->priority = 1; /* it is planned first */
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    assert_day(plan.bags[0].option.bag, "2027-02-25");
    assert_string_equal(plan.bags[1].group->cross->name, "C1");
    assert_day(plan.bags[1].option.bag, "2027-02-26");
}

/* Where dates are spread an earlier bag is surer to be clean, and yet it is hung late. */
static void a_surer_bag_is_no_reason_to_hang_it_early(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].weekdays = 0xfe;
    for (size_t i = 0; i < fixture->orchard.thresholds.count; i++)
        fixture->orchard.thresholds.list[i].residual_days = 3;
    struct crossing_plan plan = plan_on(fixture, "2027-01-02");

    assert_int_equal(plan.bag_count, 1);
    const struct planned_bag *bag = &plan.bags[0];
    assert_int_equal(bag->option.bag, bag->latest[TASK_BAG]);
    assert_true(bag->chance[TASK_BAG] >= 0.9 && bag->chance[TASK_BAG] < 0.95);
}

/* Sprayed for so many hours, the block is free again on the last clean day, or after it. */
static void work_is_kept_out_of_a_sprayed_block(void **state)
{
    static const struct {
        const char *hours, *days;
    } cases[] = {{"144", "2027-02-28 2027-03-05 2027-03-07 2027-03-17"}, {"168", NULL}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;

        add_crossing_world(fixture);
        fixture->orchard.crews.list[0].weekdays = 0xfe;
        fixture->orchard.trees.list[0].block = "B";
        struct note *note = add_note(fixture, "2027-02-21", NOTE_SPRAYED, cases[i].hours);
        note->site = "Nord";
        note->block = "B";
        struct crossing_plan plan = plan_on(fixture, "2027-02-22");

        if (cases[i].days != NULL)
            assert_string_equal(option_text(fixture, &plan.bags[0]), cases[i].days);
        else
            assert_true(plan.bags[0].pencilled);
    }
}

/* The lift is at Nord on the 26th of February only, and is another's on the first visits. */
static void a_lift_limits_days(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].lift_name = "L1";
    fixture->orchard.trees.list[0].reach_needed_m = 14;
    add_lift(fixture, "L1", "2027-01-01", "2027-06-30")->reach_m = 20;
    add_lift(fixture, "L1", "2027-02-15", "2027-02-25")->hours_per_day = 0;
    add_lift(fixture, "L1", "2027-03-01", "2027-03-05")->site_name = "Syd";
    add_lift(fixture, "L1", "2027-03-08", "2027-03-08")->reach_m = 12;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_string_equal(option_text(fixture, &plan.bags[0]),
                        "2027-02-26 2027-03-09 2027-03-11 2027-03-22");
    assert_string_equal(plan.bags[0].tasks[TASK_BAG].lift, "L1");
}

/* Two crews name one lift, which is in one place at a time. */
static void one_lift_is_not_at_two_sites(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct site *other = add_site(fixture, "Nord 2");
    other->station_name = "NORD";
    other->latitude = 32.2;
    other->elevation_m = 60.96;
    add_tree(fixture, "T2", "Nord 2");
    add_graft(fixture, "A2", "S1", "T2");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A2", "9");
    add_crew(fixture, "Birch", "2027-01-01", "2027-06-30")->lift_name = "L1";
    fixture->orchard.crews.list[0].lift_name = "L1";
    add_lift(fixture, "L1", "2027-01-01", "2027-06-30");
    fixture->orchard.crosses.list[0].seeds_wanted = 90;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    const struct planned_task *one = &plan.bags[0].tasks[TASK_BAG];
    const struct planned_task *other_task = &plan.bags[1].tasks[TASK_BAG];
    assert_true(one->day != other_task->day || one->half_day != other_task->half_day);
}

static void a_warning_stands_beside_a_cross_of_relatives(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct selection *child = add_selection(fixture, "S3", "S1", NULL);
    (void)child;
    add_selection(fixture, "S4", "S3", NULL);
    add_lot(fixture, "P4", "S4")->volume_ml = 10;
    add_cross(fixture, "C4", "S1", "S4")->seeds_wanted = 30;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2);
    assert_int_equal(plan.warning_count, 1);
    assert_string_equal(plan.warnings[0].cross->name, "C4");
    assert_near(plan.warnings[0].coancestry, 0.125, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_bags_and_a_half_bag_more_make_places),
        cmocka_unit_test(a_lot_holds_whole_doses),
        FIXTURE_TEST(one_bag_hangs_as_late_as_is_safe_and_takes_the_first_of_its_best_visits),
        FIXTURE_TEST(visits_are_rows_by_day),
        FIXTURE_TEST(a_cross_spreads_over_its_grafts_and_trees),
        FIXTURE_TEST(one_lot_a_bag_and_whole_doses),
        FIXTURE_TEST(germination_lowers_seed_and_chooses_the_lot),
        FIXTURE_TEST(an_either_way_cross_may_be_turned_round),
        FIXTURE_TEST(a_mix_is_carried_by_its_own_lot),
        FIXTURE_TEST(what_is_left_is_pencilled_into_the_next_season),
        FIXTURE_TEST(half_days_fill_up_and_the_afternoon_needs_no_set_up),
        FIXTURE_TEST(bags_that_do_not_fit_the_last_day_go_back_day_by_day),
        FIXTURE_TEST(a_place_that_is_open_earlier_does_not_hold_a_bag_there),
        FIXTURE_TEST(a_surer_bag_is_no_reason_to_hang_it_early),
        FIXTURE_TEST(work_is_kept_out_of_a_sprayed_block),
        FIXTURE_TEST(a_lift_limits_days),
        FIXTURE_TEST(one_lift_is_not_at_two_sites),
        FIXTURE_TEST(a_warning_stands_beside_a_cross_of_relatives),
    };

    return cmocka_run_group_tests_name("crossing plans", tests, NULL, NULL) != 0;
}
