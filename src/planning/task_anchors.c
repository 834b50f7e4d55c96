/*
 * task_anchors.c - the day that an anchor of tasks.csv means for one subject in one cycle.
 */
#include "planning/cycle_day.h"
#include "planning/site_calendar.h"
#include "planning/task_parts.h"

static const struct task_day unknown_day = {.day = DAY_NONE};

static struct task_day on_day(daynum day)
{
    return (struct task_day){.day = day};
}

static daynum later(daynum day, int days)
{
    return day == DAY_NONE || day == DAY_NEVER ? DAY_NONE : day + days;
}

/* ---- dates of the cycle --------------------------------------------------------------------- */

static struct task_day cycle_day_at(const struct tasking *tasking, const struct anchor *anchor,
                                    const struct anchor_asked *asked, const struct site *site)
{
    daynum day =
        cycle_day_of(anchor->day, orchard_season_rule(tasking->orchard, site), asked->unit->cycle);
    int shift = calendar_shift_days(site);

    if (asked->rule->shift == SHIFT_NONE || day == DAY_NONE)
        return on_day(day);
    if (asked->rule->shift == SHIFT_AUTUMN)
        shift = -shift;
    return (struct task_day){.day = day + shift, .rough = shift != 0};
}

static struct task_day first_or_last(struct task_day a, struct task_day b, bool last)
{
    bool rough = a.rough || b.rough;
    struct task_day of = b.day == DAY_NONE                                             ? a
                         : a.day == DAY_NONE || (last ? b.day > a.day : b.day < a.day) ? b
                                                                                       : a;

    of.rough = rough;
    return of;
}

/* Of a subject that stands at no one site: over all sites that have a part in the cycle. */
static struct task_day cycle_day(const struct tasking *tasking, const struct anchor *anchor,
                                 const struct anchor_asked *asked)
{
    const struct orchard *orchard = tasking->orchard;
    struct task_day found = unknown_day;
    size_t site;
    bool some = false;

    if (task_holder(tasking, asked->kind, asked->unit->subject, SUBJECT_SITE, &site))
        return cycle_day_at(tasking, anchor, asked, &orchard->sites.list[site]);
    for (site = 0; site < orchard->sites.count; site++)
        some |= task_unit_of(tasking, SUBJECT_SITE, site, asked->unit->cycle) != NO_UNIT;
    for (site = 0; site < orchard->sites.count; site++)
        if (!some || task_unit_of(tasking, SUBJECT_SITE, site, asked->unit->cycle) != NO_UNIT)
            found = first_or_last(found,
                                  cycle_day_at(tasking, anchor, asked, &orchard->sites.list[site]),
                                  asked->last_of_many);
    return found;
}

/* ---- events --------------------------------------------------------------------------------- */

static daynum event_day(const struct tasking *tasking, const struct anchor *anchor,
                        const struct anchor_asked *asked)
{
    const struct event_span *span = asked->unit->events;

    /* The window of grafting is that of the tree. */
    if ((asked->kind == SUBJECT_GRAFT || asked->kind == SUBJECT_BAG) &&
        (anchor->event == EVENT_GRAFT_OPEN || anchor->event == EVENT_GRAFT_CLOSE)) {
        size_t tree, at = NO_UNIT;

        if (task_holder(tasking, asked->kind, asked->unit->subject, SUBJECT_TREE, &tree))
            at = task_unit_of(tasking, SUBJECT_TREE, tree, asked->unit->cycle);
        if (at != NO_UNIT)
            span = tasking->units[SUBJECT_TREE].list[at].events;
    }
    if (span == NULL)
        return DAY_NONE;
    return asked->last_of_many ? span->last[anchor->event] : span->first[anchor->event];
}

/* ---- other rows ----------------------------------------------------------------------------- */

/* Of many results: of all that a wider subject holds. */
struct task_fold {
    size_t found, done, past;
    daynum first, last, done_on;
};

static void fold_in(const struct tasking *tasking, const struct task_result *result,
                    struct task_fold *fold)
{
    if (!result->exists)
        return;
    if (fold->found == 0 || result->first < fold->first)
        fold->first = result->first;
    if (fold->found == 0 || result->last > fold->last)
        fold->last = result->last;
    if (result->done != DAY_NONE && (fold->done == 0 || result->done > fold->done_on))
        fold->done_on = result->done;
    fold->found++;
    fold->done += result->done != DAY_NONE;
    fold->past += result->done == DAY_NONE && tasking->as_of > result->last + TASK_LAPSES_DAYS;
}

static const struct task_fold *folds_of(struct tasking *tasking, size_t task,
                                        enum subject_kind wide)
{
    struct task_fold **folds = &tasking->folds[task * SUBJECT_KINDS + (size_t)wide];
    enum subject_kind kind = tasking->rules.list[task].per;
    const struct unit_list *units = &tasking->units[kind];

    if (*folds != NULL)
        return *folds;
    *folds = ARENA_ARRAY(tasking->arena, tasking->units[wide].count, struct task_fold);
    for (size_t i = 0; i < units->count && tasking->results[task] != NULL; i++) {
        size_t holder, at;

        if (!task_holder(tasking, kind, units->list[i].subject, wide, &holder))
            continue;
        at = task_unit_of(tasking, wide, holder, units->list[i].cycle);
        if (at != NO_UNIT)
            fold_in(tasking, &tasking->results[task][i], &(*folds)[at]);
    }
    return *folds;
}

