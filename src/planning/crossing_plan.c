/*
 * crossing_plan.c - the crossing plan put together: chosen bags named and sorted, with their
 * chances.
 */
#include "planning/crossing_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The first day on which something is still to be done. */
static daynum first_day_of(const struct planned_bag *bag)
{
    for (int task = 0; task < BAG_TASKS; task++)
        if (!bag->done[task] && bag->tasks[task].day != DAY_NONE)
            return bag->tasks[task].day;
    return DAY_NEVER;
}

static int compare_days(daynum a, daynum b)
{
    return (a > b) - (a < b);
}

static int compare_place(const struct planned_bag *x, const struct planned_bag *y)
{
    int order = x->group->season - y->group->season;

    if (order == 0)
        order = compare_days(first_day_of(x), first_day_of(y));
    if (order == 0)
        order = strcmp(x->group->site->name, y->group->site->name);
    return order != 0 ? order : strcmp(x->group->graft->graft->tag, y->group->graft->graft->tag);
}

/* The order in which bags are numbered.  Bags equal in all of it are alike but for their crew. */
static int by_content(const void *a, const void *b)
{
    const struct planned_bag *x = a, *y = b;
    int order = compare_place(x, y);

    if (order == 0)
        order = strcmp(x->group->cross->name, y->group->cross->name);
    for (int task = 0; task < BAG_TASKS && order == 0; task++)
        order = compare_days(x->tasks[task].day, y->tasks[task].day);
    if (order == 0)
        order = x->lot != NULL && y->lot != NULL ? strcmp(x->lot->name, y->lot->name)
                                                 : (x->lot != NULL) - (y->lot != NULL);
    for (int task = 0; task < BAG_TASKS && order == 0; task++) {
        const char *s = x->tasks[task].crew, *t = y->tasks[task].crew;

        order = s != NULL && t != NULL ? strcmp(s, t) : (s != NULL) - (t != NULL);
        if (order == 0)
            order = x->tasks[task].half_day - y->tasks[task].half_day;
    }
    return order;
}

static int by_name(const void *a, const void *b)
{
    const struct planned_bag *x = a, *y = b;
    int order = compare_place(x, y);

    return order != 0 ? order : strcmp(x->name, y->name);
}

/* TAG-YY-N, N after the highest number that notes or this plan have given in the season. */
static void name_bags(struct chooser *chooser)
{
    const struct crossing_inputs *inputs = chooser->inputs;
    struct planned_bag *bags = chooser->bags;
    const size_t count = chooser->bag_count;
    const struct state *state = inputs->state;
    int *highest = ARENA_ARRAY(inputs->arena, 2 * state->orchard->grafts.count, int);

    for (size_t i = 0; i < count; i++) {
        struct planned_bag *bag = &bags[i];
        const struct group *group = bag->group;

        if (group->hangs != NULL) {
            bag->name = group->hangs->name;
            continue;
        }
        if (bag->name == NULL && !bag->pencilled)
            bag->name = firm_name(chooser, bag);
        if (bag->name != NULL)
            continue;
        size_t at = 2 * (size_t)(group->graft - state->grafts) + (bag->pencilled ? 1 : 0);
        if (highest[at] == 0) {
            highest[at] = firm_highest(chooser, group);
            for (size_t b = 0; b < state->bag_count; b++)
                if (state->bags[b].graft == group->graft->graft &&
                    state->bags[b].season == group->season && state->bags[b].number > highest[at])
                    highest[at] = state->bags[b].number;
        }
        bag->name = arena_printf(inputs->arena, "%s-%02d-%d", group->graft->graft->tag,
                                 group->season % 100, ++highest[at]);
    }
}

