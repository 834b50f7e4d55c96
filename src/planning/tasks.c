/*
 * tasks.c - instances of the rows of tasks.csv: their days, and how they stand.
 */
#include "planning/tasks.h"

#include "orchard/order.h"
#include "planning/observed_days.h"
#include "planning/task_parts.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

struct making {
    struct tasking *tasking;
    const struct task_rule *rule;
    enum subject_kind kind;
    const struct unit *unit;
    struct task_instances *out;
    size_t *capacity;
};

/* An instance on its way. */
struct draft {
    struct task_result result;
    daynum order_by;
    struct task_tries tries;
    bool waits;      /* its condition or a predecessor that still has time */
    bool never_true; /* its condition has not come */
    const char *because;
};

static struct anchor_asked asked_of(const struct making *making)
{
    return (struct anchor_asked){
        .rule = making->rule, .kind = making->kind, .unit = making->unit, .when = DAY_NONE};
}

/* ---- how it stands -------------------------------------------------------------------------- */

static bool is_single(enum subject_kind kind)
{
    return kind == SUBJECT_GRAFT || kind == SUBJECT_BAG || kind == SUBJECT_TREE;
}

/* What says in its own name that it is optional is never told as late. */
static bool is_optional(const struct task_kind *kind)
{
    static const char end[] = "(optional)";
    size_t length = strlen(kind->task);

    return length >= strlen(end) && strcmp(kind->task + length - strlen(end), end) == 0;
}

/* Does it concern the days asked for, and how? */
static bool stands(const struct making *making, const struct draft *draft, enum task_stand *stand)
{
    const struct tasking *tasking = making->tasking;
    const struct task_result *result = &draft->result;
    daynum now = tasking->as_of < tasking->from ? tasking->from
                 : tasking->as_of > tasking->to ? tasking->to
                                                : tasking->as_of;
    daynum horizon = tasking->to + tasking->ahead_days;

    if (result->done != DAY_NONE) {
        *stand = TASK_DONE;
        return result->done >= tasking->from && result->done <= tasking->to;
    }
    if (result->last < now) {
        *stand = TASK_OVERDUE;
        return !draft->never_true && !is_optional(making->rule->kind) &&
               now - result->last <= TASK_LAPSES_DAYS;
    }
    if (result->first > tasking->to) {
        *stand = TASK_COMING;
        return result->first <= horizon ||
               (draft->order_by != DAY_NONE && draft->order_by <= horizon &&
                draft->order_by >= now && !is_single(making->kind));
    }
    *stand = draft->waits ? TASK_WAITING : TASK_DUE;
    return true;
}

/* A graft is of the cycle in which it was made, whatever crop it bears. */
static int printed_cycle(const struct making *making, const struct task_subject *subject)
{
    return subject->graft != NULL ? orchard_cycle(making->tasking->orchard, subject->graft->graft)
                                  : making->unit->cycle;
}

static void put_instance(const struct making *making, const struct draft *draft)
{
    const struct tasking *tasking = making->tasking;
    enum task_stand stand;
    struct task_subject subject;

    if (making->rule->of_crossing_plan || !stands(making, draft, &stand))
        return;
    subject = task_subject_of(tasking, making->kind, making->unit->subject);
    *ARENA_PUSH(tasking->arena, making->out->list, making->out->count, *making->capacity) =
        (struct task_instance){
            .kind = making->rule->kind,
            .subject = subject,
            .cycle = printed_cycle(making, &subject),
            .season = making->rule->part >= PART_FLOWERING ? making->unit->cycle + 1 : 0,
            .first_day = draft->result.first,
            .last_day = draft->result.last,
            .order_by = draft->order_by,
            .expected = draft->result.expected && draft->result.done == DAY_NONE,
            .rough = draft->result.rough,
            .stand = stand,
            .done_on = draft->result.done,
            .not_done = draft->tries.not_done,
            .not_done_reason = draft->tries.reason,
            .because = draft->because,
        };
}

/* ---- once a cycle --------------------------------------------------------------------------- */

/* What should have been done by now and is not noted holds nothing up: it is told.  Not so with
 * bags: what hangs is known, and nothing is counted in a bag that has not come off. */
static void take_before(const struct making *making, struct task_before before, struct draft *draft)
{
    struct tasking *tasking = making->tasking;
    struct task_before_day day = task_before_of(tasking, before.task, making->kind, making->unit);
    const struct task_rule *rule = &tasking->rules.list[before.task];
    const char *name = rule->kind->task;

    if (!day.exists)
        return;
    if (!day.done && tasking->as_of > day.last && !rule->of_crossing_plan) {
        if (draft->because == NULL)
            draft->because = arena_printf(tasking->arena, "%s is not noted as done", name);
        return;
    }
    if (day.day + before.lag_days > draft->result.first)
        draft->result.first = day.day + before.lag_days;
    if (draft->result.last < draft->result.first)
        draft->result.last = draft->result.first;
    if (day.done)
        return;
    draft->result.expected = draft->waits = true;
    draft->because = arena_printf(tasking->arena, "waits for: %s", name);
}

