/*
 * worklist.c - the rows of some days by crew, in walking order, and what is around them.
 */
#include "planning/worklist.h"

#include "planning/crews.h"
#include "planning/page_moves.h"
#include "planning/roster.h"
#include "planning/walk.h"
#include "planning/work_groups.h"
#include "planning/worklist_parts.h"

#include <stdlib.h>
#include <string.h>

static bool sprayed_lately(const struct list_maker *maker)
{
    for (size_t i = 0; i < maker->orchard->notes.count; i++) {
        const struct note *note = &maker->orchard->notes.list[i];

        if (note->kind == NOTE_SPRAYED && maker->plan->as_of - note->date <= 90)
            return true;
    }
    return false;
}

/* All that crews do within the days. */
struct crew_work {
    struct visits visits;
    struct duties duties; /* those of the manager's first kinds among them */
    struct stops walk;
};

static void add_visits(struct crew_work *work, const struct work_asked *asked)
{
    for (size_t i = 0; i < work->visits.count; i++) {
        const struct visit *visit = &work->visits.list[i];
        const struct planned_task *task = &visit->bag->tasks[visit->task];

        if (task->crew != NULL && task->day >= asked->first_day && task->day <= asked->last_day)
            work->walk.list[work->walk.count++] = (struct stop){
                .day = task->day,
                .crew = task->crew,
                .lift = task->lift,
                .half_day = task->half_day,
                .site = visit->bag->group->site,
                .tree = visit->bag->group->graft->graft->tree,
                .order = visit->task,
                .name = visit->bag->name,
                .index = i,
                .of_plan = true,
            };
    }
}

static void add_duties(struct crew_work *work, const struct work_asked *asked)
{
    for (size_t i = 0; i < work->duties.count; i++) {
        const struct duty *duty = &work->duties.list[i];

        if (duty->obstacle == OBSTACLE_NONE && duty->day >= asked->first_day &&
            duty->day <= asked->last_day)
            work->walk.list[work->walk.count++] = (struct stop){
                .day = duty->day,
                .crew = duty->crew,
                .lift = duty->lift,
                .half_day = duty->half_day,
                .site = duty->site,
                .tree = duty->tree,
                .order = BAG_TASKS + i, /* the duties' own order */
                .name = "",
                .index = i,
            };
    }
}

/* Early duties that have their crews, and all others with what the plan leaves. */
static struct duties give_duties(const struct list_maker *maker, const struct work_asked *asked)
{
    struct duties duties = {0}, all;
    size_t early = asked->early != NULL ? asked->early->count : 0;

    if (asked->tasks == NULL)
        return duties;
    duties = duties_of(maker->orchard, asked->tasks, asked->placement, asked->last_day);
    all.list = ARENA_ARRAY(maker->arena, early + duties.count, struct duty);
    all.count = 0;
    for (size_t i = 0; i < early; i++)
        if (asked->early->list[i].early &&
            asked->early->list[i].instance->first_day <= asked->last_day)
            all.list[all.count++] = asked->early->list[i];
    for (size_t i = 0; i < duties.count; i++)
        if (early == 0 || !duties.list[i].early)
            all.list[all.count++] = duties.list[i];
    struct roster *roster = roster_of(maker->orchard, maker->plan->as_of, asked->last_day);
    roster_take_plan(roster, maker->plan);
    roster_give(roster, &all, false);
    return all;
}

static struct crew_work work_of(const struct list_maker *maker, const struct work_asked *asked)
{
    struct crew_work work = {.visits = crossing_visits(maker->plan, maker->arena),
                             .duties = give_duties(maker, asked)};

    work.walk.list = ARENA_ARRAY(maker->arena, work.visits.count + work.duties.count, struct stop);
    add_visits(&work, asked);
    add_duties(&work, asked);
    walk_stops(work.walk, maker->orchard);
    return work;
}

static struct work_row row_of(const struct crew_work *work, const struct stop *stop)
{
    if (stop->of_plan) {
        const struct visit *visit = &work->visits.list[stop->index];

        return (struct work_row){
            .bag = visit->bag, .task = visit->task, .site = stop->site, .tree = stop->tree};
    }
    const struct duty *duty = &work->duties.list[stop->index];
    return (struct work_row){.instance = duty->instance,
                             .planned = duty->planned,
                             .site = duty->site,
                             .tree = duty->tree};
}

/* One crew's day. */
static struct work_page page_of(const struct list_maker *maker, const struct crew_work *work,
                                const struct stop *stops, size_t count)
{
    struct work_page page = {
        .day = stops->day,
        .crew = stops->crew,
        .rows = ARENA_ARRAY(maker->arena, count, struct work_row),
        .row_count = count,
    };
    int64_t duty_minutes = 0;

    for (size_t i = 0; i < count; i++) {
        page.rows[i] = row_of(work, &stops[i]);
        page.lift = page.lift != NULL ? page.lift : stops[i].lift;
        if (!stops[i].of_plan)
            duty_minutes += work->duties.list[stops[i].index].paid;
    }
    number_page(maker, &page);
    fill_materials(maker, &page);
    fill_minutes(maker, &page, duty_minutes);
    fill_cautions(maker, &page);
    return page;
}

