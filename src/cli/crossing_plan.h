/*
 * crossing_plan.h - the crossing plan of a session, checked; `crossing` and `worklist` start from
 * it.
 */
#ifndef CLI_CROSSING_PLAN_H
#define CLI_CROSSING_PLAN_H

#include "cli/session.h"
#include "planning/crossing.h"

struct planned {
    struct opened opened;
    struct crossing_inputs inputs;
    struct crossing_plan plan;
};

/* Open the folder, plan, and let the independent checker recount the plan; a plan that fails is a
 * fault of this program, and ends it before anything is printed. */
enum exit_status session_crossing(struct session *session, struct planned *planned);

/* What would help where the plan falls short, into its shortfalls. */
void session_remedies(struct session *session, struct planned *planned);

#endif
