/*
 * task_windows.c - the first and the last day of a row.
 */
#include "planning/task_parts.h"

/*
 * Work whose window opens before what it orders is needed is an order: it must go out by order_by.
 * Work that opens later only uses what has been ordered.
 */
static void take_order(struct tasking *tasking, struct anchor_asked asked,
                       struct task_result *window, daynum *order_by)
{
    struct task_day needed;

    asked.last_of_many = false;
    needed = task_anchor_day(tasking, &asked.rule->needed_by, asked);
    if (asked.rule->kind->lead_days < 0 || needed.day == DAY_NONE)
        return;
    *order_by = needed.day - asked.rule->kind->lead_days;
    window->expected |= needed.expected;
    window->rough |= needed.rough;
    if (window->first >= needed.day)
        return;
    if (window->last > *order_by)
        window->last = *order_by;
    if (window->first > *order_by)
        window->first = *order_by;
}

struct task_result task_window_of(struct tasking *tasking, struct anchor_asked asked,
                                  daynum *order_by)
{
    struct task_result window = {.done = DAY_NONE};
    struct task_day first, last;

    asked.last_of_many = false;
    first = task_anchor_day(tasking, &asked.rule->earliest, asked);
    last = task_latest_day(tasking, asked);
    *order_by = DAY_NONE;
    if (first.day == DAY_NONE || last.day == DAY_NONE)
        return window;
    window.first = first.day;
    window.last = last.day;
    window.expected = first.expected || last.expected;
    window.rough = first.rough || last.rough;
    if (asked.rule->latest.kind == ANCHOR_ORDER_BY && first.day > last.day)
        window.first = last.day; /* an order that is late already */
    window.exists = window.first <= window.last;
    take_order(tasking, asked, &window, order_by);
    return window;
}
