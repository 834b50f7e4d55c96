/*
 * task_rules.h - the rows of tasks.csv understood: anchors, conditions, predecessors.
 *
 * A row is known by what its cells say, never by its name.
 */
#ifndef ORCHARD_TASK_RULES_H
#define ORCHARD_TASK_RULES_H

#include "orchard/anchor.h"
#include "orchard/orchard.h"

/* What has to be true of a day.  Terms of one clause are alternatives; every clause must hold. */
enum term_kind { TERM_NOTE, TERM_TMIN, TERM_TMAX, TERM_DAY };
enum term_sense { AT_MOST, AT_LEAST, BELOW, ABOVE };

struct task_term {
    enum term_kind kind;
    unsigned clause; /* from 0, in the order written */
    enum note_kind note;
    const char *value; /* that the note must have; NULL: any.  value_length bytes of the cell */
    size_t value_length;
    enum term_sense sense;
    double limit_c;    /* of TMIN and TMAX */
    struct anchor day; /* of DAY */
};

/* A predecessor: not before so many days after it is done. */
struct task_before {
    size_t task; /* its place in the orchard's tasks */
    int lag_days;
};

/* How dates of the cycle move with the site (docs/tables.md). */
enum task_shift { SHIFT_NONE, SHIFT_SPRING, SHIFT_AUTUMN };

/* What of a cycle a row is about: by the latest of what its anchors reach. */
enum task_part {
    PART_ANY,       /* nothing but a condition */
    PART_GRAFTING,  /* Y0, Y1, graft_open, graft_close: once a cycle */
    PART_FLOWERING, /* Y2, events of flowering: once a crop */
    PART_CONES      /* Y3 and later: once a crop, where bags bear something */
};

/* Beside kinds of notes: `scions`, a row of scions.csv for the selection. */
#define CLOSED_BY_SCIONS NOTES

struct task_rule {
    const struct task_kind *kind;
    enum subject_kind per;
    enum task_part part;
    enum task_shift shift;
    struct anchor earliest, latest, needed_by;
    struct task_term *when;
    size_t when_count;
    struct task_before *after;
    size_t after_count;
    uint32_t closed_by;    /* bit 1 << enum note_kind */
    uint32_t closed_once;  /* of these, the kinds that close no other row of the same `per` */
    bool per_occurrence;   /* an instance each time that its condition comes true */
    bool of_crossing_plan; /* placed by the crossing plan: bagging, pollinating, unbagging */
};

struct task_rules {
    struct task_rule *list; /* [count], as the orchard's tasks */
    size_t count;
    const size_t *order; /* [count] places in the list, predecessors before what hangs on them */
    uint32_t events;     /* bit 1 << enum event: those that some row counts from */
    int last_year;       /* the n of the latest Yn; 2 at least */
};

/* A calendar of more rows is no calendar (own choice; rows hang on each other, and each is followed
 * to its end). */
#define TASKS_MOST 1000

/*
 * After orchard_link.  Faults are told in `diags` (may be NULL) at their cells, with the nearest
 * name that there is: an anchor, condition or word that is none, an unknown task, a row that hangs
 * on itself.  What is faulty is left blank; of more than TASKS_MOST rows none is understood.
 */
struct task_rules task_rules_of(const struct orchard *orchard, struct arena *arena,
                                struct diags *diags);

/* The first row by name that a note of this kind closes; `per` NULL: of any subject.  NULL: none.
 */
const struct task_kind *task_closed_by(const struct orchard *orchard, const char *per,
                                       enum note_kind note);

#endif
