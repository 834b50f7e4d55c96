/*
 * check_plan.c - an independent recount of a crossing plan: whose bag it is, and what it is called.
 *
 * The windows are in check_days.c, chances and value in check_chances.c, limits in check_limits.c
 * and check_crews.c, what was issued in check_firm.c.
 */
#include "planning/check_plan.h"

#include "planning/check_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool names_graft(const struct planned_bag *bag)
{
    const char *tag = bag->group->graft->graft->tag;
    size_t length = strlen(tag);
    char season[8];

    snprintf(season, sizeof season, "-%02u-", (unsigned)bag->group->season % 100U);
    if (strncmp(bag->name, tag, length) != 0 || strncmp(bag->name + length, season, 4) != 0)
        return false;
    const char *number = bag->name + length + 4;
    return number[0] >= '1' && number[0] <= '9' && strspn(number, "0123456789") == strlen(number);
}

static void check_name(struct check *check, const struct planned_bag *bag)
{
    const struct bag *hangs = bag->group->hangs;

    if (hangs != NULL) {
        if (strcmp(bag->name, hangs->name) != 0)
            check_fault(check, bag, "is bag %s of the notes", hangs->name);
    } else if (!names_graft(bag)) {
        check_fault(check, bag, "is not named after its graft and season");
    } else if (state_bag(check->inputs->state, bag->name) != NULL) {
        check_fault(check, bag, "is there already by the notes");
    }
}

static int by_name(const void *a, const void *b)
{
    const struct planned_bag *const *x = a, *const *y = b;

    return strcmp((*x)->name, (*y)->name);
}

static void check_names(struct check *check)
{
    size_t count = check->plan->bag_count;
    const struct planned_bag **bags =
        ARENA_ARRAY(check->inputs->arena, count, const struct planned_bag *);

    for (size_t i = 0; i < count; i++)
        bags[i] = &check->plan->bags[i];
    qsort(bags, count, sizeof *bags, by_name);
    for (size_t i = 1; i < count; i++)
        if (strcmp(bags[i - 1]->name, bags[i]->name) == 0)
            check_fault(check, bags[i], "is planned twice");
}

static bool pollination_due(const struct planned_bag *bag)
{
    return (!bag->done[TASK_POLLINATE_1] && bag->option.visit[0] != DAY_NONE) ||
           (!bag->done[TASK_POLLINATE_2] && bag->option.visit[1] != DAY_NONE);
}

static void check_parents(struct check *check, const struct planned_bag *bag)
{
    const struct group *group = bag->group;
    const struct cross *cross = group->cross;
    bool selfs = false;
    double coancestry = pedigree_cross_coancestry(check->inputs->pedigree, cross, &selfs);

    if (!pollination_due(bag))
        return;
    if (cross->state != CROSS_WANTED)
        check_fault(check, bag, "is of cross %s, which is not wanted", cross->name);
    if (selfs || selection_same(group->seed_parent, group->pollen_parent))
        check_fault(check, bag, "selfs its seed parent");
    if (coancestry > check->orchard->program.coancestry_refuse + 1e-12)
        check_fault(check, bag, "has parents of coancestry %.4f", coancestry);
    if (group->turned_round && (!cross->either_way || cross->pollen_parent == NULL))
        check_fault(check, bag, "turns cross %s round", cross->name);
    const struct selection *seed = group->turned_round ? cross->pollen_parent : cross->seed_parent;
    const struct selection *pollen =
        group->turned_round ? cross->seed_parent : cross->pollen_parent;
    if (!selection_same(group->graft->selection, seed) || group->seed_parent != seed)
        check_fault(check, bag, "hangs on a graft that is not its seed parent");
    if (group->pollen_parent != pollen)
        check_fault(check, bag, "has another pollen parent than its cross");
}

static void check_season(struct check *check, const struct planned_bag *bag)
{
    const struct group *group = bag->group;
    const struct orchard *orchard = check->orchard;
    int now = day_season(orchard_season_rule(orchard, group->site), check->plan->as_of);

    if (group->season != now && group->season != now + 1)
        check_fault(check, bag, "is of season %d, neither this nor the next", group->season);
    if (bag->pencilled != (group->season > now))
        check_fault(check, bag, "is pencilled in this season or firm in the next");
    if (group->hangs == NULL && group->cross->season != 0 && group->cross->season != group->season)
        check_fault(check, bag, "is of season %d, and its cross of %d", group->season,
                    group->cross->season);
    if (group->hangs != NULL &&
        (group->hangs->graft != group->graft->graft || group->hangs->season != group->season ||
         group->hangs->lost_on != DAY_NONE || group->hangs->unbagged_on != DAY_NONE ||
         group->hangs->cross != group->cross))
        check_fault(check, bag, "does not hang as the notes say");
    if (group->flowering->graft != group->graft || group->flowering->season != group->season ||
        group->flowering->season_number != group->season_number ||
        group->site != group->graft->graft->tree->site)
        check_fault(check, bag, "has the flowering of another graft");
}

static void check_lot(struct check *check, const struct planned_bag *bag)
{
    const struct group *group = bag->group;

    if (bag->lot == NULL)
        return; /* nothing is pollinated, or that is a fault elsewhere */
    const struct lot_balance *balance =
        &check->inputs->state->lots[bag->lot - check->orchard->lots.list];
    if (group->hangs != NULL && group->hangs->visits > 0 && bag->lot != group->hangs->lot)
        check_fault(check, bag, "changes its lot between two visits");
    if (!pollination_due(bag))
        return;
    bool right = group->pollen_parent == NULL
                     ? bag->lot == group->cross->mix
                     : bag->lot->part_count == 0 &&
                           selection_same(bag->lot->selection, group->pollen_parent);
    if (!right)
        check_fault(check, bag, "takes lot %s, which is not its pollen parent's", bag->lot->name);
    if (!balance->usable)
        check_fault(check, bag, "takes lot %s, which may not be used", bag->lot->name);
    if (balance->germination_pct < check->orchard->program.germination_refuse_pct)
        check_fault(check, bag, "takes lot %s, which germinates %.1f %%", bag->lot->name,
                    balance->germination_pct);
    if (!bag->done[TASK_POLLINATE_1] && balance->ready_on != DAY_NONE &&
        bag->option.visit[0] <= balance->ready_on)
        check_fault(check, bag, "is pollinated before lot %s is ready", bag->lot->name);
}

bool plan_check(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                struct text *faults)
{
    struct check check = {
        .plan = plan,
        .inputs = inputs,
        .orchard = inputs->state->orchard,
        .faults = faults,
    };
    double value = 0;

    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];

        if (bag->name == NULL || bag->group == NULL ||
            (bag->lot == NULL && bag->option.visit[0] != DAY_NONE)) {
            check_fault(&check, bag, "lacks a name, a lot or a group");
            return false;
        }
        check_name(&check, bag);
        check_season(&check, bag);
        check_parents(&check, bag);
        check_lot(&check, bag);
        check_days(&check, bag);
        check_value(&check, bag);
        value += bag->value;
    }
    check_names(&check);
    check_limits(&check);
    check_crews(&check);
    check_firm(&check);
    if (!(fabs(plan->value - value) <= 1e-9 * (1.0 + fabs(value))))
        check_fault(&check, NULL, "is worth %.9f, and its bags %.9f", plan->value, value);
    return check.count == 0;
}
