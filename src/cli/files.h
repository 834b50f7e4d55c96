/*
 * files.h - opening, reading, replacing files: the only place that does.
 */
#ifndef CLI_FILES_H
#define CLI_FILES_H

#include "base/arena.h"
#include "base/text.h"
#include "reading/reading.h"

#include <stdbool.h>
#include <stddef.h>

enum file_kind { FILE_ABSENT, FILE_REGULAR, FILE_FOLDER, FILE_OTHER, FILE_REFUSED };

/* What stands at `path` (following links); FILE_REFUSED leaves errno. */
enum file_kind file_kind_of(const char *path);

/* An open file as a source.  `problem` is 0, or the errno that ended reading. */
struct file_source {
    int descriptor;
    int problem;
};

/* Open `path` ("-": standard input); false leaves errno. */
bool file_open(const char *path, struct file_source *file);
struct source file_as_source(const char *name, struct file_source *file);
void file_close(struct file_source *file);

/* Names in a folder but "." and "..", sorted by bytes; false leaves errno. */
bool file_list(const char *folder, struct arena *arena, const char *const **names, size_t *count);

/* All bytes of a file, added to `bytes`; false leaves errno. */
bool file_read(const char *path, struct text *bytes);

/* Where `path` leads when it is a link, or a link to one, and so on; else `path`. */
const char *file_target(const char *path, struct arena *arena);

/* Replace `path` whole: written beside it, synced, renamed over it.  A link is replaced, never
 * written through.  false leaves errno and the old file. */
bool file_replace(const char *path, size_t length, const char *bytes, struct arena *arena);

/* All bytes to a descriptor; false leaves errno. */
bool file_write_all(int descriptor, size_t length, const char *bytes);

#endif
