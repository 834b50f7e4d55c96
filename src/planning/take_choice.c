/* take_choice.c - one bag becomes part of the plan: crews, doses and places are taken. */
#include "planning/crossing_parts.h"

static daynum day_of(const struct option *option, enum bag_task task)
{
    switch (task) {
    case TASK_BAG:
        return option->bag;
    case TASK_POLLINATE_1:
        return option->visit[0];
    case TASK_POLLINATE_2:
        return option->visit[1];
    case TASK_UNBAG:
    case BAG_TASKS:
    default:
        return option->unbag;
    }
}

static void fill_tasks(struct chooser *chooser, const struct candidate *candidate,
                       struct planned_bag *bag, const struct planned_task *like)
{
    const struct bag *hangs = candidate->group->hangs;
    size_t visits = hangs != NULL ? hangs->visits : 0;

    bag->done[TASK_BAG] = hangs != NULL;
    bag->done[TASK_POLLINATE_1] = visits >= 1;
    bag->done[TASK_POLLINATE_2] = visits >= 2;
    for (int task = 0; task < BAG_TASKS; task++) {
        daynum day = day_of(&bag->option, (enum bag_task)task);

        bag->tasks[task] = (struct planned_task){.day = day};
        if (day != DAY_NONE && !bag->done[task] && !bag->pencilled)
            bag->tasks[task] =
                staff_take(chooser->staff, (struct errand){candidate, job_of_task[task], day},
                           like != NULL ? &like[task] : NULL);
    }
}

void take_choice(struct chooser *chooser, struct candidate *candidate, const struct choice *choice)
{
    struct planned_bag *bag = ARENA_PUSH(chooser->inputs->arena, chooser->bags, chooser->bag_count,
                                         chooser->bag_capacity);
    struct lot_left *lot = choice->lot; /* NULL for a bag that only comes off */

    *bag = (struct planned_bag){
        .group = candidate->group,
        .lot = lot != NULL ? lot->balance->lot : NULL,
        .option = choice->option,
        .pencilled = candidate->phase > 0,
        .name = choice->issued != NULL ? choice->issued->name : NULL,
    };
    if (choice->issued != NULL)
        choice->issued->used = true;
    fill_tasks(chooser, candidate, bag, choice->like);
    fill_bag(bag, candidate, lot);
    for (int task = TASK_POLLINATE_1; lot != NULL && task <= TASK_POLLINATE_2; task++)
        if (!bag->done[task] && bag->tasks[task].day != DAY_NONE && lot->doses != DOSES_UNKNOWN)
            lot->doses--;
    candidate->planned++;
    if (is_wanted(candidate))
        candidate->want->left--;
    if (candidate->group->stage == BAG_WANTED) {
        candidate->carrier->left--;
        ++*candidate->on_tree;
    }
}
