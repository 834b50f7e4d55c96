#include "orchard/orchard.h"

#include "base/check_character.h"
#include "orchard/fixture.h"

static void audit_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    orchard_audit(&fixture->orchard, fixture_day("2029-06-01"), &fixture->diags);
}

static void add_everything(struct fixture *fixture)
{
    add_basis(fixture);
    fixture->orchard.trees.list[0].block = "N";
    add_cross(fixture, "C1", "S1", "S2");
    add_lot(fixture, "L1", "S2");
    add_batch(fixture, "B1", "S1", "2026-02-01");
    add_task(fixture, "hang bags", "graft");
    add_task(fixture, "order bags", "programme");
}

/* A note with all its cells, as a row of notes.csv has them. */
struct row {
    const char *code; /* what is told; NULL: nothing */
    const char *date;
    enum note_kind kind;
    const char *tag, *bag, *tree, *lot, *cross, *site, *block, *task, *value;
};

static void add_row(struct fixture *fixture, const struct row *row)
{
    struct note *note = add_note(fixture, row->date, row->kind, row->value);
    note->tag = row->tag;
    note->bag = row->bag;
    note->tree = row->tree;
    note->lot = row->lot;
    note->cross = row->cross;
    note->site = row->site;
    note->block = row->block;
    note->task = row->task;
}

static void check_rows(void **state, const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_everything(fixture);
        add_row(fixture, &rows[i]);
        audit_now(fixture);
        if (rows[i].code)
            assert_only_told(fixture, rows[i].code);
        else
            assert_nothing_told(fixture);
    }
}

