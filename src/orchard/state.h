/*
 * state.h - what tables and notes together say of grafts, bags and lots on the orchard's as-of day.
 *
 * Tables say what was set up, notes what happened; the newest dated word wins.
 */
#ifndef ORCHARD_STATE_H
#define ORCHARD_STATE_H

#include "orchard/lookup.h"
#include "orchard/orchard.h"

/* One graft on the as-of day. */
struct graft_state {
    const struct graft *graft;
    enum condition condition;
    daynum condition_on;
    const struct selection *selection; /* the true one, after relabelled; NULL: known to be wrong */
    bool relabelled;
};

/* One isolation bag: TAG-YY-N. */
struct bag {
    const char *name;
    const struct graft *graft;
    int season; /* a year */
    int number;
    const struct cross *cross;
    daynum bagged_on;
    int strobili;          /* inside when hung; -1: not counted */
    bool clean;            /* not hung at stage 3 or later, by what was noted up to that day */
    size_t visits;         /* pollinations */
    daynum visit_on[4];    /* the first four */
    const struct lot *lot; /* of the newest pollination */
    daynum unbagged_on;    /* DAY_NONE while it hangs */
    daynum lost_on;
    int conelets, cones, seeds; /* newest count, -1: none */
};

struct lot_balance {
    const struct lot *lot;
    const struct selection *selection; /* the true one, after relabelled; NULL: a mix or unknown */
    bool relabelled;
    double balance_ml;      /* NaN: volume never measured and nothing collected */
    double germination_pct; /* newest test; NaN: not tested */
    bool usable;            /* state and dates allow its use from ready_on */
    daynum ready_on;        /* DAY_NONE: ready now */
};

/* A note about a graft, by its tag or by one of its bags. */
struct graft_note {
    const struct graft *graft;
    const struct note *note;
};

struct state {
    const struct orchard *orchard;
    struct graft_state *grafts; /* [orchard->grafts.count], same order */
    struct bag *bags;           /* by name */
    size_t bag_count;
    struct lot_balance *lots;       /* [orchard->lots.count], same order */
    struct graft_note *graft_notes; /* by graft, then in the order of notes */
    size_t graft_note_count;
    int (*taken)[CROWNS]; /* [orchard->trees.count]: grafts not removed, by enum crown */
    const struct note *
        *relabelled_trees; /* [orchard->trees.count]: the newest such note, or NULL */
};

/* All of it.  Notes that contradict each other (pollinated before bagged, a bag of two crosses, a
 * negative balance, a dead graft that is bagged) are told in `diags`, which may be NULL. */
const struct state *state_of(const struct orchard *orchard, struct arena *arena,
                             struct diags *diags);

/* What the notes of graft `graft` are: the first in state->graft_notes and how many. */
const struct graft_note *state_notes_of(const struct state *state, const struct graft *graft,
                                        size_t *count);

const struct graft_state *state_graft(const struct state *state, const struct graft *graft);
/* Under any tag that its graft has had. */
const struct bag *state_bag(const struct state *state, const char *name);

/*
 * Strobili counted on a graft in season `season` (a year): the newest `strobili` note of that
 * season.  -1: not counted.  *on: the day of the count.
 */
int state_strobili(const struct state *state, const struct graft *graft, int season, daynum *on);

/* Bags of `season` that were not hung because there was nothing to bag: `strobili` notes of 0 under
 * the name of a bag that never hung, each name once, since the graft was last counted. */
int state_empty_shoots(const struct state *state, const struct graft *graft, int season);

/* Newest stage noted for the graft (any of its bags, or the tag) in season: low and high ("3-5");
 * 0 and 0 when none. */
void state_stage(const struct state *state, const struct graft *graft, int season, int *low,
                 int *high, daynum *on);

/* The same of one bag alone: once a bag hangs, stages of that bag alone move it. */
void state_bag_stage(const struct state *state, const struct bag *bag, int *low, int *high,
                     daynum *on);

/* Is the tree the lot's source_tree, or does a `collected` note of the lot name it? */
bool state_lot_is_from(const struct state *state, const struct lot *lot, const struct tree *tree);

/* Suitable free branches of a tree's crown zone: places less grafts on them that are not removed;
 * -1: not counted. */
int state_free_places(const struct state *state, const struct tree *tree, enum crown crown);

/* What rates of a graft are looked up by: its host tree, its site, its true selection (any when
 * that is not known), its season number. */
struct rate_subject graft_rate_subject(const struct graft_state *graft, int season_number);

/* Value of the rate that holds on a graft; NaN when no row says anything. */
double rate_on_graft(const struct orchard *orchard, const char *rate,
                     const struct graft_state *graft, int season_number);

#endif
