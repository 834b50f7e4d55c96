/*
 * check_parts.c - what every part of the checker needs.
 */
#include "planning/check_parts.h"

#include <stdarg.h>

static const char *const kind_names[BAG_TASKS] = {"bag", "pollinate", "pollinate", "unbag"};

const struct task_kind *check_task_kind(const struct check *check, enum bag_task task)
{
    return orchard_task(check->orchard, kind_names[task]);
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
