#include "writing/note_page.h"

#include "base/test.h"

static const char *page_text(struct arena *arena, const struct note_page *page)
{
    struct text out;

    text_init(&out, arena);
    note_page_write(page, &out);
    return out.bytes;
}

static void what_was_added_and_what_follows_is_said_shortly(void **state)
{
    struct arena arena;
    struct typed_note list[] = {
        {.note = {.kind = NOTE_BAGGED}},
        {.note = {.kind = NOTE_STAGE}},
        {.note = {.kind = NOTE_BAGGED}},
        {.note = {.kind = NOTE_STORM}, .there = true},
    };
    struct lot_left lots[] = {{"P1", 3.25}, {"P2", NAN}};
    struct typed_notes notes = {
        .list = list, .count = 4, .rows = 3, .rows_there = 1, .blank_rows = 2};
    struct note_page page = {.path = "demo/notes.csv",
                             .notes = &notes,
                             .effects = {.bags_hang = 7,
                                         .bags_new = 2,
                                         .bags_new_not_clean = 1,
                                         .bags_visited = 1,
                                         .bags_off = 3,
                                         .bags_lost = 1,
                                         .grafts_new = 1,
                                         .grafts_gone = 2,
                                         .grafts_renamed = 1,
                                         .lots = lots,
                                         .lot_count = 2}};

    (void)state;
    arena_init(&arena, NULL);
    assert_string_equal(page_text(&arena, &page),
                        "demo/notes.csv: got 3 notes: 1 stage, 2 bagged\n"
                        "7 bags hang now, 2 of them new (1 not clean: hung at stage 3 or later), 3 "
                        "came off, 1 lost\n"
                        "1 bag pollinated\n"
                        "lot P1: 3.25 ml left\n"
                        "1 graft more\n"
                        "2 grafts are dead, lost or removed now\n"
                        "1 graft has another tag or selection now\n"
                        "1 row was there already and added nothing\n"
                        "2 rows are still blank\n");
    arena_release(&arena);
}

static void a_page_that_adds_nothing_says_so(void **state)
{
    struct arena arena;
    struct typed_notes notes = {.blank_rows = 1};
    struct typed_note there = {.note = {.kind = NOTE_STORM}, .there = true};
    struct note_page page = {.path = "notes.csv", .dry_run = true, .notes = &notes};

    (void)state;
    arena_init(&arena, NULL);
    assert_string_equal(page_text(&arena, &page),
                        "notes.csv: no row says anything, so nothing is to be added\n"
                        "1 row is still blank\n");
    notes = (struct typed_notes){.list = &there, .count = 1, .rows = 1, .rows_there = 1};
    assert_string_equal(page_text(&arena, &page), "notes.csv: nothing to add\n"
                                                  "1 row was there already and added nothing\n");
    there.there = false;
    notes.rows_there = 0;
    assert_string_equal(page_text(&arena, &page), "notes.csv: would get 1 note: 1 storm\n");
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_added_and_what_follows_is_said_shortly),
        cmocka_unit_test(a_page_that_adds_nothing_says_so),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
