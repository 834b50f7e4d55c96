/*
 * propose.h - "crossing --propose": crosses for a manager who gives selections and targets.
 */
#ifndef CLI_PROPOSE_H
#define CLI_PROPOSE_H

#include "cli/session.h"

/* Is an option given that --propose alone has, or --propose itself? */
bool propose_is_meant(const struct options *options);

/* Read the folder, propose, print. */
enum exit_status run_propose(struct session *session);

#endif
