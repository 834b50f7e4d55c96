#include "cli/folder.h"

#include "cli/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *folder_trim(const char *path, struct arena *arena)
{
    size_t length = strlen(path);

    while (length > 1 && path[length - 1] == '/')
        length--;
    return arena_text(arena, length, path);
}

const char *folder_above(const char *path, struct arena *arena)
{
    const char *trimmed = folder_trim(path, arena), *slash = strrchr(trimmed, '/');

    if (!slash)
        return ".";
    return folder_trim(arena_text(arena, slash == trimmed ? 1 : (size_t)(slash - trimmed), trimmed),
                       arena);
}

const char *folder_make_beside(const char *path, const char *mark, struct arena *arena)
{
    char *made = arena_printf(arena, "%s%sXXXXXX", folder_trim(path, arena), mark);
    mode_t mask = umask(0);

    (void)umask(mask);
    if (!mkdtemp(made))
        return NULL;
    if (chmod(made, 0777 & ~mask) != 0) {
        int problem = errno;

        (void)rmdir(made);
        errno = problem;
        return NULL;
    }
    return made;
}

static bool give_up(int descriptor)
{
    int problem = errno;

    (void)close(descriptor);
    errno = problem;
    return false;
}

bool folder_write(const char *folder, const struct folder_file *file, struct arena *arena)
{
    const char *path = arena_printf(arena, "%s/%s", folder, file->name);
    int descriptor;

    if (strchr(file->name, '/') && mkdir(folder_above(path, arena), 0777) != 0 && errno != EEXIST)
        return false;
    descriptor = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0)
        return false;
    if (!file_write_all(descriptor, file->length, file->bytes) || fsync(descriptor) != 0)
        return give_up(descriptor);
    return close(descriptor) == 0;
}

bool folder_sync(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

    if (descriptor < 0)
        return false;
    if (fsync(descriptor) != 0 && errno != EINVAL) /* some file systems have no such thing */
        return give_up(descriptor);
    return close(descriptor) == 0;
}

void folder_remove(const char *folder, struct arena *arena)
{
    const char *const *names;
    size_t count;

    if (!file_list(folder, arena, &names, &count))
        return;
    for (size_t i = 0; i < count; i++) {
        const char *path = arena_printf(arena, "%s/%s", folder, names[i]);
        struct stat about;

        if (lstat(path, &about) == 0 && S_ISDIR(about.st_mode))
            folder_remove(path, arena);
        else
            (void)unlink(path);
    }
    (void)rmdir(folder);
}

bool folder_is_empty(const char *folder, struct arena *arena)
{
    const char *const *names;
    size_t count;

    return file_list(folder, arena, &names, &count) && count == 0;
}
