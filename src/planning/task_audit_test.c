#include "planning/task_audit.h"

#include "planning/weather_fixture.h"

static struct task_kind *add_row(struct fixture *fixture, const char *task, const char *earliest,
                                 const char *latest)
{
    struct task_kind *row = add_task(fixture, task, "graft");
    row->earliest = earliest;
    row->latest = latest;
    for (int cell = 0; cell < TASK_CELLS; cell++)
        row->cells[cell] = (struct place){
            .file = "tasks.csv", .line = row->place.line, .cell = 3 + (unsigned)cell};
    return row;
}

static struct task_kind *add_order(struct fixture *fixture, const char *earliest,
                                   const char *latest, int lead_days, const char *needed_by)
{
    struct task_kind *row = add_row(fixture, "order", earliest, latest);
    row->lead_days = lead_days;
    row->needed_by = needed_by;
    return row;
}

/* Of sites Nord and Syd, in the autumn of 2026. */
static void audit(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_calendar_events(fixture);
    struct dates *dates = dates_on(fixture, "2026-10-01");
    task_audit(state_of(&fixture->orchard, &fixture->arena, NULL), dates, &fixture->arena,
               &fixture->diags);
}

static void expect(struct fixture *fixture, enum diag_level level, const char *code, unsigned cell,
                   const char *words)
{
    assert_only_told(fixture, code);
    const struct diag *diag = &fixture->diags.list[0];
    assert_int_equal(diag->level, level);
    assert_int_equal(diag->place.cell, cell);
    if (strstr(diag->message, words) == NULL)
        fail_msg("'%s' does not say '%s'", diag->message, words);
}

static void rows_that_fit_are_not_told(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-02-01", "Y1-03-10");
    add_row(fixture, "two", "one.done+10", "one.done+17")->after = "one+3";
    add_row(fixture, "storm", "when+5", "when+1")->when = "note:storm";
    add_order(fixture, "Y0-09-01", "order_by", 90, "peak-26");
    audit(fixture);
    assert_nothing_told(fixture);
}

static void a_window_that_is_empty_is_told_once_for_all_sites(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-04-01", "peak-390");
    audit(fixture);
    expect(fixture, DIAG_ERROR, "task-window", 4,
           "task 'one' at 'Nord' opens on 2027-04-01 and closes on 2027-02-12 (and so at 1 more "
           "site), expected");
}

static void a_window_that_is_empty_only_at_the_latest_is_a_warning(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-02-01", "Y1-03-10");
    add_row(fixture, "again", "one.done+10", "Y1-03-10");
    audit(fixture);
    expect(fixture, DIAG_WARNING, "task-window", 4, "opens on 2027-03-20 and closes on 2027-03-10");
}

static void a_predecessor_that_never_fits_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-02-01", "Y1-03-10");
    add_row(fixture, "two", "Y1-01-01", "Y1-02-10")->after = "one+14";
    audit(fixture);
    expect(fixture, DIAG_ERROR, "task-predecessor", 6,
           "task 'two' at 'Nord' closes on 2027-02-10, and 'one' is done on 2027-02-01 at the "
           "earliest with 14 days after it");
}

static void a_predecessor_that_may_come_too_late_is_a_warning(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-02-01", "Y1-03-10");
    add_row(fixture, "two", "Y1-01-01", "Y1-03-01")->after = "one";
    audit(fixture);
    expect(fixture, DIAG_WARNING, "task-predecessor", 6,
           "'one' is done on 2027-03-10 at the latest");
}

static void an_order_that_cannot_come_in_time_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_order(fixture, "Y1-05-01", "order_by", 60, "Y1-06-15");
    audit(fixture);
    expect(fixture, DIAG_ERROR, "order-too-late", 8,
           "ordered on its first day, 2027-05-01, it comes on 2027-06-30, 15 days after it is "
           "needed on 2027-06-15");
}

static void an_order_whose_last_day_is_too_late_is_a_warning(void **state)
{
    struct fixture *fixture = *state;
    add_order(fixture, "Y1-03-01", "Y1-05-01", 60, "Y1-06-15");
    audit(fixture);
    expect(fixture, DIAG_WARNING, "order-too-late", 8, "ordered on its last day, 2027-05-01");
}

static void work_that_uses_what_was_ordered_is_no_order(void **state)
{
    struct fixture *fixture = *state;
    add_order(fixture, "Y1-06-15", "Y1-08-31", 60, "Y1-06-15");
    audit(fixture);
    assert_nothing_told(fixture);
}

static void rows_that_ship_are_only_warned_of(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "one", "Y1-04-01", "Y1-03-01")->shipped = true;
    audit(fixture);
    expect(fixture, DIAG_WARNING, "task-window", 4, "opens on 2027-04-01");
}

static void what_cannot_be_told_is_passed_over(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "pollen", "shed_first+3", "shed_first+1"); /* no threshold says when */
    add_row(fixture, "next", "pollen.done+3", "Y1-01-01")->after = "pollen";
    add_order(fixture, "Y1-05-01", "order_by", 60, "shed_peak");
    audit(fixture);
    assert_nothing_told(fixture);
}

static void the_calendar_of_a_site_has_both_ends_and_order_days(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a storm", "when", "when+1")->when = "note:storm";
    add_row(fixture, "one", "Y1-02-01", "Y1-03-10");
    add_order(fixture, "Y0-09-01", "order_by", 90, "one.open+0");
    add_row(fixture, "two", "one.done+10", "one.done+17");
    audit(fixture);
    assert_nothing_told(fixture);
    struct task_calendar calendar =
        task_calendar_of(state_of(&fixture->orchard, &fixture->arena, NULL),
                         dates_new(&fixture->orchard, &fixture->arena),
                         orchard_site(&fixture->orchard, "Nord"), 2027, &fixture->arena);
    assert_int_equal(calendar.count, 4);
    assert_int_equal(calendar.list[0].first, DAY_NONE);
    assert_int_equal(calendar.list[0].last, DAY_NONE);
    assert_day(calendar.list[2].order_by, "2026-11-03");
    assert_day(calendar.list[2].last, "2026-11-03");
    assert_day(calendar.list[3].first, "2027-02-11");
    assert_day(calendar.list[3].last, "2027-03-27");
    assert_false(calendar.list[3].rough);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(rows_that_fit_are_not_told),
        FIXTURE_TEST(a_window_that_is_empty_is_told_once_for_all_sites),
        FIXTURE_TEST(a_window_that_is_empty_only_at_the_latest_is_a_warning),
        FIXTURE_TEST(a_predecessor_that_never_fits_is_told),
        FIXTURE_TEST(a_predecessor_that_may_come_too_late_is_a_warning),
        FIXTURE_TEST(an_order_that_cannot_come_in_time_is_told),
        FIXTURE_TEST(an_order_whose_last_day_is_too_late_is_a_warning),
        FIXTURE_TEST(work_that_uses_what_was_ordered_is_no_order),
        FIXTURE_TEST(rows_that_ship_are_only_warned_of),
        FIXTURE_TEST(what_cannot_be_told_is_passed_over),
        FIXTURE_TEST(the_calendar_of_a_site_has_both_ends_and_order_days),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
