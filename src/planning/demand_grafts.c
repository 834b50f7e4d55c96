/*
 * demand_grafts.c - grafts to make of each selection, and scions to cut for them.
 */
#include "planning/demand_parts.h"

#include "planning/places.h"

#include <math.h>
#include <string.h>

/* More bags of one selection than any orchard hangs: beyond it no number of grafts is told. */
#define BAGS_MOST 5000

/* Means over the places where new grafts may stand. */
struct mean {
    double sum, weight;
};

static void add_to_mean(struct mean *mean, double value, double weight)
{
    mean->sum += value * weight; /* NaN stays */
    mean->weight += weight;
}

static double mean_of(const struct mean *mean)
{
    return mean->weight > 0 ? mean->sum / mean->weight : NAN;
}

struct graft_means {
    struct mean survival[2], freeze[2], strobili[2], bags[2], per_bag[2];
};

struct graft_question {
    const struct demand_maker *maker;
    struct demand_plan *plan;
    const struct selection *selection;
    struct graft_means means;
};

static double ask(struct graft_question *question, const char *name, struct rate_subject subject)
{
    const struct rate *rate = rate_find(question->maker->orchard, name, subject);

    demand_add_rate(question->maker, question->plan, rate, USE_FOR_GRAFTS);
    return rate != NULL ? number_of_decimal(rate->value) : NAN;
}

static void ask_of_host(struct graft_question *question, const struct tree *tree, double weight)
{
    for (int spring = 0; spring < 2; spring++) {
        struct graft_means *means = &question->means;
        struct rate_subject subject = {.selection = question->selection->name,
                                       .season_number = spring + 1};

        if (tree != NULL) {
            subject.host_species = tree->species;
            subject.clone = tree->clone;
            subject.site = tree->site != NULL ? tree->site->name : NULL;
        }
        add_to_mean(&means->survival[spring], ask(question, "survival", subject), weight);
        add_to_mean(&means->freeze[spring],
                    demand_freeze_rate(question->maker, "survival", subject), weight);
        add_to_mean(&means->strobili[spring], ask(question, "strobili_per_live_graft", subject),
                    weight);
        add_to_mean(&means->bags[spring], ask(question, "bags_per_graft", subject), weight);
        add_to_mean(&means->per_bag[spring], ask(question, "strobili_per_bag", subject), weight);
    }
}

static bool is_suited(const struct graft_question *question, const struct tree *tree)
{
    return (tree->uses & USE_GRAFT) && tree->health != HEALTH_DEAD && tree->health != HEALTH_WEAK &&
           !selection_unsuited(question->maker->orchard, question->selection, tree);
}

static void ask_everywhere(struct graft_question *question)
{
    const struct demand_maker *maker = question->maker;
    bool any = false;

    for (size_t i = 0; i < maker->orchard->trees.count; i++) {
        const struct tree *tree = &maker->orchard->trees.list[i];
        int free = 0;

        if (!is_suited(question, tree))
            continue;
        for (int crown = CROWN_TOP; crown < CROWNS; crown++) {
            int places = state_free_places(maker->inputs->state, tree, (enum crown)crown);

            free += places > 0 ? places : 0;
        }
        if (free == 0)
            continue;
        ask_of_host(question, tree, free);
        any = true;
    }
    if (!any) /* nothing is known of the places: the general rates */
        ask_of_host(question, NULL, 1);
}

static void take_graft(struct graft_question *question, struct bearer_rates *graft)
{
    double share = question->maker->orchard->program.uncounted_share;

    ask_everywhere(question);
    for (int spring = 0; spring < 2; spring++) {
        struct graft_means *means = &question->means;
        double most = mean_of(&means->bags[spring]);

        graft->survival[spring] = mean_of(&means->survival[spring]);
        graft->survival_freeze[spring] = mean_of(&means->freeze[spring]);
        graft->strobili[spring] = mean_of(&means->strobili[spring]);
        graft->places[spring] =
            bag_places_of(graft->strobili[spring] * share, mean_of(&means->per_bag[spring]),
                          isnan(most) ? 0 : (int)floor(most + DEMAND_ROUNDING));
    }
}

/* What the clone's standing grafts may carry in the two springs, by graft. */
static struct bearer *standing_of(const struct demand_maker *maker, struct demand_selection *row)
{
    const struct flowering_rows *rows = &maker->inputs->flowering;
    struct bearer *bearers = ARENA_ARRAY(maker->arena, maker->orchard->grafts.count, struct bearer);

    for (size_t r = 0; r < rows->count; r++) {
        const struct flowering_row *one = &rows->list[r];
        int spring = demand_spring_of(maker, one) - maker->ahead - 1;

        if (spring < 0 || spring > 1 || isnan(one->chance_alive) ||
            !selection_same(one->graft->selection, row->selection))
            continue;
        struct bearer *bearer = &bearers[one->graft - maker->inputs->state->grafts];
        bearer->chance[spring] = one->chance_alive;
        bearer->places[spring] = maker->places[r];
        row->standing[spring]++;
        row->places[spring] += one->chance_alive * bearer->places[spring];
    }
    return bearers;
}

