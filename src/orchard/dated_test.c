/*
 * dated_test.c - dates of past seasons joined to the orchard.
 */
#include "orchard/dated.h"

#include "orchard/fixture.h"

static struct dated_event event_of(const char *site, const char *selection, const char *date,
                                   const char *not_before)
{
    return (struct dated_event){.place = {.file = "past.csv", .line = 2},
                                .site_name = site,
                                .selection_name = selection,
                                .event = EVENT_FIRST,
                                .date = date ? fixture_day(date) : DAY_NONE,
                                .not_before = not_before ? fixture_day(not_before) : DAY_NONE};
}

static void names_are_joined_and_unknown_ones_told(void **state)
{
    struct fixture *fixture = *state;
    struct dated_event list[] = {event_of("Nordhang", "S1", "2020-03-09", NULL),
                                 event_of("Nordhagn", NULL, "2020-03-09", NULL),
                                 event_of("Nordhang", "S7", "2020-03-09", NULL)};
    struct dated_events events = {list, COUNT(list), COUNT(list)};

    add_basis(fixture);
    orchard_link(&fixture->orchard, &fixture->diags);
    dated_link(&events, &fixture->orchard, &fixture->diags);
    assert_int_equal(fixture_told(fixture, "unknown-site"), 1);
    assert_int_equal(fixture_told(fixture, "unknown-selection"), 1);
    assert_int_equal(events.count, 2);
    assert_ptr_equal(list[0].site, orchard_site(&fixture->orchard, "Nordhang"));
    assert_ptr_equal(list[0].selection, orchard_selection(&fixture->orchard, "S1"));
}

static void what_came_after_the_as_of_day_had_not_come_by_then(void **state)
{
    struct fixture *fixture = *state;
    struct dated_event list[] = {event_of("Nordhang", "S1", "2020-03-09", "2020-03-05"),
                                 event_of("Nordhang", "S1", "2020-03-07", "2020-03-05"),
                                 event_of("Nordhang", "S1", "2020-03-12", "2020-03-09"),
                                 event_of("Nordhang", "S1", "2020-03-12", NULL)};
    struct dated_events events = {list, COUNT(list), COUNT(list)};

    add_basis(fixture);
    orchard_as_of(&fixture->orchard, fixture_day("2020-03-07"));
    orchard_link(&fixture->orchard, &fixture->diags);
    dated_link(&events, &fixture->orchard, &fixture->diags);
    assert_int_equal(events.count, 2);
    assert_int_equal(events.list[0].date, DAY_NONE);
    assert_int_equal(events.list[0].not_before, fixture_day("2020-03-05"));
    assert_int_equal(events.list[1].date, fixture_day("2020-03-07"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(names_are_joined_and_unknown_ones_told),
        FIXTURE_TEST(what_came_after_the_as_of_day_had_not_come_by_then),
    };

    return cmocka_run_group_tests_name("dated", tests, NULL, NULL) != 0;
}
