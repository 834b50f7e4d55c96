/*
 * firm_moves.c - names that go on, and every visit of the issued plan that does not stand.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>
#include <string.h>

const char *firm_name(struct chooser *chooser, const struct planned_bag *bag)
{
    for (size_t i = 0; i < chooser->issued.count; i++) {
        struct issued_bag *issued = &chooser->issued.list[i];

        if (!issued->used && issued->candidate != NULL && issued->candidate->group == bag->group) {
            issued->used = true;
            return issued->name;
        }
    }
    return NULL;
}

int firm_highest(const struct chooser *chooser, const struct group *group)
{
    const char *tag = group->graft->graft->tag;
    const size_t length = strlen(tag);
    int highest = 0;

    for (size_t i = 0; i < chooser->issued.count; i++) {
        const char *name = chooser->issued.list[i].name;

        if (strncmp(name, tag, length) != 0 || name[length] != '-' || strlen(name) < length + 5)
            continue;
        int number = atoi(name + length + 4);
        highest = number > highest ? number : highest;
    }
    return highest;
}

static int by_name(const void *a, const void *b)
{
    const struct planned_bag *const *x = a, *const *y = b;

    return strcmp((*x)->name, (*y)->name);
}

/* Bags of the as-of season by name. */
struct named {
    const struct planned_bag **list;
    size_t count;
};

static struct named named_of(const struct crossing_plan *plan, struct arena *arena)
{
    struct named named = {ARENA_ARRAY(arena, plan->bag_count, const struct planned_bag *), 0};

    for (size_t i = 0; i < plan->bag_count; i++)
        if (!plan->bags[i].pencilled)
            named.list[named.count++] = &plan->bags[i];
    if (named.count > 1)
        qsort(named.list, named.count, sizeof *named.list, by_name);
    return named;
}

static const struct planned_bag *bag_named(const struct named *named, const char *name)
{
    const struct planned_bag key = {.name = name}, *wanted = &key;
    const struct planned_bag **found =
        named->count > 0 ? bsearch(&wanted, named->list, named->count, sizeof *named->list, by_name)
                         : NULL;

    return found != NULL ? *found : NULL;
}

/* What the notes say of the bag holds: done on whatever day. */
static bool is_done(const struct bag *noted, int task)
{
    if (noted == NULL)
        return false;
    return task == TASK_BAG || (task == TASK_POLLINATE_1 && noted->visits >= 1) ||
           (task == TASK_POLLINATE_2 && noted->visits >= 2) ||
           (task == TASK_UNBAG && noted->unbagged_on != DAY_NONE);
}

/* Beyond the firm days a half-day is nothing that anybody was promised. */
static bool same_crew(const struct planned_task *a, const struct planned_task *b, bool firm)
{
    return a->crew != NULL && b->crew != NULL && strcmp(a->crew, b->crew) == 0 &&
           (!firm || a->half_day == b->half_day);
}

static const char *reason_of(const struct issued_bag *bag, const struct move *move)
{
    if (move->from == move->to)
        return move->crew_from != NULL && move->crew_to != NULL &&
                       strcmp(move->crew_from, move->crew_to) == 0
                   ? "other half-day"
                   : "crew";
    if (bag->reason != NULL)
        return bag->reason;
    if (bag->later != NULL)
        return bag->later;
    return move->to == DAY_NONE && !bag->used ? "bags worth more take its minutes" : "better day";
}

/* What became of an issued bag. */
struct fate {
    const struct issued_bag *bag;
    const struct planned_bag *now; /* NULL: it is not planned any more */
};

static void add_move(const struct chooser *chooser, struct fate fate, int task,
                     struct crossing_plan *plan)
{
    const struct issued_bag *bag = fate.bag;
    const struct planned_bag *now = fate.now;
    const struct planned_task *was = &bag->tasks[task];
    const struct planned_task none = {.day = DAY_NONE, .half_day = -1};
    const struct planned_task *is = now != NULL ? &now->tasks[task] : &none;
    const daynum as_of = chooser->inputs->state->orchard->as_of;
    const bool firm =
        was->day != DAY_NONE && was->day >= as_of && was->day <= chooser->issued.firm_until;

    if (is_done(state_bag(chooser->inputs->state, bag->name), task) ||
        (was->day == DAY_NONE && is->day == DAY_NONE) ||
        (was->day == is->day && same_crew(was, is, firm)))
        return;
    struct move *move = &plan->moves[plan->move_count++];
    *move = (struct move){
        .bag = bag->name,
        .task = task,
        .from = was->day,
        .to = is->day,
        .crew_from = was->crew,
        .crew_to = is->crew,
        .half_from = was->crew != NULL ? was->half_day : -1,
        .half_to = is->crew != NULL ? is->half_day : -1,
        .firm = firm,
    };
    move->reason = reason_of(bag, move);
}

void firm_moves(const struct chooser *chooser, struct crossing_plan *plan)
{
    struct arena *arena = chooser->inputs->arena;
    const struct named named = named_of(plan, arena);

    plan->moves = ARENA_ARRAY(arena, chooser->issued.count * BAG_TASKS, struct move);
    for (size_t i = 0; i < chooser->issued.count; i++) {
        const struct issued_bag *bag = &chooser->issued.list[i];
        const struct fate fate = {bag, bag_named(&named, bag->name)};

        for (int task = 0; task < BAG_TASKS; task++)
            add_move(chooser, fate, task, plan);
    }
}
