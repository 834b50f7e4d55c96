#include "cli/lock.h"

#include "base/test.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static char folder[] = "lock_test_XXXXXX";
static char path[64];

static int make_folder(void **state)
{
    (void)state;
    if (!mkdtemp(folder))
        return -1;
    (void)snprintf(path, sizeof path, "%s/notes.csv.lock", folder);
    return 0;
}

static int remove_folder(void **state)
{
    (void)state;
    (void)unlink(path);
    return rmdir(folder);
}

/* What another process is told that asks for the lock. */
static enum lock_result asked_by_another(int wait_seconds)
{
    int status;
    pid_t child = fork();

    if (child == 0) {
        struct lock lock;

        _exit((int)lock_take(path, wait_seconds, &lock));
    }
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return (enum lock_result)WEXITSTATUS(status);
}

static void one_process_at_a_time_holds_a_lock(void **state)
{
    struct lock lock;

    (void)state;
    assert_int_equal(lock_take(path, 0, &lock), LOCK_TAKEN);
    assert_int_equal(asked_by_another(0), LOCK_HELD);
    lock_release(&lock);
    assert_int_equal(asked_by_another(0), LOCK_TAKEN);
    assert_int_equal(lock_take(path, 0, &lock), LOCK_TAKEN); /* it went with the other process */
    lock_release(&lock);
    assert_int_equal(access(path, F_OK), 0);
}

static void a_lock_is_waited_for_as_long_as_asked(void **state)
{
    struct lock lock;
    struct timespec before, after;
    int ready[2], status;
    char byte = 0;
    pid_t holder;

    (void)state;
    assert_int_equal(pipe(ready), 0);
    holder = fork();
    if (holder == 0) {
        const struct timespec moment = {.tv_nsec = 300000000};

        if (lock_take(path, 0, &lock) != LOCK_TAKEN || write(ready[1], &byte, 1) != 1)
            _exit(1);
        (void)nanosleep(&moment, NULL);
        _exit(0);
    }
    assert_int_equal(read(ready[0], &byte, 1), 1);
    assert_int_equal(lock_take(path, 0, &lock), LOCK_HELD);
    assert_int_equal(lock.descriptor, -1);
    assert_int_equal(lock_take(path, 60, &lock), LOCK_TAKEN);
    assert_int_equal(asked_by_another(0), LOCK_HELD);
    (void)clock_gettime(CLOCK_MONOTONIC, &before);
    assert_int_equal(asked_by_another(1), LOCK_HELD);
    (void)clock_gettime(CLOCK_MONOTONIC, &after);
    assert_true(after.tv_sec > before.tv_sec);
    lock_release(&lock);
    assert_int_equal(waitpid(holder, &status, 0), holder);
    assert_int_equal(status, 0);
    (void)close(ready[0]);
    (void)close(ready[1]);
}

static void what_the_system_refuses_is_told(void **state)
{
    struct lock lock;

    (void)state;
    assert_int_equal(lock_take("no/such/folder/lock", 5, &lock), LOCK_REFUSED);
    assert_int_equal(errno, ENOENT);
    assert_int_equal(lock_take(folder, 5, &lock), LOCK_REFUSED);
    assert_int_equal(errno, EISDIR);
    lock_release(&lock);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_process_at_a_time_holds_a_lock),
        cmocka_unit_test(a_lock_is_waited_for_as_long_as_asked),
        cmocka_unit_test(what_the_system_refuses_is_told),
    };

    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
