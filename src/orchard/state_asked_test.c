#include "orchard/fixture.h"
#include "orchard/state.h"

static const struct state *state_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    orchard_audit(&fixture->orchard, fixture_day("2028-06-01"), &fixture->diags);
    return state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static void stage_by_line(struct fixture *fixture, const char *date, const char *stage,
                          const char *entry)
{
    note_on_tag(fixture, date, NOTE_STAGE, "A1", stage)->entry = entry;
}

/* A bag that could not be hung is said by `strobili` 0 of its name; A1-27-3 was hung later. */
static void shoots_with_nothing_to_bag_are_counted_once_since_the_last_count(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_bag(fixture, "2026-02-20", NOTE_STROBILI, "A1-26-1", "0");
    note_on_bag(fixture, "2027-02-18", NOTE_STROBILI, "A1-27-9", "0");
    note_on_tag(fixture, "2027-02-20", NOTE_STROBILI, "A1", "12");
    note_on_bag(fixture, "2027-02-20", NOTE_STROBILI, "A1-27-1", "0");
    note_on_bag(fixture, "2027-03-01", NOTE_STROBILI, "A1-27-1", "0");
    note_on_bag(fixture, "2027-03-01", NOTE_STROBILI, "A1-27-2", "0");
    note_on_bag(fixture, "2027-03-01", NOTE_STROBILI, "A1-27-3", "0");
    note_on_bag(fixture, "2027-03-01", NOTE_STROBILI, "A1-27-4", "2");
    note_on_bag(fixture, "2027-03-02", NOTE_BAGGED, "A1-27-3", "3")->cross = "C1";
    const struct state *now = state_now(fixture);
    const struct graft *graft = orchard_graft(&fixture->orchard, "A1");
    assert_nothing_told(fixture);
    assert_int_equal(state_empty_shoots(now, graft, 2027), 2);
    assert_int_equal(state_empty_shoots(now, graft, 2026), 1);
    assert_int_equal(state_empty_shoots(now, graft, 2028), 0);
    assert_int_equal(state_empty_shoots(now, orchard_graft(&fixture->orchard, "A2"), 2027), 0);
}

static void looks_of_two_printed_lines_on_one_day_are_taken_together(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    stage_by_line(fixture, "2027-03-01", "2", NULL);
    stage_by_line(fixture, "2027-03-05", "4-5", "2027-W09-A-501K");
    stage_by_line(fixture, "2027-03-05", "3", "2027-W09-A-502H");
    stage_by_line(fixture, "2027-03-05", "3", "2027-W09-A-503F");
    orchard_link(&fixture->orchard, &fixture->diags);
    orchard_audit(&fixture->orchard, fixture_day("2028-06-01"), &fixture->diags);
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    assert_int_equal(fixture_told(fixture, "two-values-of-a-day"), 0);
    assert_int_equal(fixture_told(fixture, "note-twice"), 0);
    int low, high;
    daynum on;
    state_stage(now, orchard_graft(&fixture->orchard, "A1"), 2027, &low, &high, &on);
    assert_int_equal(low, 3);
    assert_int_equal(high, 5);
    assert_int_equal(on, fixture_day("2027-03-05"));
}

static void two_values_of_a_day_that_no_line_parts_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    stage_by_line(fixture, "2027-03-05", "4", NULL);
    stage_by_line(fixture, "2027-03-05", "3", NULL);
    state_now(fixture);
    assert_only_told(fixture, "two-values-of-a-day");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(shoots_with_nothing_to_bag_are_counted_once_since_the_last_count),
        FIXTURE_TEST(looks_of_two_printed_lines_on_one_day_are_taken_together),
        FIXTURE_TEST(two_values_of_a_day_that_no_line_parts_are_told),
    };
    return cmocka_run_group_tests_name("state asked", tests, NULL, NULL) != 0;
}
