/*
 * Crosses and the pollen for them.
 */
#include "orchard/audit.h"
#include "orchard/order.h"

#include <stdlib.h>

static void check_selfing(struct audit *audit, const struct cross *cross)
{
    if (cross->state == CROSS_CANCELLED || !cross->seed_parent)
        return;
    if (selection_same(cross->seed_parent, cross->pollen_parent))
        diag_error(audit->diags, cross->place, "self-cross",
                   "cross %s has %s as seed parent and %s as pollen parent, which are one clone, "
                   "expected two, correct a parent or cancel the cross",
                   audit_quote(audit, cross->name), audit_quote(audit, cross->seed_parent->name),
                   audit_quote(audit, cross->pollen_parent->name));
    for (size_t i = 0; cross->mix && i < cross->mix->part_count; i++)
        if (selection_same(cross->seed_parent, cross->mix->parts[i].selection))
            diag_error(audit->diags, cross->place, "self-in-mix",
                       "cross %s has %s as seed parent, which is %s in the mix %s, expected a mix "
                       "without the seed parent, use another mix or cancel the cross",
                       audit_quote(audit, cross->name),
                       audit_quote(audit, cross->seed_parent->name),
                       audit_quote(audit, cross->mix->parts[i].selection_name),
                       audit_quote(audit, cross->mix->name));
}

/* A cross by its parents, either way round when both are asked for. */
struct pairing {
    const void *first, *second; /* selection rows, or a selection and a mix */
    const struct cross *cross;
};

static int order_pairing(const void *left, const void *right)
{
    const struct pairing *a = left, *b = right;
    if (a->first != b->first)
        return (const char *)a->first < (const char *)b->first ? -1 : 1;
    if (a->second != b->second)
        return (const char *)a->second < (const char *)b->second ? -1 : 1;
    int order = order_whole(a->cross->season, b->cross->season);
    return order ? order : (a->cross > b->cross) - (a->cross < b->cross);
}

static const void *pollen_side(const struct cross *cross)
{
    return cross->mix             ? (const void *)cross->mix
           : cross->pollen_parent ? (const void *)cross->pollen_parent->self
                                  : NULL;
}

/* Do two crosses of one pair ask for the same seed?  Reciprocals do when either may be turned. */
static bool same_order(const struct cross *a, const struct cross *b)
{
    bool seasons_meet = a->season == 0 || b->season == 0 || a->season == b->season;
    bool same_way = selection_same(a->seed_parent, b->seed_parent);
    return seasons_meet && (same_way || a->either_way || b->either_way);
}

static void check_pairings(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    struct pairing *pairings = ARENA_ARRAY(audit->arena, orchard->crosses.count, struct pairing);
    size_t count = 0;
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];
        const void *seed = cross->seed_parent ? cross->seed_parent->self : NULL;
        const void *pollen = pollen_side(cross);
        if (cross->state == CROSS_CANCELLED || !seed || !pollen)
            continue;
        bool turn = !cross->mix && (const char *)pollen < (const char *)seed;
        pairings[count++] = (struct pairing){turn ? pollen : seed, turn ? seed : pollen, cross};
    }
    if (count > 1)
        qsort(pairings, count, sizeof *pairings, order_pairing);
    for (size_t i = 1; i < count; i++) {
        const struct pairing *here = &pairings[i];
        for (size_t j = i;
             j-- > 0 && pairings[j].first == here->first && pairings[j].second == here->second;) {
            if (!same_order(pairings[j].cross, here->cross))
                continue;
            diag_warning(
                audit->diags, here->cross->place, "cross-twice",
                "cross %s asks for the seed of the parents of cross %s again, expected one row "
                "for one order, add up their seeds_wanted in one row or give each its season",
                audit_quote(audit, here->cross->name), audit_quote(audit, pairings[j].cross->name));
            break;
        }
    }
}

static void check_mix(struct audit *audit, const struct lot *lot)
{
    for (size_t i = 1; i < lot->part_count; i++)
        for (size_t j = 0; j < i; j++)
            if (selection_same(lot->parts[i].selection, lot->parts[j].selection))
                diag_error(
                    audit->diags, lot->place, "mix-part-twice",
                    "mix %s holds %s and %s, which are one clone, expected each clone once, add "
                    "up their shares",
                    audit_quote(audit, lot->name), audit_quote(audit, lot->parts[j].selection_name),
                    audit_quote(audit, lot->parts[i].selection_name));
}

static void check_lot(struct audit *audit, const struct lot *lot)
{
    const struct tree *tree = lot->source_tree;
    check_mix(audit, lot);
    if (tree && tree->selection && lot->selection &&
        !selection_same(tree->selection, lot->selection))
        diag_error(
            audit->diags, lot->place, "other-selection-than-tree",
            "lot %s is of selection %s and was taken from tree %s of %s, expected one selection, "
            "correct the lot or the tree",
            audit_quote(audit, lot->name), audit_quote(audit, lot->selection->name),
            audit_quote(audit, tree->name), audit_quote(audit, tree->selection->name));
    if (lot->part_count && orchard_selection(audit->orchard, lot->name))
        diag_error(
            audit->diags, lot->place, "name-of-two",
            "mix %s has the name of a selection, expected a name that a pollen parent can mean, "
            "rename the mix",
            audit_quote(audit, lot->name));
}

void audit_crosses(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];
        check_selfing(audit, cross);
        if (cross->seeds_least > cross->seeds_wanted)
            diag_warning(
                audit->diags, cross->place, "least-above-wanted",
                "cross %s is worth doing from %d seeds and %d are wanted, expected seeds_least "
                "to be no more, correct one of them",
                audit_quote(audit, cross->name), cross->seeds_least, cross->seeds_wanted);
    }
    check_pairings(audit);
    for (size_t i = 0; i < orchard->lots.count; i++)
        check_lot(audit, &orchard->lots.list[i]);
}
