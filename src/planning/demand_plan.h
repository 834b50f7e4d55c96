/*
 * demand_plan.h - from wanted seed back to bags, grafts, scions, pollen, supplies and days of work.
 *
 * Everything is counted up to what reaches program.json's `assurance`, step by step rounded up in
 * exact arithmetic; what stands already is taken off where it is.
 */
#ifndef PLANNING_DEMAND_PLAN_H
#define PLANNING_DEMAND_PLAN_H

#include "orchard/demand.h"
#include "planning/crossing.h"

/* Springs that grafts standing today can bear in: that of the season that holds as-of, and two
 * more. */
#define DEMAND_SPRINGS 3

/* Why a cross is not, or not simply, to be made. */
enum demand_obstacle {
    DEMAND_FREE,
    DEMAND_SELF,
    DEMAND_RELATED, /* above coancestry_refuse */
    DEMAND_NO_RATE, /* a rate of the chain is 0 or missing: no number of bags gives the seed */
    DEMAND_NO_LOT,  /* pollen still to be found; everything else is counted */
    DEMAND_LOT_DEAD /* likewise: every lot germinates too little, or may not be used */
};

/* The rows of rates that the chain of a cross rests on; NULL: none holds. */
struct demand_chain_rates {
    const struct rate *seeds_per_cone, *cones_kept, *conelets_kept, *strobili_per_bag;
};

struct demand_cross {
    const struct cross *cross;
    double coancestry; /* of its parents: the inbreeding expected of its seed */
    bool warned;       /* above coancestry_warn */
    double value;      /* mean of the parents' breeding values; NaN: one is not known */
    enum demand_obstacle obstacle;
    double seeds_expected; /* of bags that have been pollinated, or counted of them */
    int64_t outstanding;   /* seeds wanted, less in store and expected; 0 at least */
    double pollen_share;   /* of full seed, by the best lot there is; 1 when none is tested */
    struct demand_chain_rates rates;
    struct demand_chain chain; /* by expectation, from the seed that full pollen would have to
                                  give; -1 from where no number does */
    int64_t strobili_assured, bags_assured; /* fewest whose chance of the cones is `assurance` */
    double chance_expected;                 /* of the cones, with the bags of the chain alone */
    int64_t bags_freeze;                    /* assured, with conelets_kept of a freeze winter */
    int64_t bags;                           /* to be had: assured; 0 of a cross that is refused */
    int64_t hanging;                        /* of these hang, clean and not pollinated yet */
    int64_t covered[DEMAND_SPRINGS];        /* on grafts that stand, spring by spring */
    int64_t later;                          /* left to grafts still to be made */
    int64_t lost;          /* neither: the season asked for comes before any of these */
    double chance_covered; /* of the cones, with what hangs and is covered */
};

/* Grafts to make of one selection in the coming winter. */
struct demand_selection {
    const struct selection *selection;
    int64_t bags;         /* all that are to be had of it, that hang not among them */
    int64_t bags_early;   /* covered before the new grafts' first spring */
    int64_t bags_left;    /* what its grafts are to carry in the two springs after */
    size_t standing[2];   /* grafts that may live in the first and in the second of these */
    double places[2];     /* bag places expected on them */
    struct bearer_rates { /* of a new graft, mean over free places of suited interstock */
        double survival[2], survival_freeze[2], strobili[2];
        int places[2];
    } graft;
    double chance_standing;              /* that those that stand carry bags_left */
    int64_t grafts_first, grafts_second; /* were one spring alone to do; -1: no number will */
    int64_t grafts;                      /* with both; -1 */
    double chance;                       /* with these */
    int64_t grafts_freeze;               /* were the winter one of hard freeze; -1 */
    double chance_freeze;                /* with `grafts` in such a winter */
    int64_t scions, scions_in_store, scions_to_cut;
};

/* Pollen of one parent: a row for each lot of it, best first, then one for what no lot holds. */
struct demand_pollen {
    const struct selection *parent;
    const struct lot *mix;         /* instead of a parent */
    const struct lot_balance *lot; /* NULL: no lot */
    int64_t bags;                  /* of all crosses with this pollen; on its first row, else 0 */
    int64_t doses_wanted;          /* likewise */
    int64_t doses_there;           /* whole ones; -1: never measured, counts as enough */
    int64_t doses_given;           /* of those wanted, from this lot; without a lot: those short */
    double ml_given;
};

/* What to have ready. */
struct demand_supply {
    const char *item, *unit, *for_what;
    int64_t of;                  /* so many grafts or bags */
    int64_t amount;              /* with spares, rounded up; metres of what is measured by length */
    int64_t amount_ft;           /* of what is measured by length; -1 */
    double each, each_ft, spare; /* amount = of x each x spare; each_ft NaN: no length */
    bool by_selection;           /* rounded up for each */
    const char *source;
};

/* A kind of work. */
struct demand_work {
    const char *task;
    int64_t times;
    double minutes_each; /* crew-minutes, a tree's share in them */
    double hours;
    bool on_lift;
    int64_t crew_days, lift_days; /* lift_days 0: from the ground */
    int64_t days;                 /* for one crew, at the share of days that are fit for work */
    const char *source;
};

/* What rests on a row of rates: the value of it, or for a winter of freeze its low. */
enum demand_use { USE_FOR_CROSSES = 1, USE_FOR_GRAFTS = 2, USE_FOR_FREEZE = 4 };

struct demand_rate {
    const struct rate *rate;
    unsigned uses; /* of enum demand_use */
};

/* Lists of rows. */
#define DEMAND_LIST(type)                                                                          \
    struct {                                                                                       \
        struct type *list;                                                                         \
        size_t count, capacity;                                                                    \
    }

struct demand_plan {
    int season; /* of as-of, where all sites agree on its year; else 0 */
    int ahead;  /* 0: grafts are made in the winter of as-of's season, 1: in the next */
    DEMAND_LIST(demand_cross) crosses;        /* wanted ones, by priority, then name */
    DEMAND_LIST(demand_selection) selections; /* seed parents of these, by name */
    DEMAND_LIST(demand_pollen) pollen;        /* by parent, then the mixes */
    DEMAND_LIST(demand_supply) supplies;
    DEMAND_LIST(demand_work) work;
    DEMAND_LIST(demand_rate) rates;         /* by name, then cells */
    size_t parents;                         /* clones that give seed to these crosses */
    double group_coancestry, status_number; /* of them, weighted by seed wanted; NaN: no cross */
    double mean_value;
    double crew_day_h, lift_day_h, workable_share; /* that work was counted by */
};

struct demand_plan demand_plan_of(const struct crossing_inputs *inputs);

/* Crew-days, lift-days or days that `minutes` (1/100) take, at so many minutes (1/100) a day;
 * rounded up; -1 when the day has none. */
int64_t demand_days(int64_t minutes, int64_t minutes_a_day);

/* Of n pieces with spares: n x each x spare, rounded up, exact. */
int64_t demand_with_spares(int64_t n, struct decimal each, struct decimal spare);

/* Fewest strobili whose chance of `cones` reaches `assurance`, each a cone with chance `kept`; -1:
 * no number does. */
int64_t demand_assured_strobili(int64_t cones, double kept, double assurance);

#endif
