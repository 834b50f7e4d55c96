/* check_firm.c - of an issued plan every visit inside the firm days stands, is done, or has moved
 * for a reason that is told; what is told as moved has moved. */
#include "planning/check_parts.h"

#include <stdlib.h>
#include <string.h>

static int by_name(const void *a, const void *b)
{
    const struct planned_bag *const *x = a, *const *y = b;

    return strcmp((*x)->name, (*y)->name);
}

static const struct planned_bag *planned(const struct planned_bag **bags, size_t count,
                                         const char *name)
{
    const struct planned_bag key = {.name = name}, *wanted = &key;
    const struct planned_bag **found =
        count > 0 ? bsearch(&wanted, bags, count, sizeof *bags, by_name) : NULL;

    return found != NULL ? *found : NULL;
}

static int by_bag_and_task(const void *a, const void *b)
{
    const struct move *x = a, *y = b;
    int order = strcmp(x->bag, y->bag);

    return order != 0 ? order : x->task - y->task;
}

/* Moves lie by bag and task. */
static const struct move *move_of(const struct check *check, const char *bag, int task)
{
    const struct move key = {.bag = bag, .task = task};

    return check->plan->move_count > 0 ? bsearch(&key, check->plan->moves, check->plan->move_count,
                                                 sizeof key, by_bag_and_task)
                                       : NULL;
}

static bool noted_done(const struct check *check, const struct issued_visit *visit)
{
    const struct bag *noted = state_bag(check->inputs->state, visit->bag);

    switch (noted != NULL ? visit->task : BAG_TASKS) {
    case TASK_BAG:
        return true;
    case TASK_POLLINATE_1:
        return noted->visits >= 1;
    case TASK_POLLINATE_2:
        return noted->visits >= 2;
    case TASK_UNBAG:
        return noted->unbagged_on != DAY_NONE;
    default:
        return false;
    }
}

static bool stands(const struct planned_bag *bag, const struct issued_visit *visit)
{
    const struct planned_task *task = bag != NULL ? &bag->tasks[visit->task] : NULL;

    return task != NULL && task->day == visit->day && task->crew != NULL && visit->crew != NULL &&
           strcmp(task->crew, visit->crew) == 0;
}

void check_firm(struct check *check)
{
    const struct issued_plan *issued = check->plan->issued;
    const daynum until = check->plan->as_of + check->orchard->program.firm_days;

    const struct planned_bag **bags =
        ARENA_ARRAY(check->inputs->arena, check->plan->bag_count, const struct planned_bag *);
    size_t count = 0;

    for (size_t i = 0; i < check->plan->bag_count; i++)
        if (!check->plan->bags[i].pencilled)
            bags[count++] = &check->plan->bags[i];
    if (count > 1)
        qsort(bags, count, sizeof *bags, by_name);
    if (issued != check->inputs->issued)
        check_fault(check, NULL, "is not made for the plan that was issued");
    for (size_t i = 0; issued != NULL && i < issued->count; i++) {
        const struct issued_visit *visit = &issued->list[i];
        const struct planned_bag *bag = planned(bags, count, visit->bag);
        const struct move *move = move_of(check, visit->bag, visit->task);
        char day[DAY_TEXT];

        if (visit->day < check->plan->as_of || visit->day > until || noted_done(check, visit) ||
            stands(bag, visit))
            continue;
        if (move == NULL || move->reason == NULL || move->reason[0] == '\0')
            check_fault(check, NULL, "bag %s leaves its firm visit of %s without a reason",
                        visit->bag, day_text(visit->day, day));
    }
    for (size_t i = 0; i < check->plan->move_count; i++) {
        const struct move *move = &check->plan->moves[i];
        const struct planned_bag *bag = planned(bags, count, move->bag);

        if ((bag != NULL ? bag->tasks[move->task].day : DAY_NONE) != move->to)
            check_fault(check, NULL, "bag %s is told to have moved elsewhere", move->bag);
    }
}
