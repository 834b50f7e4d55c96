/*
 * What a page says of placements that a demo seldom has.
 */
#include "writing/placement_page.h"

#include "orchard/fixture.h"

static const char *page(struct fixture *fixture, const struct placement *placement,
                        enum placement_table table)
{
    struct page_run run = {
        .orchard = &fixture->orchard, .as_of = fixture_day("2027-02-20"), .arena = &fixture->arena};
    struct sheet sheet = placement_sheet(placement, table, &run);
    struct text out;

    text_init(&out, &fixture->arena);
    sheet_write_text(&sheet, (struct sheet_style){.columns = 200, .digits = -1}, &out);
    return out.bytes;
}

static const char *selection_page(struct fixture *fixture, struct placed_selection row)
{
    struct placement placement = {.season = 2027};

    row.selection = add_selection(fixture, "S1", NULL, NULL);
    *ARENA_PUSH(&fixture->arena, placement.selections.list, placement.selections.count,
                placement.selections.capacity) = row;
    return page(fixture, &placement, PLACEMENT_SELECTIONS);
}

#define assert_says(text, words)                                                                   \
    do {                                                                                           \
        if (strstr(text, words) == NULL)                                                           \
            fail_msg("'%s' is not in:\n%s", words, text);                                          \
    } while (0)

static void what_stands_together_already_is_told_with_its_limits(void **state)
{
    const char *text = selection_page(*state, (struct placed_selection){.wanted = 5,
                                                                        .placed = 4,
                                                                        .trees = 2,
                                                                        .clones = 1,
                                                                        .most_on_tree = 2,
                                                                        .most_on_clone = 4,
                                                                        .cause = PLACEMENT_SPREAD});

    assert_says(text, "1 not placed: no more may stand together, 2 on one tree and 4 on one clone; "
                      "all of these on one clone");
    assert_says(text, "4 of 5 grafts wanted have a place");
}

static void a_lone_graft_is_warned_of_unless_older_ones_stand_elsewhere(void **state)
{
    struct placed_selection row = {.wanted = 1, .placed = 1, .trees = 1, .clones = 1};

    assert_says(selection_page(*state, row), "one graft, and fewer than two trees with older ones");
    row.trees_before = 2;
    assert_null(strstr(selection_page(*state, row), "older ones"));
    row.wanted = 2;
    row.trees_before = 1;
    row.cause = PLACEMENT_GIVEN_AWAY;
    assert_says(selection_page(*state, row),
                "1 not placed: places go to grafts that bring more; one graft, and fewer");
}

static void a_demand_without_a_number_is_told(void **state)
{
    assert_says(selection_page(*state, (struct placed_selection){.wanted = 3,
                                                                 .placed = 3,
                                                                 .trees = 3,
                                                                 .clones = 2,
                                                                 .cause = PLACEMENT_NO_NUMBER}),
                "no number of grafts meets the demand; what is in store is placed");
}

static void numbers_beyond_reckoning_are_told_at_the_head(void **state)
{
    struct placement placement = {.season = 2027, .too_large = true, .by_demand = true};
    const char *text = page(*state, &placement, PLACEMENT_GRAFTS);

    assert_says(text, "too large to be reckoned; nothing is placed");
    assert_says(text, "No reach stands in lifts.csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(what_stands_together_already_is_told_with_its_limits),
        FIXTURE_TEST(a_lone_graft_is_warned_of_unless_older_ones_stand_elsewhere),
        FIXTURE_TEST(a_demand_without_a_number_is_told),
        FIXTURE_TEST(numbers_beyond_reckoning_are_told_at_the_head),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
