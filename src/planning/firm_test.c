/*
 * firm_test.c - what stands of an issued plan, by an orchard reckoned by hand.
 *
 * Alone the bag would be hung on Friday 26 February, the last working day on which it is clean,
 * and visited on 5 and 8 March.  It was issued for Wednesday 24 February.
 */
#include "planning/firm_fixture.h"

static const char *const wednesday[BAG_TASKS] = {"2027-02-24", "2027-03-05", "2027-03-08",
                                                 "2027-03-18"};

typedef void change(struct fixture *fixture);

static void no_change(struct fixture *fixture)
{
    (void)fixture;
}

static void crew_away(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].weekdays = 1U << 1 | 1U << 2 | 1U << 4 | 1U << 5;
}

static void lift_down(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].lift_name = "L1";
    add_lift(fixture, "L1", "2027-01-01", "2027-06-30")->hours_per_day = 8;
    add_lift(fixture, "L1", "2027-02-24", "2027-02-24")->hours_per_day = 0;
}

static void graft_dead(struct fixture *fixture)
{
    note_on_tag(fixture, "2027-02-20", NOTE_SURVIVAL, "A1", "dead");
}

static void relabelled(struct fixture *fixture)
{
    note_on_tag(fixture, "2027-02-20", NOTE_RELABELLED, "A1", "S2");
}

static void lot_dead(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].germination_pct = 6;
    fixture->orchard.lots.list[0].tested_on = fixture_day("2027-02-10");
}

static void lot_empty(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].volume_ml = 0.4;
}

static void lot_discarded(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].state = LOT_DISCARDED;
}

static void on_hold(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].state = CROSS_HOLD;
}

static void enough_seed(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].seeds_in_store = 30;
}

static void few_hours(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].hours_per_day = 1.2; /* 36 minutes, 30 of them set-up */
    add_crew(fixture, "Birch", "2027-02-25", "2027-06-30");
}

static void few_lift_hours(struct fixture *fixture)
{
    lift_down(fixture);
    fixture->orchard.lifts.list[1].hours_per_day = 1.2;
}

static void lost(struct fixture *fixture)
{
    note_on_bag(fixture, "2027-02-18", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-02-20", NOTE_BAG_LOST, "A1-27-1", "wind");
}

static const struct move *move_of(const struct crossing_plan *plan, int task)
{
    for (size_t i = 0; i < plan->move_count; i++)
        if (plan->moves[i].task == task)
            return &plan->moves[i];
    return NULL;
}

static void each_reason_is_told_and_what_can_stay_stays(void **state)
{
    static const struct {
        const char *what;
        change *change;
        const char *reason; /* of the day of bagging; NULL: it stays */
        const char *plan;
    } cases[] = {
        {"nothing", no_change, NULL, "2027-02-24 2027-03-05 2027-03-08 2027-03-18"},
        {"crew away", crew_away, "crew away", "2027-02-26 2027-03-05 2027-03-08 2027-03-18"},
        {"lift down", lift_down, "lift down", "2027-02-26 2027-03-05 2027-03-08 2027-03-18"},
        {"little time", few_hours, "crew minutes", "2027-02-26 2027-03-05 2027-03-08 2027-03-18"},
        {"little lift", few_lift_hours, "lift minutes",
         "2027-02-26 2027-03-05 2027-03-08 2027-03-18"},
        {"dead", graft_dead, "graft dead", NULL},
        {"relabelled", relabelled, "graft relabelled", NULL},
        {"lot dead", lot_dead, "lot dead", NULL},
        {"lot empty", lot_empty, "lot used up", NULL},
        {"lot discarded", lot_discarded, "lot gone", NULL},
        {"hold", on_hold, "cross no longer wanted", NULL},
        {"stored", enough_seed, "no more bags wanted", NULL},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct issued_plan issued = {NULL, 0, 0};

        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_crossing_world(fixture);
        cases[i].change(fixture);
        issue_bag(fixture, &issued, "A1-27-1", wednesday);
        struct crossing_plan plan = firm_plan_on(fixture, "2027-02-22", &issued);
        const struct move *move = move_of(&plan, TASK_BAG);
        const char *reason = move != NULL ? move->reason : NULL;

        if ((reason == NULL) != (cases[i].reason == NULL) ||
            (reason != NULL && strcmp(reason, cases[i].reason) != 0))
            fail_msg("%s: \"%s\"", cases[i].what, reason != NULL ? reason : "stays");
        assert_int_equal(plan.bag_count > 0 && !plan.bags[0].pencilled, cases[i].plan != NULL);
        if (cases[i].plan != NULL) {
            assert_string_equal(option_text(fixture, &plan.bags[0]), cases[i].plan);
            assert_string_equal(plan.bags[0].name, "A1-27-1");
        } else {
            assert_int_equal(move->to, DAY_NONE);
            assert_int_equal(plan.move_count, 4);
        }
        assert_true(move == NULL || move->firm);
    }
}

static void a_lost_bag_is_dropped_by_its_note(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};

    add_crossing_world(fixture);
    lost(fixture);
    issue_bag(fixture, &issued, "A1-27-1", wednesday);
    struct crossing_plan plan = firm_plan_on(fixture, "2027-02-22", &issued);
    assert_int_equal(plan.move_count, 3); /* it was hung, whenever that was */
    assert_string_equal(plan.moves[0].reason, "note: the bag was lost");
}

