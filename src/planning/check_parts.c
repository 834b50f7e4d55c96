/*
 * check_parts.c - what every part of the checker needs.
 */
#include "planning/check_parts.h"

#include "orchard/task_rules.h"

#include <stdarg.h>

static const enum note_kind closed_by[BAG_TASKS] = {NOTE_BAGGED, NOTE_POLLINATED, NOTE_POLLINATED,
                                                    NOTE_UNBAGGED};

const struct task_kind *check_task_kind(const struct check *check, enum bag_task task)
{
    return task_closed_by(check->orchard, "bag", closed_by[task]);
}

void check_fault(struct check *check, const struct planned_bag *bag, const char *format, ...)
{
    va_list arguments;

    check->count++;
    text_add(check->faults, "plan: ");
    if (bag != NULL)
        text_addf(check->faults, "bag %s ", bag->name != NULL ? bag->name : "without a name");
    va_start(arguments, format);
    text_addv(check->faults, format, arguments);
    va_end(arguments);
    text_add(check->faults, "\n");
}