/* The condition of a row that comes once opens it on its first true day. */
static void take_gate(const struct making *making, struct draft *draft)
{
    struct anchor_asked asked = asked_of(making);
    struct true_days days = task_true_days(making->tasking, asked, draft->result.first);

    if (days.count > 0 && days.list[0].day <= draft->result.last) {
        draft->result.first = days.list[0].day;
        draft->because = task_true_words(making->tasking, asked, &days.list[0]);
        return;
    }
    draft->waits = draft->never_true = true;
    draft->because =
        arena_printf(making->tasking->arena, "waits for: %s", making->rule->kind->when);
}

static struct task_result make_once(const struct making *making)
{
    struct draft draft = {.result = {.done = DAY_NONE}};

    draft.result = task_window_of(making->tasking, asked_of(making), &draft.order_by);
    if (!draft.result.exists)
        return draft.result;
    draft.tries = task_tries_of(making->tasking, making->rule, making->unit, &draft.result);
    draft.result.done = draft.tries.done_on;
    if (draft.result.done == DAY_NONE && making->rule->when_count > 0)
        take_gate(making, &draft);
    if (draft.result.done == DAY_NONE && making->rule->earliest.kind == ANCHOR_DONE)
        take_before(making,
                    (struct task_before){making->rule->earliest.task, making->rule->earliest.days},
                    &draft);
    for (size_t i = 0; draft.result.done == DAY_NONE && i < making->rule->after_count; i++)
        take_before(making, making->rule->after[i], &draft);
    put_instance(making, &draft);
    return draft.result;
}

/* ---- each time that the condition comes true ------------------------------------------------ */

/* So far back a condition may still ask for work. */
static daynum conditions_since(const struct making *making)
{
    const struct task_rule *rule = making->rule;
    int reach = rule->latest.kind == ANCHOR_WHEN ? rule->latest.days : 366;

    if (rule->earliest.kind == ANCHOR_WHEN && rule->earliest.days > reach)
        reach = rule->earliest.days;
    return making->tasking->from - TASK_LAPSES_DAYS - (reach > 0 ? reach : 0);
}

/* A condition of no crop in particular is told with the newest cycle that has begun. */
static bool is_of_unit(const struct making *making, daynum day)
{
    const struct tasking *tasking = making->tasking;
    const struct unit *unit = making->unit;
    const struct orchard *orchard = tasking->orchard;
    size_t site = 0;
    int season;

    if (making->rule->part == PART_GRAFTING || orchard->sites.count == 0)
        return true;
    (void)task_holder(tasking, making->kind, unit->subject, SUBJECT_SITE, &site);
    season = day_season(orchard_season_rule(orchard, &orchard->sites.list[site]), day);
    if (making->rule->part >= PART_FLOWERING)
        return unit->cycle + 1 == season;
    for (int cycle = unit->cycle + 1; cycle <= season; cycle++)
        if (task_unit_of(tasking, making->kind, unit->subject, cycle) != NO_UNIT)
            return false;
    return unit->cycle <= season;
}

static void make_each_time(const struct making *making)
{
    struct tasking *tasking = making->tasking;
    struct anchor_asked asked = asked_of(making);
    struct true_days days = task_true_days(tasking, asked, conditions_since(making));

    for (size_t i = 0; i < days.count;) {
        struct draft draft = {.order_by = DAY_NONE};
        size_t next = i + 1;

        asked.when = days.list[i].day;
        draft.result = task_window_of(tasking, asked, &draft.order_by);
        if (!draft.result.exists || !is_of_unit(making, asked.when)) {
            i = next;
            continue;
        }
        /* What comes while the work still waits is the same work. */
        draft.tries = task_tries_between(tasking, making->rule, making->unit, asked.when, DAY_NONE);
        while (next < days.count && days.list[next].day <= draft.result.last &&
               (draft.tries.done_on == DAY_NONE || days.list[next].day <= draft.tries.done_on))
            next++;
        draft.tries = task_tries_between(tasking, making->rule, making->unit, asked.when,
                                         next < days.count ? days.list[next].day : DAY_NONE);
        draft.result.done = draft.tries.done_on;
        draft.because = task_true_words(tasking, asked, &days.list[i]);
        put_instance(making, &draft);
        i = next;
    }
}

/* ---- all ------------------------------------------------------------------------------------ */

/* A dead graft has no work but what its death asks for. */
static bool asks_for_dead(const struct task_rule *rule)
{
    for (size_t i = 0; i < rule->when_count; i++)
        if (rule->when[i].kind == TERM_NOTE && rule->when[i].note == NOTE_SURVIVAL)
            return true;
    return false;
}

static bool has_part(const struct task_rule *rule, const struct unit *unit)
{
    if ((unit->has & HAS_GONE) != 0)
        return asks_for_dead(rule);
    if (rule->part == PART_ANY)
        return true;
    if (rule->per == SUBJECT_BATCH)
        return true;
    if (rule->per == SUBJECT_BAG) /* it is there for all of its cycle */
        return rule->part < PART_CONES || (unit->has & HAS_CONES) != 0;
    return (unit->has & 1u << rule->part) != 0;
}

