/*
 * demand_pollen.c - millilitres of pollen, lot by lot, in whole doses.
 */
#include "planning/demand_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Bags that want one pollen. */
struct ask {
    const struct selection *parent;
    const struct lot *mix;
    int64_t bags;
};

struct asks {
    struct ask *list;
    size_t count, capacity;
};

static const struct selection *self_of(const struct selection *selection)
{
    return selection != NULL && selection->self != NULL ? selection->self : selection;
}

static void add_ask(const struct demand_maker *maker, struct asks *asks,
                    const struct demand_cross *row)
{
    struct ask ask = {row->cross->mix != NULL ? NULL : self_of(row->cross->pollen_parent),
                      row->cross->mix, row->bags};

    for (size_t i = 0; i < asks->count; i++) {
        if (asks->list[i].parent == ask.parent && asks->list[i].mix == ask.mix) {
            asks->list[i].bags += ask.bags;
            return;
        }
    }
    *ARENA_PUSH(maker->arena, asks->list, asks->count, asks->capacity) = ask;
}

/* Parents by name, then mixes by name. */
static int by_name(const void *a, const void *b)
{
    const struct ask *x = a, *y = b;

    if ((x->mix != NULL) != (y->mix != NULL))
        return x->mix != NULL ? 1 : -1;
    return x->mix != NULL ? strcmp(x->mix->name, y->mix->name)
                          : strcmp(x->parent->name, y->parent->name);
}

static int best_first(const void *a, const void *b)
{
    const struct lot_left *x = *(const struct lot_left *const *)a;
    const struct lot_left *y = *(const struct lot_left *const *)b;

    if (x->share > y->share || x->share < y->share)
        return x->share > y->share ? -1 : 1;
    return strcmp(x->balance->lot->name, y->balance->lot->name);
}

static size_t lots_of(const struct demand_maker *maker, const struct ask *ask,
                      const struct lot_left **lots)
{
    size_t count = 0;

    for (size_t i = 0; i < maker->orchard->lots.count; i++) {
        const struct lot_left *lot = &maker->supply.lots[i];
        const struct lot_balance *balance = lot->balance;
        bool fits = ask->mix != NULL ? balance->lot == ask->mix
                                     : balance->lot->part_count == 0 &&
                                           selection_same(balance->selection, ask->parent);

        if (fits && !lot->dead && balance->usable)
            lots[count++] = lot;
    }
    if (count > 1)
        qsort(lots, count, sizeof *lots, best_first);
    return count;
}

static struct demand_pollen *add_row(const struct demand_maker *maker, struct demand_plan *plan,
                                     const struct ask *ask)
{
    struct demand_pollen *row =
        ARENA_PUSH(maker->arena, plan->pollen.list, plan->pollen.count, plan->pollen.capacity);

    *row = (struct demand_pollen){.parent = ask->parent, .mix = ask->mix};
    return row;
}

static void give(const struct demand_maker *maker, struct demand_pollen *row, int64_t doses)
{
    row->doses_given = doses;
    row->ml_given = (double)doses * maker->orchard->program.dose_ml;
}

static void share_out(const struct demand_maker *maker, struct demand_plan *plan,
                      const struct ask *ask)
{
    const struct lot_left **lots =
        ARENA_ARRAY(maker->arena, maker->orchard->lots.count, const struct lot_left *);
    size_t count = lots_of(maker, ask, lots), first = plan->pollen.count;
    int64_t left = ask->bags * VISITS_MOST;

    for (size_t i = 0; i < count; i++) {
        struct demand_pollen *row = add_row(maker, plan, ask);

        row->lot = lots[i]->balance;
        row->doses_there = lots[i]->doses == DOSES_UNKNOWN ? -1 : lots[i]->doses;
        give(maker, row, row->doses_there < 0 || left < row->doses_there ? left : row->doses_there);
        left -= row->doses_given;
    }
    if (left > 0 || count == 0)
        give(maker, add_row(maker, plan, ask), left);
    plan->pollen.list[first].bags = ask->bags;
    plan->pollen.list[first].doses_wanted = ask->bags * VISITS_MOST;
}

void demand_add_pollen(const struct demand_maker *maker, struct demand_plan *plan)
{
    struct asks asks = {NULL, 0, 0};

    for (size_t i = 0; i < plan->crosses.count; i++)
        if (plan->crosses.list[i].bags > 0)
            add_ask(maker, &asks, &plan->crosses.list[i]);
    if (asks.count > 1)
        qsort(asks.list, asks.count, sizeof *asks.list, by_name);
    for (size_t i = 0; i < asks.count; i++)
        share_out(maker, plan, &asks.list[i]);
}
