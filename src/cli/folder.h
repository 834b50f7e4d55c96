/*
 * folder.h - whole folders: made beside their place and moved there in one step.
 */
#ifndef CLI_FOLDER_H
#define CLI_FOLDER_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* `path` without the slashes at its end; "/" stays. */
const char *folder_trim(const char *path, struct arena *arena);

/* The folder that `path` stands in: "a/b" in "a", "b" in ".". */
const char *folder_above(const char *path, struct arena *arena);

/* A new empty folder beside `path`, named like it with `mark` and six letters after it; the umask
 * decides who may read it.  NULL leaves errno. */
const char *folder_make_beside(const char *path, const char *mark, struct arena *arena);

/* What a file of a folder is to hold. */
struct folder_file {
    const char *name; /* "sites.csv", "weather/FIELD.csv": with at most one folder before it */
    size_t length;
    const char *bytes;
};

/* Write a new file, synced; the folder before its name is made when it is not there.  false leaves
 * errno. */
bool folder_write(const char *folder, const struct folder_file *file, struct arena *arena);

/* Sync the folder itself, so that the names in it last. */
bool folder_sync(const char *folder);

/* Take away a folder with all that is in it, as far as the system lets; links are not followed. */
void folder_remove(const char *folder, struct arena *arena);

/* Is there a folder with nothing in it? */
bool folder_is_empty(const char *folder, struct arena *arena);

#endif
