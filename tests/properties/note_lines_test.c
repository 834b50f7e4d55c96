/*
 * note_lines_test.c - what is appended to a notes.csv is what is read of it, whatever stands in the
 * cells and in whatever columns, delimiter and line ends the file has.
 */
#include "orchard/fixture.h"
#include "orchard/order.h"
#include "reading/reading.h"
#include "writing/note_lines.h"

enum { FILES = 600, LINES = 12, TEXT_PIECES = 6 };

static uint32_t seed = 20270309;

static unsigned random_below(unsigned most)
{
    seed = seed * 1664525u + 1013904223u;
    return (unsigned)(((uint64_t)(seed >> 4) * most) >> 28);
}

/* Text as people and spreadsheets write it: NULL, numbers, quotes, delimiters, signs, line ends. */
static const char *random_text(struct arena *arena)
{
    static const char *const pieces[] = {"3",  "-2.5", "a",  ",",  ";",        "\"", "'",  "=",
                                         "\n", " ",    "@b", "\t", "\xc3\xb6", "+1", "x_", "-"};
    struct text text;
    unsigned count = random_below(TEXT_PIECES);

    if (count == 0)
        return NULL;
    text_init(&text, arena);
    while (count-- > 0)
        text_add(&text, pieces[random_below(COUNT(pieces))]);
    return text.bytes;
}

static const char *random_name(struct arena *arena)
{
    static const char *const names[] = {NULL, "R0213", "7", "T 1", "\xc3\xa4;b", "a,b"};
    const char *name = names[random_below(COUNT(names))];

    return name ? arena_text(arena, strlen(name), name) : NULL;
}

static struct note random_note(struct arena *arena)
{
    struct note note = {
        .date = day_from_civil(2027, 1, 1) + (daynum)random_below(365),
        .kind = (enum note_kind)random_below(NOTES),
        .tag = random_name(arena),
        .bag = random_name(arena),
        .site = random_name(arena),
        .task = random_name(arena),
        .value = random_text(arena),
        .by = random_text(arena),
        .remarks = random_text(arena),
        .entry = random_name(arena),
        .number = NAN,
    };

    if (note.value)
        (void)number_parse(strlen(note.value), note.value, &note.number);
    return note;
}

/* All columns in an order of their own, with some of the manager's among them. */
static struct note_form random_form(struct arena *arena)
{
    static const char delimiters[] = ",;\t";
    size_t own = random_below(3), count = note_columns_count + own;
    const char **columns = ARENA_ARRAY(arena, count, const char *);

    for (size_t i = 0; i < note_columns_count; i++)
        columns[i] = note_columns_all[i];
    for (size_t i = 0; i < own; i++)
        columns[note_columns_count + i] = i ? "x_b" : "x_a";
    for (size_t i = count; i-- > 1;) {
        size_t other = random_below((unsigned)i + 1);
        const char *held = columns[i];

        columns[i] = columns[other];
        columns[other] = held;
    }
    return (struct note_form){count, columns, delimiters[random_below(3)],
                              random_below(2) ? "\n" : "\r\n"};
}

static void what_is_appended_is_what_is_read(void **state)
{
    struct fixture *fixture = *state;
    size_t quoted = 0, signs = 0, broken = 0, lines = 0;

    for (int file = 0; file < FILES; file++) {
        struct arena *arena = &fixture->arena;
        struct note_form form = random_form(arena);
        struct note notes[LINES];
        struct text bytes;
        struct memory_source memory;
        struct manner manner;

        text_init(&bytes, arena);
        note_header_add(&form, &bytes);
        for (size_t i = 0; i < LINES; i++, lines++) {
            size_t start = bytes.length;

            notes[i] = random_note(arena);
            assert_null(note_line_lacks(&form, &notes[i]));
            note_line_add(&form, &notes[i], &bytes);
            quoted += strchr(bytes.bytes + start, '"') != NULL;
            signs += strstr(bytes.bytes + start, "'=") != NULL;
            broken += notes[i].remarks && strchr(notes[i].remarks, '\n') != NULL;
        }
        struct source source = source_of_memory("notes.csv", &memory, bytes.length, bytes.bytes);
        fixture->orchard.notes.count = 0;
        assert_true(read_table(&fixture->orchard, "notes.csv", &source, false, &fixture->diags));
        assert_nothing_told(fixture);
        assert_int_equal(fixture->orchard.notes.count, LINES);
        for (size_t i = 0; i < LINES; i++)
            if (order_note_content(&fixture->orchard.notes.list[i], &notes[i]) != 0)
                fail_msg("line %zu is read otherwise:\n%s", i + 2, bytes.bytes);
        assert_true(reading_manner(bytes.length, bytes.bytes, arena, &manner));
        assert_int_equal(manner.delimiter, form.delimiter);
        assert_int_equal(manner.crlf, strcmp(form.line_end, "\r\n") == 0);
    }
    printf("seen: %zu lines of notes.csv, %zu with quotes, %zu with a guarded sign, %zu with a "
           "line end in a cell\n",
           lines, quoted, signs, broken);
    assert_true(quoted > lines / 4 && signs > lines / 20 && broken > lines / 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(what_is_appended_is_what_is_read),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
