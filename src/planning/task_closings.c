/*
 * task_closings.c - what notes and dated cells say was done, by subject and in the order of time.
 */
#include "orchard/order.h"
#include "planning/task_parts.h"

#include <stdlib.h>
#include <string.h>

/* A note belongs to the cycle in the middle of whose days it lies within half a year. */
enum { HALF_A_YEAR_DAYS = 182 };

struct gathering {
    struct tasking *tasking;
    size_t capacity[SUBJECT_KINDS];
};

static void put(struct gathering *gathering, enum subject_kind kind, struct closing closing)
{
    struct closing_list *list = &gathering->tasking->closings[kind];

    *ARENA_PUSH(gathering->tasking->arena, list->list, list->count, gathering->capacity[kind]) =
        closing;
}

/* The subjects that a note names; SUBJECT_KINDS entries, NO_UNIT where it names none. */
static void name_subjects(const struct tasking *tasking, const struct note *note, size_t *at)
{
    const struct orchard *orchard = tasking->orchard;
    const struct bag *bag = state_bag(tasking->state, note->bag);
    const struct graft *graft = bag != NULL         ? bag->graft
                                : note->tag != NULL ? orchard_graft(orchard, note->tag)
                                                    : NULL;
    const struct tree *tree = orchard_tree(orchard, note->tree);
    const struct lot *lot = orchard_lot(orchard, note->lot);
    const struct batch *batch = orchard_batch(orchard, note->batch);
    const struct site *site = orchard_site(orchard, note->site);
    const struct selection *selection = orchard_selection(orchard, note->selection);
    const struct cross *cross = orchard_cross(orchard, note->cross);

    if (bag != NULL && tree == NULL)
        tree = bag->graft->tree;
    at[SUBJECT_BAG] = bag != NULL ? (size_t)(bag - tasking->state->bags) : NO_UNIT;
    at[SUBJECT_GRAFT] = graft != NULL ? (size_t)(graft - orchard->grafts.list) : NO_UNIT;
    at[SUBJECT_TREE] = tree != NULL ? (size_t)(tree - orchard->trees.list) : NO_UNIT;
    at[SUBJECT_LOT] = lot != NULL ? (size_t)(lot - orchard->lots.list) : NO_UNIT;
    at[SUBJECT_BATCH] = batch != NULL ? (size_t)(batch - orchard->batches.list) : NO_UNIT;
    at[SUBJECT_SITE] = site != NULL ? (size_t)(site - orchard->sites.list) : NO_UNIT;
    if (selection != NULL && selection->self != NULL)
        selection = selection->self;
    at[SUBJECT_SELECTION] =
        selection != NULL ? (size_t)(selection - orchard->selections.list) : NO_UNIT;
    at[SUBJECT_CROSS] = cross != NULL ? (size_t)(cross - orchard->crosses.list) : NO_UNIT;
    at[SUBJECT_PROGRAMME] = NO_UNIT;
}

/* `done` of a task is about what the task is about, and nothing else that the row names. */
static void put_done(struct gathering *gathering, const struct note *note,
                     const size_t at[SUBJECT_KINDS])
{
    const struct orchard *orchard = gathering->tasking->orchard;
    const struct task_kind *kind = orchard_task(orchard, note->task);
    enum subject_kind per;
    size_t subject;

    if (kind == NULL)
        return;
    per = gathering->tasking->rules.list[kind - orchard->tasks.list].per;
    subject = per == SUBJECT_PROGRAMME ? 0 : at[per];
    if (subject != NO_UNIT)
        put(gathering, per,
            (struct closing){subject, note->date, note->kind, note->task, note->value, true});
}

static void put_note(struct gathering *gathering, const struct note *note)
{
    size_t at[SUBJECT_KINDS];
    bool of_graft;

    name_subjects(gathering->tasking, note, at);
    if (note->kind == NOTE_DONE || note->kind == NOTE_NOT_DONE) {
        put_done(gathering, note, at);
        return;
    }
    of_graft = note->bag != NULL || note->tag != NULL;
    for (int kind = 0; kind < SUBJECT_KINDS; kind++)
        if (at[kind] != NO_UNIT)
            put(gathering, (enum subject_kind)kind,
                (struct closing){at[kind], note->date, note->kind, NULL, note->value,
                                 kind == SUBJECT_BAG || kind == SUBJECT_GRAFT || !of_graft});
}

