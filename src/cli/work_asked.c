#include "cli/work_asked.h"

#include "cli/placement_now.h"

static struct task_instances instances_to(struct session *session, const struct opened *opened,
                                          daynum last_day)
{
    const struct tasks_asked asked = {
        .state = opened->state,
        .dates = opened->dates,
        .from = session->as_of,
        .to = last_day > session->as_of ? last_day : session->as_of,
        .ahead_days = COMING_UP_DAYS,
    };

    return tasks_of(&asked, session->arena);
}

static bool is_graft_to_make(const struct task_instance *instance)
{
    return instance->subject.graft == NULL && duty_result(instance->kind) == NOTE_GRAFTED &&
           (instance->stand == TASK_DUE || instance->stand == TASK_OVERDUE);
}

/* Where new grafts go; NULL when the days have none to be made. */
static const struct placement *placement_for(struct session *session, const struct opened *opened,
                                             const struct task_instances *tasks)
{
    for (size_t i = 0; i < tasks->count; i++)
        if (is_graft_to_make(&tasks->list[i])) {
            struct placement *placement = ARENA_NEW(session->arena, struct placement);

            *placement = session_placement(session, opened);
            return placement;
        }
    return NULL;
}

struct work_asked session_work(struct session *session, const struct planned *planned,
                               daynum first_day, daynum last_day)
{
    struct task_instances *tasks = ARENA_NEW(session->arena, struct task_instances);

    *tasks = instances_to(session, &planned->opened, last_day);
    return (struct work_asked){
        .first_day = first_day,
        .last_day = last_day,
        .tasks = tasks,
        .placement = placement_for(session, &planned->opened, tasks),
    };
}
