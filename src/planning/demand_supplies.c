/*
 * demand_supplies.c - what to have ready for the grafts and the bags.
 *
 * Numbers a graft are common practice, spares an own choice; no source was found for either.
 */
#include "planning/demand_parts.h"

#include <math.h>

/* Pieces a graft or a bag takes, and that with spares over it. */
struct item {
    const char *item, *unit;
    bool of_bags;
    struct decimal each, spare;
    struct decimal each_ft; /* lengths alone; units 0 */
};

static const struct item items[] = {
    {"grafting rubbers", "rubbers", false, {3, 0}, {110, 2}, {0, 0}},
    {"stretch film, 75 to 100 mm wide", "m", false, {762, 3}, {110, 2}, {25, 1}},
    {"paraffin wax", "g", false, {5, 0}, {110, 2}, {0, 0}},
    {"knife blades", "blades", false, {1, 1}, {110, 2}, {0, 0}},
    {"tag and flag, one above and one below", "labels", false, {2, 0}, {105, 2}, {0, 0}},
    {"isolation bags", "bags", true, {1, 0}, {110, 2}, {0, 0}},
    {"ties for them", "ties", true, {2, 0}, {110, 2}, {0, 0}},
    {"bag and branch labels", "labels", true, {2, 0}, {105, 2}, {0, 0}},
};

static const char graft_words[] = "grafts to make";
static const char source_words[] = "common practice, no source; spares: own choice";

static void add_item(const struct demand_maker *maker, struct demand_plan *plan,
                     const struct item *item, int64_t n)
{
    struct demand_supply *row = ARENA_PUSH(maker->arena, plan->supplies.list, plan->supplies.count,
                                           plan->supplies.capacity);

    *row = (struct demand_supply){
        .item = item->item,
        .unit = item->unit,
        .for_what = item->of_bags ? "bags to hang" : graft_words,
        .of = n,
        .amount = demand_with_spares(n, item->each, item->spare),
        .amount_ft = item->each_ft.units ? demand_with_spares(n, item->each_ft, item->spare) : -1,
        .each = number_of_decimal(item->each),
        .each_ft = item->each_ft.units ? number_of_decimal(item->each_ft) : NAN,
        .spare = number_of_decimal(item->spare),
        .source = source_words,
    };
}

/* Spares are rounded up for each selection: scions of one do not stand in for another's. */
static void add_scions(const struct demand_maker *maker, struct demand_plan *plan, int64_t grafts,
                       int64_t scions)
{
    struct demand_supply *row = ARENA_PUSH(maker->arena, plan->supplies.list, plan->supplies.count,
                                           plan->supplies.capacity);

    *row = (struct demand_supply){
        .item = "scions",
        .unit = "scions",
        .for_what = graft_words,
        .of = grafts,
        .amount = scions,
        .amount_ft = -1,
        .each = 1,
        .each_ft = NAN,
        .spare = number_of_decimal(demand_scion_spare),
        .by_selection = true,
        .source = source_words,
    };
}

void demand_add_supplies(const struct demand_maker *maker, struct demand_plan *plan)
{
    int64_t grafts = 0, bags = 0, scions = 0;

    for (size_t i = 0; i < plan->selections.count; i++) {
        grafts += plan->selections.list[i].grafts > 0 ? plan->selections.list[i].grafts : 0;
        scions += plan->selections.list[i].scions;
    }
    for (size_t i = 0; i < plan->crosses.count; i++)
        bags += plan->crosses.list[i].bags - plan->crosses.list[i].hanging;
    if (grafts > 0)
        add_scions(maker, plan, grafts, scions);
    for (size_t i = 0; i < sizeof items / sizeof *items; i++)
        if ((items[i].of_bags ? bags : grafts) > 0)
            add_item(maker, plan, &items[i], items[i].of_bags ? bags : grafts);
}
