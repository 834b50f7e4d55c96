/*
 * duty.h - one piece of work that wants a crew on a day: a kind of work on one subject.
 *
 * Bags that the crossing plan hangs, pollinates and takes off are no duties: they have their crews.
 */
#ifndef PLANNING_DUTY_H
#define PLANNING_DUTY_H

#include "orchard/lookup.h"
#include "planning/tasks.h"

struct placed_graft; /* placement.h */
struct placement;

/* Why a duty has no crew, in the order in which it is asked. */
enum obstacle {
    OBSTACLE_NOBODY,  /* no crew works at the site on any of its days */
    OBSTACLE_WORK,    /* no crew there does this kind of work, or its lift is down or elsewhere */
    OBSTACLE_REACH,   /* no lift there reaches */
    OBSTACLE_SPRAYED, /* shut by a re-entry time */
    OBSTACLE_HOURS,   /* nobody works in the hours that it asks for */
    OBSTACLE_MINUTES, /* other work has the minutes */
    OBSTACLE_NONE
};

struct duty {
    const struct task_instance *instance;
    const struct placed_graft *planned; /* a graft to make; NULL: none */
    const struct site *site;
    const struct tree *tree; /* NULL: it is about the site as a whole */
    struct task_minutes minutes;
    int hours_from, hours_to; /* minutes of the day between which it may be done */
    size_t rank;              /* 0 gets its minutes first */
    bool early;               /* it gets them before the crossing plan does */

    /* Set by the roster. */
    enum obstacle obstacle;  /* NONE: it has a crew */
    daynum day;              /* DAY_NONE without a crew */
    const char *crew, *lift; /* lift NULL: it takes none */
    int half_day;            /* 0 morning, 1 afternoon */
    daynum shut_until;       /* the last day shut by a re-entry time; DAY_NONE: none */
    int64_t paid;            /* 1/100 minute it takes there, with its share of set-up and way */
};

struct duties {
    struct duty *list;
    size_t count;
};

/* Is the kind one of the three that the crossing plan places?  Known by what closes it, not by its
 * name. */
bool duty_is_crossing(const struct task_kind *kind);

/* Does program.json give some kind of work its minutes before the crossing plan? */
bool duty_any_early(const struct orchard *orchard);

/* Does a note of this kind close the work? */
bool duty_is_closed_by(const struct task_kind *kind, enum note_kind note);

/* The first note kind that closes it; NOTE_DONE when none is named. */
enum note_kind duty_result(const struct task_kind *kind);

/* Can a crew be sent?  It takes minutes, and its subject stands somewhere. */
bool duty_wants_crew(const struct task_instance *instance);

/*
 * Duties of all instances that are due or come by `last_day`, in the order in which they get their
 * minutes: as program.json ranks the kinds; without it grafts to be made, then what a count or a
 * look closes, then the rest; of one rank by last day, then site, block, row, position, tree, kind
 * and subject.  `placement` (may be NULL) gives a duty a graft that is to be made to kinds that a
 * `grafted` note closes; without any planned graft at its site such an instance stays whole.
 */
struct duties duties_of(const struct orchard *orchard, const struct task_instances *instances,
                        const struct placement *placement, daynum last_day);

#endif
