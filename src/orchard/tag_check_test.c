#include "orchard/tag_check.h"

#include "base/check_character.h"
#include "orchard/fixture.h"
#include "orchard/new_tags.h"

static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

static struct tag_check check(struct fixture *fixture, const char *typed)
{
    struct tag_checker checker = tag_checker_of(&fixture->orchard, &fixture->arena);
    return tag_check_of(&checker, typed);
}

/* V0079, V0087, V009x of the table, OLD-7 and A12 without a check character. */
static void add_tags(struct fixture *fixture)
{
    static const char *const tags[] = {"V0079", "V0087", "V0095", "OLD-7", "A12"};
    add_basis(fixture);
    for (size_t i = 0; i < COUNT(tags); i++)
        add_graft(fixture, tags[i], "S1", "T1");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
}

static void a_known_tag_is_right_or_unchecked(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    struct tag_check new = check(fixture, "V0087"), old = check(fixture, "OLD-7");
    assert_string_equal(new.graft->tag, "V0087");
    assert_int_equal(new.character, TAG_RIGHT);
    assert_string_equal(old.graft->tag, "OLD-7");
    assert_int_equal(old.character, TAG_UNCHECKED);
    assert_int_equal(old.near_count, 0);
}

static void a_wrong_check_character_is_told_with_what_is_near(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    static const struct {
        const char *typed, *near;
    } rows[] = {
        {"V0088", "V0087"},  {"V0807", "V0087"}, {"VO087", "V0087"}, {"0V087", "V0087"},
        {"V00877", "V0087"}, {"B0087", "V0087"}, {"V0O87", "V0087"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct tag_check found = check(fixture, rows[i].typed);
        assert_null(found.graft);
        assert_int_equal(found.character, TAG_WRONG);
        assert_true(found.near_count > 0);
        assert_string_equal(found.near[0], rows[i].near);
        assert_false(found.respelled);
    }
}

static void a_right_tag_may_be_unknown_all_the_same(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    struct tag_check found = check(fixture, "W0015");
    assert_null(found.graft);
    assert_int_equal(found.character, TAG_RIGHT);
    assert_int_equal(found.near_count, 0);
}

static void case_blanks_and_hyphens_are_a_spelling(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    static const char *const typed[] = {"v0087", "V 0087", "V-0087", "v-00 87"};
    for (size_t i = 0; i < COUNT(typed); i++) {
        struct tag_check found = check(fixture, typed[i]);
        assert_null(found.graft);
        assert_true(found.respelled);
        assert_string_equal(found.near[0], "V0087");
        assert_int_equal(found.character, TAG_RIGHT);
    }
    assert_string_equal(check(fixture, "old7").near[0], "OLD-7");
    assert_true(check(fixture, "A012").respelled);
}

static void of_an_old_tag_nothing_can_be_told(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    struct tag_check found = check(fixture, "A13");
    assert_null(found.graft);
    assert_int_equal(found.character, TAG_UNCHECKED);
    assert_string_equal(found.near[0], "A12");
    assert_string_equal(found.near[1], "A1"); /* one character less */
    found = check(fixture, "quite other");
    assert_int_equal(found.near_count, 0);
    assert_int_equal(found.character, TAG_UNCHECKED);
}

static void the_likeliest_comes_first_and_the_rest_is_counted(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    static const char *const tags[] = {"K12", "K21", "K13", "K14", "K15", "K1"};
    for (size_t i = 0; i < COUNT(tags); i++)
        add_graft(fixture, tags[i], "S1", "T1");
    orchard_link(&fixture->orchard, &fixture->diags);
    struct tag_check found = check(fixture, "K22");
    assert_int_equal(found.near_all, 2);
    assert_string_equal(found.near[0], "K12");
    assert_string_equal(found.near[1], "K21");
    assert_string_equal(check(fixture, "K31").near[0], "K13"); /* a swap before K21 */
    found = check(fixture, "K10");
    assert_int_equal(found.near_all, 5);
    assert_int_equal(found.near_count, TAG_NEAR_MOST);
    assert_string_equal(found.near[0], "K12");
    assert_string_equal(found.near[3], "K15");
}

static void a_bag_is_known_by_its_tag(void **state)
{
    struct fixture *fixture = *state;
    add_tags(fixture);
    struct tag_check found = check(fixture, "V0087-27-1");
    assert_string_equal(found.graft->tag, "V0087");
    assert_string_equal(found.tag, "V0087");
    assert_int_equal(found.character, TAG_RIGHT);
    found = check(fixture, "V0078-27-2");
    assert_null(found.graft);
    assert_int_equal(found.character, TAG_WRONG);
    assert_string_equal(found.near[0], "V0087"); /* a swap */
    assert_string_equal(found.near[1], "V0079");
}

static void a_tag_of_the_past_is_known(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "V0079", "S1", "T1");
    note_on_tag(fixture, "2026-05-01", NOTE_RETAGGED, "V0079", "W0015");
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_string_equal(check(fixture, "V0079").graft->tag, "W0015");
    assert_string_equal(check(fixture, "W0015").graft->tag, "W0015");
}