static void make_row(struct making *making, size_t row)
{
    struct tasking *tasking = making->tasking;
    const struct unit_list *units;

    making->rule = &tasking->rules.list[row];
    making->kind = making->rule->per;
    units = &tasking->units[making->kind];
    for (size_t i = 0; i < units->count; i++) {
        making->unit = &units->list[i];
        if (!has_part(making->rule, making->unit))
            continue;
        if (making->rule->per_occurrence) {
            make_each_time(making);
            continue;
        }
        struct task_result result = make_once(making);

        if (tasking->results[row] != NULL)
            tasking->results[row][i] = result;
    }
}

static void ask(struct tasking *tasking, size_t row)
{
    if (tasking->results[row] == NULL)
        tasking->results[row] = ARENA_ARRAY(
            tasking->arena, tasking->units[tasking->rules.list[row].per].count, struct task_result);
}

static void ask_of_anchor(struct tasking *tasking, const struct anchor *anchor)
{
    if (anchor->task_name != NULL)
        ask(tasking, anchor->task);
}

/* Results that another row asks for are kept. */
static void ask_for_results(struct tasking *tasking)
{
    const struct task_rules *rules = &tasking->rules;

    tasking->results = ARENA_ARRAY(tasking->arena, rules->count, struct task_result *);
    tasking->folds = ARENA_ARRAY(tasking->arena, rules->count * SUBJECT_KINDS, struct task_fold *);
    for (size_t i = 0; i < rules->count; i++) {
        const struct task_rule *rule = &rules->list[i];

        ask_of_anchor(tasking, &rule->earliest);
        ask_of_anchor(tasking, &rule->latest);
        ask_of_anchor(tasking, &rule->needed_by);
        for (size_t t = 0; t < rule->when_count; t++)
            ask_of_anchor(tasking, &rule->when[t].day);
        for (size_t b = 0; b < rule->after_count; b++)
            ask(tasking, rule->after[b].task);
    }
}

static void take_observed(struct tasking *tasking)
{
    const struct orchard *orchard = tasking->orchard;

    tasking->observed = ARENA_ARRAY(tasking->arena, orchard->sites.count, struct record);
    for (size_t i = 0; i < orchard->sites.count; i++)
        tasking->observed[i] =
            observed_days_of(orchard->sites.list[i].record, orchard->sites.list[i].station,
                             tasking->as_of, tasking->arena);
}

/* ---- order ---------------------------------------------------------------------------------- */

static int order_of_sites(const struct site *a, const struct site *b)
{
    return order_text(a != NULL ? a->name : NULL, b != NULL ? b->name : NULL);
}

static int order_of_instances(const void *a, const void *b)
{
    const struct task_instance *one = a, *other = b;
    int order = order_whole(one->last_day, other->last_day);

    order = order != 0 ? order : order_whole(one->first_day, other->first_day);
    order = order != 0 ? order : order_text(one->kind->task, other->kind->task);
    order = order != 0 ? order : order_of_sites(one->subject.site, other->subject.site);
    order = order != 0 ? order : order_text(one->subject.name, other->subject.name);
    return order != 0 ? order : order_whole(one->cycle, other->cycle);
}

static int at_least_1(int year)
{
    return year < 1 ? 1 : year;
}

struct task_instances tasks_of(const struct tasks_asked *asked, struct arena *arena)
{
    const struct orchard *orchard = asked->state->orchard;
    struct tasking tasking = {
        .orchard = orchard,
        .state = asked->state,
        .dates = asked->dates,
        .arena = arena,
        .rules = task_rules_of(orchard, arena, NULL),
        .as_of = orchard->as_of,
        .from = asked->from,
        .to = asked->to,
        .ahead_days = asked->ahead_days,
    };
    struct task_instances instances = {NULL, 0};
    size_t capacity = 0;
    struct making making = {.tasking = &tasking, .out = &instances, .capacity = &capacity};

    assert(orchard->as_of != DAY_NONE && asked->from <= asked->to && asked->ahead_days >= 0);
    if (tasking.rules.count == 0)
        return instances;
    tasking.first_cycle =
        at_least_1(day_year(asked->from - TASK_LAPSES_DAYS) - tasking.rules.last_year);
    tasking.cycles = (size_t)(day_year(asked->to + asked->ahead_days) + 2 - tasking.first_cycle);
    cache_init(&tasking.spans, arena);
    cache_init(&tasking.windows, arena);
    take_observed(&tasking);
    task_units_take(&tasking);
    task_events_take(&tasking);
    task_closings_take(&tasking);
    ask_for_results(&tasking);
    for (size_t i = 0; i < tasking.rules.count; i++)
        make_row(&making, tasking.rules.order[i]);
    if (instances.count > 1)
        qsort(instances.list, instances.count, sizeof *instances.list, order_of_instances);
    return instances;
}
