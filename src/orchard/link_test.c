#include "orchard/orchard.h"

#include "orchard/fixture.h"

static void identifiers_are_joined(void **state)
{
    struct fixture *fixture = *state;
    struct orchard *orchard = &fixture->orchard;
    add_basis(fixture);
    add_batch(fixture, "B1", "S1", "2026-02-01")->source_tree_name = "T2";
    orchard->grafts.list[0].batch_name = "B1";
    add_cross(fixture, "C1", "S1", "S2");
    add_lot(fixture, "L1", "S2")->source_tree_name = "T2";
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL);
    orchard_link(orchard, &fixture->diags);
    assert_nothing_told(fixture);

    const struct graft *graft = orchard_graft(orchard, "A1");
    assert_string_equal(graft->tree->site->record->station, "HOLM");
    assert_string_equal(graft->batch->source_tree->name, "T2");
    assert_ptr_equal(graft->selection, orchard_cross(orchard, "C1")->seed_parent);
    assert_ptr_equal(orchard_lot(orchard, "L1")->selection, orchard_selection(orchard, "S2"));
    assert_string_equal(orchard->thresholds.list[0].clock->name, "sine-37f");
    assert_null(orchard_graft(orchard, "A3"));
    assert_null(orchard_tree(orchard, NULL));
}

static void the_order_of_rows_never_shows(void **state)
{
    static const char *const names[] = {"S03", "S11", "S02", "S7", "S05"};
    struct fixture *fixture = *state;
    for (size_t i = 0; i < COUNT(names); i++)
        add_selection(fixture, names[i], NULL, NULL);
    note_on_bag(fixture, "2027-03-09", NOTE_UNBAGGED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-03-09", NOTE_POLLINATED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-03-09", NOTE_BAGGED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-03-08", NOTE_STAGE, "A1-27-1", "2");
    orchard_link(&fixture->orchard, &fixture->diags);
    for (size_t i = 1; i < COUNT(names); i++)
        assert_true(strcmp(fixture->orchard.selections.list[i - 1].name,
                           fixture->orchard.selections.list[i].name) < 0);
    static const enum note_kind kinds[] = {NOTE_STAGE, NOTE_BAGGED, NOTE_POLLINATED, NOTE_UNBAGGED};
    for (size_t i = 0; i < COUNT(kinds); i++)
        assert_int_equal(fixture->orchard.notes.list[i].kind, kinds[i]);
}

static void unknown_identifiers_are_told_with_the_nearest_and_left_null(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    fixture->orchard.trees.list[0].site_name = "nord-hang";
    fixture->orchard.grafts.list[1].tree_name = "T99";
    add_crew(fixture, "north", "2027-01-01", "2027-04-01")->lift_name = "big";
    add_lift(fixture, "bigg", "2027-01-01", "2027-04-01");
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL)->clock_name = "sine-38f";
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(fixture->diags.count, 4);
    assert_int_equal(fixture_told(fixture, "unknown-tree"), 1);
    assert_int_equal(fixture_told(fixture, "unknown-lift"), 1);
    assert_int_equal(fixture_told(fixture, "unknown-clock"), 1);
    assert_int_equal(fixture_told(fixture, "unknown-site"), 1);
    for (size_t i = 0; i < fixture->diags.count; i++)
        if (strcmp(fixture->diags.list[i].code, "unknown-site") == 0)
            assert_non_null(strstr(fixture->diags.list[i].message, "write 'Nordhang'"));
    assert_null(orchard_tree(&fixture->orchard, "T1")->site);
    assert_null(orchard_graft(&fixture->orchard, "A2")->tree);
}

static void a_name_that_stands_twice_is_told_where_it_stands_again(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    unsigned line = add_tree(fixture, "T1", "Nordhang")->place.line;
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "duplicate-identifier");
    assert_int_equal(fixture->diags.list[0].place.line, line);
}

