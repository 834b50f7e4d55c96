/*
 * check_parts.h - what the files of the plan's checker share; nothing else includes it.
 */
#ifndef PLANNING_CHECK_PARTS_H
#define PLANNING_CHECK_PARTS_H

#include "base/text.h"
#include "planning/crossing.h"

struct check {
    const struct crossing_plan *plan;
    const struct crossing_inputs *inputs;
    const struct orchard *orchard;
    struct text *faults;
    size_t count;
};

/* One line of fault; `bag` may be NULL. */
void check_fault(struct check *check, const struct planned_bag *bag, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

double receptive_by_futures(const struct bloom *bloom, daynum day);
double clean_by_futures(const struct bloom *bloom, daynum day);
double safe_by_futures(const struct bloom *bloom, const struct bloom *shed, daynum day);

/* The three task kinds in tasks.csv; NULL when a table lacks one. */
const struct task_kind *check_task_kind(const struct check *check, enum bag_task task);
/* Crew-minutes (1/100) of one task of one bag. */
int64_t check_task_minutes(const struct check *check, const struct planned_bag *bag,
                           enum bag_task task);

/* What the limits are, counted anew. */
int places_by_count(const struct check *check, const struct flowering_row *row);
int64_t bags_by_demand(const struct check *check, const struct cross *cross);
double seeds_of_one_bag(const struct check *check, const struct group *group);
double germination_share(const struct check *check, const struct lot_balance *lot);

/* Each adds its faults. */
void check_days(struct check *check, const struct planned_bag *bag);
void check_value(struct check *check, const struct planned_bag *bag);
void check_limits(struct check *check);
void check_crews(struct check *check);
void check_firm(struct check *check);

#endif
