/*
 * work_asked.h - work of all kinds in a session: what has its minutes before the crossing plan, and
 * what gets those that it leaves.
 */
#ifndef CLI_WORK_ASKED_H
#define CLI_WORK_ASKED_H

#include "cli/crossing_plan.h"
#include "planning/worklist.h"

/* What a worklist of these days is made of, besides the crossing plan. */
struct work_asked session_work(struct session *session, const struct planned *planned,
                               daynum first_day, daynum last_day);

#endif
