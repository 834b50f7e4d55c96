/*
 * visits.c - a plan as rows, one a visit.
 */
#include "planning/crossing.h"

#include <stdlib.h>
#include <string.h>

static const struct planned_task *task_of(const struct visit *visit)
{
    return &visit->bag->tasks[visit->task];
}

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

static int by_day_and_place(const void *a, const void *b)
{
    const struct visit *x = a, *y = b;
    const struct planned_task *s = task_of(x), *t = task_of(y);
    int order = (s->day > t->day) - (s->day < t->day);

    if (order == 0)
        order = strcmp(x->bag->group->site->name, y->bag->group->site->name);
    if (order == 0)
        order = compare_text(s->crew, t->crew);
    if (order == 0)
        order = (int)x->task - (int)y->task;
    return order != 0 ? order : strcmp(x->bag->name, y->bag->name);
}

struct visits crossing_visits(const struct crossing_plan *plan, struct arena *arena)
{
    struct visits visits = {
        .list = ARENA_ARRAY(arena, plan->bag_count * BAG_TASKS, struct visit),
    };

    for (size_t i = 0; i < plan->bag_count; i++)
        for (int task = 0; task < BAG_TASKS; task++)
            if (!plan->bags[i].done[task] && plan->bags[i].tasks[task].day != DAY_NONE)
                visits.list[visits.count++] = (struct visit){&plan->bags[i], (enum bag_task)task};
    if (visits.count > 1)
        qsort(visits.list, visits.count, sizeof *visits.list, by_day_and_place);
    return visits;
}
