/*
 * placement.h - which scion goes on which tree and crown zone this winter, and what cannot.
 */
#ifndef PLANNING_PLACEMENT_H
#define PLANNING_PLACEMENT_H

#include "planning/demand_plan.h"
#include "planning/hosts.h"

/* Ramets and interstock clones of a selection, at least: three ramets of a clone as in the trial of
 * Forest Genetics 7, 2000, abstract; two clones: own choice, so that no one clone decides. */
#define PLACEMENT_TREES_LEAST 3
#define PLACEMENT_CLONES_LEAST 2
#define PLACEMENT_STORE_WARN_DAYS 28 /* common practice, no source: as `check` warns of grafts */
#define PLACEMENT_STORE_MOST_DAYS 42

/* Of the strobili of a graft anywhere in the crown: own choice; that the top bears far more than
 * the middle: Medina Perez and others 2007, Can. J. For. Res., abstract (slash). */
extern const double placement_crown_share[CROWNS];

struct placement_options {
    int trees_least, clones_least; /* 1 and more */
    bool weak;                     /* weak trees too */
    bool in_store;                 /* only scions that are cut and fit to graft */
};

/* Why a tree, a batch or a graft has no part in it. */
enum placement_cause {
    PLACEMENT_NONE,
    /* trees */
    PLACEMENT_TREE_WEAK,
    PLACEMENT_TREE_DEAD,
    PLACEMENT_OUT_OF_REACH,
    PLACEMENT_CLOSED,
    PLACEMENT_NOT_COUNTED, /* places of no zone */
    PLACEMENT_FULL,
    /* batches */
    PLACEMENT_TOO_OLD,
    PLACEMENT_DISCARDED,
    PLACEMENT_NO_COUNT,
    PLACEMENT_RELABELLED, /* the tree they were cut from is of another selection */
    PLACEMENT_NOT_WANTED, /* scions left over */
    /* grafts wanted */
    PLACEMENT_NO_PLACE,   /* nowhere is a free place on a suited tree */
    PLACEMENT_TAKEN,      /* every such place is taken by others of the selection */
    PLACEMENT_GIVEN_AWAY, /* such places go to grafts that bring more */
    PLACEMENT_SPREAD,     /* places are left, but as many as may stand together stand there */
    PLACEMENT_NO_SCIONS,
    PLACEMENT_NO_NUMBER, /* no number of grafts meets the demand */
    PLACEMENT_CAUSES
};
extern const char *const placement_cause_words[PLACEMENT_CAUSES];

struct placed_graft {
    const char *tag; /* proposed; not used by any graft known */
    const struct selection *selection;
    const struct tree *tree;
    enum crown crown;
    const struct batch *batch; /* NULL: the scion is still to be cut */
    struct host_promise promise;
    double strobili;      /* expected of it over both springs, of a graft made, in this zone */
    bool beside_its_like; /* a living graft of the selection stands on the tree already */
};

struct placed_selection {
    const struct selection *selection;
    bool by_demand;           /* else: as many as there are scions */
    int priority;             /* the highest of its crosses; 0: none */
    int64_t wanted, placed;   /* grafts */
    int64_t in_store, to_cut; /* of the placed: from batches, and others */
    int64_t most_on_tree, most_on_clone;
    size_t trees, clones;       /* that the new ones stand on */
    size_t trees_before;        /* with living grafts of it today */
    double strobili;            /* expected over both springs, of grafts made */
    enum placement_cause cause; /* of what is wanted and not placed; NONE: nothing */
};

struct placed_batch {
    const struct batch *batch;
    int64_t left, given; /* scions not grafted yet (-1: not counted), and planned here */
    int age_days;
    enum placement_cause cause; /* of what is not given; NONE: all is */
};

/* A tree for grafts that takes none. */
struct left_tree {
    const struct tree *tree;
    enum placement_cause cause;
    double reach_m; /* OUT_OF_REACH: of the highest lift */
};

struct placement {
    int season;                       /* of the winter, at the first site */
    int ahead;                        /* as in struct demand_plan */
    bool by_demand;                   /* crosses.csv wants something */
    bool reach_known;                 /* lifts.csv tells a reach */
    bool too_large;                   /* numbers beyond what can be reckoned: nothing is placed */
    bool spread_again;                /* a second pass spread what the first left too close */
    int64_t places;                   /* free ones on trees offered */
    DEMAND_LIST(placed_graft) grafts; /* site, block, row, position, tree, top down */
    DEMAND_LIST(placed_selection) selections; /* by name */
    DEMAND_LIST(placed_batch) batches;        /* of this winter, by name */
    DEMAND_LIST(left_tree) trees;             /* by cause, then name */
};

struct placement_inputs {
    const struct state *state;
    const struct demand_plan *demand;
    const struct hosts *hosts;
    struct dates *dates;
    struct placement_options options;
    struct arena *arena;
};

/*
 * The most strobili expected of grafts made, over both springs, each weighed by the priority of the
 * selection's crosses (placement_choose.h), of no more grafts than the demand asks for.  Where
 * fewer find places than are wanted, so that they stand too close, a second pass with tighter
 * limits is kept if it places as many.  Grafts that would bring the same go to trees without living
 * grafts of their selection.
 */
struct placement placement_of(const struct placement_inputs *inputs);

/* What one graft brings, in 1/1000 strobilus rounded up; 0: nothing is known, or it is nothing. */
int64_t placement_gain(double strobili, double weight);

#endif
