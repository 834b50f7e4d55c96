#include "writing/note_lines.h"

#include "orchard/fixture.h"

#define FORM(columns, delimiter, end)                                                              \
    (struct note_form)                                                                             \
    {                                                                                              \
        COUNT(columns), columns, delimiter, end                                                    \
    }

static const char *const few[] = {"value", "x_own", "note", "date", "remarks", "tag"};

static struct note frost(struct fixture *fixture)
{
    struct note *note = add_note(fixture, "2027-03-09", NOTE_FROST, "-3.5");

    note->tag = "=A1";
    note->remarks = "cold; in the \"hollow\", row 1";
    return *note;
}

static const char *line_of(struct fixture *fixture, struct note_form form, struct note note)
{
    struct text out;

    text_init(&out, &fixture->arena);
    note_line_add(&form, &note, &out);
    return out.bytes;
}

static void a_line_keeps_the_order_and_manner_of_its_file(void **state)
{
    struct fixture *fixture = *state;
    struct note note = frost(fixture);

    assert_string_equal(line_of(fixture, FORM(few, ',', "\n"), note),
                        "-3.5,,frost,2027-03-09,\"cold; in the \"\"hollow\"\", row 1\",'=A1\n");
    assert_string_equal(line_of(fixture, FORM(few, ';', "\r\n"), note),
                        "-3.5;;frost;2027-03-09;\"cold; in the \"\"hollow\"\", row 1\";'=A1\r\n");
    note.remarks = "a;b";
    assert_string_equal(line_of(fixture, FORM(few, ';', "\n"), note),
                        "-3.5;;frost;2027-03-09;\"a;b\";'=A1\n");
    assert_string_equal(line_of(fixture, FORM(few, '\t', "\n"), note),
                        "-3.5\t\tfrost\t2027-03-09\ta;b\t'=A1\n");
    note.remarks = "=a;b";
    assert_string_equal(line_of(fixture, FORM(few, ';', "\n"), note),
                        "-3.5;;frost;2027-03-09;\"'=a;b\";'=A1\n");
    note.remarks = NULL;
    assert_string_equal(line_of(fixture, FORM(few, ',', "\n"), note),
                        "-3.5,,frost,2027-03-09,,'=A1\n");
}

static void a_cell_without_a_column_is_named(void **state)
{
    struct fixture *fixture = *state;
    struct note note = frost(fixture);
    struct note_form form = FORM(few, ',', "\n"),
                     all = {note_columns_count, note_columns_all, ',', "\n"};

    assert_null(note_line_lacks(&form, &note));
    note.entry = "2027-W10-A-201K";
    assert_string_equal(note_line_lacks(&form, &note), "entry");
    assert_null(note_line_lacks(&all, &note));
}

static void a_new_file_has_every_column(void **state)
{
    struct fixture *fixture = *state;
    const struct note_form all = {note_columns_count, note_columns_all, ',', "\n"};
    struct text out;

    text_init(&out, &fixture->arena);
    note_header_add(&all, &out);
    assert_string_equal(out.bytes, "date,note,tag,bag,tree,crown,branch,lot,cross,batch,site,block,"
                                   "task,selection,value,by,remarks,entry\n");
    assert_string_equal(line_of(fixture, all, frost(fixture)),
                        "2027-03-09,frost,'=A1,,,,,,,,,,,,-3.5,,\"cold; in the \"\"hollow\"\", row "
                        "1\",\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_line_keeps_the_order_and_manner_of_its_file),
        FIXTURE_TEST(a_cell_without_a_column_is_named),
        FIXTURE_TEST(a_new_file_has_every_column),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
