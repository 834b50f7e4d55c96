/*
 * bag_truth.h - of which cross a bag truly is, by what is known today of both its parents.
 */
#ifndef PLANNING_BAG_TRUTH_H
#define PLANNING_BAG_TRUTH_H

#include "orchard/pedigree.h"
#include "orchard/state.h"

enum seed_fate {
    FATE_AS_MEANT,
    FATE_USEFUL,  /* another cross that is wanted */
    FATE_SELF,    /* both parents are one clone, or one of them stands in the mix */
    FATE_RELATED, /* closer than coancestry_refuse */
    FATE_UNWANTED,
    FATE_UNKNOWN, /* a parent is not known */
    FATES
};
extern const char *const seed_fate_words[FATES]; /* "useful cross" */

struct bag_truth {
    const struct selection *seed_parent; /* NULL: not known */
    const struct selection *pollen;      /* NULL: not known, or a mix */
    const struct lot *mix;               /* NULL: no mix */
    const struct cross *cross;           /* NULL: no cross of crosses.csv that is wanted */
};

/* Pollen not yet given is what the bag's cross says.  The cross that was noted comes before others
 * that fit, those by name. */
struct bag_truth bag_truth_of(const struct state *state, const struct bag *bag);

/* What its seed is good for. */
enum seed_fate bag_fate_of(const struct pedigree *pedigree, const struct program *program,
                           const struct bag *bag, const struct bag_truth *truth);

/*
 * Filled seed noted of a cross as a whole, and the newest season whose bags it can hold: cones
 * ripen in the autumn of the next season, and seed counts in the one after.
 */
struct bulk_seed {
    double seeds;
    daynum newest; /* DAY_NONE: none was noted */
};
struct bulk_seed bulk_seed_of(const struct orchard *orchard, const struct cross *cross);

/* Seed of this bag, not counted by itself, is in what was noted of its cross. */
bool bag_in_bulk(const struct orchard *orchard, const struct bag *bag, struct bulk_seed bulk);

#endif
