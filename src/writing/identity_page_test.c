#include "writing/identity_page.h"

#include "orchard/fixture.h"

#define assert_says(text, words)                                                                   \
    do {                                                                                           \
        if (strstr(text, words) == NULL)                                                           \
            fail_msg("'%s' is not in:\n%s", words, text);                                          \
    } while (0)

enum form { TEXT, CSV, JSON };

static const char *page(struct fixture *fixture, const struct identity_list *list, enum form form)
{
    struct page_run run = {
        .orchard = &fixture->orchard, .as_of = fixture_day("2027-02-20"), .arena = &fixture->arena};
    struct sheet sheet = identity_sheet(list, &run);
    struct sheet_style style = {.columns = 100, .digits = -1};
    struct text out;

    text_init(&out, &fixture->arena);
    if (form == TEXT)
        sheet_write_text(&sheet, style, &out);
    else if (form == CSV)
        sheet_write_csv(&sheet, style, &out);
    else
        sheet_write_json(&sheet, style, &out);
    return out.bytes;
}

static struct identity_row *add_row(struct fixture *fixture, struct identity_list *list,
                                    enum identity_concern concern)
{
    struct identity_row *row = ARENA_PUSH(&fixture->arena, list->list, list->count, list->capacity);

    *row = (struct identity_row){.concern = concern,
                                 .subject = arena_printf(&fixture->arena, "K%zu", list->count),
                                 .since = DAY_NONE,
                                 .what = "as it is"};
    return row;
}

static size_t lines_with(const char *text, const char *words)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, words)) != NULL; at++)
        count++;
    return count;
}

static void people_see_twelve_rows_of_a_concern(void **state)
{
    struct fixture *fixture = *state;
    struct identity_list list = {.months = 12, .grafts = 30, .checked = 2, .wrong = 1};
    for (int i = 0; i < 13; i++)
        add_row(fixture, &list, CONCERN_NEVER_CHECKED);
    add_row(fixture, &list, CONCERN_CHECKED);
    const char *text = page(fixture, &list, TEXT);
    assert_int_equal(lines_with(text, "as it is"), 12);
    assert_says(text, "Labels never checked (13; 12 of them here, all in --format csv)");
    assert_null(strstr(text, "Checked and right"));
    assert_int_equal(lines_with(page(fixture, &list, CSV), "as it is"), 14);
    assert_says(page(fixture, &list, CSV), "\nchecked,graft,K14,");
}

static void the_head_tells_what_to_expect_and_to_test(void **state)
{
    struct fixture *fixture = *state;
    struct identity_list list = {.months = 9, .grafts = 120, .checked = 20, .wrong = 3};
    const char *text = page(fixture, &list, TEXT);
    assert_says(text, "120 grafts may live; labels checked: 20, of these not right: 3 (if drawn");
    assert_says(text, "Of the 100 others about 5 are something else if 5 % of labels are wrong (1 "
                      "to 10 at 1 to 10 %)");
    assert_says(text, "test 59 labels drawn at random; 299 at 1 %, 29 at 10 %");
    assert_says(text, "right with 90 %");
    assert_says(text, "for 9 months");
    text = page(fixture, &list, JSON);
    assert_says(text, "\"tests_needed\":59");
    assert_says(text, "\"labels_wrong\":3");
}

static void without_checks_no_share_is_told(void **state)
{
    struct fixture *fixture = *state;
    struct identity_list list = {.months = 12, .grafts = 1};
    assert_says(page(fixture, &list, TEXT), "1 graft may live; no label was checked");
    list.checked = 1;
    assert_null(strstr(page(fixture, &list, TEXT), "Of the"));
}

static void a_row_tells_the_place_of_its_graft(void **state)
{
    struct fixture *fixture = *state;
    struct identity_list list = {.months = 12};
    add_basis(fixture);
    orchard_link(&fixture->orchard, &fixture->diags);
    struct identity_row *row = add_row(fixture, &list, CONCERN_COUNTS);
    row->kind = IDENTITY_BAG;
    row->graft = orchard_graft(&fixture->orchard, "A1");
    row->since = fixture_day("2026-03-01");
    row = add_row(fixture, &list, CONCERN_APART);
    row->graft = orchard_graft(&fixture->orchard, "A2");
    row->selection_name = "S2";
    row->bags = 3;
    assert_says(page(fixture, &list, CSV), "counts,bag,K1,,Nordhang,T1,2026-03-01,,as it is\n"
                                           "apart,graft,K2,S2,Nordhang,T2,,3,as it is\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(people_see_twelve_rows_of_a_concern),
        FIXTURE_TEST(the_head_tells_what_to_expect_and_to_test),
        FIXTURE_TEST(without_checks_no_share_is_told),
        FIXTURE_TEST(a_row_tells_the_place_of_its_graft),
    };
    return cmocka_run_group_tests_name("identity_page", tests, NULL, NULL) != 0;
}