static void put_cell(struct gathering *gathering, enum subject_kind kind, size_t subject,
                     enum note_kind note, daynum day)
{
    if (day != DAY_NONE)
        put(gathering, kind, (struct closing){subject, day, note, NULL, NULL, true});
}

/* Dated cells of the tables say what a note would have said. */
static void put_cells(struct gathering *gathering)
{
    const struct orchard *orchard = gathering->tasking->orchard;

    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];

        put_cell(gathering, SUBJECT_GRAFT, i, NOTE_GRAFTED, graft->grafted_on);
        if (graft->condition != CONDITION_UNKNOWN)
            put_cell(gathering, SUBJECT_GRAFT, i, NOTE_SURVIVAL, graft->condition_on);
        if (graft->identity == IDENTITY_CHECKED)
            put_cell(gathering, SUBJECT_GRAFT, i, NOTE_VERIFIED, graft->identity_on);
    }
    for (size_t i = 0; i < orchard->trees.count; i++)
        put_cell(gathering, SUBJECT_TREE, i, NOTE_VERIFIED,
                 orchard->trees.list[i].label_checked_on);
    for (size_t i = 0; i < orchard->lots.count; i++) {
        const struct lot *lot = &orchard->lots.list[i];

        put_cell(gathering, SUBJECT_LOT, i, NOTE_GERMINATION, lot->tested_on);
        if (lot->state != LOT_PLANNED)
            put_cell(gathering, SUBJECT_LOT, i, NOTE_COLLECTED,
                     lot->ready_on != DAY_NONE      ? lot->ready_on
                     : lot->measured_on != DAY_NONE ? lot->measured_on
                                                    : orchard->as_of);
    }
    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct selection *of = orchard->batches.list[i].selection;

        if (of != NULL)
            put_cell(gathering, SUBJECT_SELECTION,
                     (size_t)((of->self != NULL ? of->self : of) - orchard->selections.list),
                     CLOSED_BY_SCIONS, orchard->batches.list[i].cut_on);
    }
}

static int order_of_closings(const void *a, const void *b)
{
    const struct closing *one = a, *other = b;

    if (one->subject != other->subject)
        return one->subject < other->subject ? -1 : 1;
    if (one->day != other->day)
        return one->day < other->day ? -1 : 1;
    if (one->kind != other->kind)
        return one->kind < other->kind ? -1 : 1;
    if (order_text(one->task, other->task) != 0)
        return order_text(one->task, other->task);
    return order_text(one->value, other->value);
}

static void put_in_order(struct tasking *tasking, enum subject_kind kind)
{
    struct closing_list *list = &tasking->closings[kind];
    size_t subjects = tasking->units[kind].subjects, at = 0;

    if (list->count > 1)
        qsort(list->list, list->count, sizeof(struct closing), order_of_closings);
    list->start = ARENA_ARRAY(tasking->arena, subjects + 1, size_t);
    for (size_t subject = 0; subject < subjects; subject++) {
        list->start[subject] = at;
        while (at < list->count && list->list[at].subject == subject)
            at++;
    }
    list->start[subjects] = at;
}

void task_closings_take(struct tasking *tasking)
{
    struct gathering gathering = {.tasking = tasking};

    for (size_t i = 0; i < tasking->orchard->notes.count; i++)
        put_note(&gathering, &tasking->orchard->notes.list[i]);
    put_cells(&gathering);
    for (int kind = 0; kind < SUBJECT_KINDS; kind++)
        put_in_order(tasking, (enum subject_kind)kind);
}

const struct closing *task_closings_of(const struct tasking *tasking, enum subject_kind kind,
                                       size_t subject, size_t *count)
{
    const struct closing_list *list = &tasking->closings[kind];

    *count = list->start[subject + 1] - list->start[subject];
    return *count > 0 ? &list->list[list->start[subject]] : NULL;
}

/* ---- what closes a row ---------------------------------------------------------------------- */

