/*
 * tasks.c - instances of the rows of tasks.csv.
 */
#include "planning/tasks.h"

struct task_instances tasks_of(const struct tasks_asked *asked, struct arena *arena)
{
    struct task_instances none = {NULL, 0};

    (void)asked;
    (void)arena;
    return none;
}
