#include "planning/typed_notes.h"

#include "base/check_character.h"
#include "orchard/fixture.h"
#include "planning/typed_effects.h"

/* A folder, its printed page and what is typed of it. */
struct desk {
    struct fixture *fixture;
    struct orchard linked;
    struct typed_page page, issued;
    struct typing typing;
};

static void add_kind(struct fixture *fixture, const char *task, const char *per,
                     const char *closed_by)
{
    add_task(fixture, task, per)->closed_by = closed_by;
}

static struct desk desk_of(struct fixture *fixture)
{
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    add_lot(fixture, "L1", "S2");
    add_batch(fixture, "B1", "S1", "2026-02-01");
    add_kind(fixture, "bag", "bag", "bagged");
    add_kind(fixture, "pollinate", "bag", "pollinated");
    add_kind(fixture, "unbag", "bag", "unbagged, bag_lost");
    add_kind(fixture, "graft", "batch", "grafted");
    add_kind(fixture, "look at buds", "graft", "stage");
    add_kind(fixture, "watch catkins", "tree", "male_stage");
    add_kind(fixture, "test pollen", "lot", "germination");
    add_kind(fixture, "gather pollen", "lot", "collected");
    add_kind(fixture, "spray", "site", "sprayed");
    add_kind(fixture, "mow", "site", NULL);
    add_kind(fixture, "order bags", "programme", " ");
    add_kind(fixture, "weigh", "cross", "weighed");
    return (struct desk){.fixture = fixture};
}

static struct typed_row *type(struct desk *desk, const char *task, const char *done_on)
{
    struct typed_page *page = &desk->page;
    struct typed_row *row =
        ARENA_PUSH(&desk->fixture->arena, page->list, page->count, page->capacity);

    page->file = "page.csv";
    for (unsigned i = 0; i < TYPED_COLUMNS; i++)
        page->cells[i] = i + 1;
    *row = (struct typed_row){
        .place = {.file = "page.csv", .line = (unsigned)page->count + 1},
        .date = fixture_day("2027-03-05"),
        .task = task,
        .note = -1,
        .done_on = done_on ? fixture_day(done_on) : DAY_NONE,
        .by = "KR",
    };
    return row;
}

static struct typed_row *type_bag(struct desk *desk, const char *task, const char *done_on,
                                  const char *bag)
{
    struct typed_row *row = type(desk, task, done_on);

    row->bag = bag;
    row->cross = "C1";
    row->lot = "L1";
    return row;
}

static struct typed_notes take(struct desk *desk)
{
    struct fixture *fixture = desk->fixture;

    desk->linked = orchard_copy(&fixture->orchard, &fixture->arena);
    orchard_link(&desk->linked, &fixture->diags);
    desk->typing = (struct typing){
        .read = &fixture->orchard,
        .linked = &desk->linked,
        .page = &desk->page,
        .issued = desk->issued.count ? &desk->issued : NULL,
        .as_of = fixture_day("2027-03-20"),
        .arena = &fixture->arena,
        .diags = &fixture->diags,
    };
    return typed_notes_of(&desk->typing);
}

/* "2027-03-05 bagged bag=A1-27-1 cross=C1 3 KR", one a line. */
static const char *told(const struct desk *desk, const struct typed_notes *notes)
{
    struct text out;

    text_init(&out, &desk->fixture->arena);
    for (size_t i = 0; i < notes->count; i++) {
        const struct note *note = &notes->list[i].note;
        const struct {
            const char *name, *text;
        } cells[] = {
            {"tag", note->tag},     {"bag", note->bag},        {"tree", note->tree},
            {"crown", note->crown}, {"branch", note->branch},  {"lot", note->lot},
            {"cross", note->cross}, {"batch", note->batch},    {"site", note->site},
            {"block", note->block}, {"task", note->task},      {"selection", note->selection},
            {"value", note->value}, {"remarks", note->remarks}};
        char day[DAY_TEXT];

        text_addf(&out, "%s %s", day_text(note->date, day), note_names[note->kind]);
        for (size_t c = 0; c < COUNT(cells); c++)
            if (cells[c].text)
                text_addf(&out, " %s=%s", cells[c].name, cells[c].text);
        text_addf(&out, "%s\n", notes->list[i].there ? " (there)" : "");
        assert_ptr_equal(note->by, notes->list[i].row->by);
    }
    return out.bytes;
}

