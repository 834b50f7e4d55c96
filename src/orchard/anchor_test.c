#include "orchard/anchor.h"

#include "base/test.h"

static struct anchor read(const char *text)
{
    struct anchor anchor;
    if (!anchor_read(text, &anchor))
        fail_msg("'%s' is no anchor", text);
    return anchor;
}

static void a_date_of_the_cycle_is_an_anchor(void **state)
{
    (void)state;
    struct anchor anchor = read("Y0-11-30");
    assert_int_equal(anchor.kind, ANCHOR_CYCLE_DAY);
    assert_int_equal(anchor.day.year, 0);
    assert_int_equal(anchor.day.month_day.month, 11);
    assert_int_equal(anchor.days, 0);
}

static void every_event_is_an_anchor_with_days_or_without(void **state)
{
    (void)state;
    for (int event = 0; event < EVENTS; event++) {
        char text[64];
        snprintf(text, sizeof text, "%s-125", event_names[event]);
        struct anchor anchor = read(text);
        assert_int_equal(anchor.kind, ANCHOR_EVENT);
        assert_int_equal(anchor.event, event);
        assert_int_equal(anchor.days, -125);
        assert_int_equal(read(event_names[event]).days, 0);
    }
    assert_int_equal(read("when+3").kind, ANCHOR_WHEN);
    assert_int_equal(read("when+3").days, 3);
    assert_int_equal(read("order_by").kind, ANCHOR_ORDER_BY);
}

static void a_task_may_have_blanks_points_signs_and_digits_in_its_name(void **state)
{
    static const struct {
        const char *text, *task;
        enum anchor_kind kind;
        int days;
    } cases[] = {{"graft.done+10", "graft", ANCHOR_DONE, 10},
                 {"first check of grafts.open", "first check of grafts", ANCHOR_OPEN, 0},
                 {"St. Ann.close-1", "St. Ann", ANCHOR_CLOSE, -1},
                 {"bag+tag-2.done+0", "bag+tag-2", ANCHOR_DONE, 0},
                 {"check 2.open+3660", "check 2", ANCHOR_OPEN, 3660}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct anchor anchor = read(cases[i].text);
        assert_int_equal(anchor.kind, cases[i].kind);
        assert_int_equal(anchor.task_length, strlen(cases[i].task));
        assert_memory_equal(anchor.task_name, cases[i].task, anchor.task_length);
        assert_int_equal(anchor.days, cases[i].days);
    }
}

static void anything_else_is_none(void **state)
{
    static const char *const wrong[] = {
        "",           "+3",         "peek+1",       "first +1", "first+",
        "first-",     "Y1-02-30",   "Y1-02-01+3",   ".done+1",  "first2",
        "graft.made", "first+3661", "first+123456", "7",        "graft.done+",
        "first+0x1"};
    struct anchor anchor;
    (void)state;
    for (size_t i = 0; i < COUNT(wrong); i++) {
        if (anchor_read(wrong[i], &anchor))
            fail_msg("'%s' was taken for an anchor", wrong[i]);
        assert_int_equal(anchor.kind, ANCHOR_NONE);
    }
    assert_false(anchor_read(NULL, &anchor));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_date_of_the_cycle_is_an_anchor),
        cmocka_unit_test(every_event_is_an_anchor_with_days_or_without),
        cmocka_unit_test(a_task_may_have_blanks_points_signs_and_digits_in_its_name),
        cmocka_unit_test(anything_else_is_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
