/*
 * jobs.c - rows of tasks.csv for bagging, pollinating and unbagging.
 */
#include "planning/jobs.h"

#include "orchard/task_rules.h"

const enum job job_of_task[BAG_TASKS] = {JOB_BAG, JOB_POLLINATE, JOB_POLLINATE, JOB_UNBAG};

const struct task_kind *job_kind(const struct orchard *orchard, enum job job)
{
    static const enum note_kind closes[JOBS] = {NOTE_BAGGED, NOTE_POLLINATED, NOTE_UNBAGGED};

    return task_closed_by(orchard, subject_words[SUBJECT_BAG], closes[job]);
}

enum work job_work(const struct orchard *orchard, enum job job)
{
    const struct task_kind *kind = job_kind(orchard, job);

    return kind != NULL ? kind->work : WORK_ANY;
}

int64_t job_minutes(const struct orchard *orchard, enum job job, const struct graft_state *graft,
                    int season_number)
{
    const struct task_kind *kind = job_kind(orchard, job);

    if (kind == NULL)
        return 0;
    struct task_minutes minutes =
        task_minutes_of(orchard, kind, graft_rate_subject(graft, season_number));
    return minutes.each + minutes.per_tree;
}

int64_t jobs_set_up(const struct orchard *orchard)
{
    int64_t most = 0;

    for (int job = 0; job < JOBS; job++) {
        const struct task_kind *kind = job_kind(orchard, (enum job)job);

        if (kind == NULL)
            continue;
        struct task_minutes minutes = task_minutes_of(orchard, kind, (struct rate_subject){0});
        most = minutes.per_site > most ? minutes.per_site : most;
    }
    return most;
}
