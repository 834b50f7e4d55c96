#define _XOPEN_SOURCE 700 /* realpath */
#include "cli/publish.h"

#include "cli/exchange.h"
#include "cli/files.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define NEW_MARK ".new-"

static enum exit_status refused(struct session *session, const char *path, int problem)
{
    session_say(session, "%s: %s", path, strerror(problem));
    return STATUS_SYSTEM;
}

/* While a set is made: what stands there stays. */
static enum exit_status refused_set(struct session *session, const char *path, int problem)
{
    session_say(session, "%s: %s; what stood there stands", path, strerror(problem));
    return STATUS_SYSTEM;
}

/* ---- where ----------------------------------------------------------------------------------- */

static const char *real(const char *path, struct arena *arena)
{
    char buffer[PATH_MAX];

    return realpath(path, buffer) ? arena_text(arena, strlen(buffer), buffer) : NULL;
}

/* Is `inner` the folder `outer` or in it? */
static bool is_within(const char *inner, const char *outer)
{
    size_t length = strlen(outer);

    if (strcmp(outer, "/") == 0)
        return true;
    return strncmp(inner, outer, length) == 0 && (inner[length] == '\0' || inner[length] == '/');
}

static const char *name_of(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash ? slash + 1 : path;
}

static enum exit_status check_apart(struct session *session, const char *out, const char *folder)
{
    const char *how = NULL, *named = session->options.into;

    if (strcmp(out, folder) == 0)
        how = "is the programme folder itself";
    else if (is_within(out, folder))
        how = "lies inside the programme folder";
    else if (is_within(folder, out))
        how = "holds the programme folder";
    if (!how)
        return STATUS_DONE;
    session_say(session, "--into %s %s, expected a folder apart from it", named, how);
    return STATUS_USAGE;
}

enum exit_status publish_find(struct session *session, const char *out, struct publish_place *place)
{
    struct arena *arena = session->arena;
    const char *trimmed = folder_trim(out, arena), *name = name_of(trimmed);
    const char *folder = real(session->operands[0], arena), *above, *there;
    enum exit_status status;

    if (!folder)
        return refused(session, session->operands[0], errno);
    if (*name == '\0' || strcmp(name, ".") == 0 || strcmp(name, "..") == 0) {
        session_say(session, "--into %s has no name of its own, expected one like ../sheets", out);
        return STATUS_USAGE;
    }
    above = real(folder_above(trimmed, arena), arena);
    if (!above)
        return refused(session, folder_above(trimmed, arena), errno);
    place->out = arena_printf(arena, "%s/%s", strcmp(above, "/") == 0 ? "" : above, name);
    place->named = trimmed;
    place->lock = arena_printf(arena, "%s.lock", place->out);
    status = check_apart(session, place->out, folder);
    there = real(place->out, arena); /* where a link leads */
    if (status == STATUS_DONE && there)
        status = check_apart(session, there, folder);
    return status;
}

/* ---- whose ----------------------------------------------------------------------------------- */

/* Is it a link that exchange_link made: to a folder of ours beside it? */
static bool is_our_link(const char *out, struct arena *arena)
{
    char target[PATH_MAX];
    ssize_t length = readlink(out, target, sizeof target - 1);
    const char *start = arena_printf(arena, "%s" NEW_MARK, name_of(out));

    if (length < 0)
        return false;
    target[length] = '\0';
    return strncmp(target, start, strlen(start)) == 0 && !strchr(target, '/');
}

static enum exit_status not_ours(struct session *session, const char *out, const char *why)
{
    session_say(session,
                "--into %s %s, expected a folder that is new, empty or of an earlier refresh, give "
                "another one",
                out, why);
    return STATUS_USAGE;
}

/* Programs that show a file, and file systems, may keep one of their own beside it. */
static bool is_passing(const char *name)
{
    return strncmp(name, ".~lock.", 7) == 0 || strncmp(name, ".nfs", 4) == 0;
}

/* Does the marker list this file? */
static bool is_listed(const char *marker, const char *name, struct arena *arena)
{
    const char *line = arena_printf(arena, "\nfile,%s\n", name);

    return strcmp(name, PUBLISH_MARKER) == 0 || strstr(marker, line) != NULL || is_passing(name);
}

static enum exit_status check_listed(struct session *session, const struct publish_place *place,
                                     const char *marker)
{
    const char *const *names;
    size_t count;

    if (!file_list(place->out, session->arena, &names, &count))
        return refused(session, place->named, errno);
    for (size_t i = 0; i < count; i++)
        if (!is_listed(marker, names[i], session->arena)) {
            session_say(session,
                        "--into %s holds '%s', which no refresh made and which would be lost, move "
                        "it elsewhere",
                        place->named, names[i]);
            return STATUS_USAGE;
        }
    return STATUS_DONE;
}

