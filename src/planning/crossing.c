/*
 * crossing.c - words of a plan, and its rows, one a visit.
 */
#include "planning/crossing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const bag_task_words[BAG_TASKS] = {"bag", "pollinate", "pollinate again", "unbag"};

const char *const cause_words[CAUSES] = {
    [CAUSE_NONE] = "",
    [CAUSE_COANCESTRY] = "self or coancestry",
    [CAUSE_NO_GRAFT] = "no live graft",
    [CAUSE_NO_STROBILI] = "no strobili",
    [CAUSE_NO_LOT] = "no lot",
    [CAUSE_LOT_DEAD] = "lot dead",
    [CAUSE_LOT_USED_UP] = "lot used up",
    [CAUSE_ISOLATION_LOST] = "isolation lost",
    [CAUSE_WINDOW_PAST] = "window past",
    [CAUSE_NO_WORKING_DAY] = "no working day",
    [CAUSE_CREW_MINUTES] = "crew minutes",
    [CAUSE_LIFT_MINUTES] = "lift minutes",
};

int bag_places_of(double strobili, double strobili_per_bag, int most)
{
    if (!(strobili > 0) || !(strobili_per_bag > 0))
        return 0;
    double places = floor(strobili / strobili_per_bag + 0.5 + 1e-9);
    return places < most ? (int)places : (most > 0 ? most : 0);
}

int64_t whole_doses_of(double balance_ml, double dose_ml)
{
    int64_t dose = llround(dose_ml * 1e6);

    return dose > 0 && balance_ml > 0 ? llround(balance_ml * 1e6) / dose : 0;
}

bool stands_for_wanted(const struct planned_bag *bag)
{
    const struct group *group = bag->group;

    return group->stage == BAG_WANTED ||
           (group->stage == BAG_HANGS && group->hangs->clean && bag->option.visit[0] != DAY_NONE);
}

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
