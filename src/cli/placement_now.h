/*
 * placement_now.h - where this winter's grafts go, for `grafting` and `worklist`.
 */
#ifndef CLI_PLACEMENT_NOW_H
#define CLI_PLACEMENT_NOW_H

#include "cli/session.h"
#include "planning/placement.h"

/* By the options of the session; those that it lacks have their defaults. */
struct placement session_placement(struct session *session, const struct opened *opened);

#endif