/* Work is done on its first day, or today when that is past; what has lapsed, on its last. */
static daynum expected_day(const struct tasking *tasking, daynum first, daynum last)
{
    if (tasking->as_of <= first)
        return first;
    return tasking->as_of <= last + TASK_LAPSES_DAYS ? tasking->as_of : last;
}

static struct task_before_day before_of_result(const struct tasking *tasking,
                                               const struct task_result *result)
{
    struct task_before_day before = {
        .exists = result->exists, .done = result->done != DAY_NONE, .last = result->last};

    if (before.exists)
        before.day =
            before.done ? result->done : expected_day(tasking, result->first, result->last);
    return before;
}

static struct task_before_day before_of_fold(const struct tasking *tasking,
                                             const struct task_fold *fold)
{
    struct task_before_day before = {.exists = fold->found > 0, .last = fold->last};

    before.done = fold->done > 0 && fold->done + fold->past == fold->found;
    if (before.exists)
        before.day = before.done ? fold->done_on : expected_day(tasking, fold->first, fold->last);
    return before;
}

/* A crop of the second spring hangs on what was done with the graft in its own cycle. */
static size_t unit_of_before(const struct tasking *tasking, enum subject_kind kind, size_t subject,
                             int cycle)
{
    size_t at = task_unit_of(tasking, kind, subject, cycle);

    if (kind == SUBJECT_GRAFT && at != NO_UNIT &&
        (tasking->units[kind].list[at].has & HAS_GRAFTING) == 0)
        at = task_unit_of(tasking, kind, subject,
                          orchard_cycle(tasking->orchard, &tasking->orchard->grafts.list[subject]));
    return at;
}

struct task_before_day task_before_of(struct tasking *tasking, size_t task, enum subject_kind kind,
                                      const struct unit *unit)
{
    const struct task_rule *rule = &tasking->rules.list[task];
    struct task_before_day none = {.exists = false};
    size_t holder, at;

    if (tasking->pass != NULL) {
        const struct task_result *result = &tasking->pass->results[task];

        return (struct task_before_day){.exists = result->exists,
                                        .done = true,
                                        .day = tasking->pass->late ? result->last : result->first,
                                        .last = result->last};
    }
    if (task_holder(tasking, kind, unit->subject, rule->per, &holder)) {
        at = rule->part <= PART_GRAFTING ? unit_of_before(tasking, rule->per, holder, unit->cycle)
                                         : task_unit_of(tasking, rule->per, holder, unit->cycle);
        return at == NO_UNIT || tasking->results[task] == NULL
                   ? none
                   : before_of_result(tasking, &tasking->results[task][at]);
    }
    at = task_unit_of(tasking, kind, unit->subject, unit->cycle);
    return at == NO_UNIT ? none : before_of_fold(tasking, &folds_of(tasking, task, kind)[at]);
}

static struct task_day other_row(struct tasking *tasking, const struct anchor *anchor,
                                 struct anchor_asked asked)
{
    struct task_before_day before;

    asked.rule = &tasking->rules.list[anchor->task];
    if (anchor->kind == ANCHOR_OPEN)
        return task_anchor_day(tasking, &asked.rule->earliest, asked);
    if (anchor->kind == ANCHOR_CLOSE)
        return task_latest_day(tasking, asked);
    before = task_before_of(tasking, anchor->task, asked.kind, asked.unit);
    if (!before.exists)
        return unknown_day;
    return (struct task_day){.day = before.day, .expected = !before.done};
}

static struct task_day order_day(struct tasking *tasking, struct anchor_asked asked)
{
    struct task_day day;

    asked.last_of_many = false;
    day = task_anchor_day(tasking, &asked.rule->needed_by, asked);
    day.day = later(day.day, -asked.rule->kind->lead_days);
    return day;
}

struct task_day task_anchor_day(struct tasking *tasking, const struct anchor *anchor,
                                struct anchor_asked asked)
{
    struct task_day found = unknown_day;

    switch (anchor->kind) {
    case ANCHOR_NONE:
        break;
    case ANCHOR_CYCLE_DAY:
        return cycle_day(tasking, anchor, &asked);
    case ANCHOR_EVENT:
        found = on_day(event_day(tasking, anchor, &asked));
        break;
    case ANCHOR_OPEN:
    case ANCHOR_CLOSE:
    case ANCHOR_DONE:
        found = other_row(tasking, anchor, asked);
        break;
    case ANCHOR_WHEN:
        found = on_day(asked.when);
        break;
    case ANCHOR_ORDER_BY:
        found = order_day(tasking, asked);
        break;
    }
    found.day = later(found.day, anchor->days);
    return found;
}

struct task_day task_latest_day(struct tasking *tasking, struct anchor_asked asked)
{
    asked.last_of_many = asked.rule->latest.days >= 0;
    return task_anchor_day(tasking, &asked.rule->latest, asked);
}
