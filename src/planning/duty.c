/*
 * duty.c - instances of tasks.csv as work for crews: where, how long, and in which order.
 */
#include "planning/duty.h"

#include "orchard/words.h"
#include "planning/placement.h"

#include <stdlib.h>
#include <string.h>

enum { RANK_GRAFT, RANK_CHECK, RANK_REST };
enum { DAY_MINUTES = 24 * 60 };

bool duty_is_closed_by(const struct task_kind *kind, enum note_kind note)
{
    return kind->closed_by != NULL && word_listed(kind->closed_by, note_names[note]);
}

bool duty_is_crossing(const struct task_kind *kind)
{
    return strcmp(kind->per, "bag") == 0 &&
           (duty_is_closed_by(kind, NOTE_BAGGED) || duty_is_closed_by(kind, NOTE_POLLINATED) ||
            duty_is_closed_by(kind, NOTE_UNBAGGED));
}

enum note_kind duty_result(const struct task_kind *kind)
{
    size_t length = kind->closed_by != NULL ? strcspn(kind->closed_by, ";,+ ") : 0;

    for (int note = 0; note < NOTES && length > 0; note++)
        if (strlen(note_names[note]) == length &&
            strncmp(kind->closed_by, note_names[note], length) == 0)
            return (enum note_kind)note;
    return NOTE_DONE;
}

static const struct tree *tree_of(const struct task_subject *subject)
{
    if (subject->tree != NULL)
        return subject->tree;
    if (subject->graft != NULL)
        return subject->graft->graft->tree;
    if (subject->bag != NULL)
        return subject->bag->graft->tree;
    if (subject->batch != NULL)
        return subject->batch->source_tree;
    return subject->lot != NULL ? subject->lot->source_tree : NULL;
}

static const struct site *site_of(const struct task_subject *subject)
{
    const struct tree *tree = tree_of(subject);

    if (tree != NULL && tree->site != NULL)
        return tree->site;
    return subject->site;
}

static bool takes_minutes(const struct task_kind *kind)
{
    return kind->minutes_each.units > 0 || kind->minutes_per_tree.units > 0 ||
           kind->minutes_per_site.units > 0;
}

bool duty_wants_crew(const struct task_instance *instance)
{
    return takes_minutes(instance->kind) && site_of(&instance->subject) != NULL;
}

/* "09:30" in minutes; `without` where nothing that can be read stands there. */
static int clock_minutes(const char *text, int without)
{
    int digits[4];
    static const size_t at[4] = {0, 1, 3, 4};

    if (text == NULL || strlen(text) != 5 || text[2] != ':')
        return without;
    for (int i = 0; i < 4; i++) {
        digits[i] = text[at[i]] - '0';
        if (digits[i] < 0 || digits[i] > 9)
            return without;
    }
    return (digits[0] * 10 + digits[1]) * 60 + digits[2] * 10 + digits[3];
}

/* Where the manager's list ranks the kind, and whether that is before the crossing plan's work. */
static bool rank_listed(const struct orchard *orchard, const struct task_kind *kind, size_t *rank,
                        bool *early)
{
    const struct program *program = &orchard->program;
    bool crossing_seen = false, found = false;

    for (size_t i = 0; i < program->task_order_count && !found; i++) {
        const struct task_kind *listed = orchard_task(orchard, program->task_order[i]);

        crossing_seen = crossing_seen || (listed != NULL && duty_is_crossing(listed));
        if (listed == kind) {
            *rank = i;
            *early = !crossing_seen;
            found = true;
        }
    }
    return found;
}

bool duty_any_early(const struct orchard *orchard)
{
    for (size_t i = 0; i < orchard->program.task_order_count; i++) {
        const struct task_kind *listed = orchard_task(orchard, orchard->program.task_order[i]);

        if (listed != NULL)
            return !duty_is_crossing(listed); /* the first that there is */
    }
    return false;
}

static void set_rank(const struct orchard *orchard, struct duty *duty)
{
    const struct task_kind *kind = duty->instance->kind;

    if (rank_listed(orchard, kind, &duty->rank, &duty->early))
        return;
    enum note_kind result = duty_result(kind);
    duty->rank = orchard->program.task_order_count + (result == NOTE_GRAFTED ? RANK_GRAFT
                                                      : result != NOTE_DONE  ? RANK_CHECK
                                                                             : RANK_REST);
}

static struct rate_subject rate_subject_of(const struct duty *duty)
{
    const struct task_subject *subject = &duty->instance->subject;

    if (subject->graft != NULL)
        return graft_rate_subject(subject->graft, 0);
    return (struct rate_subject){
        .host_species = duty->tree != NULL ? duty->tree->species : NULL,
        .clone = duty->tree != NULL ? duty->tree->clone : NULL,
        .site = duty->site != NULL ? duty->site->name : NULL,
        .selection = duty->planned != NULL        ? duty->planned->selection->name
                     : subject->selection != NULL ? subject->selection->name
                                                  : NULL,
    };
}

