#include "writing/workbook.h"

#include "base/test.h"
#include "writing/words.h"

struct world {
    struct arena arena;
    struct sheet sheet;
    struct text out;
};

enum { TAG, DAY, GRAFTS, LOW, WORDS, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DAY] = {"day", NULL, CELL_DAY, 1, COLUMN_DATA_ONLY},
    [GRAFTS] = {"grafts", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [LOW] = {"low_c", NULL, CELL_TEMPERATURE, 1, COLUMN_EVERYWHERE},
    [WORDS] = {"words", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
};

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    sheet_init(&world.sheet, &world.arena, "conetide trial of what a name may hold in it 12",
               COLUMNS, columns);
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

static void row_is(struct world *world, const char *row)
{
    if (!strstr(world->out.bytes, row))
        fail_msg("no row %s in %s", row, world->out.bytes);
}

static void every_cell_is_declared_as_what_it_is(void **state)
{
    struct world *world = *state;
    union cell *row = sheet_row(&world->sheet);
    row[TAG].text = "=1+1 <&\"";
    row[DAY].day = day_from_civil(2028, 3, 2);
    row[GRAFTS].number = 12;
    row[LOW].number = -3.25;
    row[WORDS].text = "for people";
    row = sheet_row(&world->sheet);
    row[TAG].text = "0012";
    row[DAY].day = DAY_NEVER;
    row = sheet_row(&world->sheet);
    row[DAY].day = WORDS_UNCHILLED;
    workbook_write(1, &world->sheet, (struct sheet_style){.digits = -1, .units_us = true},
                   &world->out);
    row_is(world, "<Row><Cell ss:StyleID=\"names\"><Data ss:Type=\"String\">tag</Data></Cell>"
                  "<Cell ss:StyleID=\"names\"><Data ss:Type=\"String\">day</Data></Cell>"
                  "<Cell ss:StyleID=\"names\"><Data ss:Type=\"String\">grafts</Data></Cell>"
                  "<Cell ss:StyleID=\"names\"><Data ss:Type=\"String\">low_c</Data></Cell></Row>");
    row_is(world, "<Row><Cell ss:StyleID=\"text\"><Data ss:Type=\"String\">=1+1 &lt;&amp;&quot;"
                  "</Data></Cell><Cell ss:StyleID=\"day\"><Data ss:Type=\"DateTime\">"
                  "2028-03-02T00:00:00.000</Data></Cell><Cell ss:StyleID=\"digits0\">"
                  "<Data ss:Type=\"Number\">12</Data></Cell><Cell ss:StyleID=\"digits1\">"
                  "<Data ss:Type=\"Number\">-3.2</Data></Cell></Row>");
    row_is(world, "<Row><Cell ss:StyleID=\"text\"><Data ss:Type=\"String\">0012</Data></Cell>"
                  "<Cell ss:StyleID=\"text\"><Data ss:Type=\"String\">not reached</Data></Cell>"
                  "<Cell/><Cell/></Row>");
    row_is(world, "<Row><Cell/><Cell ss:StyleID=\"text\"><Data ss:Type=\"String\">"
                  "chilling not met</Data></Cell><Cell/><Cell/></Row>");
    row_is(world, "x:Range=\"R1C1:R4C4\"");
    assert_null(strstr(world->out.bytes, "for people"));
}

static void names_of_worksheets_are_cut_to_what_programs_take(void **state)
{
    struct world *world = *state;
    workbook_write(1, &world->sheet, (struct sheet_style){.digits = -1}, &world->out);
    row_is(world, "<Worksheet ss:Name=\"trial of what a name may hold i\">");
    assert_null(strstr(world->out.bytes, "AutoFilter")); /* of no rows */
}

static void lines_above_and_below_stand_in_a_worksheet_of_their_own(void **state)
{
    struct world *world = *state;
    text_add(&world->sheet.head, "As of today\n\nno end of line");
    text_add(&world->sheet.foot, "key: <none>\n");
    workbook_write(1, &world->sheet, (struct sheet_style){.digits = -1}, &world->out);
    const char *about = strstr(world->out.bytes, "<Worksheet ss:Name=\"about\">");
    assert_non_null(about);
    assert_non_null(strstr(about, ">As of today</Data></Cell></Row>\n<Row>"));
    assert_non_null(strstr(about, ">no end of line</Data></Cell></Row>\n<Row>"));
    assert_non_null(strstr(about, ">key: &lt;none&gt;</Data>"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(every_cell_is_declared_as_what_it_is, setup, teardown),
        cmocka_unit_test_setup_teardown(names_of_worksheets_are_cut_to_what_programs_take, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(lines_above_and_below_stand_in_a_worksheet_of_their_own,
                                        setup, teardown),
    };
    return cmocka_run_group_tests_name("workbook", tests, NULL, NULL) != 0;
}
