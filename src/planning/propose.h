/*
 * propose.h - crosses for a manager who gives selections and targets: a mating design among them,
 * within the limits of kinship, and how much seed to want of each cross.
 */
#ifndef PLANNING_PROPOSE_H
#define PLANNING_PROPOSE_H

#include "orchard/pedigree.h"

enum propose_design {
    PROPOSE_HALF_DIALLEL,         /* every pair once, no reciprocals */
    PROPOSE_FACTORIAL,            /* every seed parent with every tester */
    PROPOSE_SINGLE_PAIR,          /* every parent in one cross */
    PROPOSE_CIRCULAR,             /* a ring: every parent with its two neighbours */
    PROPOSE_PARTIAL_DIALLEL,      /* the circulant: every parent in the same number of crosses */
    PROPOSE_DISCONNECTED_DIALLEL, /* half diallels in groups that share no parent */
    PROPOSE_DESIGNS
};
extern const char *const propose_design_names[PROPOSE_DESIGNS]; /* "half-diallel" */

#define PROPOSE_PARENTS_MOST 300 /* the kinship of all pairs is held at once: own choice */

/* Names of one clone may stand in a list under any of them, and more than once. */
struct propose_request {
    enum propose_design design;
    const struct selection **parents; /* of a factorial the seed parents */
    size_t parent_count;
    const struct selection **testers; /* pollen parents of a factorial; else none */
    size_t tester_count;
    int crosses_per_parent;   /* 0: as the design has it */
    int seeds;                /* of a cross; on the average where it is shared out */
    double coancestry_weight; /* NaN: equal seed; else breeding value that one unit of group
                                 coancestry is worth, above 0 */
    double status_number;     /* NaN, or find the weight that gives this many */
};

struct proposed_parent {
    const struct selection *selection; /* the row that stands for the clone */
    double breeding_value;             /* NaN: not known under any name */
    bool tester;                       /* of a factorial, named among the testers only */
    size_t crosses;
    double best_share; /* of all gametes, were every allowed pair crossed; NaN: equal seed */
    double share;      /* of all gametes in the proposal; 0: takes no part */
    const char *why;   /* it takes no part, in words; NULL: it does */
};

struct proposed_cross {
    const char *name; /* like no other cross's of the folder, even in a hurry */
    const struct selection *seed_parent, *pollen_parent;
    double coancestry; /* of the parents: the inbreeding to expect of the seed */
    bool warned;       /* above coancestry_warn */
    double value;      /* mean breeding value of the parents; NaN: one is not known */
    int seeds;
};

enum propose_reason {
    PROPOSE_ALLOWED,
    PROPOSE_SELF,    /* one clone */
    PROPOSE_KIN,     /* above coancestry_refuse */
    PROPOSE_SPECIES, /* of two species: breeding values of two scales */
    PROPOSE_ASKED,   /* a row of crosses.csv has these parents already */
    PROPOSE_TURNED,  /* of a factorial: proposed the other way round */
    PROPOSE_SMALL    /* its share of the seed is too small to hang bags for */
};

/* A cross that the design asks for and the proposal has not. */
struct propose_left_out {
    const struct selection *seed_parent, *pollen_parent;
    enum propose_reason reason;
    const char *words; /* "coancestry 0.25 is above 0.125" */
};

/* Parents weighted by what they give. */
struct propose_group {
    size_t parents;
    double breeding_value;                  /* mean; NaN: one is not known */
    double group_coancestry, status_number; /* NaN: no parent */
};

struct proposal {
    const char *fault; /* the request cannot be met, in words; then nothing else is set */
    struct propose_request request;
    struct {
        struct proposed_parent *list; /* by breeding value, the highest first, then by name */
        size_t count;
    } parents;
    struct {
        struct proposed_cross *list; /* by seed parent, then pollen parent, in order of parents */
        size_t count;
    } crosses;
    struct {
        struct propose_left_out *list; /* by reason, then as crosses */
        size_t count;
    } left_out;
    size_t pairs_not_chosen;            /* allowed ones that crosses per parent left no room for */
    size_t crosses_most;                /* no choice within the limits can have more */
    double coancestry, coancestry_best; /* mean of the crosses, and what no arrangement of this
                                           design falls short of; NaN where nothing is arranged or
                                           a cross of the design is left out */
    double weight;                      /* used; NaN: equal seed */
    struct propose_group candidates;    /* all, in equal shares */
    struct propose_group best;          /* in the best shares for the weight, were every allowed
                                           pair crossed; no parents: equal seed */
    struct propose_group proposed;      /* by the seed proposed */
    double merit, merit_most;           /* breeding value less weight x group coancestry: of the
                                           proposal, and what no allowed crosses can pass; NaN */
};

/*
 * The design among the candidates.  Exact: which pairs the limits allow; the best shares of all
 * allowed crosses and the shares of seed among the crosses proposed, to 1e-9 of what is at stake.
 * Not exact, with a bound beside it: who stands where in a design, and which crosses are dropped
 * for crosses_per_parent.  Everything is of `arena`, after orchard_link; neither the order of rows
 * nor that of the lists shows.
 */
struct proposal propose(const struct propose_request *request, const struct orchard *orchard,
                        const struct pedigree *pedigree, struct arena *arena);

#endif
