/*
 * tasks.h - the rows of tasks.csv as work to do: a row x its subject x a cycle is an instance.
 *
 * The engine knows no task by name.  The rows that treat a bag and that the crossing plan places
 * (per bag, closed by bagged, pollinated or unbagged) have no instances here.
 */
#ifndef PLANNING_TASKS_H
#define PLANNING_TASKS_H

#include "orchard/state.h"
#include "planning/dates.h"

#include <stdbool.h>
#include <stddef.h>

/* The subject, and what it hangs on as far as that is one thing: a bag tells its graft, tree, site
 * and cross, a graft its tree, site, selection and batch. */
struct task_subject {
    enum subject_kind kind;
    const char *name; /* the tag, the bag's name, the tree ...; "" of the programme */
    const struct graft_state *graft;
    const struct bag *bag;
    const struct tree *tree;
    const struct lot *lot;
    const struct batch *batch;
    const struct site *site;
    const struct selection *selection;
    const struct cross *cross;
};

/* How an instance stands in the days asked for. */
enum task_stand {
    TASK_OVERDUE, /* its last day has passed */
    TASK_DUE,
    TASK_COMING,  /* opens after the days asked for, within `ahead_days` */
    TASK_WAITING, /* its days have come; its condition or its predecessor has not */
    TASK_DONE
};

struct task_instance {
    const struct task_kind *kind;
    struct task_subject subject;
    int cycle;  /* the year it is named for */
    int season; /* the spring whose crop it is about; 0: about grafting, not a crop */
    daynum first_day, last_day; /* of work that is an order, last_day is no later than order_by */
    daynum order_by;            /* DAY_NONE without lead_days and needed_by */
    bool expected;              /* hangs on a predecessor that is not done yet */
    bool rough;                 /* moved by latitude and elevation */
    enum task_stand stand;
    daynum done_on;              /* DAY_NONE: not done */
    int not_done;                /* times that it was tried */
    const char *not_done_reason; /* the newest; NULL: none told */
    const char *because;         /* what it waits for, or what opened it; NULL: its days alone */
};

struct task_instances {
    struct task_instance *list; /* by last day, first day, task, site, subject, cycle */
    size_t count;
};

struct tasks_asked {
    const struct state *state; /* its orchard's as-of day is that of the answer */
    struct dates *dates;
    daynum from, to; /* the days asked for */
    int ahead_days;  /* what opens within so many days after `to` is coming */
};

/*
 * Instances whose days meet those asked for, that are overdue, or that are coming.  What was not
 * done TASK_LAPSES_DAYS after its last day is past, and is told no more.
 */
#define TASK_LAPSES_DAYS 45 /* own choice */
struct task_instances tasks_of(const struct tasks_asked *asked, struct arena *arena);

#endif