struct judging {
    const struct task_rule *rule;
    daynum first, middle; /* of the row's days */
    bool only_one;        /* the subject has this row once, so that any day is of it */
    bool inherited;
    struct task_tries tries;
    bool by_done; /* `done_on` is that of a done note, which goes before what closes by itself */
};

static bool is_of_cycle(const struct judging *judging, const struct closing *closing)
{
    /* A lot is one collection, however long it is kept. */
    if ((judging->only_one && !judging->inherited) ||
        (judging->rule->per == SUBJECT_LOT && closing->kind == NOTE_COLLECTED))
        return true;
    return closing->day >= judging->middle - HALF_A_YEAR_DAYS &&
           closing->day <= judging->middle + HALF_A_YEAR_DAYS;
}

static bool is_of_task(const struct judging *judging, const struct closing *closing)
{
    return closing->task != NULL && strcmp(closing->task, judging->rule->kind->task) == 0;
}

/* The newest of what closes this row alone; the first of what closes others as well. */
static void judge_closer(struct judging *judging, const struct closing *closing)
{
    uint32_t bit = (uint32_t)1 << closing->kind;
    bool once = (judging->rule->closed_once & bit) != 0;

    if ((judging->rule->closed_by & bit) == 0 || judging->by_done ||
        (!once && closing->day < judging->first))
        return;
    if (judging->tries.done_on == DAY_NONE ||
        (once ? closing->day > judging->tries.done_on : closing->day < judging->tries.done_on))
        judging->tries.done_on = closing->day;
}

static void judge(struct judging *judging, const struct closing *closing)
{
    if (!is_of_cycle(judging, closing) || (judging->inherited && !closing->direct))
        return;
    if (closing->kind == NOTE_DONE && is_of_task(judging, closing)) {
        judging->tries.done_on = closing->day;
        judging->by_done = true;
    } else if (closing->kind == NOTE_NOT_DONE && is_of_task(judging, closing)) {
        judging->tries.not_done++;
        judging->tries.reason = closing->value;
    } else {
        judge_closer(judging, closing);
    }
}

static void judge_subject(const struct tasking *tasking, struct judging *judging,
                          enum subject_kind kind, size_t subject)
{
    size_t count;
    const struct closing *list = task_closings_of(tasking, kind, subject, &count);

    for (size_t i = 0; i < count; i++)
        judge(judging, &list[i]);
}

static void judge_inherited(const struct tasking *tasking, struct judging *judging,
                            enum subject_kind kind, const struct unit *unit)
{
    size_t holder;

    judging->inherited = true;
    if (task_holder(tasking, SUBJECT_BAG, unit->subject, kind, &holder))
        judge_subject(tasking, judging, kind, holder);
}

struct task_tries task_tries_of(const struct tasking *tasking, const struct task_rule *rule,
                                const struct unit *unit, const struct task_result *days)
{
    struct judging judging = {
        .rule = rule,
        .first = days->first,
        .middle = days->first + (days->last - days->first) / 2,
        .only_one = rule->per == SUBJECT_BAG || rule->per == SUBJECT_BATCH ||
                    (rule->per == SUBJECT_GRAFT && rule->part <= PART_GRAFTING),
        .tries = {.done_on = DAY_NONE},
    };

    if (rule->per == SUBJECT_BAG) {
        judge_inherited(tasking, &judging, SUBJECT_TREE, unit);
        judge_inherited(tasking, &judging, SUBJECT_CROSS, unit);
        judging.inherited = false;
    }
    judge_subject(tasking, &judging, rule->per, unit->subject);
    return judging.tries;
}

struct task_tries task_tries_between(const struct tasking *tasking, const struct task_rule *rule,
                                     const struct unit *unit, daynum since, daynum until)
{
    struct judging judging = {
        .rule = rule, .first = since, .only_one = true, .tries = {.done_on = DAY_NONE}};
    size_t count;
    const struct closing *list = task_closings_of(tasking, rule->per, unit->subject, &count);

    for (size_t i = 0; i < count; i++)
        if (list[i].day >= since && (until == DAY_NONE || list[i].day < until))
            judge(&judging, &list[i]);
    return judging.tries;
}
