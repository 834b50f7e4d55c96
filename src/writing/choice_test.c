#include "writing/choice.h"

#include "base/test.h"

struct world {
    struct arena arena;
    struct sheet sheet;
    struct text out;
};

enum { HEADING, TAG, DAY, GRAFTS, CHANCE, SEEN_TEXT, SEEN, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DAY] = {"day", NULL, CELL_DAY, 1, COLUMN_EVERYWHERE},
    [GRAFTS] = {"grafts", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CHANCE] = {"chance", "alive", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [SEEN_TEXT] = {"seen", "seen", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [SEEN] = {"seen", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};
static const struct sheet_style as_is = {.digits = -1};

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    sheet_init(&world.sheet, &world.arena, "conetide trial 1", COLUMNS, columns);
    text_init(&world.out, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static void add(struct sheet *sheet, const char *tag, double grafts, const char *seen)
{
    union cell *row = sheet_row(sheet);
    row[HEADING].text = "Hawkfell";
    row[TAG].text = tag;
    row[DAY].day = grafts > 1 ? day_from_civil(2028, 3, 2) : DAY_NONE;
    row[GRAFTS].number = grafts;
    row[CHANCE].number = grafts / 10;
    row[SEEN_TEXT].text = "often";
    row[SEEN].text = seen;
}

static void fill(struct sheet *sheet)
{
    add(sheet, "T1", 1, "a");
    add(sheet, "T2", 2, NULL);
    add(sheet, "T3, T4", 3, "b");
}

/* CSV of what is left, or with `text` the table. */
static const char *left_of(struct world *world, struct choice choice, bool text)
{
    struct sheet left = choice_take(&world->sheet, &choice);
    text_clear(&world->out);
    if (text)
        sheet_write_text(&left, as_is, &world->out);
    else
        sheet_write_csv(&left, as_is, &world->out);
    return world->out.bytes;
}

static void columns_stand_in_the_order_asked_for(void **state)
{
    struct world *world = *state;
    const char *const names[] = {"seen", "tag", "strange"};
    fill(&world->sheet);
    struct choice choice = {.columns = names, .column_count = 3};
    assert_true(choice_fits(&world->sheet, &choice));
    assert_string_equal(left_of(world, choice, false), "seen,tag\na,T1\n,T2\nb,\"T3, T4\"\n");
    assert_string_equal(left_of(world, choice, true), "seen  tag\n"
                                                      "----  ------\n"
                                                      "a     T1\n"
                                                      "-     T2\n"
                                                      "b     T3, T4\n");
}

static void names_are_those_of_csv(void **state)
{
    struct world *world = *state;
    assert_int_equal(choice_find(&world->sheet, "seen"), SEEN);
    assert_int_equal(choice_find(&world->sheet, "heading"), COLUMNS);
    const char *const heading[] = {"heading"};
    struct choice choice = {.columns = heading, .column_count = 1};
    assert_false(choice_fits(&world->sheet, &choice));
    assert_false(choice_is_all(&choice));
    assert_true(choice_is_all(&(struct choice){0}));
}

static void rows_are_those_with_one_of_the_values_in_every_column_tested(void **state)
{
    struct world *world = *state;
    static const struct {
        const char *column, *values, *tags;
    } cases[] = {
        {"tag", "T1,T2", "T1 T2 "},
        {"tag", "T3, T4", "T3, T4 "}, /* the value itself has a comma */
        {"tag", "t1", ""},
        {"tag", "", ""},
        {"grafts", "2.0,3", "T2 T3, T4 "},
        {"chance", "0.1", "T1 "},
        {"chance", "0.100", "T1 "},
        {"day", "2028-03-02", "T2 T3, T4 "},
        {"day", "", "T1 "},
        {"seen", "", "T2 "},
        {"seen", ",b,", "T3, T4 "},
    };
    fill(&world->sheet);
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct choice_test test = {cases[i].column, cases[i].values};
        struct sheet left =
            choice_take(&world->sheet, &(struct choice){.tests = &test, .test_count = 1});
        text_clear(&world->out);
        for (size_t r = 0; r < left.row_count; r++)
            text_addf(&world->out, "%s ", left.cells[r * COLUMNS + TAG].text);
        assert_string_equal(world->out.bytes, cases[i].tags);
    }
    const struct choice_test both[] = {{"day", "2028-03-02"}, {"seen", "b"}};
    struct choice choice = {.tests = both, .test_count = 2};
    assert_int_equal(choice_take(&world->sheet, &choice).row_count, 1);
    const struct choice_test strange = {"strange", "b"};
    assert_false(choice_fits(&world->sheet, &(struct choice){.tests = &strange, .test_count = 1}));
}

static void text_keeps_the_rows_for_people_where_they_have_the_column(void **state)
{
    struct world *world = *state;
    struct choice_test test = {"tag", "T1,T2"};
    fill(&world->sheet);
    add(sheet_shown(&world->sheet), "T2", 2, NULL);
    add(sheet_shown(&world->sheet), "T3, T4", 3, NULL);
    struct choice choice = {.tests = &test, .test_count = 1};
    assert_string_equal(left_of(world, choice, true),
                        "tag  day             grafts  alive  seen\n"
                        "---  --------------  ------  -----  -----\n"
                        "Hawkfell\n"
                        "T2   Thu 2 Mar 2028       2   20 %  often\n");
    assert_null(strstr(world->out.bytes, "T1"));
    assert_non_null(strstr(world->out.bytes, "often"));
    test = (struct choice_test){"seen", "a,b"}; /* which people do not see */
    assert_string_equal(left_of(world, choice, true),
                        "tag     day             grafts  chance  seen\n"
                        "------  --------------  ------  ------  ----\n"
                        "T1      -                    1    10 %  a\n"
                        "T3, T4  Thu 2 Mar 2028       3    30 %  b\n");
}

static void words_stand_between_commas(void **state)
{
    struct world *world = *state;
    size_t count;
    const char *const *words = choice_words(" tag, day of ,,  ,x", &world->arena, &count);
    assert_int_equal(count, 3);
    assert_string_equal(words[0], "tag");
    assert_string_equal(words[1], "day of");
    assert_string_equal(words[2], "x");
    (void)choice_words("", &world->arena, &count);
    assert_int_equal(count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(columns_stand_in_the_order_asked_for, setup, teardown),
        cmocka_unit_test_setup_teardown(names_are_those_of_csv, setup, teardown),
        cmocka_unit_test_setup_teardown(
            rows_are_those_with_one_of_the_values_in_every_column_tested, setup, teardown),
        cmocka_unit_test_setup_teardown(text_keeps_the_rows_for_people_where_they_have_the_column,
                                        setup, teardown),
        cmocka_unit_test_setup_teardown(words_stand_between_commas, setup, teardown),
    };
    return cmocka_run_group_tests_name("choice", tests, NULL, NULL) != 0;
}
