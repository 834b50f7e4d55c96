#include "planning/demand_plan.h"

#include "planning/demand_parts.h"
#include "planning/grafting.h"

#include <math.h>

/* The season of as-of at the first site; *agree: that of all. */
static int season_now(const struct orchard *orchard, bool *agree)
{
    int season = 0;

    *agree = orchard->sites.count > 0;
    for (size_t i = 0; i < orchard->sites.count; i++) {
        struct season_rule rule = orchard_season_rule(orchard, &orchard->sites.list[i]);
        int here = day_season(rule, orchard->as_of);

        season = i == 0 ? here : season;
        *agree = *agree && here == season;
    }
    return season;
}

struct parents {
    struct contribution *list;
    size_t count;
    double value, weight;
};

static void add_parent(struct parents *parents, const struct selection *selection, double weight)
{
    const struct selection *self = selection->self != NULL ? selection->self : selection;

    for (size_t i = 0; i < parents->count; i++) {
        if (parents->list[i].selection == self) {
            parents->list[i].weight += weight;
            return;
        }
    }
    parents->list[parents->count++] = (struct contribution){self, weight};
}

static bool is_refused(const struct demand_cross *row)
{
    return row->obstacle == DEMAND_SELF || row->obstacle == DEMAND_RELATED;
}

/* Each cross gives half of its seed to either side; those that are refused give none. */
static void weigh_parents(const struct demand_maker *maker, struct demand_plan *plan)
{
    struct parents parents = {
        .list = ARENA_ARRAY(maker->arena, maker->orchard->selections.count, struct contribution)};

    for (size_t i = 0; i < plan->crosses.count; i++) {
        const struct cross *cross = plan->crosses.list[i].cross;
        double half = (double)cross->seeds_wanted / 2;

        if (is_refused(&plan->crosses.list[i]) || !(half > 0))
            continue;
        add_parent(&parents, cross->seed_parent, half);
        if (cross->mix == NULL)
            add_parent(&parents, cross->pollen_parent, half);
        for (size_t p = 0; cross->mix != NULL && p < cross->mix->part_count; p++)
            if (cross->mix->parts[p].selection != NULL)
                add_parent(&parents, cross->mix->parts[p].selection,
                           half * cross->mix->parts[p].share);
        parents.value += 2 * half * plan->crosses.list[i].value;
        parents.weight += 2 * half;
    }
    plan->parents = parents.count;
    plan->group_coancestry =
        pedigree_group_coancestry(maker->inputs->pedigree, parents.count, parents.list);
    plan->status_number = pedigree_status_number(plan->group_coancestry);
    plan->mean_value = parents.weight > 0 ? parents.value / parents.weight : NAN;
}

struct demand_plan demand_plan_of(const struct crossing_inputs *inputs)
{
    const struct orchard *orchard = inputs->state->orchard;
    struct demand_maker maker = {
        .inputs = inputs,
        .orchard = orchard,
        .arena = inputs->arena,
        .supply = supply_of(inputs),
        .tallies = ARENA_ARRAY(inputs->arena, orchard->selections.count, struct demand_tally),
    };
    struct demand_plan plan = {.season = 0};
    bool agree;

    maker.plan = &plan;
    maker.places = ARENA_ARRAY(inputs->arena, inputs->flowering.count, int);
    for (size_t r = 0; r < inputs->flowering.count; r++)
        if (inputs->flowering.list[r].graft->selection != NULL)
            maker.places[r] = places_left(&maker.supply, &inputs->flowering.list[r]);
    maker.season = season_now(orchard, &agree);
    maker.ahead = grafting_ahead(inputs->state, inputs->dates, maker.season, inputs->arena);
    plan.season = agree ? maker.season : 0;
    plan.ahead = maker.ahead;
    demand_add_crosses(&maker, &plan);
    demand_cover(&maker, &plan);
    demand_add_selections(&maker, &plan);
    demand_add_pollen(&maker, &plan);
    demand_add_supplies(&maker, &plan);
    demand_add_work(&maker, &plan);
    demand_sort_rates(&plan);
    weigh_parents(&maker, &plan);
    return plan;
}
