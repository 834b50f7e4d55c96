/*
 * walk.c - the order in which a crew walks its trees.
 */
#include "planning/walk.h"

#include <stdlib.h>
#include <string.h>

static const struct planned_task *task_of(const struct visit *row)
{
    return &row->bag->tasks[row->task];
}

static const struct tree *tree_of(const struct visit *row)
{
    return row->bag->group->graft->graft->tree;
}

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

/* A site's block, which is walked row by row. */
static int compare_blocks(const struct visit *x, const struct visit *y)
{
    int order = strcmp(x->bag->group->site->name, y->bag->group->site->name);

    return order != 0 ? order : compare_text(tree_of(x)->block, tree_of(y)->block);
}

static int compare_rows_of_trees(const struct visit *x, const struct visit *y)
{
    int order = compare_blocks(x, y);

    return order != 0 ? order : tree_of(x)->row - tree_of(y)->row;
}

static int compare_on_a_tree(const struct visit *x, const struct visit *y)
{
    int order = (int)x->task - (int)y->task;

    return order != 0 ? order : strcmp(x->bag->name, y->bag->name);
}

static int by_walk(const void *a, const void *b)
{
    const struct visit *x = a, *y = b;
    int order = compare_rows_of_trees(x, y);

    if (order == 0)
        order = tree_of(x)->position - tree_of(y)->position;
    if (order == 0)
        order = strcmp(tree_of(x)->name, tree_of(y)->name);
    return order != 0 ? order : compare_on_a_tree(x, y);
}

/* What is done in the morning comes before what is done in the afternoon. */
static int by_day_and_walk(const void *a, const void *b)
{
    const struct visit *x = a, *y = b;
    int order = (task_of(x)->day > task_of(y)->day) - (task_of(x)->day < task_of(y)->day);

    if (order == 0)
        order = strcmp(task_of(x)->crew, task_of(y)->crew);
    if (order == 0)
        order = task_of(x)->half_day - task_of(y)->half_day;
    return order != 0 ? order : by_walk(x, y);
}

/* Does another crew name the lift of this one?  Then each has it for the half-days planned. */
static bool shares_lift(const struct orchard *orchard, const struct planned_task *task)
{
    for (size_t i = 0; i < orchard->crews.count && task->lift != NULL; i++) {
        const struct crew_time *time = &orchard->crews.list[i];

        if (time->lift_name != NULL && strcmp(time->lift_name, task->lift) == 0 &&
            strcmp(time->crew, task->crew) != 0)
            return true;
    }
    return false;
}

/* Turn the trees of one row round, keeping the order on each tree. */
static void walk_back(struct visit *visits, size_t count, struct arena *arena)
{
    struct visit *turned = ARENA_ARRAY(arena, count, struct visit);
    size_t at = 0;

    for (size_t end = count, first; end > 0; end = first) {
        for (first = end - 1;
             first > 0 && tree_of(&visits[first - 1]) == tree_of(&visits[end - 1]);)
            first--;
        for (size_t i = first; i < end; i++)
            turned[at++] = visits[i];
    }
    memcpy(visits, turned, count * sizeof *visits);
}

/* Every second row of trees of a block is walked back; trees without a row are not turned. */
static void turn_rows(struct visit *visits, size_t count, struct arena *arena)
{
    bool back = false;

    for (size_t first = 0, end; first < count; first = end) {
        for (end = first + 1;
             end < count && compare_rows_of_trees(&visits[first], &visits[end]) == 0;)
            end++;
        if (first > 0 && compare_blocks(&visits[first - 1], &visits[first]) != 0)
            back = false;
        if (tree_of(&visits[first])->row < 0)
            continue;
        if (back)
            walk_back(&visits[first], end - first, arena);
        back = !back;
    }
}

/* One crew's day, sorted. */
static void walk_day(struct visits day, const struct orchard *orchard, struct arena *arena)
{
    const struct visit *first = &day.list[0], *last = &day.list[day.count - 1];
    size_t morning = 0;

    if (first->bag->group->site == last->bag->group->site &&
        !shares_lift(orchard, task_of(first))) {
        qsort(day.list, day.count, sizeof *day.list, by_walk);
        turn_rows(day.list, day.count, arena);
        return;
    }
    while (morning < day.count && task_of(&day.list[morning])->half_day == 0)
        morning++;
    turn_rows(day.list, morning, arena);
    turn_rows(day.list + morning, day.count - morning, arena);
}

bool walk_is_of_one_day(const struct visit *a, const struct visit *b)
{
    return task_of(a)->day == task_of(b)->day && strcmp(task_of(a)->crew, task_of(b)->crew) == 0;
}

void walk_visits(struct visits visits, const struct orchard *orchard, struct arena *arena)
{
    if (visits.count > 1)
        qsort(visits.list, visits.count, sizeof *visits.list, by_day_and_walk);
    for (size_t first = 0, end; first < visits.count; first = end) {
        for (end = first + 1;
             end < visits.count && walk_is_of_one_day(&visits.list[first], &visits.list[end]);)
            end++;
        walk_day((struct visits){&visits.list[first], end - first}, orchard, arena);
    }
}