static const char *faults(const struct desk *desk)
{
    struct text out;

    text_init(&out, &desk->fixture->arena);
    diags_sort(&desk->fixture->diags);
    diags_write(&desk->fixture->diags, &out);
    return out.bytes;
}

static void the_kind_of_a_task_says_what_a_row_means(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;
    struct typed_row *row;

    type_bag(&desk, "bag", "2027-03-05", "A1-27-1")->value = "3";
    type_bag(&desk, "pollinate", "2027-03-09", "A1-27-1")->remarks = "windy";
    type_bag(&desk, "pollinate again", "2027-03-11", "A1-27-1")->value = "0.4";
    type_bag(&desk, "unbag", "2027-03-20", "A1-27-1")->value = "2";
    row = type(&desk, "graft", "2027-03-01");
    row->tag = "V1";
    row->tree = "T1";
    row->crown = "top";
    row->branch = "T2";
    row->batch = "B1";
    row->selection = "S1";
    row = type(&desk, "look at buds", "2027-03-05");
    row->tag = "A1";
    row->stage = row->stage_meant = "2";
    row = type(&desk, "watch catkins", "2027-03-05");
    row->tree = "T1";
    row->value = "shedding";
    row = type(&desk, "test pollen", "2027-03-05");
    row->lot = "L1";
    row->value = "80";
    row = type(&desk, "gather pollen", "2027-03-05");
    row->lot = "L1";
    row->tree = "T1";
    row->value = "12";
    row = type(&desk, "spray", "2027-03-05");
    row->site = "Nordhang";
    row->block = "upper";
    row->value = "24";
    row = type(&desk, "mow", "2027-03-05");
    row->site = "Nordhang";
    row->block = "upper";
    row->value = "90";
    type(&desk, "order bags", "2027-03-05");
    type(&desk, "weigh", "2027-03-05")->cross = "C1";
    notes = take(&desk);
    assert_string_equal(
        told(&desk, &notes),
        "2027-03-05 bagged bag=A1-27-1 cross=C1 value=3\n"
        "2027-03-09 pollinated bag=A1-27-1 lot=L1 remarks=windy\n"
        "2027-03-11 pollinated bag=A1-27-1 lot=L1 value=0.4\n"
        "2027-03-20 unbagged bag=A1-27-1 value=2\n"
        "2027-03-01 grafted tag=V1 tree=T1 crown=top branch=T2 batch=B1 selection=S1\n"
        "2027-03-05 stage tag=A1 value=2\n"
        "2027-03-05 male_stage tree=T1 value=shedding\n"
        "2027-03-05 germination lot=L1 value=80\n"
        "2027-03-05 collected tree=T1 lot=L1 value=12\n"
        "2027-03-05 sprayed site=Nordhang block=upper value=24\n"
        "2027-03-05 done site=Nordhang task=mow value=90\n"
        "2027-03-05 done task=order bags\n"
        "2027-03-05 done cross=C1 task=weigh\n");
    assert_string_equal(faults(&desk), "");
    assert_int_equal(notes.rows, 13);
}

static void a_stage_is_noted_of_the_bag_once_it_hangs(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;
    struct typed_row *row = type_bag(&desk, "bag", "2027-03-05", "A1-27-1");

    row->stage = row->stage_meant = "3";
    row = type_bag(&desk, "bag", NULL, "A1-27-2"); /* too late to hang */
    row->stage = row->stage_meant = "4";
    row->remarks = "early";
    row = type_bag(&desk, "unbag", NULL, "A1-27-1");
    row->stage = row->stage_meant = "5";
    row->not_done = "not ready";
    row = type(&desk, "watch catkins", NULL);
    row->tree = "T1";
    row->stage = row->stage_meant = "1";
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes),
                        "2027-03-05 bagged bag=A1-27-1 cross=C1\n"
                        "2027-03-05 stage bag=A1-27-1 value=3\n"
                        "2027-03-05 stage tag=A1 value=4 remarks=early\n"
                        "2027-03-05 not_done bag=A1-27-1 task=unbag value=not ready\n"
                        "2027-03-05 stage bag=A1-27-1 value=5\n"
                        "2027-03-05 stage tree=T1 value=1\n");
    assert_string_equal(faults(&desk), "");
}

