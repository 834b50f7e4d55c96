/*
 * harvest.h - what hangs, what it will give and when, bag by bag and cross by cross.
 */
#ifndef PLANNING_HARVEST_H
#define PLANNING_HARVEST_H

#include "orchard/pedigree.h"
#include "orchard/state.h"
#include "planning/bag_truth.h"
#include "planning/bag_yield.h"

enum harvest_state {
    HARVEST_NOTHING, /* lost, or dead before its cones were counted */
    HARVEST_GROWING,
    HARVEST_TEST, /* the days of the ripeness test have begun */
    HARVEST_RIPE, /* noted as ripe, cones not counted */
    HARVEST_DUE,  /* the days of harvest are over and no cones were counted */
    HARVEST_CONES_COUNTED,
    HARVEST_SEED_COUNTED,
    HARVEST_STATES
};
extern const char *const harvest_state_words[HARVEST_STATES];

/* Between which a kind of work is due. */
struct harvest_days {
    daynum first, last; /* DAY_NONE: no row of tasks.csv says */
};

struct harvest_bag {
    const struct bag *bag;
    const struct graft_state *graft;
    const struct site *site;
    int season_number;                /* of the graft when pollinated: 1 or 2, two crops */
    int year;                         /* in which its cones ripen */
    const struct selection *labelled; /* seed parent when grafted */
    struct bag_truth truth;
    enum seed_fate fate;
    enum harvest_state state;
    struct bag_yield yield;
    struct harvest_days fertilised; /* information; from memory: 13 to 15 months on */
    struct harvest_days test, harvest;
    const char *ripeness; /* newest such note of this crop: "19/20"; NULL: none */
    daynum ripeness_on;
};

/* One cross over all seasons. */
struct harvest_cross {
    const struct cross *cross;
    size_t bags;          /* clean, pollinated, not lost, of this cross by what is known today */
    struct amount cones;  /* not harvested yet */
    double seeds_counted; /* of its bags and of the cross as a whole */
    struct amount seeds;  /* still to come */
    double short_of;      /* wanted less in store, counted and expected; 0 at least */
    struct amount *seeds_of_year; /* [years] of harvest, from the first year */
};

struct harvest {
    struct harvest_bag *bags; /* by year, site, tree, bag */
    size_t bag_count;
    struct harvest_cross *crosses; /* by name; those wanted, and those with bags */
    size_t cross_count;
    int first_year;
    size_t years; /* with seed still to come; 0: none */
};

/*
 * The days are those of the first row of tasks.csv that a `ripeness` note closes, and of the first
 * that a `cones` note closes; written for the first crop, a year later for the second.
 */
struct harvest harvest_of(const struct state *state, const struct pedigree *pedigree,
                          struct arena *arena);

#endif
