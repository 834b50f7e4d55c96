/*
 * lock.c - a record lock of POSIX: works over network file systems that lock at all.
 *
 * It belongs to the process and goes with any close of the file, so nothing else here may open it.
 */
#include "cli/lock.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <time.h>
#include <unistd.h>

static const int64_t pause_ms = 20;

static int64_t now_ms(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static enum lock_result try_once(int descriptor)
{
    struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};

    if (fcntl(descriptor, F_SETLK, &whole) == 0)
        return LOCK_TAKEN;
    return errno == EACCES || errno == EAGAIN ? LOCK_HELD : LOCK_REFUSED;
}

enum lock_result lock_take(const char *path, int wait_seconds, struct lock *lock)
{
    const struct timespec moment = {.tv_nsec = (long)pause_ms * 1000000};
    int64_t until = now_ms() + (int64_t)wait_seconds * 1000;
    enum lock_result result;

    lock->descriptor = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0666); /* as the umask leaves it */
    if (lock->descriptor < 0)
        return LOCK_REFUSED;
    while ((result = try_once(lock->descriptor)) == LOCK_HELD && now_ms() < until)
        (void)nanosleep(&moment, NULL);
    if (result != LOCK_TAKEN) {
        int problem = errno;

        lock_release(lock);
        errno = problem;
    }
    return result;
}

void lock_release(struct lock *lock)
{
    if (lock->descriptor >= 0)
        (void)close(lock->descriptor); /* nothing was written: nothing to lose */
    lock->descriptor = -1;
}
