/*
 * crossing_plan.h - the crossing plan of a session, checked; `crossing` and `worklist` start from
 * it.
 */
#ifndef CLI_CROSSING_PLAN_H
#define CLI_CROSSING_PLAN_H

#include "cli/session.h"
#include "planning/crossing.h"
#include "planning/duty.h"

struct planned {
    struct opened opened;
    struct duties early; /* work that has its minutes before the plan, with its crews */
    struct crossing_inputs inputs;
    struct crossing_plan plan;
};

/* Work of tasks.csv from as-of through `last_day` and what comes up after it, grafts that are to be
 * made among it. */
struct session_work_asked {
    struct task_instances tasks;
    const struct placement *placement; /* NULL: no window of grafting is near */
};
struct session_work_asked session_tasks(struct session *session, const struct opened *opened,
                                        daynum last_day);

/* Open the folder, plan, and let the independent checker recount the plan; a plan that fails is a
 * fault of this program, and ends it before anything is printed. */
enum exit_status session_crossing(struct session *session, struct planned *planned);

/* What would help where the plan falls short, into its shortfalls. */
void session_remedies(struct session *session, struct planned *planned);

#endif
