/*
 * hanging_test.c - bags that hang already, and what they leave to be wanted.
 */
#include "planning/crossing_fixture.h"

static void hang(struct fixture *fixture, const char *name, const char *on)
{
    note_on_bag(fixture, on, NOTE_BAGGED, name, "4")->cross = "C1";
}

static void pollinate(struct fixture *fixture, const char *name, const char *on)
{
    note_on_bag(fixture, on, NOTE_POLLINATED, name, NULL)->lot = "P2";
}

static void a_bag_that_hangs_waits_for_its_visits(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    hang(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 1);
    const struct planned_bag *bag = &plan.bags[0];
    assert_string_equal(bag->name, "A1-27-1");
    assert_int_equal(bag->group->stage, BAG_HANGS);
    assert_string_equal(option_text(fixture, bag), "2027-02-24 2027-03-05 2027-03-08 2027-03-18");
    assert_true(bag->done[TASK_BAG]);
    assert_null(bag->tasks[TASK_BAG].crew);
    assert_non_null(bag->tasks[TASK_POLLINATE_1].crew);
    assert_int_equal(bag->latest[TASK_BAG], DAY_NONE);
    assert_near(bag->seeds_expected, 60, 1e-9); /* of the 4 strobili counted in it */
    assert_int_equal(plan.shortfall_count, 0);

    struct visits visits = crossing_visits(&plan, &fixture->arena);
    assert_int_equal(visits.count, 3);
}

/* It stands for one of two bags; the other is named after it. */
static void new_bags_are_numbered_after_those_of_the_notes(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 90;
    hang(fixture, "A1-27-3", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 2);
    assert_string_equal(plan.bags[0].name, "A1-27-4");
    assert_string_equal(plan.bags[1].name, "A1-27-3");
}

static void hang_unclean(struct fixture *fixture, const char *name, const char *on)
{
    note_on_bag(fixture, on, NOTE_STAGE, name, "3");
    hang(fixture, name, on);
}

/* It is visited and taken off, gives no seed, and its cross gets the bag that it wants.  It was
 * open on the 24th at the latest and a week before at the earliest, so it is receptive before
 * others. */
static void a_bag_hung_too_late_is_kept_and_flagged(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    hang_unclean(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 2);
    assert_string_equal(plan.bags[0].name, "A1-27-2");
    assert_near(plan.bags[0].seeds_expected, 45, 1e-9);
    assert_true(stands_for_wanted(&plan.bags[0]));
    assert_string_equal(plan.bags[1].name, "A1-27-1");
    assert_string_equal(option_text(fixture, &plan.bags[1]),
                        "2027-02-24 2027-03-01 2027-03-03 2027-03-18");
    assert_near(plan.bags[1].chance[TASK_BAG], 0, 0);
    assert_near(plan.bags[1].chance[TASK_POLLINATE_1], 1, 1e-12);
    assert_near(plan.bags[1].chance_any, 0, 0);
    assert_near(plan.bags[1].chance_both, 0, 0);
    assert_near(plan.bags[1].seeds_expected, 0, 0);
    assert_near(plan.bags[1].value, 0, 0);
    assert_false(stands_for_wanted(&plan.bags[1]));
    assert_int_equal(plan.shortfall_count, 0);
}

/* The pollen and the hours go to bags that give seed. */
static void a_bag_hung_too_late_takes_what_is_left(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].volume_ml = 1;
    hang_unclean(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 1);
    assert_string_equal(plan.bags[0].name, "A1-27-2");

    fixture_teardown(state);
    fixture_setup(state);
    fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].volume_ml = 1.5;
    hang_unclean(fixture, "A1-27-1", "2027-02-24");
    plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 2);
    assert_string_equal(plan.bags[1].name, "A1-27-1");
    assert_int_equal(plan.bags[1].option.visit[1], DAY_NONE);
}

/* With nowhere else to hang one its cross is short for that reason. */
static void a_bag_hung_too_late_leaves_its_cross_short(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.notes.list[0].number = 3;
    fixture->orchard.notes.list[0].value = "3";
    hang_unclean(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-02-26");

    assert_int_equal(plan.bag_count, 2); /* itself, and one pencilled into 2028 */
    assert_true(plan.bags[1].pencilled);
    assert_int_equal(plan.shortfall_count, 1);
    assert_int_equal(plan.shortfalls[0].bags_short, 1);
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_ISOLATION_LOST);
    assert_string_equal(plan.shortfalls[0].detail, "bag A1-27-1 was not clean when hung");
}