static void what_is_not_done_lost_or_empty_has_a_note_of_its_own(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;

    type_bag(&desk, "pollinate again", NULL, "A1-27-1")->not_done = "rain";
    type_bag(&desk, "pollinate", "2027-03-06", "A1-27-1")->not_done = "lost: torn by wind";
    type_bag(&desk, "unbag", NULL, "A1-27-2")->not_done = "lost";
    type_bag(&desk, "bag", "2027-03-06", "A1-27-3")->value = "0";
    type(&desk, "mow", NULL)->not_done = "no time";
    desk.page.list[4].site = "Nordhang";
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes),
                        "2027-03-05 not_done bag=A1-27-1 task=pollinate value=rain\n"
                        "2027-03-06 bag_lost bag=A1-27-1 value=torn by wind\n"
                        "2027-03-05 bag_lost bag=A1-27-2\n"
                        "2027-03-06 strobili bag=A1-27-3 value=0\n"
                        "2027-03-05 not_done site=Nordhang task=mow value=no time\n");
    assert_string_equal(faults(&desk), "");
}

static void rows_of_notes_say_what_they_say(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;
    struct typed_row *row = type(&desk, NULL, NULL);

    row->note = NOTE_FROST;
    row->site = "Nordhang";
    row->value = row->value_meant = "-3";
    row = type(&desk, "mow", NULL);
    row->note = NOTE_NOT_DONE;
    row->site = "Nordhang";
    row->value = row->value_meant = "rain";
    row = type(&desk, NULL, NULL);
    row->note = NOTE_STAGE;
    row->tag = "A1";
    row->value = "bud";
    row->value_meant = "2";
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes),
                        "2027-03-05 frost site=Nordhang value=-3\n"
                        "2027-03-05 not_done site=Nordhang task=mow value=rain\n"
                        "2027-03-05 stage tag=A1 value=2\n");
    assert_string_equal(notes.list[2].value_typed, "bud");
    assert_near(notes.list[0].note.number, -3, 0);
    assert_string_equal(faults(&desk), "");
}

static void blank_rows_and_what_is_there_add_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct desk desk = desk_of(fixture);
    struct typed_notes notes;
    struct note *hung = note_on_bag(fixture, "2027-03-05", NOTE_BAGGED, "A1-27-1", "3");

    hung->cross = "C1";
    hung->by = "KR";
    type_bag(&desk, "bag", "2027-03-05", "A1-27-1")->value = "3";
    type_bag(&desk, "bag", "2027-03-05", "A1-27-2")->value = "3";
    type_bag(&desk, "bag", "2027-03-05", "A1-27-2")->value = "3";
    type_bag(&desk, "bag", NULL, "A1-27-3");
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes),
                        "2027-03-05 bagged bag=A1-27-1 cross=C1 value=3 (there)\n"
                        "2027-03-05 bagged bag=A1-27-2 cross=C1 value=3\n"
                        "2027-03-05 bagged bag=A1-27-2 cross=C1 value=3 (there)\n");
    assert_int_equal(notes.rows, 3);
    assert_int_equal(notes.rows_there, 2);
    assert_int_equal(notes.blank_rows, 1);
    typed_notes_try(&desk.typing, &notes);
    assert_string_equal(faults(&desk), "");
}

/* A code with its check character. */
static const char *entry(const struct desk *desk, const char *serial)
{
    return arena_printf(&desk->fixture->arena, "%s%c", serial, check_character(serial));
}

static struct desk desk_with_page(struct fixture *fixture)
{
    struct desk desk = desk_of(fixture);

    type_bag(&desk, "bag", NULL, "A1-27-1")->entry = entry(&desk, "2027-W10-A-501");
    type_bag(&desk, "pollinate", NULL, "A1-27-2")->entry = entry(&desk, "2027-W10-A-502");
    desk.page.list[0].tree = "T1";
    desk.issued = desk.page;
    desk.issued.file = "printed.csv";
    desk.page = (struct typed_page){0};
    return desk;
}