static void a_bag_that_was_not_hung_goes_on_under_its_name(void **state)
{
    static const char *const days[BAG_TASKS] = {"2027-02-19", "2027-03-05", "2027-03-08",
                                                "2027-03-18"};
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};

    add_crossing_world(fixture);
    issue_bag(fixture, &issued, "A1-27-4", days);
    struct crossing_plan plan = firm_plan_on(fixture, "2027-02-22", &issued);
    assert_int_equal(plan.bag_count, 1);
    assert_string_equal(plan.bags[0].name, "A1-27-4");
    assert_int_equal(plan.move_count, 1);
    assert_string_equal(plan.moves[0].reason, "note: the bag was not hung");
    assert_day(plan.moves[0].to, "2027-02-26");
    assert_false(plan.moves[0].firm);
}

static void days_that_moved_with_the_weather_say_so(void **state)
{
    static const char *const days[BAG_TASKS] = {"2027-03-02", "2027-03-05", "2027-03-08",
                                                "2027-03-18"};
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};

    add_crossing_world(fixture); /* the last clean day is 28 February */
    issue_bag(fixture, &issued, "A1-27-1", days);
    struct crossing_plan plan = firm_plan_on(fixture, "2027-02-24", &issued);
    assert_int_equal(plan.move_count, 1);
    assert_string_equal(plan.moves[0].reason, "weather: its days have moved");
    assert_day(plan.moves[0].from, "2027-03-02");
    assert_day(plan.moves[0].to, "2027-02-26");
}

/* One visit on the last receptive day is worth 0.86 / 0.92 = 93 % of two. */
static void a_visit_is_left_only_below_the_share_that_is_kept(void **state)
{
    static const char *const days[BAG_TASKS] = {"-", "2027-03-11", "-", "2027-03-22"};

    for (int kept = 0; kept < 2; kept++) {
        struct issued_plan issued = {NULL, 0, 0};

        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_crossing_world(fixture);
        note_on_bag(fixture, "2027-02-26", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
        fixture->orchard.program.keep_share = kept ? 0.93 : 0.94;
        issue_bag(fixture, &issued, "A1-27-1", days);
        struct crossing_plan plan = firm_plan_on(fixture, "2027-03-04", &issued);
        assert_int_equal(plan.bag_count, 1);
        if (kept) {
            assert_int_equal(plan.move_count, 0);
            assert_day(plan.bags[0].option.visit[0], "2027-03-11");
            assert_near(plan.free_value - plan.season.value, 0.5 * 45 * (1 - 0.86 / 0.92), 1e-9);
        } else {
            assert_string_equal(move_of(&plan, TASK_POLLINATE_1)->reason,
                                "worth less than 94 % of its best");
            assert_near(plan.free_value, plan.season.value, 1e-9);
        }
    }
}

/* As of 10 February the firm days end on the 17th. */
static void later_days_stay_while_the_bonus_outweighs_a_better_day(void **state)
{
    static const char *const single[BAG_TASKS] = {"2027-02-24", "2027-03-11", "-", "2027-03-22"};
    static const struct {
        const char *const *days;
        double bonus;
        const char *plan;
        size_t moves;
    } cases[] = {
        {wednesday, 0.02, "2027-02-24 2027-03-05 2027-03-08 2027-03-18", 0},
        {single, 0.07, "2027-02-24 2027-03-11 - 2027-03-22", 0},
        {single, 0.06, "2027-02-26 2027-03-05 2027-03-08 2027-03-18", 4},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct issued_plan issued = {NULL, 0, 0};

        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_crossing_world(fixture);
        fixture->orchard.program.stay_bonus = cases[i].bonus;
        issue_bag(fixture, &issued, "A1-27-1", cases[i].days);
        struct crossing_plan plan = firm_plan_on(fixture, "2027-02-10", &issued);
        assert_string_equal(option_text(fixture, &plan.bags[0]), cases[i].plan);
        assert_int_equal(plan.move_count, cases[i].moves);
        if (plan.move_count > 0)
            assert_string_equal(plan.moves[0].reason, "better day");
    }
}

static void another_crew_or_half_day_is_a_move(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};

    add_crossing_world(fixture);
    issue_bag(fixture, &issued, "A1-27-1", wednesday);
    issued.list[0].crew = "Birch";
    struct crossing_plan plan = firm_plan_on(fixture, "2027-02-22", &issued);
    assert_int_equal(plan.move_count, 1);
    assert_string_equal(plan.moves[0].reason, "crew");
    assert_string_equal(plan.moves[0].crew_to, "Aspen");
    assert_int_equal(plan.moves[0].from, plan.moves[0].to);
}

