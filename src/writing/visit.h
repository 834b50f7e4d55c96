/*
 * visit.h - what the pages say of one task on one bag.
 */
#ifndef WRITING_VISIT_H
#define WRITING_VISIT_H

#include "planning/crossing.h"

/* Text is NULL and numbers NaN or -1 where nothing is known. */
struct visit_facts {
    const char *site, *block, *tree;
    int row, position;
    const char *crown, *branch; /* "top" */
    const char *tag, *selection, *flag;
    const char *bag, *cross, *seed_parent, *pollen_parent; /* a mix: the name of its lot */
    const char *lot;
    double dose_ml; /* of a pollination */
    double chance;
    daynum latest;
    const char *state; /* "planned", "pencilled", "done" */
};

struct visit_facts visit_facts_of(const struct orchard *orchard, const struct planned_bag *bag,
                                  enum bag_task task);

/* Name of the selection that a graft truly is; NULL when it is known to be none of ours. */
const char *graft_selection_name(const struct graft_state *graft);

/* "top", "middle", "low"; NULL: not known. */
const char *crown_word(enum crown crown);

/* "S12xS31"; "C12: S12 x S31" where the identifier does not say the parents, as done here. */
const char *visit_cross_words(struct arena *arena, const struct visit_facts *facts);

#endif
