/* selection_windows.c - grafts of one selection gathered, and the plan's visits counted by day. */
#include "planning/selection_windows.h"

#include "orchard/order.h"

#include <stdlib.h>

static bool has_dates(const struct flowering_row *row)
{
    const daynum *first = row->dates[EVENT_FIRST], *last = row->dates[EVENT_LAST];

    return first[1] != DAY_NONE && first[1] < DAY_NEVER && last[1] != DAY_NONE &&
           last[1] < DAY_NEVER;
}

static const char *name_of(const struct flowering_row *row)
{
    return row->graft->selection ? row->graft->selection->name : NULL;
}

static int compare_rows(const void *left, const void *right)
{
    const struct flowering_row *a = *(const struct flowering_row *const *)left;
    const struct flowering_row *b = *(const struct flowering_row *const *)right;
    int order = order_text(a->site->name, b->site->name);

    if (order == 0)
        order = order_text(name_of(a), name_of(b));
    if (order == 0)
        order = order_whole(a->dates[EVENT_FIRST][1], b->dates[EVENT_FIRST][1]);
    if (order == 0)
        order = order_text(a->graft->graft->tag, b->graft->graft->tag);
    return order;
}

static int compare_windows(const void *left, const void *right)
{
    const struct selection_window *a = left, *b = right;
    int order = order_text(a->site->name, b->site->name);

    if (order == 0)
        order = order_whole(a->first, b->first);
    if (order == 0)
        order = order_whole(a->last, b->last);
    if (order == 0)
        order = order_text(a->selection ? a->selection->name : NULL,
                           b->selection ? b->selection->name : NULL);
    return order;
}

static struct selection_window window_of(const struct flowering_row *const *rows, size_t count)
{
    const struct flowering_row *middle = rows[(count - 1) / 2];
    struct selection_window window = {.site = middle->site,
                                      .selection = middle->graft->selection,
                                      .grafts = count,
                                      .earliest = rows[0]->dates[EVENT_FIRST][0],
                                      .first = middle->dates[EVENT_FIRST][1],
                                      .last = middle->dates[EVENT_LAST][1],
                                      .latest = rows[0]->dates[EVENT_LAST][1]};

    for (size_t i = 0; i < count; i++) {
        daynum early = rows[i]->dates[EVENT_FIRST][0], late = rows[i]->dates[EVENT_LAST][2];

        if (early < window.earliest)
            window.earliest = early;
        if (late < DAY_NEVER && late > window.latest)
            window.latest = late;
        if (rows[i]->bloom->basis > window.basis)
            window.basis = rows[i]->bloom->basis;
    }
    return window;
}

static int compare_work(const void *left, const void *right)
{
    const struct window_work *a = left, *b = right;
    int order = order_whole(a->day, b->day);

    return order != 0 ? order : order_whole(a->task, b->task);
}

static void take_work(struct selection_window *window, const struct visits *visits, int season,
                      struct arena *arena)
{
    size_t kept = 0;

    window->work = ARENA_ARRAY(arena, visits->count, struct window_work);
    for (size_t i = 0; i < visits->count; i++) {
        const struct planned_bag *bag = visits->list[i].bag;
        enum bag_task task = visits->list[i].task;

        if (bag->group->season == season && bag->group->site == window->site &&
            bag->group->graft->selection == window->selection)
            window->work[window->work_count++] = (struct window_work){
                bag->tasks[task].day, task == TASK_POLLINATE_2 ? TASK_POLLINATE_1 : task, 1};
    }
    qsort(window->work, window->work_count, sizeof *window->work, compare_work);
    for (size_t i = 0; i < window->work_count; i++) {
        if (kept > 0 && compare_work(&window->work[kept - 1], &window->work[i]) == 0)
            window->work[kept - 1].bags++;
        else
            window->work[kept++] = window->work[i];
    }
    window->work_count = kept;
}

struct selection_windows selection_windows_of(const struct flowering_rows *rows,
                                              const struct crossing_plan *plan, int season,
                                              struct arena *arena)
{
    const struct flowering_row **dated =
        ARENA_ARRAY(arena, rows->count, const struct flowering_row *);
    struct selection_windows windows = {.season = season};
    struct visits visits = {NULL, 0};
    size_t count = 0;

    if (plan != NULL)
        visits = crossing_visits(plan, arena);
    for (size_t i = 0; i < rows->count; i++)
        if (rows->list[i].season == season && has_dates(&rows->list[i]))
            dated[count++] = &rows->list[i];
    qsort(dated, count, sizeof *dated, compare_rows);
    windows.list = ARENA_ARRAY(arena, count, struct selection_window);
    for (size_t first = 0, end; first < count; first = end) {
        for (end = first + 1; end < count && dated[end]->site == dated[first]->site &&
                              dated[end]->graft->selection == dated[first]->graft->selection;)
            end++;
        windows.list[windows.count] = window_of(&dated[first], end - first);
        take_work(&windows.list[windows.count++], &visits, season, arena);
    }
    qsort(windows.list, windows.count, sizeof *windows.list, compare_windows);
    return windows;
}
