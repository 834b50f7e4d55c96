#include "writing/dictionary.h"

#include "base/test.h"

static void a_table_may_give_a_name_a_sense_of_its_own(void **state)
{
    struct arena arena;
    (void)state;
    arena_init(&arena, NULL);
    assert_string_equal(dictionary_words("conetide crossing 1", "tag", &arena), "tag of the graft");
    const char *all = dictionary_words("conetide heat 1", "cycle", &arena);
    assert_string_not_equal(dictionary_words("conetide worklist 1", "cycle", &arena), all);
    assert_string_not_equal(dictionary_words("conetide worklist 2", "cycle", &arena), all);
    assert_string_equal(dictionary_words("conetide worklist of other things 1", "cycle", &arena),
                        all);
    arena_release(&arena);
}

static void columns_that_come_in_threes_share_words(void **state)
{
    struct arena arena;
    (void)state;
    arena_init(&arena, NULL);
    assert_string_equal(dictionary_words("conetide flowering 1", "peak_p50", &arena),
                        "middle of receptivity: as likely earlier as later");
    assert_null(dictionary_words("conetide flowering 1", "strange_p50", &arena));
    assert_null(dictionary_words("conetide flowering 1", "_p50", &arena));
    assert_null(dictionary_words("conetide flowering 1", "strange", &arena));
    arena_release(&arena);
}

static void no_name_has_two_meanings_in_one_table(void **state)
{
    (void)state;
    for (const struct meaning *row = dictionary; row->name; row++) {
        assert_true(row->words && row->words[0]);
        for (const struct meaning *other = row + 1; other->name; other++) {
            bool same = strcmp(row->name, other->name) == 0 && !row->schema == !other->schema &&
                        (!row->schema || strcmp(row->schema, other->schema) == 0);
            if (same)
                fail_msg("%s stands twice", row->name);
        }
    }
}

static void kinds_and_units_are_told(void **state)
{
    static const struct sheet_column columns[] = {
        {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
        {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
        {"day", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
        {"line", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
        {"tmin_c", NULL, CELL_TEMPERATURE, 1, COLUMN_EVERYWHERE},
        {"heat_sum", NULL, CELL_HEAT, 1, COLUMN_EVERYWHERE},
        {"reach_m", NULL, CELL_LENGTH, 1, COLUMN_EVERYWHERE},
        {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
        {"dose_ml", NULL, CELL_NUMBER, 1, COLUMN_EVERYWHERE},
        {"strange_days", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    };
    struct arena arena;
    struct sheet sheet;
    struct text out;
    (void)state;
    arena_init(&arena, NULL);
    text_init(&out, &arena);
    sheet_init(&sheet, &arena, "conetide trial 1", COUNT(columns), columns);
    sheet = dictionary_sheet(1, &sheet, &arena);
    for (size_t r = 0; r < sheet.row_count; r++) {
        const union cell *row = sheet.cells + r * sheet.column_count;
        text_addf(&out, "%s %s %s\n", row[1].text, row[2].text, row[3].text ? row[3].text : "-");
    }
    assert_string_equal(out.bytes, "tag text -\n"
                                   "day day YYYY-MM-DD\n"
                                   "line whole number -\n"
                                   "tmin_c number deg C\n"
                                   "heat_sum number deg C day\n"
                                   "reach_m number m\n"
                                   "chance number 0 to 1\n"
                                   "dose_ml number ml\n"
                                   "strange_days number days\n");
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_table_may_give_a_name_a_sense_of_its_own),
        cmocka_unit_test(columns_that_come_in_threes_share_words),
        cmocka_unit_test(no_name_has_two_meanings_in_one_table),
        cmocka_unit_test(kinds_and_units_are_told),
    };
    return cmocka_run_group_tests_name("dictionary", tests, NULL, NULL) != 0;
}
