#include "writing/sheet.h"

#include "base/test.h"

#include <cjson/cJSON.h>

struct world {
    struct arena arena;
    struct sheet sheet;
    struct text out;
};

enum { TAG, DAY, GRAFTS, SUM, LOW, REACH, CHANCE, SEASON, REMARK, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DAY] = {"bag_by_p50", "bag by", CELL_DAY, 1, COLUMN_EVERYWHERE},
    [GRAFTS] = {"grafts", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SUM] = {"heat_sum", "heat sum", CELL_HEAT, 2, COLUMN_EVERYWHERE},
    [LOW] = {"tmin_c", NULL, CELL_TEMPERATURE, 1, COLUMN_EVERYWHERE},
    [REACH] = {"reach_m", NULL, CELL_LENGTH, 1, COLUMN_EVERYWHERE},
    [CHANCE] = {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [SEASON] = {"season", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [REMARK] = {"remark", "remark", CELL_TEXT, 0, COLUMN_BELOW},
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

static void fill_two_rows(struct sheet *sheet)
{
    union cell *row = sheet_row(sheet);
    row[TAG].text = "OAK-017";
    row[DAY].day = day_from_civil(2028, 3, 2);
    row[GRAFTS].number = 12;
    row[SUM].number = 100.126;
    row[LOW].number = -0.04;
    row[REACH].number = 3.048;
    row[CHANCE].number = 0.8746;
    row[SEASON].text = "2028 (first spring)";
    row = sheet_row(sheet);
    row[TAG].text = "B-2";
    row[DAY].day = DAY_NEVER;
    row[SEASON].text = "2029 (second spring)";
    row[REMARK].text = "label not found";
}

static void the_three_forms_tell_the_same(void **state)
{
    struct world *world = *state;
    fill_two_rows(&world->sheet);

    sheet_write_csv(&world->sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "tag,bag_by_p50,grafts,heat_sum,tmin_c,reach_m,chance\n"
                                          "OAK-017,2028-03-02,12,100.13,0.0,3.0,0.875\n"
                                          "B-2,not reached,,,,,\n");

    text_clear(&world->out);
    sheet_write_json(&world->sheet, as_is, &world->out);
    assert_string_equal(
        world->out.bytes,
        "{\"schema\":\"conetide trial 1\",\"rows\":[\n"
        "{\"tag\":\"OAK-017\",\"bag_by_p50\":\"2028-03-02\",\"grafts\":12,\"heat_sum\":100.13,"
        "\"tmin_c\":0,\"reach_m\":3,\"chance\":0.875},\n"
        "{\"tag\":\"B-2\",\"bag_by_p50\":\"not reached\",\"grafts\":null,\"heat_sum\":null,"
        "\"tmin_c\":null,\"reach_m\":null,\"chance\":null}\n]}\n");

    text_clear(&world->out);
    text_add(&world->sheet.head, "Trial, as of 2027-02-19.\n");
    text_add(&world->sheet.foot, "Nothing measured.\n");
    sheet_write_text(&world->sheet, as_is, &world->out);
    assert_string_equal(
        world->out.bytes,
        "Trial, as of 2027-02-19.\n\n"
        "tag      bag by          grafts  heat sum [C day]  tmin [C]  reach [m]  chance\n"
        "-------  --------------  ------  ----------------  --------  ---------  ------\n"
        "2028 (first spring)\n"
        "OAK-017  Thu 2 Mar 2028      12            100.13       0.0        3.0    87 %\n"
        "\n"
        "2029 (second spring)\n"
        "B-2      not reached          -                 -         -          -       -\n"
        "    remark: label not found\n"
        "\nNothing measured.\n");
}

static void people_may_read_fahrenheit_and_feet_but_data_stay_metric(void **state)
{
    struct world *world = *state;
    union cell *row = sheet_row(&world->sheet);
    row[SUM].number = 100;
    row[LOW].number = 100;
    row[REACH].number = 3.048;
    struct sheet_style us = {.units_us = true, .digits = 0};
    sheet_write_text(&world->sheet, us, &world->out);
    assert_non_null(strstr(world->out.bytes, "heat sum [F day]  tmin [F]  reach [ft]"));
    assert_non_null(strstr(world->out.bytes, "             180       212        10.0"));

    text_clear(&world->out);
    sheet_write_csv(&world->sheet, us, &world->out);
    assert_non_null(strstr(world->out.bytes, "\n,,,100,100,3.0,\n"));
}

static void an_empty_sheet_says_so_and_stays_well_formed(void **state)
{
    struct world *world = *state;
    sheet_write_text(&world->sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "none\n");
    text_clear(&world->out);
    sheet_write_json(&world->sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "{\"schema\":\"conetide trial 1\",\"rows\":[]}\n");
}

static size_t widest_line(const char *bytes, struct arena *arena)
{
    size_t widest = 0;
    while (*bytes) {
        size_t length = strcspn(bytes, "\n");
        size_t line = text_columns(arena_text(arena, length, bytes));
        widest = line > widest ? line : widest;
        bytes += length + (bytes[length] == '\n');
    }
    return widest;
}

static void a_table_that_is_too_wide_breaks_its_cells_and_loses_nothing(void **state)
{
    struct world *world = *state;
    static const struct sheet_column two[] = {
        {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
        {"words", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    };
    struct sheet sheet;
    sheet_init(&sheet, &world->arena, "two", COUNT(two), two);
    union cell *row = sheet_row(&sheet);
    row[0].text = "north row 3";
    row[1].text = "open since about 12 February; likely to close about 2 March";
    struct sheet_style narrow = {.columns = 40, .digits = -1};
    sheet_write_text(&sheet, narrow, &world->out);
    assert_string_equal(world->out.bytes, "tree         words\n"
                                          "-----------  ---------------------------\n"
                                          "north row 3  open since about 12\n"
                                          "             February; likely to close\n"
                                          "             about 2 March\n");
    assert_true(widest_line(world->out.bytes, &world->arena) <= 40);
}

static void rows_for_people_stand_in_for_the_rows_of_data(void **state)
{
    struct world *world = *state;
    fill_two_rows(&world->sheet);
    union cell *row = sheet_row(sheet_shown(&world->sheet));
    row[TAG].text = "both";
    assert_ptr_equal(sheet_shown(&world->sheet), world->sheet.shown);
    sheet_write_text(&world->sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\nboth"));
    assert_null(strstr(world->out.bytes, "OAK-017"));
    text_clear(&world->out);
    sheet_write_csv(&world->sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\nOAK-017,"));
    assert_null(strstr(world->out.bytes, "both"));
}

static void a_lower_heading_is_told_again_under_a_new_upper_one(void **state)
{
    struct world *world = *state;
    static const struct sheet_column three[] = {
        {"site", NULL, CELL_TEXT, 0, COLUMN_HEADING},
        {"spring", NULL, CELL_TEXT, 0, COLUMN_HEADING},
        {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    };
    static const char *const cells[][3] = {
        {"Holm", "first", "A1"}, {"Holm", "second", "A2"}, {"Ridge", "second", "A3"}};
    struct sheet sheet;
    sheet_init(&sheet, &world->arena, "three", COUNT(three), three);
    for (size_t i = 0; i < COUNT(cells); i++) {
        union cell *row = sheet_row(&sheet);
        for (size_t k = 0; k < COUNT(three); k++)
            row[k].text = cells[i][k];
    }
    sheet_write_text(&sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "tag\n---\n"
                                          "Holm\nfirst\nA1\n\n"
                                          "second\nA2\n\n"
                                          "Ridge\nsecond\nA3\n");
}

/* Nothing that a terminal or a printer obeys. */
static bool is_harmless(const char *bytes)
{
    for (const unsigned char *at = (const unsigned char *)bytes; *at; at++)
        if ((*at < 0x20 && *at != '\n') || *at == 0x7f || (at[0] == 0xc2 && at[1] < 0xa0))
            return false;
    return true;
}

static const char *const hostile[] = {
    "=HYPERLINK(\"http://x\",\"y\")",
    "@SUM(1)",
    "+1",
    "-2",
    "\t=1",
    "\x1b[2J",
    "a\rb",
    "two\nlines",
    "\xc2\x9b"
    "31m",
    "\xe2\x80\xae"
    "evil",
    "'quoted'",
    "'=1",
    "''=1",
    " padded ",
    "comma, and \"quotes\"",
    "\"",
    "'",
    "#note",
    "\xe5\xae\xa4\xe6\x9e\x97",
    "</script>&",
};

static void hostile_text_is_harmless_on_paper(void **state)
{
    struct world *world = *state;
    for (size_t i = 0; i < COUNT(hostile); i++) {
        union cell *row = sheet_row(&world->sheet);
        row[TAG].text = row[SEASON].text = row[REMARK].text = hostile[i];
    }
    sheet_row(&world->sheet)[TAG].text = "bad \xff byte";
    sheet_write_text(&world->sheet, as_is, &world->out);
    assert_true(is_harmless(world->out.bytes));
    assert_true(text_is_utf8(world->out.length, world->out.bytes, NULL));
    assert_non_null(strstr(world->out.bytes, "\\x1b[2J"));
    assert_non_null(strstr(world->out.bytes, "bad \\xff byte"));

    text_clear(&world->out);
    sheet_write_json(&world->sheet, as_is, &world->out);
    cJSON *whole = cJSON_Parse(world->out.bytes);
    const cJSON *rows = cJSON_GetObjectItemCaseSensitive(whole, "rows");
    for (size_t i = 0; i < COUNT(hostile); i++) {
        const cJSON *tag =
            cJSON_GetObjectItemCaseSensitive(cJSON_GetArrayItem(rows, (int)i), "tag");
        assert_string_equal(tag->valuestring, hostile[i]);
    }
    cJSON_Delete(whole);
}

/* A cell as RFC 4180 readers and then our own rule read it. */
static const char *read_back(struct arena *arena, const char *csv)
{
    struct text value;
    text_init(&value, arena);
    if (*csv == '"') {
        for (csv++; !(csv[0] == '"' && csv[1] != '"'); csv++) {
            csv += csv[0] == '"';
            text_add_bytes(&value, 1, csv);
        }
        assert_string_equal(csv, "\"");
    } else {
        assert_null(strpbrk(csv, ",\"\r\n"));
        text_add(&value, csv);
    }
    const char *guarded = value.bytes + strspn(value.bytes, "'");
    bool ours = guarded > value.bytes && *guarded && strchr("=+-@\t", *guarded);
    return value.bytes + ours;
}

static void csv_cells_read_back_as_they_were(void **state)
{
    struct world *world = *state;
    for (size_t i = 0; i < COUNT(hostile); i++) {
        text_clear(&world->out);
        csv_add_text(&world->out, hostile[i], false);
        const char *bare = world->out.bytes + (world->out.bytes[0] == '"');
        assert_null(strchr("=+-@\t", *bare));
        assert_string_equal(read_back(&world->arena, world->out.bytes), hostile[i]);
    }
    text_clear(&world->out);
    csv_add_text(&world->out, "=1", true);
    assert_string_equal(world->out.bytes, "=1");
    text_clear(&world->out);
    csv_add_text(&world->out, "=1,2", false);
    assert_string_equal(world->out.bytes, "\"'=1,2\"");
    text_clear(&world->out);
    csv_add_text(&world->out, " a", false);
    assert_string_equal(world->out.bytes, "\" a\"");
}

static void random_csv_cells_read_back_as_they_were(void **state)
{
    struct world *world = *state;
    static const char letters[] = "''==+-@\t,\"\n\r a";
    uint32_t seed = 7;
    for (int i = 0; i < 5000; i++) {
        char value[8] = "";
        for (size_t k = 0; k < (size_t)i % 7; k++) {
            seed = seed * 1664525u + 1013904223u;
            value[k] = letters[(seed >> 16) % (sizeof letters - 1)];
        }
        text_clear(&world->out);
        csv_add_text(&world->out, value, false);
        assert_string_equal(read_back(&world->arena, world->out.bytes), value);
    }
}

static void numbers_below_zero_never_get_an_apostrophe(void **state)
{
    struct world *world = *state;
    sheet_row(&world->sheet)[LOW].number = -7.25;
    sheet_write_csv(&world->sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\n,,,,-7.2,,\n"));
}

static void a_lone_missing_cell_is_still_a_row(void **state)
{
    struct world *world = *state;
    static const struct sheet_column one[] = {{"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE}};
    struct sheet sheet;
    sheet_init(&sheet, &world->arena, "one", COUNT(one), one);
    sheet_row(&sheet);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "tag\n\"\"\n");
}

static jmp_buf out_of_memory;
static size_t allocations_left;
static long held;

static void *scarce(size_t size)
{
    if (allocations_left == 0)
        return NULL;
    allocations_left--;
    held++;
    return malloc(size);
}

static void give_back(void *memory)
{
    held -= memory != NULL;
    free(memory);
}

static void refused(size_t bytes)
{
    (void)bytes;
    longjmp(out_of_memory, 1);
}

static void json_without_memory_calls_the_hook_and_leaks_nothing(void **state)
{
    struct world *world = *state;
    world->arena.refused = refused;
    fill_two_rows(&world->sheet);
    cJSON_InitHooks(&(cJSON_Hooks){.malloc_fn = scarce, .free_fn = give_back});

    volatile size_t given = 0;
    if (setjmp(out_of_memory))
        given++;
    assert_int_equal(held, 0);
    allocations_left = given;
    text_clear(&world->out);
    sheet_write_json(&world->sheet, as_is, &world->out);
    cJSON_InitHooks(NULL);
    assert_true(given > 10);
    assert_int_equal(held, 0);
}

int main(void)
{
#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(the_three_forms_tell_the_same),
        TEST(people_may_read_fahrenheit_and_feet_but_data_stay_metric),
        TEST(an_empty_sheet_says_so_and_stays_well_formed),
        TEST(a_table_that_is_too_wide_breaks_its_cells_and_loses_nothing),
        TEST(rows_for_people_stand_in_for_the_rows_of_data),
        TEST(a_lower_heading_is_told_again_under_a_new_upper_one),
        TEST(hostile_text_is_harmless_on_paper),
        TEST(csv_cells_read_back_as_they_were),
        TEST(random_csv_cells_read_back_as_they_were),
        TEST(numbers_below_zero_never_get_an_apostrophe),
        TEST(a_lone_missing_cell_is_still_a_row),
        TEST(json_without_memory_calls_the_hook_and_leaks_nothing),
    };
    return cmocka_run_group_tests_name("sheet", tests, NULL, NULL) != 0;
}
