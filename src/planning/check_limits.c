/*
 * check_limits.c - bags per graft and cross, doses per lot.
 */
#include "planning/check_parts.h"

#include <math.h>

static void check_grafts(struct check *check)
{
    const struct crossing_plan *plan = check->plan;
    size_t grafts = check->orchard->grafts.count;
    int *planned = ARENA_ARRAY(check->inputs->arena, 2 * grafts, int);

    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];
        size_t graft = (size_t)(bag->group->graft - check->inputs->state->grafts);
        size_t at = 2 * graft + (bag->pencilled ? 1 : 0);

        if (bag->group->hangs != NULL)
            continue;
        int places = places_by_count(check, bag->group->flowering);
        if (++planned[at] == places + 1)
            check_fault(check, bag, "is one more than the %d bags its graft may carry", places);
    }
}

/* Bags still to be pollinated, new ones and those that hang and are clean, against what the cross
 * wants. */
static void check_crosses(struct check *check)
{
    const struct crossing_plan *plan = check->plan;
    size_t crosses = check->orchard->crosses.count;
    int64_t *planned = ARENA_ARRAY(check->inputs->arena, crosses, int64_t);

    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];
        const struct bag *hangs = bag->group->hangs;

        if (hangs == NULL || (hangs->visits == 0 && hangs->clean && bag->lot != NULL))
            planned[bag->group->cross - check->orchard->crosses.list]++;
    }
    for (size_t c = 0; c < crosses; c++) {
        const struct cross *cross = &check->orchard->crosses.list[c];
        int64_t wanted = planned[c] > 0 ? bags_by_demand(check, cross) : 0;

        if (planned[c] > wanted)
            check_fault(check, NULL, "cross %s has %lld bags planned and wants %lld", cross->name,
                        (long long)planned[c], (long long)wanted);
    }
}

static void check_lots(struct check *check)
{
    const struct crossing_plan *plan = check->plan;
    size_t lots = check->orchard->lots.count;
    double *doses = ARENA_ARRAY(check->inputs->arena, lots, double);

    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];

        for (int task = TASK_POLLINATE_1; task <= TASK_POLLINATE_2; task++)
            if (!bag->done[task] && bag->tasks[task].day != DAY_NONE)
                doses[bag->lot - check->orchard->lots.list] += 1;
    }
    for (size_t l = 0; l < lots; l++) {
        double left = check->inputs->state->lots[l].balance_ml;
        double used = doses[l] * check->orchard->program.dose_ml;

        if (used > 0 && !isnan(left) && used > left + 1e-9)
            check_fault(check, NULL, "lot %s gives %.3f ml and holds %.3f",
                        check->orchard->lots.list[l].name, used, left);
    }
}

static void check_shortfalls(struct check *check)
{
    for (size_t i = 0; i < check->plan->shortfall_count; i++) {
        const struct shortfall *shortfall = &check->plan->shortfalls[i];

        if (shortfall->bags_short != shortfall->bags_wanted - shortfall->bags_planned ||
            shortfall->bags_short < 0 || shortfall->cause == CAUSE_NONE)
            check_fault(check, NULL, "cross %s: its shortfall does not add up",
                        shortfall->cross->name);
    }
}

void check_limits(struct check *check)
{
    check_grafts(check);
    check_crosses(check);
    check_lots(check);
    check_shortfalls(check);
}