/* Neither expected nor counted seed of such a bag is taken for seed of its cross. */
static void a_bag_hung_too_late_counts_for_nothing_through_to_the_seed(void **state)
{
    static const struct {
        enum note_kind kind;
        const char *value;
    } cases[] = {
        {NOTE_UNBAGGED, NULL}, {NOTE_CONELETS, "6"}, {NOTE_CONES, "4"}, {NOTE_SEEDS, "250"}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;

        add_crossing_world(fixture);
        fixture->orchard.crosses.list[0].seeds_wanted = 300;
        hang_unclean(fixture, "A1-27-1", "2027-02-24");
        pollinate(fixture, "A1-27-1", "2027-03-05");
        note_on_bag(fixture, "2027-03-20", NOTE_UNBAGGED, "A1-27-1", NULL);
        if (cases[i].kind != NOTE_UNBAGGED)
            note_on_bag(fixture, "2027-06-01", cases[i].kind, "A1-27-1", cases[i].value);
        struct crossing_plan plan = plan_on(fixture, "2027-06-10");

        assert_int_equal(plan.shortfalls[0].bags_wanted, 7);
    }
}

/* 15 March is a Monday; the last receptive day was the 11th. */
static void a_bag_never_pollinated_comes_off_and_is_told(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    hang(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-03-13");
    struct visits visits = crossing_visits(&plan, &fixture->arena);

    assert_string_equal(option_text(fixture, &plan.bags[0]), "2027-02-24 - - 2027-03-15");
    assert_null(plan.bags[0].lot);
    assert_non_null(plan.bags[0].tasks[TASK_UNBAG].crew);
    assert_int_equal(plan.bags[0].latest[TASK_UNBAG], DAY_NONE);
    assert_near(plan.bags[0].seeds_expected, 0, 0);
    assert_false(stands_for_wanted(&plan.bags[0]));
    assert_ptr_equal(visits.list[0].bag, &plan.bags[0]);
    assert_int_equal(visits.list[0].task, TASK_UNBAG);
    assert_int_equal(plan.shortfall_count, 1);
    assert_int_equal(plan.shortfalls[0].season, 2027);
    assert_int_equal(plan.shortfalls[0].bags_short, 1);
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_WINDOW_PAST);
    assert_string_equal(plan.shortfalls[0].detail,
                        "bag A1-27-1 hangs unpollinated, and no receptive day is left");
}

static void a_bag_never_pollinated_comes_off_whatever_became_of_its_cross(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].state = CROSS_CANCELLED;
    fixture->orchard.lots.list[0].state = LOT_DISCARDED;
    hang(fixture, "A1-27-1", "2027-02-24");
    hang_unclean(fixture, "A1-27-2", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-03-13");

    assert_int_equal(plan.bag_count, 2);
    for (size_t i = 0; i < 2; i++)
        assert_string_equal(option_text(fixture, &plan.bags[i]), "2027-02-24 - - 2027-03-15");
    assert_int_equal(plan.shortfall_count, 0);
}

static void a_bag_never_pollinated_that_nobody_takes_off_is_told(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.count = 0;
    fixture->orchard.crosses.list[0].seeds_in_store = 30;
    hang(fixture, "A1-27-1", "2027-02-24");
    struct crossing_plan plan = plan_on(fixture, "2027-03-13");

    assert_int_equal(plan.bag_count, 0);
    assert_int_equal(plan.shortfall_count, 1);
    assert_string_equal(plan.shortfalls[0].detail,
                        "bag A1-27-1 hangs unpollinated and cannot be taken off: no crew for this "
                        "work at Nord on the days it needs");
}

static void a_bag_visited_once_keeps_its_lot_and_gets_the_second_visit(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_lot(fixture, "P1", "S2")->volume_ml = 10;
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_int_equal(plan.bag_count, 1);
    assert_int_equal(plan.bags[0].group->stage, BAG_VISITED_ONCE);
    assert_string_equal(option_text(fixture, &plan.bags[0]),
                        "2027-02-24 2027-03-05 2027-03-08 2027-03-18");
    assert_string_equal(plan.bags[0].lot->name, "P2");
    assert_int_equal(plan.shortfall_count, 0); /* its seed is expected, so nothing is wanted */
}

