/*
 * firm_fixture.h - an issued plan made by hand, or out of a plan.
 */
#ifndef PLANNING_FIRM_FIXTURE_H
#define PLANNING_FIRM_FIXTURE_H

#include "planning/crossing_fixture.h"

static inline void issue(struct fixture *fixture, struct issued_plan *issued,
                         const struct issued_visit *visit)
{
    *ARENA_PUSH(&fixture->arena, issued->list, issued->count, issued->capacity) = *visit;
}

/* Bag, both visits and unbag of a bag of C1 at Nord by Aspen in the morning; "-" leaves one out. */
static inline void issue_bag(struct fixture *fixture, struct issued_plan *issued, const char *bag,
                             const char *const days[BAG_TASKS])
{
    for (int task = 0; task < BAG_TASKS; task++) {
        struct issued_visit visit = {.as_of = fixture_day("2027-02-01"),
                                     .task = task,
                                     .bag = bag,
                                     .cross = "C1",
                                     .site = "Nord",
                                     .crew = "Aspen",
                                     .lot = "P2"};

        if (strcmp(days[task], "-") == 0)
            continue;
        visit.day = fixture_day(days[task]);
        issue(fixture, issued, &visit);
    }
}

/* As the pages print it: what is still to be done in the as-of season. */
static inline struct issued_plan issued_of(struct fixture *fixture,
                                           const struct crossing_plan *plan)
{
    struct issued_plan issued = {NULL, 0, 0};

    for (size_t i = 0; i < plan->bag_count; i++)
        for (int task = 0; task < BAG_TASKS; task++) {
            const struct planned_bag *bag = &plan->bags[i];
            const struct planned_task *own = &bag->tasks[task];
            const struct issued_visit visit = {.as_of = plan->as_of,
                                               .task = task,
                                               .day = own->day,
                                               .bag = bag->name,
                                               .cross = bag->group->cross->name,
                                               .site = bag->group->site->name,
                                               .crew = own->crew,
                                               .lift = own->lift,
                                               .half_day = own->crew != NULL ? own->half_day : -1};

            if (!bag->pencilled && !bag->done[task] && own->day != DAY_NONE)
                issue(fixture, &issued, &visit);
        }
    return issued;
}

static inline struct crossing_plan firm_plan_on(struct fixture *fixture, const char *as_of,
                                                const struct issued_plan *issued)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, as_of);

    inputs.issued = issued;
    return plan_of(fixture, &inputs);
}

#endif