static void the_afternoon_that_was_issued_stays_the_afternoon(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};

    add_crossing_world(fixture);
    issue_bag(fixture, &issued, "A1-27-1", wednesday);
    issued.list[0].half_day = 1;
    struct crossing_plan plan = firm_plan_on(fixture, "2027-02-22", &issued);
    assert_int_equal(plan.move_count, 0);
    assert_int_equal(plan.bags[0].tasks[TASK_BAG].half_day, 1);
}

static void a_plan_issued_anew_moves_nothing_and_costs_nothing(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 120; /* three bags */
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-22");
    struct crossing_plan free_plan = plan_of(fixture, &inputs);
    struct issued_plan issued = issued_of(fixture, &free_plan);
    inputs.issued = &issued;
    struct crossing_plan plan = plan_of(fixture, &inputs);
    assert_int_equal(issued.count, 12);
    assert_int_equal(plan.move_count, 0);
    assert_near(plan.season.value, plan.free_value, 1e-9);
    assert_true(plan.season.bound + 1e-9 >= plan.season.value);
}

static void the_checker_misses_no_firm_visit(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan issued = {NULL, 0, 0};
    struct text faults;

    add_crossing_world(fixture);
    crew_away(fixture);
    issue_bag(fixture, &issued, "A1-27-1", wednesday);
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-22");
    inputs.issued = &issued;
    struct crossing_plan plan = plan_of(fixture, &inputs);
    text_init(&faults, &fixture->arena);
    plan.moves[0].to = plan.moves[0].from;
    assert_false(plan_check(&plan, &inputs, &faults));
    plan.move_count = 0;
    text_clear(&faults);
    assert_false(plan_check(&plan, &inputs, &faults));
    assert_string_equal(faults.bytes, "plan: bag A1-27-1 leaves its firm visit of "
                                      "2027-02-24 without a reason\n");
    plan.issued = NULL;
    assert_false(plan_check(&plan, &inputs, &faults));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(each_reason_is_told_and_what_can_stay_stays),
        FIXTURE_TEST(a_lost_bag_is_dropped_by_its_note),
        FIXTURE_TEST(a_bag_that_was_not_hung_goes_on_under_its_name),
        FIXTURE_TEST(days_that_moved_with_the_weather_say_so),
        FIXTURE_TEST(a_visit_is_left_only_below_the_share_that_is_kept),
        FIXTURE_TEST(later_days_stay_while_the_bonus_outweighs_a_better_day),
        FIXTURE_TEST(another_crew_or_half_day_is_a_move),
        FIXTURE_TEST(the_afternoon_that_was_issued_stays_the_afternoon),
        FIXTURE_TEST(a_plan_issued_anew_moves_nothing_and_costs_nothing),
        FIXTURE_TEST(the_checker_misses_no_firm_visit),
    };

    return cmocka_run_group_tests_name("planning/firm", tests, NULL, NULL) != 0;
}
