/* check_firm.c - of an issued plan every visit inside the firm days stands, is done, or has moved
 * for a reason that is told; what is told as moved has moved. */
#include "planning/check_parts.h"

#include <string.h>

static const struct planned_bag *planned(const struct check *check, const char *name)
{
    for (size_t i = 0; i < check->plan->bag_count; i++)
        if (!check->plan->bags[i].pencilled && strcmp(check->plan->bags[i].name, name) == 0)
            return &check->plan->bags[i];
    return NULL;
}

static const struct move *move_of(const struct check *check, const char *bag, int task)
{
    for (size_t i = 0; i < check->plan->move_count; i++)
        if (check->plan->moves[i].task == task && strcmp(check->plan->moves[i].bag, bag) == 0)
            return &check->plan->moves[i];
    return NULL;
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

    if (issued != check->inputs->issued)
        check_fault(check, NULL, "is not made for the plan that was issued");
    for (size_t i = 0; issued != NULL && i < issued->count; i++) {
        const struct issued_visit *visit = &issued->list[i];
        const struct planned_bag *bag = planned(check, visit->bag);
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
        const struct planned_bag *bag = planned(check, move->bag);

        if ((bag != NULL ? bag->tasks[move->task].day : DAY_NONE) != move->to)
            check_fault(check, NULL, "bag %s is told to have moved elsewhere", move->bag);
    }
}
