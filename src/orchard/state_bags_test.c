#include "orchard/fixture.h"
#include "orchard/state.h"

static const struct state *state_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static void hang(struct fixture *fixture, const char *date, const char *bag)
{
    note_on_bag(fixture, date, NOTE_BAGGED, bag, "3")->cross = "C1";
}

static void a_bag_that_ends_twice_is_told_and_its_first_end_holds(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    hang(fixture, "2027-03-01", "A1-27-1");
    note_on_bag(fixture, "2027-04-01", NOTE_UNBAGGED, "A1-27-1", "3");
    note_on_bag(fixture, "2027-04-02", NOTE_UNBAGGED, "A1-27-1", "2");
    hang(fixture, "2027-03-01", "A1-27-2");
    note_on_bag(fixture, "2027-03-20", NOTE_BAG_LOST, "A1-27-2", "wind");
    note_on_bag(fixture, "2027-04-01", NOTE_UNBAGGED, "A1-27-2", "3");
    hang(fixture, "2027-03-01", "A1-27-3");
    note_on_bag(fixture, "2027-04-01", NOTE_UNBAGGED, "A1-27-3", "3");
    const struct state *now = state_now(fixture);
    assert_int_equal(fixture->diags.count, 2);
    assert_int_equal(fixture_told(fixture, "bag-ended-twice"), 2);
    assert_int_equal(fixture->diags.errors, 0);
    assert_string_equal(fixture->diags.list[1].message,
                        "bag 'A1-27-2' is noted as taken off, and it was lost on 2027-03-20, "
                        "expected one end of each bag, remove the wrong note or correct the bag's "
                        "name");
    assert_int_equal(state_bag(now, "A1-27-1")->unbagged_on, fixture_day("2027-04-01"));
}

/* Hung for what the label said between two corrections. */
static void a_label_corrected_again_leaves_the_bag_its_cross(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    add_cross(fixture, "C1", "S2", "S1");
    note_on_tag(fixture, "2026-08-01", NOTE_RELABELLED, "A1", "S2");
    hang(fixture, "2027-03-01", "A1-27-1");
    note_on_tag(fixture, "2027-08-01", NOTE_RELABELLED, "A1", "S3");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_string_equal(state_bag(now, "A1-27-1")->cross->name, "C1");
}

static void a_cross_that_the_graft_never_stood_for_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    add_cross(fixture, "C1", "S3", "S1");
    note_on_tag(fixture, "2026-08-01", NOTE_RELABELLED, "A1", "S2");
    hang(fixture, "2027-03-01", "A1-27-1");
    state_now(fixture);
    assert_only_told(fixture, "cross-not-of-graft");
}

/* Stages of the graft on the day on which it was hung: 4 on one shoot and 2 on another. */
static void the_furthest_shoot_of_a_day_says_whether_a_bag_is_clean(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_tag(fixture, "2027-03-01", NOTE_STAGE, "A1", "3-4")->entry = "E1";
    note_on_tag(fixture, "2027-03-01", NOTE_STAGE, "A1", "2")->entry = "E2";
    hang(fixture, "2027-03-01", "A1-27-1");
    assert_false(state_bag(state_now(fixture), "A1-27-1")->clean);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_bag_that_ends_twice_is_told_and_its_first_end_holds),
        FIXTURE_TEST(a_label_corrected_again_leaves_the_bag_its_cross),
        FIXTURE_TEST(a_cross_that_the_graft_never_stood_for_is_told),
        FIXTURE_TEST(the_furthest_shoot_of_a_day_says_whether_a_bag_is_clean),
    };
    return cmocka_run_group_tests_name("state of bags", tests, NULL, NULL) != 0;
}
