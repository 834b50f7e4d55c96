/*
 * publish.h - a set of files in a folder OUT, replaced all or nothing.
 *
 * OUT is absent, empty or holds a set of ours, which its marker file tells.  A new set is built
 * beside OUT, synced, and put in its place in one step; what a killed run left beside OUT goes with
 * the next.  All of it happens under the lock beside OUT (lock.h).
 */
#ifndef CLI_PUBLISH_H
#define CLI_PUBLISH_H

#include "cli/folder.h"
#include "cli/session.h"

/* Where things are: absolute paths, and OUT as it was named. */
struct publish_place {
    const char *out, *named;
    const char *lock; /* the lock file beside it */
};

/* Find OUT, which may be absent but not the folder it stands in, and refuse one that is the
 * programme folder, inside it or above it.  STATUS_DONE, STATUS_USAGE or STATUS_SYSTEM: told. */
enum exit_status publish_find(struct session *session, const char *out,
                              struct publish_place *place);

/* The first file of every set: it tells that the folder is ours, and which files are. */
#define PUBLISH_MARKER "run.csv"
/* Its first two lines. */
#define PUBLISH_MARK "what,value\nmade_by,conetide refresh\n"

/* May OUT be replaced?  *marker: what the marker file of the set there says, NULL when there is
 * none.  STATUS_DONE, STATUS_USAGE (something else stands there) or STATUS_SYSTEM: told. */
enum exit_status publish_look(struct session *session, const struct publish_place *place,
                              const char **marker);

struct publish_set {
    size_t count;
    const struct folder_file *files; /* the marker first */
};

/* Take away what killed runs left, and replace the set unless the one there is the same byte for
 * byte (*changed).  Files that did not change are the old ones, by link.  STATUS_DONE or
 * STATUS_SYSTEM: told, and the old set stands. */
enum exit_status publish_set(struct session *session, const struct publish_place *place,
                             const struct publish_set *set, bool *changed);

#endif