static struct duty duty_of(const struct orchard *orchard, const struct task_instance *instance,
                           const struct placed_graft *planned)
{
    struct duty duty = {
        .instance = instance,
        .planned = planned,
        .site = planned != NULL ? planned->tree->site : site_of(&instance->subject),
        .tree = planned != NULL ? planned->tree : tree_of(&instance->subject),
        .hours_from = clock_minutes(instance->kind->hours_from, 0),
        .hours_to = clock_minutes(instance->kind->hours_to, DAY_MINUTES),
        .obstacle = OBSTACLE_NOBODY,
        .day = DAY_NONE,
        .shut_until = DAY_NONE,
    };

    duty.minutes = task_minutes_of(orchard, instance->kind, rate_subject_of(&duty));
    set_rank(orchard, &duty);
    return duty;
}

/* Is it one of the grafts that the instance is about? */
static bool is_planned_by(const struct task_instance *instance, const struct placed_graft *planned)
{
    const struct task_subject *subject = &instance->subject;

    return (subject->kind != SUBJECT_GRAFT || strcmp(subject->name, planned->tag) == 0) &&
           (subject->site == NULL || planned->tree->site == subject->site) &&
           (subject->tree == NULL || planned->tree == subject->tree) &&
           (subject->selection == NULL || selection_same(planned->selection, subject->selection)) &&
           (subject->batch == NULL || planned->batch == subject->batch);
}

static bool asks_for_placement(const struct task_instance *instance,
                               const struct placement *placement)
{
    return placement != NULL && duty_result(instance->kind) == NOTE_GRAFTED &&
           instance->subject.graft == NULL && instance->cycle == placement->season;
}

static bool is_open_by(const struct task_instance *instance, daynum last_day)
{
    return (instance->stand == TASK_COMING || instance->stand == TASK_DUE ||
            instance->stand == TASK_OVERDUE) &&
           instance->first_day != DAY_NONE && instance->first_day <= last_day &&
           !duty_is_crossing(instance->kind);
}

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

static int compare_trees(const struct tree *a, const struct tree *b)
{
    int order;

    if (a == NULL || b == NULL)
        return (a != NULL) - (b != NULL);
    order = compare_text(a->block, b->block);
    if (order == 0)
        order = a->row - b->row;
    if (order == 0)
        order = a->position - b->position;
    return order != 0 ? order : strcmp(a->name, b->name);
}

static int compare_subjects(const struct duty *a, const struct duty *b)
{
    int order = strcmp(a->instance->kind->task, b->instance->kind->task);

    if (order == 0)
        order = a->instance->cycle - b->instance->cycle;
    if (order == 0)
        order = compare_text(a->instance->subject.name, b->instance->subject.name);
    if (order == 0)
        order = compare_text(a->planned != NULL ? a->planned->tag : NULL,
                             b->planned != NULL ? b->planned->tag : NULL);
    return order != 0 ? order
                      : (a->instance->first_day > b->instance->first_day) -
                            (a->instance->first_day < b->instance->first_day);
}

static int by_rank(const void *a, const void *b)
{
    const struct duty *x = a, *y = b;
    int order = (x->rank > y->rank) - (x->rank < y->rank);

    if (order == 0)
        order = (x->instance->last_day > y->instance->last_day) -
                (x->instance->last_day < y->instance->last_day);
    if (order == 0)
        order = strcmp(x->site->name, y->site->name);
    if (order == 0)
        order = compare_trees(x->tree, y->tree);
    return order != 0 ? order : compare_subjects(x, y);
}

static size_t planned_by(const struct task_instance *instance, const struct placement *placement,
                         const struct placed_graft **list)
{
    size_t count = 0;

    for (size_t i = 0; i < placement->grafts.count; i++)
        if (placement->grafts.list[i].tree->site != NULL &&
            is_planned_by(instance, &placement->grafts.list[i]))
            list[count++] = &placement->grafts.list[i];
    return count;
}

struct duties duties_of(const struct orchard *orchard, const struct task_instances *instances,
                        const struct placement *placement, daynum last_day)
{
    size_t most = placement != NULL ? placement->grafts.count : 0, capacity = 0;
    const struct placed_graft **planned =
        ARENA_ARRAY(orchard->arena, most, const struct placed_graft *);
    struct duties duties = {0};

    for (size_t i = 0; i < instances->count; i++) {
        const struct task_instance *instance = &instances->list[i];
        size_t count = 0;

        if (!is_open_by(instance, last_day))
            continue;
        if (asks_for_placement(instance, placement) && takes_minutes(instance->kind))
            count = planned_by(instance, placement, planned);
        for (size_t p = 0; p < count; p++)
            *ARENA_PUSH(orchard->arena, duties.list, duties.count, capacity) =
                duty_of(orchard, instance, planned[p]);
        if (count == 0 && duty_wants_crew(instance))
            *ARENA_PUSH(orchard->arena, duties.list, duties.count, capacity) =
                duty_of(orchard, instance, NULL);
    }
    if (duties.count > 1)
        qsort(duties.list, duties.count, sizeof *duties.list, by_rank);
    return duties;
}
