/*
 * demand_rates.c - the rows of rates that a demand rests on, each told once.
 */
#include "planning/demand_parts.h"

#include "orchard/order.h"

#include <stdlib.h>
#include <string.h>

void demand_add_rate(const struct demand_maker *maker, struct demand_plan *plan,
                     const struct rate *rate, bool by_selection)
{
    size_t at = 0;

    if (rate == NULL)
        return;
    while (at < plan->rates.count && plan->rates.list[at].rate != rate)
        at++;
    if (at == plan->rates.count)
        *ARENA_PUSH(maker->arena, plan->rates.list, plan->rates.count, plan->rates.capacity) =
            (struct demand_rate){.rate = rate};
    plan->rates.list[at].for_grafts = plan->rates.list[at].for_grafts || by_selection;
    plan->rates.list[at].for_crosses = plan->rates.list[at].for_crosses || !by_selection;
}

static int by_rate(const void *a, const void *b)
{
    const struct rate *x = ((const struct demand_rate *)a)->rate;
    const struct rate *y = ((const struct demand_rate *)b)->rate;
    int order = strcmp(x->rate, y->rate);

    if (order == 0)
        order = x->shipped - y->shipped;
    return order != 0 ? order : order_place(x->place, y->place);
}

void demand_sort_rates(struct demand_plan *plan)
{
    if (plan->rates.count > 1)
        qsort(plan->rates.list, plan->rates.count, sizeof *plan->rates.list, by_rate);
}
