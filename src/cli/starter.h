/*
 * starter.h - what a new programme folder holds: an example of three grafts to be replaced.
 */
#ifndef CLI_STARTER_H
#define CLI_STARTER_H

#include "cli/folder.h"

/* The files of a new folder; with `all` the other tables too: their headers, and of the kinds of
 * work the rows that ship.  `count` of them. */
const struct folder_file *starter_files(bool all, struct arena *arena, size_t *count);

#endif