static int compare_days(daynum a, daynum b)
{
    return (a > b) - (a < b);
}

/* Kinds together, a cycle after the other. */
static int by_kind(const void *a, const void *b)
{
    const struct task_instance *x = ((const struct work_row *)a)->instance;
    const struct task_instance *y = ((const struct work_row *)b)->instance;
    int order = strcmp(x->kind->task, y->kind->task);

    if (order == 0)
        order = x->cycle - y->cycle;
    if (order == 0)
        order = compare_days(x->last_day, y->last_day);
    if (order == 0 && x->subject.name != NULL && y->subject.name != NULL)
        order = strcmp(x->subject.name, y->subject.name);
    return order != 0 ? order : compare_days(x->first_day, y->first_day);
}

/* Rows of one kind and cycle, of which the first has the earliest last day. */
struct run {
    const struct work_row *rows;
    size_t count;
};

static int by_last_day(const void *a, const void *b)
{
    const struct run *x = a, *y = b;
    int order = compare_days(x->rows->instance->last_day, y->rows->instance->last_day);

    return order != 0 ? order : by_kind(x->rows, y->rows);
}

/* By kind and cycle, that which is due first before the others. */
static void order_office(const struct list_maker *maker, struct worklist *list)
{
    struct work_row *rows = ARENA_ARRAY(maker->arena, list->office_count, struct work_row);
    struct run *runs = ARENA_ARRAY(maker->arena, list->office_count, struct run);
    size_t count = 0, at = 0;

    qsort(list->office, list->office_count, sizeof *list->office, by_kind);
    for (size_t i = 0; i < list->office_count; i++) {
        const struct task_instance *own = list->office[i].instance;
        const struct task_instance *before = i > 0 ? list->office[i - 1].instance : NULL;

        if (before == NULL || before->kind != own->kind || before->cycle != own->cycle)
            runs[count++].rows = &list->office[i];
        runs[count - 1].count++;
    }
    qsort(runs, count, sizeof *runs, by_last_day);
    for (size_t r = 0; r < count; r++)
        for (size_t i = 0; i < runs[r].count; i++)
            rows[at++] = runs[r].rows[i];
    list->office = rows;
}

static bool is_open(const struct task_instance *instance, daynum last_day)
{
    return (instance->stand == TASK_COMING || instance->stand == TASK_DUE ||
            instance->stand == TASK_OVERDUE) &&
           instance->first_day <= last_day && !duty_is_crossing(instance->kind);
}

/* What needs no crew, from the day of the list or of the run, whichever is later. */
static void fill_office(const struct list_maker *maker, struct worklist *list,
                        const struct task_instances *tasks)
{
    daynum day = list->first_day > maker->plan->as_of ? list->first_day : maker->plan->as_of;

    if (day > list->last_day)
        return;
    list->office = ARENA_ARRAY(maker->arena, tasks->count, struct work_row);
    for (size_t i = 0; i < tasks->count; i++)
        if (is_open(&tasks->list[i], list->last_day) && !duty_wants_crew(&tasks->list[i]))
            list->office[list->office_count++] =
                (struct work_row){.instance = &tasks->list[i], .site = tasks->list[i].subject.site};
    if (list->office_count > 0)
        order_office(maker, list);
    number_office(maker, list, day);
}

static void fill_lists(const struct list_maker *maker, struct worklist *list,
                       const struct work_asked *asked, const struct crew_work *work)
{
    fill_office(maker, list, asked->tasks);
    list->pushed = groups_pushed_out(&work->duties, list->last_day, maker->arena);
    list->coming = groups_coming_up(asked->tasks, maker->plan, list->last_day, maker->arena);
    list->overdue = groups_overdue(asked->tasks, maker->arena);
}

struct worklist worklist_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                            const struct work_asked *asked)
{
    struct list_maker maker = {
        .orchard = inputs->state->orchard, .plan = plan, .arena = inputs->arena};
    struct worklist list = {.first_day = asked->first_day, .last_day = asked->last_day};
    const struct crew_work work = work_of(&maker, asked);

    maker.crew_count = crew_names(maker.orchard, maker.arena, &maker.crews);
    maker.sprayed = sprayed_lately(&maker);
    list.pages = ARENA_ARRAY(maker.arena, work.walk.count, struct work_page);
    for (size_t first = 0, end; first < work.walk.count; first = end) {
        for (end = first + 1; end < work.walk.count &&
                              walk_is_of_one_day(&work.walk.list[first], &work.walk.list[end]);)
            end++;
        list.pages[list.page_count++] = page_of(&maker, &work, &work.walk.list[first], end - first);
    }
    list.watch = watch_of(plan, inputs, list.first_day, list.last_day);
    if (asked->tasks != NULL)
        fill_lists(&maker, &list, asked, &work);
    if (asked->earlier != NULL)
        list.moves = page_moves_of(&list, plan, maker.orchard, asked->earlier);
    return list;
}