enum exit_status publish_look(struct session *session, const struct publish_place *place,
                              const char **marker)
{
    const char *out = place->out, *named = place->named;
    const char *path = arena_printf(session->arena, "%s/%s", out, PUBLISH_MARKER);
    struct stat about;
    struct text bytes;

    *marker = NULL;
    if (lstat(out, &about) != 0)
        return errno == ENOENT ? STATUS_DONE : refused(session, named, errno);
    if (S_ISLNK(about.st_mode) && !is_our_link(out, session->arena))
        return not_ours(session, named, "is a link");
    if (!S_ISLNK(about.st_mode) && !S_ISDIR(about.st_mode))
        return not_ours(session, named, "is a file");
    if (S_ISDIR(about.st_mode) && folder_is_empty(out, session->arena))
        return STATUS_DONE;
    text_init(&bytes, session->arena);
    if (!file_read(path, &bytes)) {
        if (errno != ENOENT)
            return refused(session, path, errno);
        return not_ours(session, named, "holds other things");
    }
    if (strncmp(bytes.bytes, PUBLISH_MARK, sizeof PUBLISH_MARK - 1) != 0)
        return not_ours(session, named, "holds other things");
    *marker = bytes.bytes;
    return check_listed(session, place, *marker);
}

/* ---- replacing ------------------------------------------------------------------------------- */

static bool is_same(const char *path, const struct folder_file *file, struct arena *arena)
{
    struct text bytes;
    struct stat about;

    if (stat(path, &about) != 0 || (size_t)about.st_size != file->length)
        return false;
    text_init(&bytes, arena);
    return file_read(path, &bytes) && bytes.length == file->length &&
           memcmp(bytes.bytes, file->bytes, file->length) == 0;
}

/* same[i]: file i stands in OUT as it is.  true: all do, and nothing else does. */
static bool compare(const char *out, const struct publish_set *set, bool *same, struct arena *arena)
{
    const char *const *names;
    size_t count, there = 0, alike = 0;

    for (size_t i = 0; i < set->count; i++) {
        same[i] =
            is_same(arena_printf(arena, "%s/%s", out, set->files[i].name), &set->files[i], arena);
        alike += same[i];
    }
    if (alike < set->count || !file_list(out, arena, &names, &count))
        return false;
    for (size_t i = 0; i < count; i++)
        there += !is_passing(names[i]);
    return there == set->count;
}

/* Is it of a run of ours: nothing in it yet, or its marker? */
static bool is_leftover(const char *path, struct arena *arena)
{
    return folder_is_empty(path, arena) ||
           file_kind_of(arena_printf(arena, "%s/%s", path, PUBLISH_MARKER)) == FILE_REGULAR;
}

/* The marker goes last, so that what is left of a set after a kill is still known as ours. */
static void remove_set(const char *path, struct arena *arena)
{
    const char *const *names;
    size_t count;

    if (!file_list(path, arena, &names, &count))
        return;
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], PUBLISH_MARKER) != 0)
            (void)unlink(arena_printf(arena, "%s/%s", path, names[i]));
    folder_remove(path, arena);
}

/* OUT.new-XXXXXX beside OUT are of runs that were killed, or what a link leads to. */
static void take_leftovers(const char *out, struct arena *arena)
{
    const char *above = folder_above(out, arena);
    const char *start = arena_printf(arena, "%s" NEW_MARK, name_of(out));
    const char *kept = is_our_link(out, arena) ? file_target(out, arena) : "";
    const char *const *names;
    size_t count;

    if (!file_list(above, arena, &names, &count))
        return;
    for (size_t i = 0; i < count; i++) {
        const char *path = arena_printf(arena, "%s/%s", above, names[i]);
        struct stat about;

        if (strncmp(names[i], start, strlen(start)) != 0 ||
            strcmp(name_of(path), name_of(kept)) == 0 || lstat(path, &about) != 0)
            continue;
        if (S_ISLNK(about.st_mode))
            (void)unlink(path);
        else if (S_ISDIR(about.st_mode) && is_leftover(path, arena))
            remove_set(path, arena);
    }
}

/* The files of the set into `made`; those that are the same as in OUT by link, so that they keep
 * their times. */
static bool build(const char *made, const char *out, const struct publish_set *set,
                  const bool *same, struct arena *arena)
{
    for (size_t i = 0; i < set->count; i++) {
        const char *old = arena_printf(arena, "%s/%s", out, set->files[i].name);
        const char *fresh = arena_printf(arena, "%s/%s", made, set->files[i].name);

        if (same[i] && link(old, fresh) == 0)
            continue;
        if (!folder_write(made, &set->files[i], arena))
            return false;
    }
    return folder_sync(made);
}

enum exit_status publish_set(struct session *session, const struct publish_place *place,
                             const struct publish_set *set, bool *changed)
{
    struct arena *arena = session->arena;
    bool *same = ARENA_ARRAY(arena, set->count, bool);
    const char *made, *old;
    int problem;

    take_leftovers(place->out, arena);
    *changed = !compare(place->out, set, same, arena);
    if (!*changed)
        return STATUS_DONE;
    made = folder_make_beside(place->out, NEW_MARK, arena);
    if (!made)
        return refused_set(session, place->named, errno);
    if (build(made, place->out, set, same, arena) &&
        exchange_folder(made, place->out, arena, &old)) {
        if (!folder_sync(folder_above(place->out, arena)))
            return refused(session, place->named, errno);
        if (old)
            remove_set(old, arena);
        return STATUS_DONE;
    }
    problem = errno;
    remove_set(made, arena);
    if (problem != ENOTSUP)
        return refused_set(session, place->named, problem);
    session_say(session,
                "%s: this system cannot exchange two folders here; take the folder away and run "
                "again: then it is a link to a folder beside it, which can be replaced",
                place->named);
    return STATUS_SYSTEM;
}
