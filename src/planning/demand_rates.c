/*
 * demand_rates.c - the rows of rates that a demand rests on, each told once.
 */
#include "planning/demand_parts.h"

#include <math.h>
#include <stdlib.h>

void demand_add_rate(const struct demand_maker *maker, struct demand_plan *plan,
                     const struct rate *rate, enum demand_use use)
{
    size_t at = 0;

    if (rate == NULL)
        return;
    while (at < plan->rates.count && plan->rates.list[at].rate != rate)
        at++;
    if (at == plan->rates.count)
        *ARENA_PUSH(maker->arena, plan->rates.list, plan->rates.count, plan->rates.capacity) =
            (struct demand_rate){.rate = rate};
    plan->rates.list[at].uses |= use;
}

double demand_freeze_rate(const struct demand_maker *maker, const char *rate,
                          struct rate_subject subject)
{
    const struct rate *holds = rate_find(maker->orchard, rate, subject);
    const struct rate *low = rate_of_bad_year(maker->orchard, rate, subject);

    demand_add_rate(maker, maker->plan, low, USE_FOR_FREEZE);
    if (low != NULL)
        return low->low;
    return holds != NULL ? number_of_decimal(holds->value) : NAN;
}

/* As the orchard's list stands: by name, then cells. */
static int by_rate(const void *a, const void *b)
{
    const struct rate *x = ((const struct demand_rate *)a)->rate;
    const struct rate *y = ((const struct demand_rate *)b)->rate;

    return (x > y) - (x < y); /* both point into one list */
}

void demand_sort_rates(struct demand_plan *plan)
{
    if (plan->rates.count > 1)
        qsort(plan->rates.list, plan->rates.count, sizeof *plan->rates.list, by_rate);
}
