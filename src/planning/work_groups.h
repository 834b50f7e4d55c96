/*
 * work_groups.h - many pieces of work told in few lines: one for each kind, site and cycle.
 */
#ifndef PLANNING_WORK_GROUPS_H
#define PLANNING_WORK_GROUPS_H

#include "planning/worklist.h"

/* Duties without a crew that have begun by the list's last day, by what keeps them from one; not
 * what opened on its last free days and has time. */
struct work_groups groups_pushed_out(const struct duties *duties, daynum last_day,
                                     struct arena *arena);

/* What opens in the COMING_UP_DAYS after `last_day`, visits of the crossing plan among it. */
struct work_groups groups_coming_up(const struct task_instances *tasks,
                                    const struct crossing_plan *plan, daynum last_day,
                                    struct arena *arena);

/* Instances whose last day is over. */
struct work_groups groups_overdue(const struct task_instances *tasks, struct arena *arena);

#endif
