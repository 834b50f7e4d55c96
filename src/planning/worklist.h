/*
 * worklist.h - the work of one week or one day, by crew and day, in walking order, and what lies
 * around it: work without a crew, pushed out, coming up, overdue.
 */
#ifndef PLANNING_WORKLIST_H
#define PLANNING_WORKLIST_H

#include "orchard/typed.h"
#include "planning/crossing.h"
#include "planning/duty.h"
#include "planning/watch.h"

/* A visit of the crossing plan (`bag` and `task`), or an instance of another kind of work. */
struct work_row {
    const struct planned_bag *bag; /* NULL: another kind of work */
    enum bag_task task;
    const struct task_instance *instance; /* NULL: a visit */
    const struct placed_graft *planned;   /* the graft to make; NULL: none */
    const struct site *site;              /* NULL: of work without a place */
    const struct tree *tree;              /* NULL: none */
    const char *entry;  /* "2027-W10-A-017" with its check character: the code to type back */
    const char *decide; /* stage seen and what to do, in full */
    const char *brief;  /* the same in one line of at most 76 columns; of other work in two */
};

struct material {
    const char *what; /* "isolation bags", "pollen lot P07" */
    double amount;
    const char *unit;    /* "ml"; NULL: pieces */
    const char *kept_at; /* where pollen is stored; NULL: not told, or no pollen */
};

/* One crew on one day. */
struct work_page {
    daynum day;
    const char *crew, *lift;
    struct work_row *rows;
    size_t row_count;
    struct material *materials;
    size_t material_count;
    const struct task_kind **kinds; /* of the rows, by name */
    size_t kind_count;
    const char *const *cautions; /* NULL-ended: for the kinds of work on the page */
    int64_t minutes;             /* 1/100 minute planned, set-up in it */
    int64_t minutes_given;       /* of the crew that day */
    int64_t lift_minutes;        /* of its lift that day; minutes_given without a lift table */
};

/* Work of one kind, site and cycle that a list tells of in one line. */
struct work_group {
    const char *task;
    const struct site *site; /* NULL: no place */
    int cycle;               /* the year it is named for; 0: of no cycle */
    const char **names;      /* of the subjects, sorted */
    size_t count;
    daynum first, last;     /* the earliest first and the earliest last day */
    daynum order_by;        /* the earliest day by which something is to be ordered; or DAY_NONE */
    int not_done;           /* times, of the one most often not done */
    const char *reason;     /* why, the newest of that one; NULL: not told */
    enum obstacle obstacle; /* of what is pushed out */
    daynum shut_until;      /* of OBSTACLE_SPRAYED */
    bool expected;          /* some of it hangs on work that is not done yet */
    bool rough;             /* some dates are moved by latitude and elevation alone */
};
struct work_groups {
    struct work_group *list; /* by last day, task, site, cycle */
    size_t count;
};

/* A row of an earlier page that stands on another day now. */
struct page_move {
    const char *task, *name; /* name NULL: of the programme */
    daynum from;             /* DAY_NONE: it was not on that page */
    daynum to;               /* DAY_NONE: it is on no day of this list, nor of the crossing plan */
};
struct page_moves {
    bool given;                 /* an earlier page was */
    daynum printed;             /* its as-of day; DAY_NONE: it does not tell */
    daynum first_day, last_day; /* of its rows; DAY_NONE: it has none with a day */
    struct page_move *list;     /* by day, task, from, to, name */
    size_t count;
};

struct worklist {
    daynum first_day, last_day;
    struct work_page *pages; /* sorted by day, crew */
    size_t page_count;
    struct work_row *office; /* what needs no crew: kinds and cycles by the earliest
                                last day, in them by last day and subject */
    size_t office_count;
    struct work_groups pushed, coming, overdue;
    struct watch watch;
    struct page_moves moves;
};

#define COMING_UP_DAYS 21 /* after the list's last day; own choice */

struct work_asked {
    daynum first_day, last_day;
    const struct task_instances *tasks; /* to COMING_UP_DAYS after; NULL: the crossing plan alone */
    const struct placement *placement;  /* grafts to be made; NULL: none is planned */
    const struct duties *early;         /* with their crews already; NULL: none */
    const struct typed_page *earlier;   /* that this one replaces; NULL: none */
};

/* Walking order: block, row, position, every second row of trees of a block walked back; of two
 * sites in one day first that of the morning.  Other work has the minutes that the crossing plan
 * leaves, from the as-of day on, so that a list of a later week counts on the weeks before it. */
struct worklist worklist_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                            const struct work_asked *asked);

#endif
