/*
 * work_groups.c - work gathered by kind, site, cycle and what is in its way.
 */
#include "planning/work_groups.h"

#include "planning/placement.h"

#include <stdlib.h>
#include <string.h>

enum { FREE_DAYS = 3 }; /* a long weekend: own choice */

/* A group of one, and its name. */
struct item {
    struct work_group group;
    const char *name;
};

struct items {
    struct item *list;
    size_t count, capacity;
    struct arena *arena;
};

static int compare_days(daynum a, daynum b)
{
    return (a > b) - (a < b);
}

static int compare_sites(const struct site *a, const struct site *b)
{
    return a != NULL && b != NULL ? strcmp(a->name, b->name) : (a != NULL) - (b != NULL);
}

static int compare_kin(const struct work_group *a, const struct work_group *b)
{
    int order = strcmp(a->task, b->task);

    if (order == 0)
        order = compare_sites(a->site, b->site);
    if (order == 0)
        order = a->cycle - b->cycle;
    if (order == 0)
        order = (int)a->obstacle - (int)b->obstacle;
    return order != 0 ? order : compare_days(a->shut_until, b->shut_until);
}

static int by_kin(const void *a, const void *b)
{
    const struct item *x = a, *y = b;
    int order = compare_kin(&x->group, &y->group);

    if (order == 0)
        order = strcmp(x->name, y->name);
    return order != 0 ? order : compare_days(x->group.first, y->group.first);
}

static int by_last_day(const void *a, const void *b)
{
    const struct work_group *x = a, *y = b;
    int order = compare_days(x->last, y->last);

    return order != 0 ? order : compare_kin(x, y);
}

static void join(struct work_group *group, const struct item *item)
{
    const struct work_group *one = &item->group;

    if (group->count == 0 || strcmp(group->names[group->count - 1], item->name) != 0)
        group->names[group->count++] = item->name;
    group->first = one->first < group->first ? one->first : group->first;
    group->last = one->last < group->last ? one->last : group->last;
    if (one->order_by != DAY_NONE &&
        (group->order_by == DAY_NONE || one->order_by < group->order_by))
        group->order_by = one->order_by;
    if (one->not_done > group->not_done) {
        group->not_done = one->not_done;
        group->reason = one->reason;
    }
    group->expected = group->expected || one->expected;
    group->rough = group->rough || one->rough;
}

static struct work_groups gather(struct items *items)
{
    struct work_groups groups = {
        .list = ARENA_ARRAY(items->arena, items->count, struct work_group),
    };

    if (items->count > 1)
        qsort(items->list, items->count, sizeof *items->list, by_kin);
    for (size_t first = 0, end; first < items->count; first = end) {
        struct work_group *group = &groups.list[groups.count++];

        for (end = first + 1; end < items->count &&
                              compare_kin(&items->list[first].group, &items->list[end].group) == 0;)
            end++;
        *group = items->list[first].group;
        group->names = ARENA_ARRAY(items->arena, end - first, const char *);
        for (size_t i = first; i < end; i++)
            join(group, &items->list[i]);
    }
    if (groups.count > 1)
        qsort(groups.list, groups.count, sizeof *groups.list, by_last_day);
    return groups;
}

static const struct site *site_of(const struct task_subject *subject)
{
    if (subject->site != NULL)
        return subject->site;
    if (subject->tree != NULL)
        return subject->tree->site;
    return subject->graft != NULL && subject->graft->graft->tree != NULL
               ? subject->graft->graft->tree->site
               : NULL;
}

static struct item *add_instance(struct items *items, const struct task_instance *instance)
{
    struct item *item = ARENA_PUSH(items->arena, items->list, items->count, items->capacity);

    *item = (struct item){
        .group =
            {
                .task = instance->kind->task,
                .site = site_of(&instance->subject),
                .cycle = instance->cycle,
                .first = instance->first_day,
                .last = instance->last_day,
                .order_by = instance->order_by,
                .not_done = instance->not_done,
                .reason = instance->not_done_reason,
                .shut_until = DAY_NONE,
                .obstacle = OBSTACLE_NONE,
                .expected = instance->expected,
                .rough = instance->rough,
            },
        .name = instance->subject.name != NULL ? instance->subject.name : "",
    };
    return item;
}

/* Nobody has worked there since it opened, and there is time after the list's last day. */
static bool opens_at_the_end(const struct duty *duty, daynum last_day)
{
    return duty->obstacle == OBSTACLE_NOBODY && duty->instance->last_day > last_day &&
           last_day - duty->instance->first_day < FREE_DAYS;
}

struct work_groups groups_pushed_out(const struct duties *duties, daynum last_day,
                                     struct arena *arena)
{
    struct items items = {.arena = arena};

    for (size_t i = 0; i < duties->count; i++) {
        const struct duty *duty = &duties->list[i];

        if (duty->obstacle == OBSTACLE_NONE || opens_at_the_end(duty, last_day))
            continue;
        struct item *item = add_instance(&items, duty->instance);
        item->group.site = duty->site;
        item->group.obstacle = duty->obstacle;
        if (duty->obstacle == OBSTACLE_SPRAYED)
            item->group.shut_until = duty->shut_until;
        if (duty->planned != NULL)
            item->name = duty->planned->tag;
    }
    return gather(&items);
}

static void add_visits(struct items *items, const struct crossing_plan *plan, daynum last_day)
{
    struct visits visits = crossing_visits(plan, items->arena);

    for (size_t i = 0; i < visits.count; i++) {
        const struct planned_bag *bag = visits.list[i].bag;
        enum bag_task task = visits.list[i].task;
        daynum day = bag->tasks[task].day;

        if (day <= last_day || day > last_day + COMING_UP_DAYS)
            continue;
        *ARENA_PUSH(items->arena, items->list, items->count, items->capacity) = (struct item){
            .group = {.task = bag_task_words[task],
                      .site = bag->group->site,
                      .cycle = bag->group->season - bag->group->season_number,
                      .first = day,
                      .last = bag->latest[task] != DAY_NONE ? bag->latest[task] : day,
                      .order_by = DAY_NONE,
                      .shut_until = DAY_NONE,
                      .obstacle = OBSTACLE_NONE},
            .name = bag->name,
        };
    }
}

struct work_groups groups_coming_up(const struct task_instances *tasks,
                                    const struct crossing_plan *plan, daynum last_day,
                                    struct arena *arena)
{
    struct items items = {.arena = arena};

    for (size_t i = 0; i < tasks->count; i++) {
        const struct task_instance *instance = &tasks->list[i];

        if (instance->stand == TASK_COMING && instance->first_day > last_day &&
            instance->first_day <= last_day + COMING_UP_DAYS && !duty_is_crossing(instance->kind))
            add_instance(&items, instance);
    }
    add_visits(&items, plan, last_day);
    return gather(&items);
}

struct work_groups groups_overdue(const struct task_instances *tasks, struct arena *arena)
{
    struct items items = {.arena = arena};

    for (size_t i = 0; i < tasks->count; i++)
        if (tasks->list[i].stand == TASK_OVERDUE && !duty_is_crossing(tasks->list[i].kind))
            add_instance(&items, &tasks->list[i]);
    return gather(&items);
}