static void a_short_row_is_looked_up_on_the_printed_page(void **state)
{
    struct desk desk = desk_with_page(*state);
    struct typed_notes notes;
    struct typed_row *row = type(&desk, NULL, "2027-03-05");

    row->date = DAY_NONE;
    row->entry =
        arena_printf(&desk.fixture->arena, "2027-w10-a-501%c", check_character("2027-W10-A-501"));
    row->value = "3";
    row = type(&desk, "pollinate", "2027-03-09");
    row->entry = entry(&desk, "2027-W10-A-502");
    row->lot = "L2"; /* another lot than planned */
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes), "2027-03-05 bagged bag=A1-27-1 cross=C1 value=3\n"
                                             "2027-03-09 pollinated bag=A1-27-2 lot=L2\n");
    assert_string_equal(notes.list[0].note.entry, entry(&desk, "2027-W10-A-501"));
    assert_string_equal(faults(&desk), "");
}

static void codes_that_are_not_on_the_page_are_told_with_the_nearest(void **state)
{
    struct desk desk = desk_with_page(*state);
    struct typed_notes notes;
    struct typed_row *row = type(&desk, NULL, "2027-03-05");
    const char *right = entry(&desk, "2027-W10-A-501"), *other = entry(&desk, "2028-W44-Q-777");

    row->entry = arena_printf(&desk.fixture->arena, "2027-W10-A-511%c", right[14]);
    type(&desk, NULL, "2027-03-05")->entry = other;
    row = type_bag(&desk, "bag", "2027-03-05", "A2-27-1");
    row->entry = right;
    notes = take(&desk);
    assert_int_equal(notes.count, 0);
    assert_string_equal(
        faults(&desk),
        arena_printf(
            &desk.fixture->arena,
            "page.csv:2:1: error: 'entry' is '2027-W10-A-511%c', which does not end in its "
            "check character, expected the code as printed beside the line, write '%s' if "
            "that line is meant [entry-check-character]\n"
            "page.csv:3:1: error: 'entry' is '%s', which printed.csv does not have, "
            "expected a code of that page, look it up there [entry-not-on-page]\n"
            "page.csv:4:10: error: 'bag' is 'A2-27-1', and line 2 of printed.csv prints "
            "'A1-27-1' for entry '%s', expected the cells of one line, correct the code or "
            "the cell [differs-from-page]\n",
            right[14], right, other, right));
}

static void what_follows_a_faulty_row_is_not_told_again(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;

    type_bag(&desk, "bag", "2027-03-21", "A1-27-1");
    type_bag(&desk, "pollinate", "2027-03-09", "A1-27-1");
    type_bag(&desk, "pollinate", "2027-03-09", "A1-27-2");
    notes = take(&desk);
    typed_notes_try(&desk.typing, &notes);
    assert_int_equal(desk.fixture->diags.errors, 2);
    assert_int_equal(fixture_told(desk.fixture, "day-ahead"), 1);
    assert_int_equal(fixture_told(desk.fixture, "bag-never-hung"), 1);
    assert_int_equal(desk.fixture->diags.list[1].place.line, 4);
}

static void work_that_no_day_was_printed_for_is_of_the_week_of_its_code(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;

    for (int i = 0; i < 2; i++) {
        struct typed_row *row = type(&desk, "order bags", NULL);

        row->date = DAY_NONE;
        row->not_done = "no time";
        row->entry = entry(&desk, i ? "2027-W12-ZZ-101" : "2027-W10-ZZ-101");
    }
    notes = take(&desk);
    assert_string_equal(told(&desk, &notes), "2027-03-08 not_done task=order bags value=no time\n");
    assert_only_told(desk.fixture, "day-ahead");
}

static void rows_without_a_day_or_a_task_are_told(void **state)
{
    struct desk desk = desk_of(*state);
    struct typed_notes notes;
    struct typed_row *row = type_bag(&desk, "bag", NULL, "A1-27-1");

    row->date = DAY_NONE;
    row->stage = row->stage_meant = "4";
    row = type(&desk, NULL, NULL);
    row->date = DAY_NONE;
    row->note = NOTE_STORM;
    type(&desk, NULL, "2027-03-05");
    type(&desk, "thatch roofs", "2027-03-05");
    notes = take(&desk);
    assert_int_equal(notes.count, 0);
    assert_int_equal(fixture_told(desk.fixture, "row-without-day"), 2);
    assert_int_equal(fixture_told(desk.fixture, "row-without-task"), 1);
    assert_int_equal(fixture_told(desk.fixture, "unknown-task"), 1);
}

