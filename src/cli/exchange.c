#define _GNU_SOURCE /* renameat2 */
#include "cli/exchange.h"

#include "cli/files.h"
#include "cli/folder.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool exchange_names(const char *one, const char *other)
{
#ifdef RENAME_EXCHANGE
    if (renameat2(AT_FDCWD, one, AT_FDCWD, other, RENAME_EXCHANGE) == 0)
        return true;
    if (errno != EINVAL && errno != ENOSYS)
        return false;
#else
    (void)one;
    (void)other;
#endif
    errno = ENOTSUP;
    return false;
}

/* Tried with a folder that nobody looks at. */
static bool can_exchange(const char *made, struct arena *arena)
{
    const char *trial = folder_make_beside(made, ".try-", arena);
    const char *other = trial ? folder_make_beside(made, ".try-", arena) : NULL;
    bool can = other && exchange_names(trial, other);

    if (trial)
        (void)rmdir(trial);
    if (other)
        (void)rmdir(other);
    return can;
}

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash ? slash + 1 : path;
}

bool exchange_link(const char *made, const char *out, struct arena *arena, const char **old)
{
    const char *link = arena_printf(arena, "%s.link", made);
    struct stat about;

    *old = NULL;
    if (lstat(out, &about) == 0 && S_ISLNK(about.st_mode))
        *old = file_target(out, arena);
    else if (rmdir(out) != 0 && errno != ENOENT)
        return false;
    if (symlink(base_name(made), link) != 0)
        return false;
    if (rename(link, out) == 0)
        return true;
    int problem = errno;

    (void)unlink(link);
    errno = problem;
    return false;
}

bool exchange_folder(const char *made, const char *out, struct arena *arena, const char **old)
{
    struct stat about;
    bool there = lstat(out, &about) == 0;

    *old = NULL;
    if (there && S_ISLNK(about.st_mode))
        return exchange_link(made, out, arena, old);
    if (there && !folder_is_empty(out, arena)) {
        *old = made;
        return exchange_names(made, out);
    }
    return can_exchange(made, arena) ? rename(made, out) == 0
                                     : exchange_link(made, out, arena, old);
}
