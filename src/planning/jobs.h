/*
 * jobs.h - the three kinds of work that treat a bag, and the crew-minutes they take.
 */
#ifndef PLANNING_JOBS_H
#define PLANNING_JOBS_H

#include "planning/crossing.h"

enum job { JOB_BAG, JOB_POLLINATE, JOB_UNBAG, JOBS };
extern const enum job job_of_task[BAG_TASKS];

/* Its row of tasks.csv; NULL when the table lacks it: then it takes no time. */
const struct task_kind *job_kind(const struct orchard *orchard, enum job job);

/* WORK_ANY without a row. */
enum work job_work(const struct orchard *orchard, enum job job);

/* Crew-minutes (1/100) for one bag: a tree that is shared is not refunded. */
int64_t job_minutes(const struct orchard *orchard, enum job job, const struct graft_state *graft,
                    int season_number);

/* Crew-minutes (1/100) to set up at a site: the most that one of the three asks. */
int64_t jobs_set_up(const struct orchard *orchard);

#endif
