#include "planning/bag_truth.h"

#include <string.h>

const char *const seed_fate_words[FATES] = {
    "as meant", "useful cross", "self", "related", "unwanted", "parent not known",
};

static bool makes(const struct cross *cross, const struct bag_truth *truth)
{
    const struct selection *seed = truth->seed_parent, *pollen = truth->pollen;

    if (cross->mix != NULL || truth->mix != NULL)
        return cross->mix == truth->mix && selection_same(seed, cross->seed_parent);
    if (selection_same(seed, cross->seed_parent) && selection_same(pollen, cross->pollen_parent))
        return true;
    return cross->either_way && selection_same(seed, cross->pollen_parent) &&
           selection_same(pollen, cross->seed_parent);
}

static void take_pollen(const struct state *state, const struct bag *bag, struct bag_truth *truth)
{
    const struct cross *cross = bag->cross;

    if (bag->lot != NULL) {
        if (bag->lot->part_count > 0)
            truth->mix = bag->lot;
        else
            truth->pollen = state->lots[bag->lot - state->orchard->lots.list].selection;
    } else if (cross != NULL) {
        bool turned =
            cross->either_way && selection_same(bag->graft->selection, cross->pollen_parent);

        truth->mix = cross->mix;
        truth->pollen = turned ? cross->seed_parent : cross->pollen_parent;
    }
}

struct bag_truth bag_truth_of(const struct state *state, const struct bag *bag)
{
    struct bag_truth truth = {.seed_parent = state_graft(state, bag->graft)->selection};
    const struct orchard *orchard = state->orchard;

    take_pollen(state, bag, &truth);
    if (bag->cross != NULL && makes(bag->cross, &truth))
        truth.cross = bag->cross;
    for (size_t i = 0; i < orchard->crosses.count && truth.cross == NULL; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross->state == CROSS_WANTED && makes(cross, &truth))
            truth.cross = cross;
    }
    return truth;
}

/* As a cross of its own, for the pedigree. */
static struct cross as_cross(const struct bag_truth *truth)
{
    return (struct cross){
        .seed_parent = truth->seed_parent, .pollen_parent = truth->pollen, .mix = truth->mix};
}

enum seed_fate bag_fate_of(const struct pedigree *pedigree, const struct program *program,
                           const struct bag *bag, const struct bag_truth *truth)
{
    struct cross made = as_cross(truth);
    bool selfs;
    double coancestry;

    if (truth->cross != NULL)
        return truth->cross == bag->cross ? FATE_AS_MEANT : FATE_USEFUL;
    if (truth->seed_parent == NULL || (truth->pollen == NULL && truth->mix == NULL))
        return FATE_UNKNOWN;
    coancestry = pedigree_cross_coancestry(pedigree, &made, &selfs);
    if (selfs)
        return FATE_SELF;
    return coancestry_is_refused(program, coancestry) ? FATE_RELATED : FATE_UNWANTED;
}

struct bulk_seed bulk_seed_of(const struct orchard *orchard, const struct cross *cross)
{
    struct bulk_seed bulk = {.newest = DAY_NONE};

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (note->kind != NOTE_SEEDS || note->bag != NULL || note->cross == NULL ||
            strcmp(note->cross, cross->name) != 0 || !(note->number > 0))
            continue;
        bulk.seeds += note->number;
        if (note->date > bulk.newest)
            bulk.newest = note->date;
    }
    return bulk;
}

bool bag_in_bulk(const struct orchard *orchard, const struct bag *bag, struct bulk_seed bulk)
{
    if (bulk.newest == DAY_NONE || bag->seeds >= 0)
        return false;
    struct season_rule rule = orchard_season_rule(orchard, bag->graft->tree->site);
    return bag->season + 2 <= day_season(rule, bulk.newest);
}
