/*
 * task_parts.h - what the pieces behind tasks.h share.
 *
 * A unit is one subject in one cycle.  Whatever is asked of a row of tasks.csv is asked of a unit.
 */
#ifndef PLANNING_TASK_PARTS_H
#define PLANNING_TASK_PARTS_H

#include "orchard/task_rules.h"
#include "planning/cache.h"
#include "planning/tasks.h"

/* What of a cycle a subject has: bits of `has`. */
enum {
    HAS_GRAFTING = 1 << PART_GRAFTING,
    HAS_FLOWERING = 1 << PART_FLOWERING,
    HAS_CONES = 1 << PART_CONES,
    HAS_GONE = 1 /* a graft that is dead or lost */
};

/* Median days of events of one subject: of the first of what it holds, and of the last. */
struct event_span {
    daynum first[EVENTS], last[EVENTS]; /* DAY_NONE: not known */
};

struct unit {
    size_t subject; /* its place in the orchard's list of its kind (bags: in the state's) */
    int cycle;      /* of a crop: the spring before it */
    unsigned has;
    struct event_span *events; /* NULL: none known */
};

#define NO_UNIT SIZE_MAX

struct unit_list {
    struct unit *list;
    size_t count, subjects;
    size_t *at; /* [subjects * cycles] places in the list, or NO_UNIT */
};

/* A note, or a dated cell of a table, under a subject that it names. */
struct closing {
    size_t subject;
    daynum day;
    enum note_kind kind;
    const char *task, *value;
    bool direct; /* of nothing finer than this subject */
};

struct closing_list {
    struct closing *list; /* by subject, day, kind */
    size_t count;
    size_t *start; /* [subjects + 1] where those of a subject begin */
};

/* One row on one unit. */
struct task_result {
    daynum first, last, done; /* DAY_NONE: not done */
    bool exists, expected, rough;
};

/* What a predecessor says. */
struct task_before_day {
    bool exists, done;
    daynum day;  /* on which it was done, or is expected to be */
    daynum last; /* its last day */
};

struct task_fold; /* results of a finer subject, by units of a wider one */

/* The whole table asked at one site, in place of what was done there. */
struct table_pass {
    struct task_result *results; /* by row */
    bool late;                   /* everything is done on its last day, else on its first */
};

struct tasking {
    const struct orchard *orchard;
    const struct state *state;
    struct dates *dates;
    struct arena *arena;
    struct task_rules rules;
    daynum as_of, from, to;
    int ahead_days;
    int first_cycle;
    size_t cycles;
    struct unit_list units[SUBJECT_KINDS];
    struct closing_list closings[SUBJECT_KINDS];
    struct record *observed;      /* [sites.count] */
    struct task_result **results; /* [rules.count] by unit; NULL: nobody asks */
    struct task_fold **folds;     /* [rules.count * SUBJECT_KINDS]; NULL: not made */
    struct cache spans, windows;
    const struct table_pass *pass; /* NULL: not an audit */
};

/* ---- task_units.c --------------------------------------------------------------------------- */

/* The subjects and cycles that the days asked for may concern. */
void task_units_take(struct tasking *tasking);

/* Every site in one cycle alone, with every part of it. */
void task_units_of_sites(struct tasking *tasking, int cycle);

/* The subject of kind `wide` that holds subject `subject` of kind `kind`; false: none, or many. */
bool task_holder(const struct tasking *tasking, enum subject_kind kind, size_t subject,
                 enum subject_kind wide, size_t *holder);

/* Its unit of a cycle, or NO_UNIT. */
size_t task_unit_of(const struct tasking *tasking, enum subject_kind kind, size_t subject,
                    int cycle);

struct task_subject task_subject_of(const struct tasking *tasking, enum subject_kind kind,
                                    size_t subject);

/* ---- task_events.c -------------------------------------------------------------------------- */

/* unit->events of all units; of one site as a whole, whatever stands there. */
void task_events_take(struct tasking *tasking);
void task_events_of_site(struct tasking *tasking, struct unit *unit);

/* ---- task_closings.c ------------------------------------------------------------------------ */

void task_closings_take(struct tasking *tasking);

/* Those of one subject, in the order of time. */
const struct closing *task_closings_of(const struct tasking *tasking, enum subject_kind kind,
                                       size_t subject, size_t *count);

struct task_tries {
    daynum done_on;
    int not_done;
    const char *reason; /* the newest */
};

/* What notes say of a row on a unit whose days are first to last. */
struct task_tries task_tries_of(const struct tasking *tasking, const struct task_rule *rule,
                                const struct unit *unit, const struct task_result *days);

/* The same from `since` to the day before `until` alone. */
struct task_tries task_tries_between(const struct tasking *tasking, const struct task_rule *rule,
                                     const struct unit *unit, daynum since, daynum until);

/* ---- task_anchors.c ------------------------------------------------------------------------- */

struct task_day {
    daynum day; /* DAY_NONE: cannot be told */
    bool expected, rough;
};

/* What is asked: an anchor of a row on a unit of that row's subjects. */
struct anchor_asked {
    const struct task_rule *rule;
    enum subject_kind kind;
    const struct unit *unit;
    daynum when;       /* of the condition; DAY_NONE */
    bool last_of_many; /* of several days of one event the last counts */
};
struct task_day task_anchor_day(struct tasking *tasking, const struct anchor *anchor,
                                struct anchor_asked asked);

/* `latest`: counted from the last of several when it lies on or after the event. */
struct task_day task_latest_day(struct tasking *tasking, struct anchor_asked asked);

struct task_before_day task_before_of(struct tasking *tasking, size_t task, enum subject_kind kind,
                                      const struct unit *unit);

/* ---- task_conditions.c ---------------------------------------------------------------------- */

/* Days up to as-of on which the condition of a row is true for a unit, ascending, each once. */
struct true_day {
    daynum day;
    const struct task_term *term; /* that made it true */
};
struct true_days {
    struct true_day *list;
    size_t count;
};
struct true_days task_true_days(struct tasking *tasking, struct anchor_asked asked, daynum since);

/* "frost noted on 2027-03-03" */
const char *task_true_words(struct tasking *tasking, struct anchor_asked asked,
                            const struct true_day *day);

/* ---- task_windows.c ------------------------------------------------------------------------- */

/* First and last day by the anchors and `lead_days` alone; exists false: a day cannot be told, or
 * the last lies before the first.  *order_by as in struct task_instance. */
struct task_result task_window_of(struct tasking *tasking, struct anchor_asked asked,
                                  daynum *order_by);

#endif
