/*
 * tables_documented_test.c - docs/tables.md names exactly what the readers take: every column of
 * every table, which of them are required, every kind of note, rate, key of program.json and of a
 * clock.
 *
 * Where a reader has no list to ask for, it is made to tell one: what it says of an unknown word
 * ends with all it knows.
 */
#include "base/test.h"

#include "base/diag.h"
#include "orchard/orchard.h"
#include "reading/reading.h"

enum { NAMES_MOST = 64, NAME_BYTES = 48, LINE_BYTES = 4096 };

struct names {
    size_t count;
    char list[NAMES_MOST][NAME_BYTES];
    bool required[NAMES_MOST];
};

static void add_name(struct names *names, size_t length, const char *text, bool required)
{
    assert_true(names->count < NAMES_MOST && length > 0 && length < NAME_BYTES);
    memcpy(names->list[names->count], text, length);
    names->list[names->count][length] = '\0';
    names->required[names->count++] = required;
}

/* Names of a first cell: those in backticks, or the word itself. */
static void add_first_cell(struct names *names, const char *line, bool required)
{
    const char *end = strstr(line + 2, " |");
    const char *at = strchr(line, '`');
    assert_non_null(end);
    if (at == NULL || at > end) {
        add_name(names, (size_t)(end - line) - 2, line + 2, required);
        return;
    }
    while (at != NULL && at < end) {
        const char *close = strchr(at + 1, '`');
        assert_non_null(close);
        add_name(names, (size_t)(close - at) - 1, at + 1, required);
        at = strchr(close + 1, '`');
    }
}

/* The names in the table of docs/tables.md that stands under `heading` and begins with `head`. */
static struct names documented(const char *heading, const char *head)
{
    struct names names = {0};
    char line[LINE_BYTES];
    bool under = false, inside = false;
    FILE *page = fopen("docs/tables.md", "r");
    assert_non_null(page); /* tests are run in the root of the repository */
    while (fgets(line, sizeof line, page) != NULL) {
        assert_non_null(strchr(line, '\n'));
        line[strcspn(line, "\n")] = '\0';
        if (strncmp(line, "## ", 3) == 0)
            under = strcmp(line + 3, heading) == 0;
        if (line[0] != '|')
            inside = false;
        else if (under && strncmp(line, head, strlen(head)) == 0)
            inside = true;
        else if (inside && strncmp(line, "| ---", 5) != 0)
            add_first_cell(&names, line, strstr(line, "` | yes |") != NULL);
    }
    assert_int_equal(fclose(page), 0);
    if (names.count == 0)
        fail_msg("docs/tables.md has no table '%s' under '%s'", head, heading);
    return names;
}

static size_t find(const struct names *names, const char *name)
{
    size_t i = 0;
    while (i < names->count && strcmp(names->list[i], name) != 0)
        i++;
    return i;
}

/* Each of one in the other, both ways; an error is told for each that is not. */
static void assert_same(const char *what, const struct names *page, const struct names *reader)
{
    size_t faults = 0;
    for (size_t i = 0; i < page->count; i++)
        if (find(reader, page->list[i]) == reader->count && ++faults)
            print_error("%s: '%s' is documented and not read\n", what, page->list[i]);
    for (size_t i = 0; i < reader->count; i++)
        if (find(page, reader->list[i]) == page->count && ++faults)
            print_error("%s: '%s' is read and not documented\n", what, reader->list[i]);
    for (size_t i = 0; i < page->count; i++)
        for (size_t j = 0; j < i; j++)
            if (strcmp(page->list[i], page->list[j]) == 0 && ++faults)
                print_error("%s: '%s' is documented twice\n", what, page->list[i]);
    assert_int_equal(faults, 0);
}

/* ---- what the readers tell ------------------------------------------------------------------ */

struct fixture {
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
};

static void refused(size_t bytes)
{
    fail_msg("no memory for %zu bytes", bytes);
}

static void set_up(struct fixture *fixture)
{
    arena_init(&fixture->arena, refused);
    orchard_init(&fixture->orchard, &fixture->arena);
    diags_init(&fixture->diags, &fixture->arena);
}

/* The list in the one message of a code: "... expected one of a, b, c; ...". */
static struct names told(const struct fixture *fixture, const char *code)
{
    static const char before[] = "expected one of ";
    struct names names = {0};
    for (size_t i = 0; i < fixture->diags.count; i++) {
        const char *at = strstr(fixture->diags.list[i].message, before);
        if (strcmp(fixture->diags.list[i].code, code) != 0)
            continue;
        assert_non_null(at);
        at += sizeof before - 1;
        for (;;) {
            size_t length = strcspn(at, ",;");
            add_name(&names, length, at, false);
            if (at[length] != ',')
                return names;
            at += length + 2;
        }
    }
    fail_msg("nothing was told as %s", code);
    return names;
}

