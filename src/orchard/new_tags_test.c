#include "orchard/new_tags.h"

#include "base/check_character.h"
#include "orchard/fixture.h"

/* Links and begins: winter 2027. */
static struct new_tags begin(struct fixture *fixture, const char *letters)
{
    struct new_tags tags;
    orchard_link(&fixture->orchard, &fixture->diags);
    new_tags_begin(&tags, &fixture->orchard, 2027, letters, &fixture->arena);
    return tags;
}

static void a_folder_without_tags_begins_with_a(void **state)
{
    struct fixture *fixture = *state;
    struct new_tags tags = begin(fixture, NULL);
    assert_int_equal(check_character("A001"), 'O');
    assert_memory_equal(new_tags_next(&tags), "A002", 4);
    assert_memory_equal(new_tags_next(&tags), "A003", 4);
}

static void the_newest_graft_of_the_winter_tells_the_series(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "V0079", "S1", "T1")->grafted_on = fixture_day("2027-02-10");
    add_graft(fixture, "W0015", "S1", "T1")->grafted_on = fixture_day("2026-02-10");
    struct new_tags tags = begin(fixture, NULL);
    assert_string_equal(new_tags_next(&tags), "V0087");
}

static void letters_asked_for_begin_or_go_on_with_their_series(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "W0015", "S1", "T1")->grafted_on = fixture_day("2026-02-10");
    struct new_tags tags = begin(fixture, "W");
    assert_memory_equal(new_tags_next(&tags), "W002", 4);
    tags = begin(fixture, "ZB");
    const char *tag = new_tags_next(&tags);
    assert_memory_equal(tag, "ZB001", 5);
    assert_int_equal(strlen(tag), 6);
    assert_true(check_character_holds(tag));
}

static void two_letters_step_from_the_last(void **state)
{
    static const struct {
        const char *serial, *next;
    } rows[] = {{"AB001", "AC00"}, {"AH002", "AJ00"}, {"AN001", "AP00"},
                {"AZ001", "BA00"}, {"ZZ001", "AA00"}, {"N001", "P00"}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_basis(fixture);
        char *tag =
            arena_printf(&fixture->arena, "%s%c", rows[i].serial, check_character(rows[i].serial));
        add_graft(fixture, tag, "S1", "T1")->grafted_on = fixture_day("2026-02-10");
        struct new_tags tags = begin(fixture, NULL);
        assert_memory_equal(new_tags_next(&tags), rows[i].next, strlen(rows[i].next));
    }
}

/* Of ten thousand tags: the form, no two alike, in order. */
static void ten_thousand_tags_keep_the_rule(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct new_tags tags = begin(fixture, "E");
    const char *last = "";
    struct tag_series series;
    int64_t number = 0, passed_over = 0;
    for (int i = 0; i < 10000; i++) {
        const char *tag = new_tags_next(&tags);
        assert_true(tag_series_read(tag, &series));
        assert_string_equal(series.letters, "E");
        assert_true(series.number > number);
        passed_over += series.number - number - 1;
        number = series.number;
        assert_true(tag[0] >= 'A' && tag[0] <= 'Z');
        assert_null(strpbrk(tag, "IO*"));
        for (size_t at = 1; tag[at] != '\0' && tag[at + 1] != '\0'; at++) /* digit-E-digit */
            assert_false(tag[at] == 'E');
        assert_true(strlen(tag) > strlen(last) || strcmp(tag, last) > 0);
        last = tag;
    }
    assert_in_range(passed_over, 780, 1000); /* 3 of 37, of some 10,880 */
    assert_int_equal(strlen(last), 7);
}

static void tags_of_the_past_are_not_given_again(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "V0079", "S1", "T1")->grafted_on = fixture_day("2027-02-10");
    note_on_tag(fixture, "2027-03-01", NOTE_RETAGGED, "V0079", "X010P"); /* X's check is not held */
    note_on_tag(fixture, "2027-03-02", NOTE_RETAGGED, "X010P", "V0087");
    struct new_tags tags = begin(fixture, NULL);
    assert_memory_equal(new_tags_next(&tags), "V009", 4);
}