static void a_tag_that_a_note_gave_is_compared_like_any_other(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct note *note = note_on_tag(fixture, "2027-02-01", NOTE_GRAFTED, "a01", NULL);
    note->tree = "T1";
    note->selection = "S1";
    unsigned line = note->place.line;
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "similar-identifiers");
    assert_int_equal(fixture->diags.list[0].place.line, line);
}

static void names_that_a_spreadsheet_makes_alike_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_tree(fixture, "t01", "Nordhang");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "similar-identifiers");
    assert_int_equal(fixture->diags.errors, 0);
}

static void two_names_of_one_clone_may_look_alike(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_selection(fixture, "s-01", NULL, NULL)->same_as_name = "S1";
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    assert_true(selection_same(orchard_selection(&fixture->orchard, "s-01"),
                               orchard_selection(&fixture->orchard, "S1")));
    assert_false(selection_same(orchard_selection(&fixture->orchard, "S2"),
                                orchard_selection(&fixture->orchard, "S1")));
    assert_false(selection_same(NULL, NULL));
}

static void twin_stations_are_an_error(void **state)
{
    struct fixture *fixture = *state;
    for (int i = 0; i < 2; i++) {
        struct station *station = FIXTURE_PUSH(fixture, stations);
        station->name = i ? "HOLM" : "Holm";
    }
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "twin-stations");
    assert_int_equal(fixture->diags.errors, 1);
}

static void a_loop_of_same_as_is_told_once_and_has_one_self(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "K1", NULL, NULL)->same_as_name = "K3";
    add_selection(fixture, "K2", NULL, NULL)->same_as_name = "K1";
    add_selection(fixture, "K3", NULL, NULL)->same_as_name = "K2";
    add_selection(fixture, "K0", NULL, NULL)->same_as_name = "K2"; /* leads into it */
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "same-as-loop");
    for (size_t i = 0; i < 4; i++)
        assert_string_equal(fixture->orchard.selections.list[i].self->name, "K1");
}

static void a_pollen_parent_may_be_a_mix_but_no_other_lot(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    static struct mix_part parts[2];
    parts[0] = (struct mix_part){.selection_name = "S1", .share = 0.5};
    parts[1] = (struct mix_part){.selection_name = "S2", .share = 0.5};
    struct lot *mix = add_lot(fixture, "MIX", NULL);
    mix->parts = parts;
    mix->part_count = 2;
    add_lot(fixture, "L1", "S1");
    add_cross(fixture, "C1", "S1", "MIX");
    add_cross(fixture, "C2", "S2", "L1");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "lot-not-mix");
    assert_string_equal(orchard_cross(&fixture->orchard, "C1")->mix->name, "MIX");
    assert_null(orchard_cross(&fixture->orchard, "C1")->pollen_parent);
    assert_string_equal(orchard_lot(&fixture->orchard, "MIX")->parts[1].selection->name, "S2");
}

static void grafts_are_made_by_notes(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    for (int i = 0; i < 2; i++) { /* typed twice: one graft */
        struct note *note =
            note_on_tag(fixture, i ? "2026-02-14" : "2026-02-13", NOTE_GRAFTED, "A0", NULL);
        note->tree = "T2";
        note->crown = "top";
        note->selection = "S1";
    }
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    assert_int_equal(fixture->orchard.grafts.count, 3);
    const struct graft *graft = orchard_graft(&fixture->orchard, "A0");
    assert_true(graft->from_note);
    assert_int_equal(graft->crown, CROWN_TOP);
    assert_int_equal(graft->grafted_on, fixture_day("2026-02-13"));
    assert_string_equal(graft->tree->name, "T2");
}

