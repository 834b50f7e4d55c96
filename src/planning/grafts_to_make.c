#include "planning/grafts_to_make.h"

#include "orchard/task_rules.h"
#include "planning/cycle_day.h"
#include "planning/duty.h"

#include <string.h>

enum { MEDIAN = 1 }; /* of three dates */

bool grafting_near(const struct grafting_rows *windows, daynum as_of, daynum last_day)
{
    for (size_t i = 0; i < windows->count; i++) {
        const struct grafting_row *row = &windows->list[i];

        if (row->opens[MEDIAN] != DAY_NONE && row->opens[MEDIAN] <= last_day &&
            row->closes[MEDIAN] != DAY_NONE && row->closes[MEDIAN] >= as_of)
            return true;
    }
    return false;
}

static bool same_clone(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static const struct grafting_row *window_of(const struct grafting_rows *windows,
                                            const struct tree *tree)
{
    for (size_t i = 0; i < windows->count; i++)
        if (windows->list[i].site == tree->site && same_clone(windows->list[i].clone, tree->clone))
            return &windows->list[i];
    return NULL;
}

/* An anchor for a graft that is not there yet; `edge`: where nothing else can be told. */
static daynum day_of(const struct orchard *orchard, const struct anchor *anchor,
                     const struct grafting_row *window, daynum edge)
{
    if (anchor->kind == ANCHOR_EVENT && anchor->event == EVENT_GRAFT_OPEN)
        return window->opens[MEDIAN] + anchor->days;
    if (anchor->kind == ANCHOR_EVENT && anchor->event == EVENT_GRAFT_CLOSE)
        return window->closes[MEDIAN] + anchor->days;
    if (anchor->kind == ANCHOR_CYCLE_DAY)
        return cycle_day_of(anchor->day, orchard_season_rule(orchard, window->site),
                            window->season);
    return edge;
}

static bool is_date(daynum day)
{
    return day != DAY_NONE && day != DAY_NEVER;
}

/* False: not in the days asked for. */
static bool fill_stand(struct task_instance *instance, const struct tasks_asked *asked)
{
    if (instance->last_day < asked->state->orchard->as_of ||
        instance->first_day > asked->to + asked->ahead_days ||
        instance->last_day < instance->first_day)
        return false;
    instance->stand = instance->first_day > asked->to ? TASK_COMING : TASK_DUE;
    return true;
}

static bool make(const struct task_rule *rule, const struct placed_graft *graft,
                 const struct grafting_row *window, const struct tasks_asked *asked,
                 struct task_instance *instance)
{
    const struct orchard *orchard = asked->state->orchard;

    if (window == NULL || !is_date(window->opens[MEDIAN]) || !is_date(window->closes[MEDIAN]))
        return false;
    *instance = (struct task_instance){
        .kind = rule->kind,
        .subject = {.kind = SUBJECT_GRAFT,
                    .name = graft->tag,
                    .tree = graft->tree,
                    .site = graft->tree->site,
                    .selection = graft->selection,
                    .batch = graft->batch},
        .cycle = window->season,
        .first_day = day_of(orchard, &rule->earliest, window, window->opens[MEDIAN]),
        .last_day = day_of(orchard, &rule->latest, window, window->closes[MEDIAN]),
        .order_by = DAY_NONE,
        .done_on = DAY_NONE,
    };
    return fill_stand(instance, asked);
}

struct task_instances with_grafts_to_make(const struct task_instances *tasks,
                                          const struct placement *placement,
                                          const struct grafting_rows *windows,
                                          const struct tasks_asked *asked)
{
    const struct orchard *orchard = asked->state->orchard;
    struct task_rules rules = task_rules_of(orchard, orchard->arena, NULL);
    struct task_instances all = {
        .list = ARENA_ARRAY(orchard->arena, tasks->count + rules.count * placement->grafts.count,
                            struct task_instance),
        .count = tasks->count,
    };

    if (tasks->count > 0)
        memcpy(all.list, tasks->list, tasks->count * sizeof *all.list);
    for (size_t r = 0; r < rules.count; r++) {
        const struct task_rule *rule = &rules.list[r];

        if (rule->per != SUBJECT_GRAFT || duty_result(rule->kind) != NOTE_GRAFTED)
            continue;
        for (size_t i = 0; i < placement->grafts.count; i++) {
            const struct placed_graft *graft = &placement->grafts.list[i];

            if (make(rule, graft, window_of(windows, graft->tree), asked, &all.list[all.count]))
                all.count++;
        }
    }
    return all;
}
