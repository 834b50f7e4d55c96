#include "cli/work_asked.h"

struct work_asked session_work(struct session *session, const struct planned *planned,
                               daynum first_day, daynum last_day)
{
    struct task_instances *tasks = ARENA_NEW(session->arena, struct task_instances);

    *tasks = session_tasks(session, &planned->opened, last_day);
    return (struct work_asked){
        .first_day = first_day,
        .last_day = last_day,
        .tasks = tasks,
        .placement = session_grafts_to_make(session, &planned->opened, tasks),
        .early = &planned->early,
    };
}
