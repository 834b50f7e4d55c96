/*
 * grafts_to_make.h - the grafts that the placement plans, as instances of the kinds of work that
 * make a graft.
 */
#ifndef PLANNING_GRAFTS_TO_MAKE_H
#define PLANNING_GRAFTS_TO_MAKE_H

#include "planning/grafting.h"
#include "planning/placement.h"
#include "planning/tasks.h"

/* Does some window of grafting meet the days from as-of through `last_day`? */
bool grafting_near(const struct grafting_rows *windows, daynum as_of, daynum last_day);

/*
 * `tasks` with an instance more for each planned graft and each row of tasks.csv that is per graft
 * and closed by `grafted`.  Its days count from the window of the tree's interstock clone: anchors
 * other than graft_open, graft_close and dates of the cycle stand for its edge.  What opens after
 * `to` is coming if it does so within `ahead_days`; what closed before as-of is left out.
 */
struct task_instances with_grafts_to_make(const struct task_instances *tasks,
                                          const struct placement *placement,
                                          const struct grafting_rows *windows,
                                          const struct tasks_asked *asked);

#endif
