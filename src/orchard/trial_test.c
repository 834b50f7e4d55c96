#include "orchard/trial.h"

#include "orchard/fixture.h"
#include "orchard/state.h"

static void add_season(struct fixture *fixture)
{
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    add_lot(fixture, "L1", "S2");
}

static void a_copy_is_linked_and_cut_off_by_itself(void **state)
{
    struct fixture *fixture = *state;
    struct lot *mix;
    struct mix_part parts[] = {{"S1", NULL, 0.5}, {"S2", NULL, 0.5}};
    struct orchard copy, other;

    add_season(fixture);
    mix = add_lot(fixture, "M1", NULL);
    mix->parts = parts;
    mix->part_count = 2;
    add_note(fixture, "2027-03-01", NOTE_STORM, NULL)->site = "Nordhang";
    copy = orchard_copy(&fixture->orchard, &fixture->arena);
    other = orchard_copy(&fixture->orchard, &fixture->arena);
    orchard_as_of(&copy, fixture_day("2026-12-01"));
    orchard_link(&copy, &fixture->diags);
    assert_nothing_told(fixture);
    assert_int_equal(copy.notes.count, 0);
    assert_non_null(orchard_graft(&copy, "A1")->tree->site);
    assert_non_null(orchard_lot(&copy, "M1")->parts[0].selection);

    assert_int_equal(fixture->orchard.notes.count, 1);
    assert_int_equal(fixture->orchard.as_of, DAY_NONE);
    assert_null(fixture->orchard.grafts.list[0].tree);
    assert_null(parts[0].selection);
    orchard_link(&other, &fixture->diags);
    assert_ptr_equal(orchard_lot(&copy, "M1")->parts[0].selection, orchard_selection(&copy, "S1"));
    assert_int_equal(other.notes.count, 1);
}

static void only_so_many_notes_are_tried(void **state)
{
    struct fixture *fixture = *state;
    struct note notes[2];
    struct trial trial;

    add_season(fixture);
    notes[0] = *note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "3");
    notes[0].cross = "C1";
    notes[1] = *note_on_bag(fixture, "2027-03-10", NOTE_POLLINATED, "A2-27-1", NULL);
    notes[1].lot = "L1";
    fixture->orchard.notes.count = 0;
    trial = (struct trial){&fixture->orchard, notes, fixture_day("2027-04-01")};
    trial_faults(&trial, 0, &fixture->diags);
    trial_faults(&trial, 1, &fixture->diags);
    assert_nothing_told(fixture);
    trial_faults(&trial, 2, &fixture->diags);
    assert_only_told(fixture, "bag-never-hung");
    assert_int_equal(fixture->diags.list[0].place.line, notes[1].place.line);
    assert_string_equal(fixture->diags.list[0].place.file, "notes.csv");
    assert_int_equal(fixture->orchard.notes.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_copy_is_linked_and_cut_off_by_itself),
        FIXTURE_TEST(only_so_many_notes_are_tried),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