static void without_crew_on_its_days_the_second_visit_falls_away(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].weekdays = 1U << 3; /* Wednesdays */
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_string_equal(option_text(fixture, &plan.bags[0]), "2027-02-24 2027-03-05 - 2027-03-17");
}

static void a_cross_that_is_cancelled_only_comes_off(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].state = CROSS_CANCELLED;
    hang(fixture, "A1-27-1", "2027-02-24");
    hang(fixture, "A1-27-2", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_int_equal(plan.bag_count, 1);
    assert_string_equal(option_text(fixture, &plan.bags[0]), "2027-02-24 2027-03-05 - 2027-03-16");
}

static void a_visited_bag_comes_off_even_late(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    pollinate(fixture, "A1-27-1", "2027-03-08");
    struct crossing_plan plan = plan_on(fixture, "2027-05-01"); /* a Saturday */

    assert_int_equal(plan.bag_count, 1);
    assert_int_equal(plan.bags[0].group->stage, BAG_VISITED);
    assert_string_equal(option_text(fixture, &plan.bags[0]),
                        "2027-02-24 2027-03-05 2027-03-08 2027-05-03");
    assert_day(plan.bags[0].latest[TASK_UNBAG], "2027-04-01");
}

static void a_visited_bag_that_nobody_takes_off_is_told(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.list[0].to = fixture_day("2027-03-10");
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_int_equal(plan.bag_count, 0);
    assert_int_equal(plan.shortfall_count, 1);
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_NO_WORKING_DAY);
    assert_string_equal(
        plan.shortfalls[0].detail,
        "bag A1-27-1 is pollinated and cannot be taken off: no crew for this work at "
        "Nord on the days it needs");
}

static void promises_come_before_new_bags(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 120;
    fixture->orchard.crosses.list[0].priority = 5;
    add_cross(fixture, "C2", "S1", "S2")->priority = 1;
    /* 30 of set-up and one visit of 5.2 minutes in a half-day, Mondays only. */
    fixture->orchard.crews.list[0].hours_per_day = 72.0 / 60;
    fixture->orchard.crews.list[0].weekdays = 1U << 1;
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_true(plan.bag_count > 1 && plan.bags[1].pencilled);
    assert_string_equal(option_text(fixture, &plan.bags[0]),
                        "2027-02-24 2027-03-05 2027-03-08 2027-03-22");
}

/* Seed that was counted or is still expected leaves fewer bags to be wanted. */
static void what_bags_gave_or_will_give_is_not_wanted_again(void **state)
{
    static const struct {
        enum note_kind kind;
        const char *value;
        int64_t bags_wanted; /* of 300 seeds less what the bag gives */
    } cases[] = {
        {NOTE_UNBAGGED, NULL, 6}, /* 4 strobili: 60 seeds; 240 need 8 cones, 16 strobili */
        {NOTE_CONELETS, "6", 3},  /* 180; 120 need 4 cones, 8 strobili */
        {NOTE_CONES, "4", 4},     /* 120; 180 */
        {NOTE_SEEDS, "250", 2},   /* 50 */
        {NOTE_SEEDS, "0", 7},     {NOTE_BAG_LOST, "wind", 7},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;

        fixture_teardown(state);
        fixture_setup(state);
        add_crossing_world(fixture);
        fixture->orchard.crosses.list[0].seeds_wanted = 300;
        fixture->orchard.crosses.list[0].seeds_least = -1;
        hang(fixture, "A1-27-1", "2027-02-24");
        pollinate(fixture, "A1-27-1", "2027-03-05");
        pollinate(fixture, "A1-27-1", "2027-03-08");
        note_on_bag(fixture, "2027-03-20", NOTE_UNBAGGED, "A1-27-1", NULL);
        if (cases[i].kind == NOTE_BAG_LOST)
            fixture->orchard.notes.count--; /* lost in place of unbagged */
        if (cases[i].kind != NOTE_UNBAGGED)
            note_on_bag(fixture, "2027-06-01", cases[i].kind, "A1-27-1", cases[i].value);
        struct crossing_plan plan = plan_on(fixture, "2027-06-10");

        assert_true(plan.shortfall_count > 0);
        if (plan.shortfalls[0].bags_wanted != cases[i].bags_wanted)
            fail_msg("case %zu: %d bags wanted", i, (int)plan.shortfalls[0].bags_wanted);
    }
}

