#include "cli/files.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum file_kind file_kind_of(const char *path)
{
    struct stat about;

    if (stat(path, &about) != 0)
        return errno == ENOENT || errno == ENOTDIR ? FILE_ABSENT : FILE_REFUSED;
    if (S_ISREG(about.st_mode))
        return FILE_REGULAR;
    return S_ISDIR(about.st_mode) ? FILE_FOLDER : FILE_OTHER;
}

static long read_some(void *context, size_t size, char *bytes)
{
    struct file_source *file = context;
    ssize_t got;

    do
        got = read(file->descriptor, bytes, size);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        file->problem = errno;
    return (long)got;
}

bool file_open(const char *path, struct file_source *file)
{
    file->problem = 0;
    file->descriptor = strcmp(path, "-") == 0 ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
    return file->descriptor >= 0;
}

struct source file_as_source(const char *name, struct file_source *file)
{
    return (struct source){.name = name, .context = file, .read = read_some};
}

void file_close(struct file_source *file)
{
    if (file->descriptor > STDIN_FILENO)
        (void)close(file->descriptor); /* nothing was written: nothing to lose */
}

bool file_read(const char *path, struct text *bytes)
{
    char buffer[16384];
    struct file_source file;
    long got;

    if (!file_open(path, &file))
        return false;
    while ((got = read_some(&file, sizeof buffer, buffer)) > 0)
        text_add_bytes(bytes, (size_t)got, buffer);
    file_close(&file);
    errno = file.problem;
    return got == 0;
}

static int by_bytes(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

bool file_list(const char *folder, struct arena *arena, const char *const **names, size_t *count)
{
    DIR *open_folder = opendir(folder);
    const char **list = NULL;
    size_t capacity = 0;
    struct dirent *entry;

    *count = 0;
    *names = NULL;
    if (!open_folder)
        return false;
    errno = 0;
    while ((entry = readdir(open_folder)) != NULL) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        *ARENA_PUSH(arena, list, *count, capacity) =
            arena_text(arena, strlen(entry->d_name), entry->d_name);
        errno = 0;
    }
    if (errno != 0) {
        int problem = errno;

        (void)closedir(open_folder);
        errno = problem;
        return false;
    }
    (void)closedir(open_folder);
    if (*count > 1)
        qsort(list, *count, sizeof *list, by_bytes);
    *names = list;
    return true;
}

bool file_write_all(int descriptor, size_t length, const char *bytes)
{
    while (length > 0) {
        ssize_t put = write(descriptor, bytes, length);

        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return false;
        bytes += put;
        length -= (size_t)put;
    }
    return true;
}

/* The folder part of a path, to be synced after a rename. */
static const char *folder_of(const char *path, struct arena *arena)
{
    const char *slash = strrchr(path, '/');

    if (!slash)
        return ".";
    return arena_text(arena, slash == path ? 1 : (size_t)(slash - path), path);
}

const char *file_target(const char *path, struct arena *arena)
{
    enum { LINKS_MOST = 16, TARGET_BYTES_MOST = 4096 };
    char target[TARGET_BYTES_MOST];

    for (int link = 0; link < LINKS_MOST; link++) {
        ssize_t length = readlink(path, target, sizeof target);

        if (length <= 0 || length == sizeof target)
            break; /* no link: the usual case */
        if (target[0] == '/')
            path = arena_text(arena, (size_t)length, target);
        else
            path = arena_printf(arena, "%s/%.*s", folder_of(path, arena), (int)length, target);
    }
    return path;
}

static bool sync_folder(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    bool done;

    if (descriptor < 0)
        return false;
    done = fsync(descriptor) == 0 || errno == EINVAL; /* some file systems have no such thing */
    (void)close(descriptor);
    return done;
}

static bool give_up(int descriptor, const char *temporary)
{
    int problem = errno;

    if (descriptor >= 0)
        (void)close(descriptor);
    (void)unlink(temporary);
    errno = problem;
    return false;
}

bool file_replace(const char *path, size_t length, const char *bytes, struct arena *arena)
{
    char *temporary = arena_printf(arena, "%s.XXXXXX", path);
    int descriptor = mkstemp(temporary);
    struct stat old;
    mode_t mode = 0644;

    if (descriptor < 0)
        return false;
    if (lstat(path, &old) == 0 && S_ISREG(old.st_mode))
        mode = old.st_mode & 0777;
    if (fchmod(descriptor, mode) != 0 || !file_write_all(descriptor, length, bytes) ||
        fsync(descriptor) != 0)
        return give_up(descriptor, temporary);
    if (close(descriptor) != 0)
        return give_up(-1, temporary);
    if (rename(temporary, path) != 0)
        return give_up(-1, temporary);
    return sync_folder(folder_of(path, arena));
}
