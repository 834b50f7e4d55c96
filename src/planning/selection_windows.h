/*
 * selection_windows.h - when each selection is receptive in a season at a site, and what is planned
 * on it by day.
 */
#ifndef PLANNING_SELECTION_WINDOWS_H
#define PLANNING_SELECTION_WINDOWS_H

#include "planning/crossing.h"

/* Work of one kind planned on the grafts of a selection on one day. */
struct window_work {
    daynum day;
    enum bag_task task; /* TASK_POLLINATE_1 of first and second visits alike */
    size_t bags;
};

struct selection_window {
    const struct site *site;
    const struct selection *selection; /* NULL: grafts of unknown parentage */
    size_t grafts;
    daynum earliest, first, last,
        latest;               /* first receptive day of the earliest graft at 10 %, of the
                                 middle graft at 50 %; last of it; of the latest at 90 % */
    enum basis basis;         /* the weakest of its grafts */
    struct window_work *work; /* by day, then task */
    size_t work_count;
};

struct selection_windows {
    int season;
    struct selection_window *list; /* by site, then first day, then name */
    size_t count;
};

/* Of the grafts in `rows` that flower in `season` with dates; `plan` may be NULL. */
struct selection_windows selection_windows_of(const struct flowering_rows *rows,
                                              const struct crossing_plan *plan, int season,
                                              struct arena *arena);

#endif
