/*
 * lock.h - one run at a time for what is written: a lock file beside it, never unlinked.
 *
 * The lock is the system's, on the file and not its being there, so a run that is killed leaves
 * none.  It is held until it is released or the run ends.
 */
#ifndef CLI_LOCK_H
#define CLI_LOCK_H

enum lock_result {
    LOCK_TAKEN,
    LOCK_HELD,   /* by another run, still after the wait */
    LOCK_REFUSED /* the system refused, errno says why */
};

struct lock {
    int descriptor; /* -1: none */
};

/* Take the lock at `path`, which is made when it is not there.  While another run holds it, wait up
 * to `wait_seconds` (0: not at all). */
enum lock_result lock_take(const char *path, int wait_seconds, struct lock *lock);

void lock_release(struct lock *lock);

#endif