static void fill_warnings(const struct chooser *chooser, struct crossing_plan *plan)
{
    const struct orchard *orchard = chooser->inputs->state->orchard;
    size_t capacity = 0;

    for (size_t c = 0; c < orchard->crosses.count; c++) {
        const struct want *want = &chooser->supply->wants[c];

        if (want->refused || want->cross->state != CROSS_WANTED ||
            !coancestry_is_warned(&orchard->program, want->coancestry))
            continue;
        *ARENA_PUSH(chooser->inputs->arena, plan->warnings, plan->warning_count, capacity) =
            (struct cross_warning){want->cross, want->coancestry};
    }
}

struct attempt {
    struct crossing_plan plan;
    const int32_t *places; /* where its crews stand */
};

static struct attempt attempt_of(const struct crossing_inputs *inputs, const struct wish *wish)
{
    const struct orchard *orchard = inputs->state->orchard;
    struct supply supply = supply_of(inputs);
    struct chooser chooser = {
        .inputs = inputs,
        .supply = &supply,
        .candidates = candidates_of(&supply),
        .staff = staff_of(orchard, orchard->as_of, inputs->arena),
        .wish = *wish,
        .issued = issued_bags_of(inputs),
    };
    struct crossing_plan plan = {.as_of = orchard->as_of};

    choose_phase(&chooser, 0);
    shortfalls_of(&chooser, 0, &plan);
    choose_phase(&chooser, 1);
    shortfalls_of(&chooser, 1, &plan);
    choose_rest(&chooser);
    broken_promises_of(&chooser, &plan);
    if (chooser.bag_count > 1)
        qsort(chooser.bags, chooser.bag_count, sizeof *chooser.bags, by_content);
    name_bags(&chooser);
    if (chooser.bag_count > 1)
        qsort(chooser.bags, chooser.bag_count, sizeof *chooser.bags, by_name);
    plan.groups = chooser.candidates.groups;
    plan.group_count = chooser.candidates.count;
    plan.bags = chooser.bags;
    plan.bag_count = chooser.bag_count;
    plan.dear = chooser.dear;
    plan.dear_count = chooser.dear_count;
    plan.season = chooser.bounds;
    plan.season.value = 0;
    for (size_t i = 0; i < plan.bag_count; i++) {
        plan.value += plan.bags[i].value;
        plan.season.value += plan.bags[i].pencilled ? 0 : plan.bags[i].value;
    }
    fill_warnings(&chooser, &plan);
    plan.issued = inputs->issued;
    plan.free_value = NAN;
    firm_moves(&chooser, &plan);
    return (struct attempt){plan, staff_places(chooser.staff, inputs->arena)};
}

static const struct attempt *better(const struct attempt *a, const struct attempt *b)
{
    return b->plan.season.value > a->plan.season.value * (1 + 1e-12) ? b : a;
}

struct crossing_plan crossing_plan_by(const struct crossing_inputs *inputs, const struct wish *wish)
{
    return attempt_of(inputs, wish).plan;
}

static struct crossing_plan best_plan(const struct crossing_inputs *inputs)
{
    struct wish wish = {.optimised = false};
    const struct attempt simple = attempt_of(inputs, &wish);
    wish.optimised = true;
    const struct attempt anywhere = attempt_of(inputs, &wish);
    const struct attempt *best = better(&anywhere, &simple);
    /* Once more where the crews of the best stand; those without work there still may anywhere. */
    wish.places = best->places;
    const struct attempt here = attempt_of(inputs, &wish);
    struct crossing_plan plan = better(&here, best)->plan;

    plan.dear = here.plan.dear;
    plan.dear_count = here.plan.dear_count;
    plan.season.bound = here.plan.season.bound_free;
    plan.season.bound_free = anywhere.plan.season.bound_free;
    if (plan.season.bound > plan.season.bound_free)
        plan.season.bound = plan.season.bound_free;
    return plan;
}

struct crossing_plan crossing_plan_of(const struct crossing_inputs *inputs)
{
    struct crossing_plan plan = best_plan(inputs);
    struct crossing_inputs anew = *inputs;

    if (inputs->issued == NULL)
        return plan;
    anew.issued = NULL;
    plan.free_value = best_plan(&anew).season.value;
    return plan;
}
