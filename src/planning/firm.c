/*
 * firm.c - what stands of a plan that was issued on an earlier day.
 *
 * People have been told, lifts ordered, pollen taken out: visits inside the firm days stay unless
 * they are impossible or worth less than keep_share of the best that the bag could have.  Of bags
 * beyond them the issued days stay when they cost no more than the stay bonus.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>
#include <string.h>

#define NO_LOSS 1e-9

static int by_bag(const void *a, const void *b)
{
    const struct issued_visit *x = *(const struct issued_visit *const *)a,
                              *y = *(const struct issued_visit *const *)b;
    int order = strcmp(x->bag, y->bag);

    if (order == 0)
        order = x->task - y->task;
    return order != 0 ? order : (x->day > y->day) - (x->day < y->day);
}

static bool is_firm(const struct issued_bags *bags, daynum as_of, daynum day)
{
    return day >= as_of && day <= bags->firm_until;
}

static void add_visit(struct issued_bags *bags, const struct issued_visit *visit, daynum as_of)
{
    struct issued_bag *bag = bags->count > 0 ? &bags->list[bags->count - 1] : NULL;

    if (bag == NULL || strcmp(bag->name, visit->bag) != 0) {
        bag = &bags->list[bags->count++];
        *bag = (struct issued_bag){.name = visit->bag};
        for (int task = 0; task < BAG_TASKS; task++)
            bag->tasks[task].day = DAY_NONE;
    }
    bag->visits[visit->task] = visit;
    bag->tasks[visit->task] = (struct planned_task){
        .day = visit->day, .crew = visit->crew, .lift = visit->lift, .half_day = visit->half_day};
    bag->firm = bag->firm || is_firm(bags, as_of, visit->day);
}

struct issued_bags issued_bags_of(const struct crossing_inputs *inputs)
{
    const struct issued_plan *issued = inputs->issued;
    const daynum as_of = inputs->state->orchard->as_of;
    struct issued_bags bags = {NULL, 0, as_of + inputs->state->orchard->program.firm_days};

    if (issued == NULL || issued->count == 0)
        return bags;
    const struct issued_visit **order =
        ARENA_ARRAY(inputs->arena, issued->count, const struct issued_visit *);
    bags.list = ARENA_ARRAY(inputs->arena, issued->count, struct issued_bag);
    for (size_t i = 0; i < issued->count; i++)
        order[i] = &issued->list[i];
    qsort(order, issued->count, sizeof *order, by_bag);
    for (size_t i = 0; i < issued->count; i++)
        add_visit(&bags, order[i], as_of);
    return bags;
}

/* The issued days that are still to come, all of them or those inside the firm days. */
static struct option days_of(const struct chooser *chooser, const struct issued_bag *bag, bool all)
{
    const daynum as_of = chooser->inputs->state->orchard->as_of;
    daynum days[BAG_TASKS];

    for (int task = 0; task < BAG_TASKS; task++) {
        const daynum day = bag->tasks[task].day;

        days[task] =
            day != DAY_NONE && day >= as_of && (all || is_firm(&chooser->issued, as_of, day))
                ? day
                : DAY_NONE;
    }
    if (all && days[TASK_POLLINATE_1] != DAY_NONE && bag->tasks[TASK_POLLINATE_2].day == DAY_NONE)
        days[TASK_POLLINATE_2] = DAY_NEVER; /* one visit, and no other */
    return (struct option){
        days[TASK_BAG], {days[TASK_POLLINATE_1], days[TASK_POLLINATE_2]}, days[TASK_UNBAG]};
}

/* Best of the bag were there nobody else. */
static double best_value(const struct chooser *chooser, const struct candidate *candidate)
{
    return firm_choice(chooser, candidate, NULL, FIT_WORKING_DAY).value;
}

static void take(struct chooser *chooser, struct issued_bag *bag)
{
    const struct program *program = &chooser->inputs->state->orchard->program;
    struct candidate *candidate = bag->candidate;
    const struct option firm = days_of(chooser, bag, false), all = days_of(chooser, bag, true);

    bag->reason = firm_obstacle(chooser, bag, &firm, FIT_CREW);
    if (bag->reason != NULL)
        return;
    const double best = best_value(chooser, candidate);
    const struct choice whole = firm_choice(chooser, candidate, &all, FIT_CREW);
    struct choice choice = firm_choice(chooser, candidate, &firm, FIT_CREW);
    if (choice.value + NO_LOSS < program->keep_share * best) {
        bag->reason = arena_printf(chooser->inputs->arena, "worth less than %.4g %% of its best",
                                   100 * program->keep_share);
        return;
    }
    if (whole.found && whole.value + program->stay_bonus * best + NO_LOSS >= choice.value)
        choice = whole;
    choice.like = bag->tasks;
    choice.issued = bag;
    take_choice(chooser, candidate, &choice);
}

void firm_take(struct chooser *chooser)
{
    for (size_t i = 0; i < chooser->issued.count; i++) {
        struct issued_bag *bag = &chooser->issued.list[i];
        const struct option days = days_of(chooser, bag, true);

        bag->candidate = firm_candidate(chooser, bag);
        bag->later = firm_obstacle(chooser, bag, &days, FIT_WORKING_DAY);
    }
    /* A morning that is taken frees the set-up of its afternoon, so what did not fit may yet. */
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < chooser->issued.count; i++) {
            struct issued_bag *bag = &chooser->issued.list[i];

            if (bag->firm && !bag->used) {
                take(chooser, bag);
                more = more || bag->used;
            }
        }
    }
}

bool firm_stay(const struct chooser *chooser, const struct candidate *candidate,
               struct choice *choice)
{
    const double bonus = chooser->inputs->state->orchard->program.stay_bonus;

    for (size_t i = 0; i < chooser->issued.count; i++) {
        struct issued_bag *bag = &chooser->issued.list[i];

        if (bag->used || bag->firm || bag->candidate != candidate)
            continue;
        const struct option days = days_of(chooser, bag, true);
        struct choice stayed = firm_choice(chooser, candidate, &days, FIT_CREW);
        if (!stayed.found || stayed.value + bonus * candidate->best + NO_LOSS < choice->value)
            continue;
        stayed.like = bag->tasks;
        stayed.issued = bag;
        *choice = stayed;
        return true;
    }
    return false;
}