static void what_differs_only_by_hyphens_or_zeros_is_passed_over(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct new_tags tags = begin(fixture, "V");
    const char *first = new_tags_next(&tags), *second = new_tags_next(&tags);
    add_graft(fixture, arena_printf(&fixture->arena, "V-%s", first + 3), "S1", "T1");
    tags = begin(fixture, "V");
    assert_string_equal(new_tags_next(&tags), second);
}

static void the_name_of_a_bag_is_never_a_tag(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct new_tags tags = begin(fixture, "V");
    const char *first = new_tags_next(&tags), *second = new_tags_next(&tags);
    note_on_bag(fixture, "2027-03-09", NOTE_STAGE, first, "2"); /* as no bag is named */
    tags = begin(fixture, "V");
    assert_string_equal(new_tags_next(&tags), second);
}

static void a_batch_goes_on_after_the_one_that_was_printed(void **state)
{
    struct fixture *fixture = *state;
    struct tag_series last;
    add_basis(fixture);
    struct new_tags tags = begin(fixture, "V");
    const char *printed[3];
    for (size_t i = 0; i < 3; i++)
        printed[i] = new_tags_next(&tags);
    tags = begin(fixture, NULL);
    assert_true(tag_series_read(printed[1], &last));
    new_tags_go_on_after(&tags, &last);
    assert_string_equal(new_tags_next(&tags), printed[2]);
}

static void numbers_end_at_nine_digits(void **state)
{
    struct fixture *fixture = *state;
    struct new_tags tags = begin(fixture, NULL);
    new_tags_go_on_after(&tags, &(struct tag_series){"A", 9, 999999990});
    int given = 0;
    while (new_tags_next(&tags) != NULL)
        given++;
    assert_in_range(given, 5, 9);
    assert_null(new_tags_next(&tags));
}

static void only_letters_that_are_not_misread_may_begin(void **state)
{
    (void)state;
    static const char *const good[] = {"A", "Z", "AB", "EE"};
    static const char *const refused[] = {"", "I", "O", "AI", "OA", "ABC", "a", "1", "A1", "A-"};
    for (size_t i = 0; i < COUNT(good); i++)
        assert_true(tag_letters_may_be(good[i]));
    for (size_t i = 0; i < COUNT(refused); i++)
        assert_false(tag_letters_may_be(refused[i]));
}

static void other_forms_are_no_series(void **state)
{
    (void)state;
    struct tag_series series;
    static const char *const tags[] = {"",       "V",     "V12",        "V0078",         "ABC001X",
                                       "V-0079", "0079V", "V001000001", "V0000000001XX", "VI0079",
                                       "v0079",  "V007*"};
    for (size_t i = 0; i < COUNT(tags); i++)
        assert_false(tag_series_read(tags[i], &series));
    assert_true(tag_series_read("V0079", &series));
    assert_string_equal(series.letters, "V");
    assert_int_equal(series.digits, 3);
    assert_int_equal(series.number, 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_folder_without_tags_begins_with_a),
        FIXTURE_TEST(the_newest_graft_of_the_winter_tells_the_series),
        FIXTURE_TEST(letters_asked_for_begin_or_go_on_with_their_series),
        FIXTURE_TEST(two_letters_step_from_the_last),
        FIXTURE_TEST(ten_thousand_tags_keep_the_rule),
        FIXTURE_TEST(tags_of_the_past_are_not_given_again),
        FIXTURE_TEST(what_differs_only_by_hyphens_or_zeros_is_passed_over),
        FIXTURE_TEST(the_name_of_a_bag_is_never_a_tag),
        FIXTURE_TEST(a_batch_goes_on_after_the_one_that_was_printed),
        FIXTURE_TEST(numbers_end_at_nine_digits),
        cmocka_unit_test(only_letters_that_are_not_misread_may_begin),
        cmocka_unit_test(other_forms_are_no_series),
    };
    return cmocka_run_group_tests_name("new_tags", tests, NULL, NULL) != 0;
}