static void notes_as_the_tables_describe_them_are_passed(void **state)
{
    static const struct row rows[] = {
        {NULL, "2027-03-01", NOTE_SURVIVAL, .tag = "A1", .value = "doubtful"},
        {NULL, "2027-03-01", NOTE_STAGE, .tree = "T1", .value = "3"},
        {NULL, "2027-03-01", NOTE_STAGE, .bag = "A1-27-1", .value = "3-5"},
        {NULL, "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "0"},
        {NULL, "2027-03-01", NOTE_CATKINS, .tree = "T1", .value = "400"},
        {NULL, "2027-03-01", NOTE_MALE_STAGE, .tree = "T1", .value = "not yet"},
        {NULL, "2027-03-01", NOTE_BAGGED, .bag = "A1-27-1", .cross = "C1"},
        {NULL, "2027-03-01", NOTE_POLLINATED, .bag = "A1-27-1", .lot = "L1", .value = "0.5"},
        {NULL, "2027-03-20", NOTE_UNBAGGED, .bag = "A1-27-1", .value = "3"},
        {NULL, "2027-03-20", NOTE_BAG_LOST, .bag = "A1-27-1", .value = "storm"},
        {NULL, "2028-09-20", NOTE_CONES, .bag = "A1-27-1", .value = "3"},
        {NULL, "2028-11-20", NOTE_SEEDS, .cross = "C1", .value = "130"},
        {NULL, "2028-09-01", NOTE_RIPENESS, .tree = "T1", .value = "19/20"},
        {NULL, "2027-01-20", NOTE_GERMINATION, .lot = "L1", .value = "87.5"},
        {NULL, "2027-01-20", NOTE_COLLECTED, .lot = "L1", .value = "12"},
        {NULL, "2027-01-20", NOTE_DISCARDED, .lot = "L1"},
        {NULL, "2027-01-20", NOTE_RELABELLED, .tag = "A1", .value = "unknown"},
        {NULL, "2027-01-20", NOTE_RELABELLED, .tree = "T1", .value = "S2"},
        {NULL, "2027-01-20", NOTE_RETAGGED, .tag = "A1", .value = "N1"},
        {NULL, "2027-01-20", NOTE_VERIFIED, .lot = "L1", .value = "markers"},
        {NULL, "2027-03-20", NOTE_FROST, .site = "Nordhang", .value = "-4.5"},
        {NULL, "2027-03-20", NOTE_STORM, .site = "Nordhang"},
        {NULL, "2027-03-20", NOTE_SPRAYED, .block = "N", .value = "24"},
        {NULL, "2027-03-20", NOTE_DONE, .tag = "A1", .task = "hang bags"},
        {NULL, "2027-03-20", NOTE_NOT_DONE, .task = "order bags", .value = "no time"},
        {NULL, "2026-02-10", NOTE_GRAFTED, .tag = "A1", .tree = "T1"},
    };
    check_rows(state, rows, COUNT(rows));
}

static void notes_without_what_their_kind_needs_are_told(void **state)
{
    static const struct row rows[] = {
        {"note-without-subject", "2027-03-01", NOTE_SURVIVAL, .tree = "T1", .value = "alive"},
        {"note-without-subject", "2027-03-01", NOTE_BAGGED, .bag = "A1-27-1"},
        {"note-without-subject", "2027-03-01", NOTE_POLLINATED, .bag = "A1-27-1"},
        {"note-without-subject", "2027-03-01", NOTE_GERMINATION, .tag = "A1", .value = "80"},
        {"note-without-subject", "2027-03-01", NOTE_STORM, .tree = "T1"},
        {"note-without-subject", "2027-03-01", NOTE_DONE, .tag = "A1"},
        {"note-without-subject", "2027-03-01", NOTE_DONE, .tree = "T1", .task = "hang bags"},
        {"note-without-subject", "2026-03-01", NOTE_GRAFTED, .tag = "A7"},
        {"note-value", "2027-03-01", NOTE_SURVIVAL, .tag = "A1"},
        {"note-value", "2027-03-01", NOTE_SURVIVAL, .tag = "A1", .value = "living"},
        {"note-value", "2027-03-01", NOTE_STAGE, .tag = "A1", .value = "7"},
        {"note-value", "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "3.5"},
        {"note-value", "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "-1"},
        {"note-value", "2027-03-01", NOTE_MALE_STAGE, .tag = "A1", .value = "shed"},
        {"note-value", "2027-03-01", NOTE_POLLINATED, .bag = "A1-27-1", .lot = "L1", .value = "x"},
        {"note-value", "2028-03-01", NOTE_CONES, .bag = "A1-27-1"},
        {"note-value", "2028-03-01", NOTE_RIPENESS, .tree = "T1", .value = "95 %"},
        {"note-value", "2028-03-01", NOTE_GERMINATION, .lot = "L1", .value = "120"},
        {"note-value", "2028-03-01", NOTE_COLLECTED, .lot = "L1"},
        {"note-value", "2028-03-01", NOTE_FROST, .site = "Nordhang", .value = "26"},
        {"note-value", "2028-03-01", NOTE_SPRAYED, .site = "Nordhang"},
        {"note-value", "2028-03-01", NOTE_RELABELLED, .tag = "A1"},
    };
    check_rows(state, rows, COUNT(rows));
}

static void notes_that_name_what_is_not_there_are_told(void **state)
{
    static const struct row rows[] = {
        {"unknown-tag", "2027-03-01", NOTE_SURVIVAL, .tag = "A9", .value = "alive"},
        {"unknown-tag", "2027-03-01", NOTE_BAGGED, .bag = "A9-27-1", .cross = "C1"},
        {"unknown-cross", "2027-03-01", NOTE_BAGGED, .bag = "A1-27-1", .cross = "C9"},
        {"unknown-lot", "2027-03-01", NOTE_POLLINATED, .bag = "A1-27-1", .lot = "L9"},
        {"unknown-tree", "2027-03-01", NOTE_CATKINS, .tree = "T9", .value = "1"},
        {"unknown-site", "2027-03-01", NOTE_STORM, .site = "nowhere"},
        {"unknown-block", "2027-03-01", NOTE_SPRAYED, .block = "Z", .value = "4"},
        {"unknown-task", "2027-03-01", NOTE_DONE, .tag = "A1", .task = "dance"},
        {"unknown-selection", "2027-03-01", NOTE_RELABELLED, .tag = "A1", .value = "S9"},
        {"bag-name", "2027-03-01", NOTE_UNBAGGED, .bag = "A1/27/1"},
        {"bag-season", "2027-07-01", NOTE_UNBAGGED, .bag = "A1-27-1"},
        {"bag-of-other-graft", "2027-03-01", NOTE_UNBAGGED, .tag = "A2", .bag = "A1-27-1"},
        {"seen-before-grafted", "2026-02-09", NOTE_SURVIVAL, .tag = "A1", .value = "alive"},
        {"grafted-differs", "2026-02-11", NOTE_GRAFTED, .tag = "A1", .tree = "T1"},
        {"grafted-differs", "2026-02-10", NOTE_GRAFTED, .tag = "A1", .tree = "T2"},
    };
    check_rows(state, rows, COUNT(rows));
}

static void two_notes_of_one_day_must_agree(void **state)
{
    static const struct {
        const char *code;
        struct row first, second;
    } pairs[] = {
        {"two-values-of-a-day",
         {NULL, "2027-03-01", NOTE_SURVIVAL, .tag = "A1", .value = "alive"},
         {NULL, "2027-03-01", NOTE_SURVIVAL, .tag = "A1", .value = "dead"}},
        {"note-twice",
         {NULL, "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "4"},
         {NULL, "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "4"}},
        {NULL,
         {NULL, "2027-03-01", NOTE_STROBILI, .tag = "A1", .value = "4"},
         {NULL, "2027-03-02", NOTE_STROBILI, .tag = "A1", .value = "4"}},
        {NULL,
         {NULL, "2027-03-01", NOTE_NOT_DONE, .task = "order bags", .value = "rain"},
         {NULL, "2027-03-01", NOTE_NOT_DONE, .task = "order bags", .value = "rain"}},
        {"grafted-differs",
         {NULL, "2026-03-01", NOTE_GRAFTED, .tag = "A1"},
         {NULL, "2026-02-10", NOTE_GRAFTED, .tag = "A1"}},
    };
    for (size_t i = 0; i < COUNT(pairs); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_everything(fixture);
        add_row(fixture, &pairs[i].first);
        add_row(fixture, &pairs[i].second);
        audit_now(fixture);
        if (pairs[i].code)
            assert_only_told(fixture, pairs[i].code);
        else
            assert_nothing_told(fixture);
    }
}

static void an_entry_is_one_printed_line(void **state)
{
    struct fixture *fixture = *state;
    static const char entry[] = "2027-W09-A-017";
    const char *good = arena_printf(&fixture->arena, "%s%c", entry, check_character(entry));
    add_everything(fixture);
    note_on_tag(fixture, "2027-03-01", NOTE_STROBILI, "A1", "4")->entry = good;
    note_on_tag(fixture, "2027-03-01", NOTE_STAGE, "A1", "2")->entry = good; /* the same line */
    audit_now(fixture);
    assert_nothing_told(fixture);

    fixture_teardown(state);
    fixture_setup(state);
    good = arena_printf(&fixture->arena, "%s%c", entry, check_character(entry));
    add_everything(fixture);
    note_on_tag(fixture, "2027-03-01", NOTE_STROBILI, "A1", "4")->entry = good;
    note_on_tag(fixture, "2027-03-02", NOTE_STROBILI, "A1", "5")->entry = good;
    audit_now(fixture);
    assert_only_told(fixture, "entry-used-before");

    fixture_teardown(state);
    fixture_setup(state);
    add_everything(fixture);
    note_on_tag(fixture, "2027-03-01", NOTE_STROBILI, "A1", "4")->entry = "2027-W09-A-0170";
    audit_now(fixture);
    assert_only_told(fixture, "entry-check-character");
}

static void the_graft_that_a_note_made_is_told_once(void **state)
{
    struct fixture *fixture = *state;
    add_everything(fixture);
    struct note *note = note_on_tag(fixture, "2026-03-01", NOTE_GRAFTED, "A7", NULL);
    note->tree = "T9";
    note->selection = "S1";
    audit_now(fixture);
    assert_only_told(fixture, "unknown-tree");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(notes_as_the_tables_describe_them_are_passed),
        FIXTURE_TEST(notes_without_what_their_kind_needs_are_told),
        FIXTURE_TEST(notes_that_name_what_is_not_there_are_told),
        FIXTURE_TEST(two_notes_of_one_day_must_agree),
        FIXTURE_TEST(an_entry_is_one_printed_line),
        FIXTURE_TEST(the_graft_that_a_note_made_is_told_once),
    };
    return cmocka_run_group_tests_name("audit of notes", tests, NULL, NULL) != 0;
}
