/*
 * complete.h - what may stand next on a command line, for the completion of shells.
 */
#ifndef CLI_COMPLETE_H
#define CLI_COMPLETE_H

#include "cli/session.h"

/*
 * `words` are those after "conetide", the last being typed at this moment ("" when it is not
 * begun).  What may stand there goes to the output, a line each, less what does not begin as it
 * does; nothing where a file is meant.  Tags, selections, sites and stations come from the FOLDER
 * on the line, whose faults are passed over.
 */
void complete_write(struct session *session, size_t count, const char *const *words);

#endif