/* Only one of the two springs counts: -1 both. */
static struct bearer in_spring(const struct bearer *bearer, int spring)
{
    struct bearer one = *bearer;

    if (spring == 0)
        one.places[1] = 0;
    if (spring == 1)
        one.places[0] = 0;
    return one;
}

static struct places places_of(const struct demand_maker *maker, const struct bearer *bearers,
                               size_t wanted, int spring)
{
    struct places places = places_none(maker->arena, wanted);

    for (size_t g = 0; g < maker->orchard->grafts.count; g++) {
        struct bearer one = in_spring(&bearers[g], spring);

        if (one.places[0] > 0 || one.places[1] > 0)
            places_add(&places, &one);
    }
    return places;
}

static int64_t needed(const struct demand_maker *maker, const struct places *standing,
                      const struct bearer *fresh, int spring)
{
    struct bearer one = in_spring(fresh, spring);

    return places_grafts_needed(standing, &one, maker->orchard->program.assurance, maker->arena);
}

static void count_grafts(const struct demand_maker *maker, struct demand_selection *row,
                         const struct bearer *bearers)
{
    const struct bearer_rates *graft = &row->graft;
    struct bearer fresh = {.places = {graft->places[0], graft->places[1]}}, frozen = fresh;
    size_t wanted = (size_t)row->bags_left;

    for (int spring = 0; spring < 2; spring++) {
        double chance = graft->survival[spring], freeze = graft->survival_freeze[spring];

        fresh.chance[spring] = isnan(chance) ? 0 : chance;
        frozen.chance[spring] = isnan(freeze) ? 0 : freeze;
    }
    struct places first = places_of(maker, bearers, wanted, 0);
    struct places second = places_of(maker, bearers, wanted, 1);
    struct places both = places_of(maker, bearers, wanted, -1);

    row->chance_standing = places_enough(&both);
    row->grafts_first = needed(maker, &first, &fresh, 0);
    row->grafts_second = needed(maker, &second, &fresh, 1);
    row->grafts = needed(maker, &both, &fresh, -1);
    row->grafts_freeze = needed(maker, &both, &frozen, -1);
    if (row->grafts >= 0) {
        row->chance = places_enough_with(&both, &fresh, row->grafts, maker->arena);
        row->chance_freeze = places_enough_with(&both, &frozen, row->grafts, maker->arena);
    }
}

/* Scions cut this winter that have not been grafted. */
static int64_t scions_in_store(const struct demand_maker *maker, const struct selection *selection)
{
    const struct orchard *orchard = maker->orchard;
    struct season_rule rule =
        orchard_season_rule(orchard, orchard->sites.count > 0 ? &orchard->sites.list[0] : NULL);
    int64_t scions = 0;

    for (size_t b = 0; b < orchard->batches.count; b++) {
        const struct batch *batch = &orchard->batches.list[b];
        int64_t left = batch->count;

        if (!selection_same(batch->selection, selection) || batch->discarded_on != DAY_NONE ||
            batch->cut_on == DAY_NONE ||
            day_season(rule, batch->cut_on) != maker->season + maker->ahead)
            continue;
        for (size_t g = 0; g < orchard->grafts.count; g++)
            left -= orchard->grafts.list[g].batch == batch;
        scions += left > 0 ? left : 0;
    }
    return scions;
}

static void count_scions(const struct demand_maker *maker, struct demand_selection *row)
{
    row->scions_in_store = scions_in_store(maker, row->selection);
    if (row->grafts < 0)
        return;
    row->scions = demand_with_spares(row->grafts, (struct decimal){1, 0}, demand_scion_spare);
    if (row->scions > row->scions_in_store)
        row->scions_to_cut = row->scions - row->scions_in_store;
}

void demand_add_selections(struct demand_maker *maker, struct demand_plan *plan)
{
    const struct orchard *orchard = maker->orchard;

    for (size_t s = 0; s < orchard->selections.count; s++) {
        const struct demand_tally *tally = &maker->tallies[s];

        if (tally->early + tally->later == 0)
            continue;
        struct demand_selection *row = ARENA_PUSH(
            maker->arena, plan->selections.list, plan->selections.count, plan->selections.capacity);
        *row = (struct demand_selection){
            .selection = &orchard->selections.list[s],
            .bags = tally->early + tally->later,
            .bags_early = tally->early,
            .bags_left = tally->later,
            .chance_standing = NAN,
            .grafts_first = -1,
            .grafts_second = -1,
            .grafts = -1,
            .chance = NAN,
            .grafts_freeze = -1,
            .chance_freeze = NAN,
        };
        struct graft_question question = {
            .maker = maker, .plan = plan, .selection = row->selection};
        const struct bearer *bearers = standing_of(maker, row);

        take_graft(&question, &row->graft);
        if (row->bags_left <= BAGS_MOST)
            count_grafts(maker, row, bearers);
        count_scions(maker, row);
    }
}
