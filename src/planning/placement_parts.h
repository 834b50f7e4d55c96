/*
 * placement_parts.h - what the files of the placement share; nothing else includes it.
 *
 * placement_trees.c: trees and zones on offer; placement_scions.c: what is wanted and the scions
 * there are; placement_choose.c: the choice; placement_tags.c: names for new grafts; placement.c:
 * the whole.
 */
#ifndef PLANNING_PLACEMENT_PARTS_H
#define PLANNING_PLACEMENT_PARTS_H

#include "planning/placement.h"
#include "planning/placement_choose.h"

/* A zone with free places. */
struct placement_offer {
    const struct tree *tree;
    enum crown crown;
};

struct placement_maker {
    const struct placement_inputs *inputs;
    const struct orchard *orchard;
    struct arena *arena;
    struct placement *placement;
    struct placement_offer *offers; /* [question.zones] */
    struct placement_zone *zones;   /* [question.zones] */
    struct placement_question question;
};

/* The season in whose winter grafts are made at a site. */
int placement_season(const struct placement_maker *maker, const struct site *site);

/* Offers and zones, in the order of trees; trees left out. */
void placement_add_trees(struct placement_maker *maker);

/* Selections and batches, with what is wanted and there. */
void placement_add_wanted(struct placement_maker *maker);

/* Give each new graft its scion: the oldest batch first. */
void placement_give_scions(struct placement_maker *maker);

/* Names, in the order of grafts. */
void placement_name_grafts(struct placement_maker *maker);

#endif
