/*
 * dated_test.c - files of dates of past seasons.
 */
#include "reading/dated.h"

#include "orchard/fixture.h"

static struct dated_events read_text(struct fixture *fixture, const char *text)
{
    struct dated_events events = {NULL, 0, 0};
    struct memory_source memory;
    const struct source source = source_of_memory("past.csv", &memory, strlen(text), text);

    assert_true(read_dated(&events, &fixture->orchard, &source, &fixture->diags));
    return events;
}

static void an_event_came_after_one_day_and_by_another(void **state)
{
    struct fixture *fixture = *state;
    struct dated_events events = read_text(fixture, "site,selection,event,date,not_before,tag\n"
                                                    "Nord,S1,first,2020-03-09,2020-03-06,T1\n"
                                                    "Nord,,peak,2020-03-12,,\n"
                                                    "Nord,,last,,2020-03-20,\n");

    assert_nothing_told(fixture);
    assert_int_equal(events.count, 3);
    assert_string_equal(events.list[0].site_name, "Nord");
    assert_string_equal(events.list[0].selection_name, "S1");
    assert_string_equal(events.list[0].tag, "T1");
    assert_int_equal(events.list[0].event, EVENT_FIRST);
    assert_int_equal(events.list[0].date, fixture_day("2020-03-09"));
    assert_int_equal(events.list[0].not_before, fixture_day("2020-03-06"));
    assert_null(events.list[1].selection_name);
    assert_int_equal(events.list[1].not_before, DAY_NONE);
    assert_int_equal(events.list[2].date, DAY_NONE);
    assert_int_equal(events.list[2].not_before, fixture_day("2020-03-20"));
}

static void without_the_column_not_before_dates_are_known_to_the_day(void **state)
{
    struct fixture *fixture = *state;
    struct dated_events events =
        read_text(fixture, "site,event,date\nNord,peak,2020-03-01\nNord,peak,2021-03-02\n");

    assert_nothing_told(fixture);
    assert_int_equal(events.count, 2);
    assert_int_equal(events.list[0].date, fixture_day("2020-03-01"));
    assert_int_equal(events.list[0].not_before, fixture_day("2020-02-29"));
}

static void every_fault_of_a_row_is_told(void **state)
{
    static const struct {
        const char *row, *code;
    } faults[] = {
        {"Nord,bag_by,2020-03-09,2020-03-06", "derived-event"},
        {"Nord,first,,", "event-without-date"},
        {"Nord,first,2020-03-09,2020-03-09", "dates-crossed"},
        {"Nord,first,2020-03-09,2020-03-10", "dates-crossed"},
        {"Nord,frist,2020-03-09,2020-03-06", "unknown-word"},
        {"Nord,first,9.3.2020,2020-03-06", "bad-date"},
        {",first,2020-03-09,2020-03-06", "empty-cell"},
    };

    fixture_teardown(state); /* each row has a fixture of its own */
    for (size_t i = 0; i < COUNT(faults); i++) {
        struct fixture *fixture;
        char text[200];

        fixture_setup(state);
        fixture = *state;
        snprintf(text, sizeof text, "site,event,date,not_before\n%s\n", faults[i].row);
        read_text(fixture, text);
        if (fixture->diags.errors != 1 || strcmp(fixture->diags.list[0].code, faults[i].code) != 0)
            fail_msg("%s: told %zu, first '%s', expected '%s'", faults[i].row,
                     fixture->diags.errors, fixture->diags.count ? fixture->diags.list[0].code : "",
                     faults[i].code);
        arena_release(&fixture->arena);
    }
    fixture_setup(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(an_event_came_after_one_day_and_by_another),
        FIXTURE_TEST(without_the_column_not_before_dates_are_known_to_the_day),
        FIXTURE_TEST(every_fault_of_a_row_is_told),
    };

    return cmocka_run_group_tests_name("dated", tests, NULL, NULL) != 0;
}
