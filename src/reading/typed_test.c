#include "reading/typed.h"

#include "orchard/fixture.h"

static struct typed_page read_text(struct fixture *fixture, const char *text)
{
    struct typed_page page = {0};
    struct memory_source memory;
    struct source source = source_of_memory("page.csv", &memory, strlen(text), text);

    assert_true(read_typed(&page, &fixture->orchard, &source, &fixture->diags));
    return page;
}

static const char *faults(struct fixture *fixture)
{
    struct text out;

    text_init(&out, &fixture->arena);
    diags_sort(&fixture->diags);
    diags_write(&fixture->diags, &out);
    return out.bytes;
}

static void columns_may_stand_in_any_order_and_be_missing(void **state)
{
    struct fixture *fixture = *state;
    struct typed_page page = read_text(fixture, "value;by;done_on;entry;pollen_lot;x_own\n"
                                                "0.5;KR;2027-03-09;2027-W10-A-201K;24-S101;mine\n");
    const struct typed_row *row = page.list;

    assert_nothing_told(fixture);
    assert_int_equal(page.count, 1);
    assert_string_equal(page.file, "page.csv");
    assert_string_equal(row->entry, "2027-W10-A-201K");
    assert_string_equal(row->value, "0.5");
    assert_string_equal(row->lot, "24-S101");
    assert_int_equal(row->done_on, fixture_day("2027-03-09"));
    assert_int_equal(row->note, -1);
    assert_null(row->task);
    assert_int_equal(row->date, DAY_NONE);
    assert_int_equal(typed_place(&page, row, TYPED_LOT).cell, 5);
    assert_int_equal(typed_place(&page, row, TYPED_LOT).line, 2);
    assert_int_equal(typed_place(&page, row, TYPED_TASK).cell, 0);
}

static void rows_of_notes_stand_among_those_of_a_worklist(void **state)
{
    struct fixture *fixture = *state;
    struct typed_page page = read_text(fixture, "date,note,lot,task,stage,value\n"
                                                "2027-03-09,discarded,24-S101,,,3\n"
                                                "2027-03-09,,,bag,2,\n");

    assert_nothing_told(fixture);
    assert_int_equal(page.count, 2);
    assert_int_equal(page.list[0].note, NOTE_DISCARDED);
    assert_string_equal(page.list[0].lot, "24-S101");
    assert_int_equal(page.cells[TYPED_LOT], 3);
    assert_int_equal(page.list[1].note, -1);
    assert_string_equal(page.list[1].stage_meant, "2");
}

static void stages_of_another_scale_are_kept_as_typed_beside_ours(void **state)
{
    struct fixture *fixture = *state;
    struct stage_word words[] = {{"bud", 2}, {"3", 5}};
    struct typed_page page;

    fixture->orchard.program.stage_map = words;
    fixture->orchard.program.stage_map_count = 2;
    page = read_text(fixture, "note,stage,value\n"
                              ",bud,\n"
                              ",bud-3,\n"
                              "stage,,3\n"
                              "strobili,,3\n");
    assert_nothing_told(fixture);
    assert_string_equal(page.list[0].stage, "bud");
    assert_string_equal(page.list[0].stage_meant, "2");
    assert_string_equal(page.list[1].stage_meant, "2-5");
    assert_string_equal(page.list[2].value, "3");
    assert_string_equal(page.list[2].value_meant, "5");
    assert_string_equal(page.list[3].value_meant, "3");
}

static void a_page_that_says_nothing_of_its_rows_is_told(void **state)
{
    struct fixture *fixture = *state;
    struct typed_page page = read_text(fixture, "done_on,value\n2027-03-09,3\n");

    assert_int_equal(page.count, 1);
    assert_string_equal(faults(fixture),
                        "page.csv:1: error: no column says what a row is, expected 'entry' or "
                        "'task' of a worklist or 'note' of notes.csv in the header line, add it "
                        "[missing-column]\n");
}

static void faulty_cells_are_told_where_they_stand(void **state)
{
    struct fixture *fixture = *state;
    struct typed_page page = read_text(fixture, "entry,note,done_on,vlaue\n"
                                                "A,baged,2027-02-30,3\n"
                                                "B,,\n");

    assert_int_equal(page.count, 1);
    assert_int_equal(page.list[0].done_on, DAY_NONE);
    assert_int_equal(fixture_told(fixture, "unknown-column"), 1);
    assert_int_equal(fixture_told(fixture, "unknown-word"), 1);
    assert_int_equal(fixture_told(fixture, "no-such-day"), 1);
    assert_int_equal(fixture_told(fixture, "ragged-row"), 1);
}

static void the_manner_of_a_file_is_that_of_its_header(void **state)
{
    struct fixture *fixture = *state;
    static const struct {
        const char *bytes;
        size_t columns;
        char delimiter;
        bool crlf;
    } cases[] = {
        {"date,note\n2027-03-09,storm\r\n", 2, ',', false},
        {"\xef\xbb\xbf"
         "date;note;x_a\r\n",
         3, ';', true},
        {"\n date\tnote", 2, '\t', false},
        {"\"date\",\"note\"\r\n", 2, ',', true},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct manner manner;

        assert_true(
            reading_manner(strlen(cases[i].bytes), cases[i].bytes, &fixture->arena, &manner));
        assert_int_equal(manner.count, cases[i].columns);
        assert_string_equal(manner.columns[0], "date");
        assert_string_equal(manner.columns[1], "note");
        assert_int_equal(manner.delimiter, cases[i].delimiter);
        assert_int_equal(manner.crlf, cases[i].crlf);
    }
    struct manner none;
    assert_false(reading_manner(2, "\n\n", &fixture->arena, &none));
    assert_false(reading_manner(0, "", &fixture->arena, &none));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(columns_may_stand_in_any_order_and_be_missing),
        FIXTURE_TEST(rows_of_notes_stand_among_those_of_a_worklist),
        FIXTURE_TEST(stages_of_another_scale_are_kept_as_typed_beside_ours),
        FIXTURE_TEST(a_page_that_says_nothing_of_its_rows_is_told),
        FIXTURE_TEST(faulty_cells_are_told_where_they_stand),
        FIXTURE_TEST(the_manner_of_a_file_is_that_of_its_header),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