static const struct state *state_at(struct desk *desk, const struct typed_notes *notes)
{
    struct fixture *fixture = desk->fixture;
    struct orchard *copy = ARENA_NEW(&fixture->arena, struct orchard);

    *copy = orchard_copy(&fixture->orchard, &fixture->arena);
    for (size_t i = 0; notes && i < notes->count; i++)
        *ARENA_PUSH(&fixture->arena, copy->notes.list, copy->notes.count, copy->notes.capacity) =
            notes->list[i].note;
    orchard_as_of(copy, fixture_day("2027-03-20"));
    orchard_link(copy, &fixture->diags);
    return state_of(copy, &fixture->arena, NULL);
}

static struct typed_row *type_note(struct desk *desk, enum note_kind kind, const char *tag,
                                   const char *value)
{
    struct typed_row *row = type(desk, NULL, NULL);

    row->note = (int)kind;
    row->tag = tag;
    row->value = row->value_meant = value;
    return row;
}

static void what_follows_from_the_notes_is_counted(void **state)
{
    struct fixture *fixture = *state;
    struct desk desk = desk_of(fixture);
    struct typed_notes notes;
    struct typed_effects effects;
    struct typed_row *row;

    fixture->orchard.lots.list[0].volume_ml = 10;
    add_lot(fixture, "L2", "S1")->volume_ml = 5;
    add_graft(fixture, "A3", "S1", "T1");
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A1-27-4", "3")->cross = "C1";
    type_bag(&desk, "bag", "2027-03-05", "A1-27-2")->stage_meant = "3";
    desk.page.list[0].stage = "3";
    type_bag(&desk, "bag", "2027-03-05", "A1-27-3");
    type_bag(&desk, "pollinate", "2027-03-09", "A1-27-1")->value = "0.5";
    type_bag(&desk, "unbag", "2027-03-19", "A1-27-1");
    type_bag(&desk, "unbag", NULL, "A1-27-4")->not_done = "lost";
    type_note(&desk, NOTE_SURVIVAL, "A2", "dead");
    type_note(&desk, NOTE_RETAGGED, "A3", "N3");
    type_note(&desk, NOTE_RELABELLED, "A1", "unknown");
    row = type_note(&desk, NOTE_GRAFTED, "V1", NULL);
    row->tree = "T1";
    row->selection = "S1";
    notes = take(&desk);
    effects = typed_effects_of(state_at(&desk, NULL), state_at(&desk, &notes), &fixture->arena);
    assert_string_equal(faults(&desk), "");
    assert_int_equal(effects.bags_hang, 2);
    assert_int_equal(effects.bags_new, 2);
    assert_int_equal(effects.bags_new_not_clean, 1);
    assert_int_equal(effects.bags_visited, 1);
    assert_int_equal(effects.bags_off, 1);
    assert_int_equal(effects.bags_lost, 1);
    assert_int_equal(effects.grafts_new, 1);
    assert_int_equal(effects.grafts_gone, 1);
    assert_int_equal(effects.grafts_renamed, 2);
    assert_int_equal(effects.lot_count, 1);
    assert_string_equal(effects.lots[0].lot, "L1");
    assert_near(effects.lots[0].left_ml, 9.5, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_kind_of_a_task_says_what_a_row_means),
        FIXTURE_TEST(a_stage_is_noted_of_the_bag_once_it_hangs),
        FIXTURE_TEST(what_is_not_done_lost_or_empty_has_a_note_of_its_own),
        FIXTURE_TEST(rows_of_notes_say_what_they_say),
        FIXTURE_TEST(blank_rows_and_what_is_there_add_nothing),
        FIXTURE_TEST(a_short_row_is_looked_up_on_the_printed_page),
        FIXTURE_TEST(codes_that_are_not_on_the_page_are_told_with_the_nearest),
        FIXTURE_TEST(what_follows_a_faulty_row_is_not_told_again),
        FIXTURE_TEST(work_that_no_day_was_printed_for_is_of_the_week_of_its_code),
        FIXTURE_TEST(rows_without_a_day_or_a_task_are_told),
        FIXTURE_TEST(what_follows_from_the_notes_is_counted),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