static void seed_noted_of_a_cross_stands_for_its_older_bags(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 300;
    fixture->orchard.grafts.list[0].grafted_on = fixture_day("2024-02-10");
    note_on_bag(fixture, "2025-02-24", NOTE_BAGGED, "A1-25-1", "4")->cross = "C1";
    pollinate(fixture, "A1-25-1", "2025-03-05");
    note_on_bag(fixture, "2025-03-20", NOTE_UNBAGGED, "A1-25-1", NULL);
    add_note(fixture, "2026-12-01", NOTE_SEEDS, "150")->cross = "C1";
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    /* 150 left need 5 cones and 10 strobili: the 60 of the bag are among the 150. */
    assert_int_equal(plan.shortfalls[0].bags_wanted, 4);
}

/* Fewer than its bag was expected to give: the checker must come to the same number. */
static void poor_seed_noted_of_a_cross_is_made_up_for(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 100;
    add_graft(fixture, "A2", "S1", "T1")->grafted_on = fixture_day("2024-02-10");
    note_on_bag(fixture, "2025-02-24", NOTE_BAGGED, "A2-25-1", "4")->cross = "C1";
    pollinate(fixture, "A2-25-1", "2025-03-05");
    note_on_bag(fixture, "2025-03-20", NOTE_UNBAGGED, "A2-25-1", NULL);
    add_note(fixture, "2026-12-01", NOTE_SEEDS, "5")->cross = "C1";
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 3); /* 95 seeds; 40 would need two bags */
    assert_int_equal(plan.shortfall_count, 0);
}

static void a_relabelled_graft_makes_its_cross_short_again(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    hang(fixture, "A1-27-1", "2027-02-24");
    pollinate(fixture, "A1-27-1", "2027-03-05");
    note_on_tag(fixture, "2027-03-06", NOTE_RELABELLED, "A1", "S3");
    struct crossing_plan plan = plan_on(fixture, "2027-03-06");

    assert_int_equal(plan.bag_count, 1); /* it comes off, without a second visit */
    assert_string_equal(option_text(fixture, &plan.bags[0]), "2027-02-24 2027-03-05 - 2027-03-16");
    assert_near(plan.bags[0].value, 0, 0);
    assert_int_equal(plan.shortfalls[0].bags_wanted, 1);
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_NO_GRAFT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_bag_that_hangs_waits_for_its_visits),
        FIXTURE_TEST(new_bags_are_numbered_after_those_of_the_notes),
        FIXTURE_TEST(a_bag_hung_too_late_is_kept_and_flagged),
        FIXTURE_TEST(a_bag_hung_too_late_takes_what_is_left),
        FIXTURE_TEST(a_bag_hung_too_late_leaves_its_cross_short),
        FIXTURE_TEST(a_bag_hung_too_late_counts_for_nothing_through_to_the_seed),
        FIXTURE_TEST(a_bag_never_pollinated_comes_off_and_is_told),
        FIXTURE_TEST(a_bag_never_pollinated_comes_off_whatever_became_of_its_cross),
        FIXTURE_TEST(a_bag_never_pollinated_that_nobody_takes_off_is_told),
        FIXTURE_TEST(a_bag_visited_once_keeps_its_lot_and_gets_the_second_visit),
        FIXTURE_TEST(without_crew_on_its_days_the_second_visit_falls_away),
        FIXTURE_TEST(a_cross_that_is_cancelled_only_comes_off),
        FIXTURE_TEST(a_visited_bag_comes_off_even_late),
        FIXTURE_TEST(a_visited_bag_that_nobody_takes_off_is_told),
        FIXTURE_TEST(promises_come_before_new_bags),
        FIXTURE_TEST(what_bags_gave_or_will_give_is_not_wanted_again),
        FIXTURE_TEST(seed_noted_of_a_cross_stands_for_its_older_bags),
        FIXTURE_TEST(poor_seed_noted_of_a_cross_is_made_up_for),
        FIXTURE_TEST(a_relabelled_graft_makes_its_cross_short_again),
    };

    return cmocka_run_group_tests_name("bags that hang", tests, NULL, NULL) != 0;
}
