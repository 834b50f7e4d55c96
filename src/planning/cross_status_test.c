#include "planning/cross_status.h"

#include "planning/crossing_fixture.h"

static struct cross_status status_on(struct fixture *fixture, const char *day)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, day);
    struct crossing_plan plan = plan_of(fixture, &inputs);
    struct harvest harvest = harvest_of(inputs.state, inputs.pedigree, &fixture->arena);
    struct cross_statuses statuses =
        cross_statuses_of(&plan, &harvest, inputs.state, &fixture->arena);

    assert_int_equal(statuses.count, 1);
    return statuses.list[0];
}

static struct cross *only_cross(struct fixture *fixture)
{
    return &fixture->orchard.crosses.list[0];
}

static void a_planned_bag_is_seed_planned(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct cross_status status = status_on(fixture, "2027-02-10");
    assert_int_equal(status.bags_planned, 1);
    assert_int_equal(status.hung, 0);
    assert_near(status.seeds_planned, 45, 1e-9);
    assert_near(status.seeds_short, 0, 0);
    assert_int_equal(status.outlook, OUTLOOK_PLANNED);
}

static void what_hangs_is_counted_and_still_planned_until_pollinated(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    struct cross_status status = status_on(fixture, "2027-02-22");
    assert_int_equal(status.hung, 1);
    assert_int_equal(status.clean, 1);
    assert_int_equal(status.pollinated, 0);
    assert_int_equal(status.bags_planned, 1);
    assert_near(status.seeds_to_come.expected, 0, 0);
}

static void a_pollinated_bag_is_seed_to_come(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-03-05", NOTE_POLLINATED, "A1-27-1", NULL)->lot = "P2";
    note_on_bag(fixture, "2027-03-24", NOTE_UNBAGGED, "A1-27-1", NULL);
    struct cross_status status = status_on(fixture, "2027-03-25");
    assert_int_equal(status.pollinated, 1);
    assert_int_equal(status.unbagged, 1);
    assert_near(status.seeds_to_come.expected, 45, 1e-9);
    assert_int_equal(status.bags_planned, 0);
    assert_int_equal(status.outlook, OUTLOOK_ON_TREE);
}

static void seed_in_store_is_enough_by_itself(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    only_cross(fixture)->seeds_in_store = 30;
    assert_int_equal(status_on(fixture, "2027-02-10").outlook, OUTLOOK_STORED);
}

static void a_short_cross_names_its_first_cause(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].volume_ml = 0.2;
    struct cross_status status = status_on(fixture, "2027-02-10");
    assert_int_equal(status.outlook, OUTLOOK_SHORT);
    assert_int_equal(status.shortfall->cause, CAUSE_LOT_USED_UP);
    assert_near(status.seeds_short, 30, 0);
}

static void kin_are_refused_and_held_crosses_are_held(void **state)
{
    static const struct {
        enum cross_state state;
        enum cross_outlook outlook;
    } cases[] = {{CROSS_WANTED, OUTLOOK_REFUSED},
                 {CROSS_HOLD, OUTLOOK_HELD},
                 {CROSS_CANCELLED, OUTLOOK_CANCELLED}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_crossing_world(fixture);
        add_selection(fixture, "S1b", NULL, NULL)->same_as_name = "S1";
        only_cross(fixture)->pollen_parent_name = "S1b";
        only_cross(fixture)->state = cases[i].state;
        assert_int_equal(status_on(fixture, "2027-02-10").outlook, cases[i].outlook);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_planned_bag_is_seed_planned),
        FIXTURE_TEST(what_hangs_is_counted_and_still_planned_until_pollinated),
        FIXTURE_TEST(a_pollinated_bag_is_seed_to_come),
        FIXTURE_TEST(seed_in_store_is_enough_by_itself),
        FIXTURE_TEST(a_short_cross_names_its_first_cause),
        FIXTURE_TEST(kin_are_refused_and_held_crosses_are_held),
    };

    return cmocka_run_group_tests_name("planning/cross_status", tests, NULL, NULL) != 0;
}
