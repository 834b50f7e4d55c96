/*
 * manual.h - manual pages in mdoc, made from the tables that parse, dispatch and help.
 */
#ifndef CLI_MANUAL_H
#define CLI_MANUAL_H

#include "cli/command.h"

/* conetide-COMMAND(1), or conetide(1) of the program (NULL); `mandoc -T lint` has nothing to say.
 */
void manual_write(const struct command *command, struct text *out);

#endif