struct errors {
    struct tag_checker checker;
    const char *right;
    size_t tried;
};

static void try_error(struct errors *errors, const char *typed)
{
    struct tag_check found = tag_check_of(&errors->checker, typed);
    bool near = false;
    assert_null(found.graft);
    assert_int_equal(found.character, TAG_WRONG);
    for (size_t i = 0; i < found.near_count; i++)
        near = near || strcmp(found.near[i], errors->right) == 0;
    if (!near && found.near_all <= TAG_NEAR_MOST)
        fail_msg("%s does not lead to %s", typed, errors->right);
    errors->tried++;
}

/* Every wrong character and every swap, on a series of five hundred tags. */
static void every_error_is_told_and_leads_back(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    orchard_link(&fixture->orchard, &fixture->diags);
    struct new_tags tags;
    new_tags_begin(&tags, &fixture->orchard, 2027, "R", &fixture->arena);
    for (int i = 0; i < 500; i++)
        add_graft(fixture, new_tags_next(&tags), "S1", "T1");
    orchard_link(&fixture->orchard, &fixture->diags);
    struct arena scratch;
    arena_init(&scratch, NULL);
    struct errors errors = {tag_checker_of(&fixture->orchard, &scratch), NULL, 0};
    for (size_t i = 0; i < fixture->orchard.grafts.count; i += 7) {
        errors.right = fixture->orchard.grafts.list[i].tag;
        size_t length = strlen(errors.right);
        if (length != 5)
            continue;
        char tag[6];
        memcpy(tag, errors.right, 6);
        for (size_t at = 0; at < length; at++, memcpy(tag, errors.right, 6))
            for (size_t other = 0; other < 36; other++) {
                tag[at] = alphabet[other];
                if (tag[at] != errors.right[at])
                    try_error(&errors, tag);
            }
        for (size_t at = 0; at + 1 < length; at++, memcpy(tag, errors.right, 6)) {
            tag[at] = errors.right[at + 1];
            tag[at + 1] = errors.right[at];
            if (tag[at] != tag[at + 1])
                try_error(&errors, tag);
        }
    }
    assert_true(errors.tried > 12000);
    arena_release(&scratch);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_known_tag_is_right_or_unchecked),
        FIXTURE_TEST(a_wrong_check_character_is_told_with_what_is_near),
        FIXTURE_TEST(a_right_tag_may_be_unknown_all_the_same),
        FIXTURE_TEST(case_blanks_and_hyphens_are_a_spelling),
        FIXTURE_TEST(of_an_old_tag_nothing_can_be_told),
        FIXTURE_TEST(the_likeliest_comes_first_and_the_rest_is_counted),
        FIXTURE_TEST(a_bag_is_known_by_its_tag),
        FIXTURE_TEST(a_tag_of_the_past_is_known),
        FIXTURE_TEST(every_error_is_told_and_leads_back),
    };
    return cmocka_run_group_tests_name("tag_check", tests, NULL, NULL) != 0;
}