enum reader { READ_PROGRAM, READ_WEATHER, READ_RATES };

static struct names told_of(enum reader reader, const char *text, const char *code)
{
    struct fixture fixture;
    struct memory_source memory;
    struct source source = source_of_memory("test", &memory, strlen(text), text);
    set_up(&fixture);
    switch (reader) {
    case READ_PROGRAM:
        assert_true(read_program(&fixture.orchard, &source, &fixture.diags));
        break;
    case READ_WEATHER:
        assert_true(read_weather(&fixture.orchard, "HOLM", &source, &fixture.diags));
        break;
    case READ_RATES:
        assert_true(read_table(&fixture.orchard, "rates.csv", &source, false, &fixture.diags));
        break;
    }
    struct names names = told(&fixture, code);
    arena_release(&fixture.arena);
    return names;
}

/* ---- tests ---------------------------------------------------------------------------------- */

static void every_column_of_every_table_is_documented_as_it_is_read(void **state)
{
    (void)state;
    size_t columns = 0;
    for (const char *const *table = reading_tables; *table != NULL; table++) {
        struct names page = documented(*table, "| column | required |"), reader = {0};
        struct column_info column;
        for (size_t i = 0; reading_column(*table, i, &column); i++)
            add_name(&reader, strlen(column.name), column.name, column.required);
        assert_same(*table, &page, &reader);
        for (size_t i = 0; i < page.count; i++)
            if (page.required[i] != reader.required[find(&reader, page.list[i])])
                fail_msg("%s: '%s' is required on one side only", *table, page.list[i]);
        columns += page.count;
    }
    assert_true(columns > 100);
}

static void the_columns_of_weather_are_documented(void **state)
{
    (void)state;
    struct names page = documented("weather/STATION.csv", "| column | required |");
    struct names reader = told_of(READ_WEATHER, "zzzzzzzz\n", "unknown-column");
    assert_same("weather", &page, &reader);
}

static void every_kind_of_note_is_documented(void **state)
{
    (void)state;
    struct names page = documented("notes.csv", "| note | about |"), kinds = {0};
    for (size_t i = 0; i < NOTES; i++)
        add_name(&kinds, strlen(note_names[i]), note_names[i], false);
    assert_same("kinds of notes", &page, &kinds);
}

static void every_rate_is_documented(void **state)
{
    (void)state;
    struct names page = documented("rates.csv", "| `rate` | what");
    struct names reader = told_of(READ_RATES, "rate,value\nzzzzzzzz,1\n", "unknown-word");
    assert_same("rates", &page, &reader);
}

static void every_key_of_the_settings_is_documented(void **state)
{
    (void)state;
    struct names page = documented("program.json", "| key | default |");
    struct names reader = told_of(READ_PROGRAM, "{\"zzzzzzzz\": 1}", "unknown-key");
    assert_same("program.json", &page, &reader);
}

static void every_key_of_a_clock_is_documented(void **state)
{
    (void)state;
    struct names page = documented("program.json", "| key | meaning |");
    struct names reader =
        told_of(READ_PROGRAM, "{\"clocks\": {\"own\": {\"zzzzzzzz\": 1}}}", "unknown-key");
    assert_same("clocks", &page, &reader);
}

static void every_shipped_clock_is_documented(void **state)
{
    (void)state;
    struct fixture fixture;
    set_up(&fixture);
    struct names page = documented("program.json", "| clock | what it is |"), shipped = {0};
    const struct program *program = &fixture.orchard.program;
    for (size_t i = 0; i < program->clock_count; i++)
        add_name(&shipped, strlen(program->clocks[i].name), program->clocks[i].name, false);
    assert_same("shipped clocks", &page, &shipped);
    arena_release(&fixture.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_column_of_every_table_is_documented_as_it_is_read),
        cmocka_unit_test(the_columns_of_weather_are_documented),
        cmocka_unit_test(every_kind_of_note_is_documented),
        cmocka_unit_test(every_rate_is_documented),
        cmocka_unit_test(every_key_of_the_settings_is_documented),
        cmocka_unit_test(every_key_of_a_clock_is_documented),
        cmocka_unit_test(every_shipped_clock_is_documented),
    };
    return cmocka_run_group_tests_name("tables documented", tests, NULL, NULL) != 0;
}
