#include "base/diag.h"

#include "base/test.h"

struct world {
    struct arena arena;
    struct diags diags;
};

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    diags_init(&world.diags, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static struct diags *diags_of(void **state)
{
    struct world *world = *state;
    return &world->diags;
}

static const char *written(void **state)
{
    struct world *world = *state;
    struct text out;
    text_init(&out, &world->arena);
    diags_write(&world->diags, &out);
    return out.bytes;
}

static struct place at(const char *file, unsigned line, unsigned cell)
{
    return (struct place){file, line, cell};
}

static void nothing_wrong_writes_nothing(void **state)
{
    diags_sort(diags_of(state));
    assert_string_equal(written(state), "");
    assert_int_equal(diags_of(state)->errors, 0);
    assert_int_equal(diags_of(state)->warnings, 0);
    assert_int_equal(diags_of(state)->most, DIAG_MOST);
}

static void each_fault_is_one_line_with_its_place_and_code(void **state)
{
    struct diags *diags = diags_of(state);
    diag_error(diags, at("grafts.csv", 14, 3), "bad-date", "found %s, expected a day",
               diag_quote(diags, "9/3/27"));
    diag_warning(diags, at("grafts.csv", 14, 0), "no-stock", "row %d has no stock", 13);
    diag_error(diags, at("weather.csv", 0, 0), "no-rows", "the file has no rows");
    diag_error(diags, at("weather.csv", 0, 9), "no-rows", "the file has no rows");
    diag_error(diags, at(NULL, 4, 2), "no-site", "no site is known");
    assert_string_equal(written(state),
                        "grafts.csv:14:3: error: found '9/3/27', expected a day [bad-date]\n"
                        "grafts.csv:14: warning: row 13 has no stock [no-stock]\n"
                        "weather.csv: error: the file has no rows [no-rows]\n"
                        "weather.csv: error: the file has no rows [no-rows]\n"
                        "error: no site is known [no-site]\n");
    assert_int_equal(diags->errors, 4);
    assert_int_equal(diags->warnings, 1);
    assert_int_equal(diags->dropped, 0);
}

static void no_text_of_the_user_reaches_the_terminal_raw(void **state)
{
    struct diags *diags = diags_of(state);
    diag_error(diags, at("gr\x1b[2Jafts\n.csv", 1, 0), "odd", "found %s and\n%s",
               diag_quote(diags, "\x1b]0;x\x07"), "\xe2\x80\xae\x9b");
    assert_string_equal(written(state), "gr\\x1b[2Jafts\\x0a.csv:1: error: found "
                                        "'\\x1b]0;x\\x07' and\\x0a\\u{202E}\\x9b [odd]\n");
}

static void quotes_are_cut_between_characters(void **state)
{
    struct diags *diags = diags_of(state);
    assert_string_equal(diag_quote(diags, "abc"), "'abc'");
    assert_string_equal(diag_quote(diags, ""), "''");
    assert_string_equal(diag_quote(diags, NULL), "nothing");

    const char *sixty = "123456789 123456789 123456789 123456789 123456789 123456789 ";
    assert_string_equal(diag_quote(diags, sixty), arena_printf(diags->arena, "'%s'", sixty));
    assert_string_equal(diag_quote(diags, arena_printf(diags->arena, "%sx", sixty)),
                        arena_printf(diags->arena, "'%.59s…'", sixty));

    char umlauts[2 * 61 + 1] = "", wide[3 * 31 + 1] = "";
    for (size_t i = 0; i < 61; i++)
        strcat(umlauts, "ä");
    for (size_t i = 0; i < 31; i++)
        strcat(wide, "松");
    assert_string_equal(diag_quote(diags, umlauts),
                        arena_printf(diags->arena, "'%.*s…'", 2 * 59, umlauts));
    assert_string_equal(diag_quote(diags, wide),
                        arena_printf(diags->arena, "'%.*s…'", 3 * 29, wide));
}

static void every_quote_is_short_and_well_formed(void **state)
{
    struct diags *diags = diags_of(state);
    char value[201];
    for (unsigned seed = 0; seed < 3000; seed++) {
        unsigned random = seed * 2654435761u + 1;
        for (size_t i = 0; i < 200; i++) {
            random = random * 1664525u + 1013904223u;
            value[i] = (char)((random >> 24) | 1u);
        }
        value[200] = '\0';
        const char *quote = diag_quote(diags, value);
        assert_true(text_is_utf8(strlen(quote), quote, NULL));
        assert_true(text_columns(quote) <= 62);
        assert_true(text_columns(quote) >= 50);
    }
}

static void faults_are_sorted_by_place_level_code_and_message(void **state)
{
    static const struct diag sorted[] = {
        {{NULL, 0, 0}, DIAG_ERROR, "a", "a"},
        {{NULL, 0, 0}, DIAG_WARNING, "a", "a"},
        {{"B.csv", 9, 9}, DIAG_ERROR, "a", "a"},
        {{"a.csv", 0, 0}, DIAG_ERROR, "a", "a"},
        {{"a.csv", 2, 0}, DIAG_ERROR, "z", "z"},
        {{"a.csv", 2, 0}, DIAG_WARNING, "a", "a"},
        {{"a.csv", 2, 1}, DIAG_ERROR, "a", "b"},
        {{"a.csv", 2, 1}, DIAG_ERROR, "b", "a"},
        {{"a.csv", 2, 1}, DIAG_ERROR, "b", "a b"},
        {{"a.csv", 2, 1}, DIAG_ERROR, "b", "é"},
        {{"a.csv", 10, 0}, DIAG_ERROR, "a", "a"},
        {{"a.csv", 4000000000u, 0}, DIAG_ERROR, "a", "a"},
        {{"b.csv", 1, 1}, DIAG_ERROR, "a", "a"},
    };
    struct diags *diags = diags_of(state);
    for (size_t step = 1; step < COUNT(sorted); step++) {
        diags_init(diags, diags->arena);
        for (size_t i = 0, next = 0; i < COUNT(sorted); i++, next = (next + step) % COUNT(sorted)) {
            const struct diag *diag = &sorted[next];
            /* a copy of the file name: names are compared, not pointers */
            struct place place = diag->place;
            if (place.file)
                place.file = arena_printf(diags->arena, "%s", place.file);
            if (diag->level == DIAG_ERROR)
                diag_error(diags, place, diag->code, "%s", diag->message);
            else
                diag_warning(diags, place, diag->code, "%s", diag->message);
        }
        diags_sort(diags);
        assert_int_equal(diags->count, COUNT(sorted));
        for (size_t i = 0; i < COUNT(sorted); i++) {
            const struct diag *got = &diags->list[i], *want = &sorted[i];
            if (want->place.file)
                assert_string_equal(got->place.file, want->place.file);
            else
                assert_null(got->place.file);
            assert_int_equal(got->place.line, want->place.line);
            assert_int_equal(got->place.cell, want->place.cell);
            assert_int_equal(got->level, want->level);
            assert_string_equal(got->code, want->code);
            assert_string_equal(got->message, want->message);
        }
    }
}

static void the_first_thousand_of_each_file_are_kept_and_all_counted(void **state)
{
    struct diags *diags = diags_of(state);
    for (unsigned line = 1; line <= 100000; line++) {
        diag_error(diags, at("a.csv", line, 0), "odd", "odd");
        diag_error(diags, at(line % 2 ? "b.csv" : NULL, line, 0), "odd", "odd");
    }
    diag_warning(diags, at("a.csv", 7, 0), "dull", "dull");
    assert_int_equal(diags->errors, 200000);
    assert_int_equal(diags->warnings, 1);
    assert_int_equal(diags->count, 3 * DIAG_MOST + 1);
    assert_int_equal(diags->dropped, 200000 - 3 * DIAG_MOST);

    diags_sort(diags);
    assert_null(diags->list[0].place.file);
    assert_int_equal(diags->list[DIAG_MOST].place.line, 1);
    assert_string_equal(diags->list[DIAG_MOST].place.file, "a.csv");
    assert_int_equal(diags->list[2 * DIAG_MOST].place.line, DIAG_MOST);
}

static void what_was_not_kept_is_told_in_a_last_line(void **state)
{
    struct diags *diags = diags_of(state);
    diags->most = 1;
    diag_warning(diags, at("a.csv", 1, 0), "odd", "first");
    diag_warning(diags, at("a.csv", 2, 0), "odd", "second");
    assert_string_equal(written(state), "a.csv:1: warning: first [odd]\n"
                                        "1 further fault is not shown\n");
    diag_warning(diags, at("a.csv", 3, 0), "odd", "third");
    /* warnings leave the errors their room */
    diag_error(diags, at("a.csv", 4, 0), "bad", "fourth");
    diag_error(diags, at("a.csv", 5, 0), "bad", "fifth");
    assert_string_equal(written(state), "a.csv:1: warning: first [odd]\n"
                                        "a.csv:4: error: fourth [bad]\n"
                                        "3 further faults are not shown\n");
    assert_int_equal(diags->errors, 2);
    assert_int_equal(diags->warnings, 3);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(nothing_wrong_writes_nothing),
        TEST(each_fault_is_one_line_with_its_place_and_code),
        TEST(no_text_of_the_user_reaches_the_terminal_raw),
        TEST(quotes_are_cut_between_characters),
        TEST(every_quote_is_short_and_well_formed),
        TEST(faults_are_sorted_by_place_level_code_and_message),
        TEST(the_first_thousand_of_each_file_are_kept_and_all_counted),
        TEST(what_was_not_kept_is_told_in_a_last_line),
    };
    return cmocka_run_group_tests_name("diag", tests, NULL, NULL) != 0;
}
