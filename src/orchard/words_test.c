#include "orchard/words.h"

#include "orchard/fixture.h"

static void bag_names_are_tag_season_and_number(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        size_t tag_length;
        int season, number;
    } rows[] = {{"A1-27-1", 2, 2027, 1}, {"N-01-7-99-12", 6, 2099, 12}, {"x-00-100", 1, 2000, 100}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct bag_name bag;
        assert_true(bag_name_read(rows[i].name, &bag));
        assert_int_equal(bag.tag_length, rows[i].tag_length);
        assert_int_equal(bag.season, rows[i].season);
        assert_int_equal(bag.number, rows[i].number);
    }
    static const char *const wrong[] = {
        "",       "A1",        "A1-27",   "A1-27-",  "A1-27-0",  "A1-27-01",         "-27-1",
        "A1-7-1", "A1-2027-1", "A1-27-x", "A1 27 1", "A1-27-1 ", "A1-27-99999999999"};
    for (size_t i = 0; i < COUNT(wrong); i++) {
        struct bag_name bag;
        if (bag_name_read(wrong[i], &bag))
            fail_msg("'%s' was taken for a bag", wrong[i]);
    }
    assert_false(bag_name_read(NULL, &(struct bag_name){0}));
}

static void stages_are_one_to_six_alone_or_as_a_span(void **state)
{
    (void)state;
    int low, high;
    assert_true(stage_read("6", &low, &high));
    assert_int_equal(low, 6);
    assert_int_equal(high, 6);
    assert_true(stage_read("3-5", &low, &high));
    assert_int_equal(low, 3);
    assert_int_equal(high, 5);
    static const char *const wrong[] = {"", "0", "7", "5-3", "3-3", "3-", "-5", "3 5", "3-5 ", "x"};
    for (size_t i = 0; i < COUNT(wrong); i++)
        if (stage_read(wrong[i], &low, &high))
            fail_msg("'%s' was taken for a stage", wrong[i]);
    assert_false(stage_read(NULL, &low, &high));
}

static void ratios_are_whole_and_at_most_one(void **state)
{
    (void)state;
    int counted, of;
    assert_true(ratio_read("19/20", &counted, &of));
    assert_int_equal(counted, 19);
    assert_int_equal(of, 20);
    static const char *const wrong[] = {"", "19", "21/20", "0/0", "-1/20", "19/", "/20", "1/2/3"};
    for (size_t i = 0; i < COUNT(wrong); i++)
        if (ratio_read(wrong[i], &counted, &of))
            fail_msg("'%s' was taken for a ratio", wrong[i]);
}

static void conditions_and_crown_zones_are_words_of_the_tables(void **state)
{
    (void)state;
    enum condition condition;
    enum crown crown;
    assert_true(condition_read("removed", &condition));
    assert_int_equal(condition, CONDITION_REMOVED);
    assert_false(condition_read("Alive", &condition));
    assert_false(condition_read(NULL, &condition));
    assert_true(crown_read("middle", &crown));
    assert_int_equal(crown, CROWN_MIDDLE);
    assert_false(crown_read("", &crown));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bag_names_are_tag_season_and_number),
        cmocka_unit_test(stages_are_one_to_six_alone_or_as_a_span),
        cmocka_unit_test(ratios_are_whole_and_at_most_one),
        cmocka_unit_test(conditions_and_crown_zones_are_words_of_the_tables),
    };
    return cmocka_run_group_tests_name("words", tests, NULL, NULL) != 0;
}