static void old_and_new_tags_give_the_same_graft(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-05-01", NOTE_RETAGGED, "A1", "N1"); /* table holds the old tag */
    note_on_tag(fixture, "2026-06-01", NOTE_RETAGGED, "N1", "P1");
    note_on_tag(fixture, "2026-05-01", NOTE_RETAGGED, "X2", "Y2"); /* table holds the newest */
    note_on_tag(fixture, "2026-06-01", NOTE_RETAGGED, "Y2", "A2");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(fixture->diags.errors, 0);
    assert_int_equal(fixture_told(fixture, "retagged-in-table"), 2);
    static const char *const first[] = {"A1", "N1", "P1"}, *const second[] = {"X2", "Y2", "A2"};
    for (size_t i = 0; i < 3; i++) {
        assert_string_equal(orchard_graft(&fixture->orchard, first[i])->tag, "P1");
        assert_string_equal(orchard_graft(&fixture->orchard, second[i])->tag, "A2");
    }
    assert_string_equal(orchard_graft(&fixture->orchard, "A1")->selection->name, "S1");
    assert_string_equal(orchard_graft(&fixture->orchard, "X2")->selection->name, "S2");
}

static void a_tag_that_is_taken_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-05-01", NOTE_RETAGGED, "A1", "A2");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_only_told(fixture, "tag-taken");
    assert_string_equal(orchard_graft(&fixture->orchard, "A1")->selection->name, "S1");
}

static void a_note_typed_twice_under_one_entry_is_kept_once(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    for (int i = 0; i < 3; i++)
        note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A1", "12")->entry =
            i < 2 ? "2027-W03-A-0017" : NULL;
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(fixture->orchard.notes.count, 2);
}

static void the_folder_s_task_takes_the_place_of_the_shipped_one(void **state)
{
    struct fixture *fixture = *state;
    add_task(fixture, "hang bags", "graft");
    add_task(fixture, "hang bags", "bag")->shipped = true;
    add_task(fixture, "count cones", "bag")->shipped = true;
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    assert_int_equal(fixture->orchard.tasks.count, 2);
    assert_string_equal(orchard_task(&fixture->orchard, "hang bags")->per, "graft");
}

static void a_cycle_is_the_season_of_grafting_on_either_hemisphere(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_site(fixture, "South")->latitude = -38;
    add_tree(fixture, "T3", "South");
    add_graft(fixture, "A3", "S1", "T3")->grafted_on = fixture_day("2026-08-10");
    fixture->orchard.grafts.list[0].grafted_on = fixture_day("2026-12-20");
    fixture->orchard.grafts.list[1].grafted_on = fixture_day("2027-02-20");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(orchard_cycle(&fixture->orchard, orchard_graft(&fixture->orchard, "A1")),
                     2027);
    assert_int_equal(orchard_cycle(&fixture->orchard, orchard_graft(&fixture->orchard, "A2")),
                     2027);
    assert_int_equal(orchard_cycle(&fixture->orchard, orchard_graft(&fixture->orchard, "A3")),
                     2026);
    assert_true(orchard_season_rule(&fixture->orchard, NULL).northern);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(identifiers_are_joined),
        FIXTURE_TEST(the_order_of_rows_never_shows),
        FIXTURE_TEST(unknown_identifiers_are_told_with_the_nearest_and_left_null),
        FIXTURE_TEST(a_name_that_stands_twice_is_told_where_it_stands_again),
        FIXTURE_TEST(a_tag_that_a_note_gave_is_compared_like_any_other),
        FIXTURE_TEST(names_that_a_spreadsheet_makes_alike_are_told),
        FIXTURE_TEST(two_names_of_one_clone_may_look_alike),
        FIXTURE_TEST(twin_stations_are_an_error),
        FIXTURE_TEST(a_loop_of_same_as_is_told_once_and_has_one_self),
        FIXTURE_TEST(a_pollen_parent_may_be_a_mix_but_no_other_lot),
        FIXTURE_TEST(grafts_are_made_by_notes),
        FIXTURE_TEST(old_and_new_tags_give_the_same_graft),
        FIXTURE_TEST(a_tag_that_is_taken_is_told),
        FIXTURE_TEST(a_note_typed_twice_under_one_entry_is_kept_once),
        FIXTURE_TEST(the_folder_s_task_takes_the_place_of_the_shipped_one),
        FIXTURE_TEST(a_cycle_is_the_season_of_grafting_on_either_hemisphere),
    };
    return cmocka_run_group_tests_name("link", tests, NULL, NULL) != 0;
}
