/*
 * task_audit.h - does the calendar of tasks.csv hold together at the folder's sites?
 */
#ifndef PLANNING_TASK_AUDIT_H
#define PLANNING_TASK_AUDIT_H

#include "orchard/state.h"
#include "planning/dates.h"

/* One row at one site in one cycle, before anything is done. */
struct task_days {
    const struct task_kind *kind;
    daynum first;    /* when all before it is done on its first day; DAY_NONE: cannot be told */
    daynum last;     /* when all before it is done on its last day, and no later than order_by */
    daynum order_by; /* DAY_NONE: none */
    bool rough;
};

struct task_calendar {
    struct task_days *list; /* [count], as the orchard's tasks */
    size_t count;
};

/* Rows that come each time that a condition is true have no days here. */
struct task_calendar task_calendar_of(const struct state *state, struct dates *dates,
                                      const struct site *site, int cycle, struct arena *arena);

/*
 * Tell rows that cannot be done, at their cells: windows that are empty, predecessors that do not
 * fit, orders that come too late; for the cycle of as-of, each once with the first site by name.
 * Errors, but warnings where it is only so when what comes before is done on its last day, and of
 * rows that ship, whose dates a folder's thresholds may have moved.
 */
void task_audit(const struct state *state, struct dates *dates, struct arena *arena,
                struct diags *diags);

#endif
