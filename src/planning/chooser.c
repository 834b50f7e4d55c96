/*
 * chooser.c - which bags are planned.
 *
 * Alone this makes the plan that the optimiser has to beat; beside it, it adds what still fits.
 * Bags that have been pollinated come first: they are promises.  Then those that hang, then new
 * ones, best value first and one bag a pass of each group, so that a cross spreads over its grafts.
 * What the as-of season leaves is pencilled into the next, where no crew's hours are known.  Bags
 * that hang and give no seed take what minutes and doses are left after all that.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>
#include <string.h>

static struct choice choose_now(const struct chooser *chooser, const struct candidate *candidate)
{
    struct ways ways = {
        .staff = chooser->staff,
        .mode = candidate->phase == 0 ? FIT_CREW : FIT_ANY_DAY,
        .as_of = chooser->inputs->state->orchard->as_of,
    };

    return choose(&ways, candidate);
}

/* False when the candidate can have no more. */
static bool plan_one(struct chooser *chooser, struct candidate *candidate)
{
    enum bag_stage stage = candidate->group->stage;

    if (candidate->closed || (is_wanted(candidate) && candidate->want->left <= 0) ||
        (stage == BAG_WANTED && candidate->carrier->left <= 0) ||
        (stage != BAG_WANTED && candidate->planned > 0))
        return false;
    struct choice choice = choose_now(chooser, candidate);
    candidate->closed = !choice.found;
    if (choice.found && candidate->phase == 0)
        firm_stay(chooser, candidate, &choice);
    if (choice.found)
        take_choice(chooser, candidate, &choice);
    return choice.found;
}

/* Pollinated bags by the day from which they may come off, then those that hang by the last day
 * worth a visit: what is due first comes first. */
static int by_due_day(const void *a, const void *b)
{
    const struct candidate *x = *(struct candidate *const *)a, *y = *(struct candidate *const *)b;
    const struct bag *s = x->group->hangs, *t = y->group->hangs;
    int order = (int)y->group->stage - (int)x->group->stage;

    if (order == 0 && s->visits > 0)
        order = (s->visit_on[0] > t->visit_on[0]) - (s->visit_on[0] < t->visit_on[0]);
    if (order == 0)
        order = (x->table->latest_visit > y->table->latest_visit) -
                (x->table->latest_visit < y->table->latest_visit);
    return order != 0 ? order : strcmp(s->name, t->name);
}

static int compare_best(const struct candidate *x, const struct candidate *y)
{
    if (x->best > y->best || x->best < y->best)
        return x->best > y->best ? -1 : 1;
    int order = x->want->cross->priority - y->want->cross->priority;
    return order != 0 ? order : strcmp(x->want->cross->name, y->want->cross->name);
}

static int by_best(const void *a, const void *b)
{
    const struct candidate *x = *(struct candidate *const *)a, *y = *(struct candidate *const *)b;
    int order = compare_best(x, y);

    return order != 0 ? order : strcmp(x->group->graft->graft->tag, y->group->graft->graft->tag);
}

/* One bag of each candidate of [first, end), all of one cross and value; trees with fewer bags of
 * the cross go first.  How many were planned. */
static size_t plan_equals(struct chooser *chooser, struct candidate **order, size_t count)
{
    size_t planned = 0;

    for (size_t i = 0; i < count; i++) {
        size_t least = i;

        for (size_t j = i + 1; j < count; j++)
            if (*order[j]->on_tree < *order[least]->on_tree)
                least = j;
        struct candidate *next = order[least];
        for (size_t j = least; j > i; j--) /* the others keep their order */
            order[j] = order[j - 1];
        order[i] = next;
        planned += plan_one(chooser, next);
    }
    return planned;
}

static void plan_passes(struct chooser *chooser, struct candidate **order, size_t count)
{
    size_t planned = 1;

    while (planned > 0) {
        planned = 0;
        qsort(order, count, sizeof *order, by_best);
        for (size_t first = 0, end; first < count; first = end) {
            for (end = first + 1; end < count && compare_best(order[first], order[end]) == 0;)
                end++;
            planned += plan_equals(chooser, &order[first], end - first);
        }
    }
}

/* Of the phase, those that hang and give seed, or not; from a stage on. */
struct hanging {
    int phase;
    bool seed;
    enum bag_stage from;
};

static void plan_hanging(struct chooser *chooser, struct hanging of)
{
    struct candidates *all = &chooser->candidates;
    struct candidate **order = ARENA_ARRAY(chooser->inputs->arena, all->count, struct candidate *);
    size_t hanging = 0;

    for (size_t i = 0; i < all->count; i++)
        if (all->list[i].phase == of.phase && all->list[i].group->hangs != NULL &&
            gives_no_seed(&all->list[i]) != of.seed && all->list[i].group->stage >= of.from)
            order[hanging++] = &all->list[i];
    if (hanging > 0)
        qsort(order, hanging, sizeof *order, by_due_day);
    for (size_t i = 0; i < hanging; i++)
        plan_one(chooser, order[i]);
}

void choose_rest(struct chooser *chooser)
{
    plan_hanging(chooser, (struct hanging){0, false, BAG_HANGS});
}

void choose_phase(struct chooser *chooser, int phase)
{
    struct candidates *all = &chooser->candidates;
    struct candidate **order = ARENA_ARRAY(chooser->inputs->arena, all->count, struct candidate *);
    size_t wanted = 0;

    for (size_t c = 0; c < chooser->inputs->state->orchard->crosses.count; c++)
        chooser->supply->wants[c].at_start = chooser->supply->wants[c].left;
    if (phase == 0)
        firm_take(chooser);
    if (phase == 0 && chooser->wish.kept != NULL)
        retake_plan(chooser, chooser->wish.kept);
    plan_hanging(chooser, (struct hanging){phase, true, BAG_VISITED_ONCE});
    if (chooser->wish.optimised && phase == 0)
        optimise(chooser);
    if (chooser->wish.places == NULL)
        staff_mean_nothing(chooser->staff);
    plan_hanging(chooser, (struct hanging){phase, true, BAG_HANGS});
    for (size_t i = 0; i < all->count; i++)
        if (all->list[i].phase == phase && all->list[i].group->hangs == NULL)
            order[wanted++] = &all->list[i];
    if (wanted > 0)
        plan_passes(chooser, order, wanted);
}
