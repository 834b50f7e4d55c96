#include "cli/work_asked.h"

struct work_asked session_work(struct session *session, const struct planned *planned,
                               daynum first_day, daynum last_day)
{
    struct session_work_asked *work = ARENA_NEW(session->arena, struct session_work_asked);

    *work = session_tasks(session, &planned->opened, last_day);
    return (struct work_asked){
        .first_day = first_day,
        .last_day = last_day,
        .tasks = &work->tasks,
        .placement = work->placement,
        .early = &planned->early,
    };
}
