/*
 * packing_parts.h - what the files of the packing solver share; nothing else includes it.
 *
 * packing.c: workspace, and the search as a whole.  packing_bound.c: what everything costs at given
 * prices.  packing_prices.c: better prices.  packing_place.c: jobs placed at prices;
 * packing_plan.c: a plan of them; packing_improve.c: a better one. packing_stands.c: where workers
 * stand.  packing_exact.c: branch and bound for few jobs; packing_anew.c: for parts of more.
 */
#ifndef SOLVING_PACKING_PARTS_H
#define SOLVING_PACKING_PARTS_H

#include "solving/packing.h"

#define PACK_EARLY_DAYS 16 /* most days of an early window */

/*
 * Rows are what is limited: for each set the minutes of every cell (site x day), then the limits.
 * Prices, supply and use are vectors over rows.
 */
struct pack_state {
    const struct packing *packing;
    int32_t cells, rows, jobs;
    double *price, *best_price, *kept_price; /* of one unit */
    double *used, *supply, *direction;
    double *scale;        /* 1 over the minutes of a usual step; 1 of limits */
    double *lane_price;   /* [lanes][days], of a minute; INFINITY where closed */
    double *lane_late;    /* [lanes][days], the least of the late window from a day */
    int16_t *lane_least;  /* and its day */
    int16_t *queue;       /* [days] scratch */
    double *step_minutes; /* [PACK_STEPS][cells] asked for at these prices */
    double *kept_asked;
    double *asked;   /* [PACK_SETS][cells] minutes, over iterations */
    double *average; /* [PACK_STEPS][cells] over iterations */
    double *gain;    /* [groups] of one job at these prices */
    int32_t *order;  /* [groups] */
    double *key;     /* [groups] */
    int32_t *open;   /* [groups] jobs not yet placed */
    int32_t *left;   /* [rows] */
    int32_t *quota;  /* [PACK_STEPS][cells] */
    int32_t *places, *best_places;
    bool places_by_price;    /* else by minutes alone */
    struct pack_item *items; /* of the plan being made */
    int32_t item_count;
    struct pack_item *best_items;
    int32_t best_count;
    double best_value;
    int32_t *left_before, *open_before;
    struct pack_item *items_before;
    struct pack_pick *branches; /* [PACK_BRANCHES] of the exact search */
    unsigned char *sums;        /* [PACK_SUMS] */
    double *node_prices;        /* [2 * PACK_EXACT_JOBS][rows] */
    double *contest;            /* [cells] minutes that undecided jobs might take */
};

#define PACK_EXACT_JOBS 80
#define PACK_IMPROVED_JOBS 500
#define PACK_ANEW_JOBS 24 /* of a part */
#define PACK_BRANCHES 20000
#define PACK_SUMS 20000 /* minutes of a cell up to which sums of steps are told apart */

static inline int32_t pack_cell(const struct pack_state *state, int32_t site, int32_t day)
{
    return site * state->packing->day_count + day;
}

static inline int32_t pack_limit_row(const struct pack_state *state, int32_t limit)
{
    return PACK_SETS * state->cells + limit;
}

/* Main steps of a way. */
static inline int pack_mains(const struct pack_way *way)
{
    return (way->main[0] != PACK_NONE) + (way->main[1] != PACK_NONE);
}

/* One job done in the best way at the state's prices. */
struct pack_pick {
    int32_t way; /* PACK_NONE: none is open */
    int16_t early, late;
    double gain; /* value less prices; may be below 0 */
};

/* Prices of lanes from prices of rows. */
void pack_price_lanes(struct pack_state *state);
/* Adds what so many jobs use to state->used and step_minutes. */
void pack_use(struct pack_state *state, const struct pack_group *group, struct pack_pick pick,
              int32_t jobs);
struct pack_pick pack_best_way(const struct pack_state *state, const struct pack_group *group);

/* The bound at the state's prices; fills used, gain, step_minutes, and with free_stands supply. */
double pack_bound_at(struct pack_state *state, bool free_stands);

/* Supply of minutes where everybody stands as in state->places. */
void pack_supply(struct pack_state *state);
/* What free stands supply and are worth where that is most. */
double pack_free_supply(struct pack_state *state);
/* Places for the averaged minutes. */
void pack_place_stands(struct pack_state *state);

/* Iterations from the state's prices on; plans are made on the way when the stands are placed.
 * The best bound; its prices are left in state->price. */
struct pack_search {
    int32_t iterations;
    bool free_stands;
};
double pack_search_prices(struct pack_state *state, struct pack_search search);

/* Does one step fit into what is left on a day, or into its share of that? */
bool pack_fits(const struct pack_state *state, const struct pack_group *group, enum pack_step step,
               int32_t day, bool shares);
/* The best way of one job that fits. */
struct pack_pick pack_find_way(const struct pack_state *state, const struct pack_group *group,
                               bool shares);
/* Take so many jobs off what is left; below 0: give them back. */
void pack_take(struct pack_state *state, const struct pack_group *group, struct pack_pick pick,
               int32_t count);

/* A plan at the state's prices and averages; kept when it is the best so far. */
void pack_make_plan(struct pack_state *state);
void pack_keep_plan(struct pack_state *state, double value);

/* Jobs of all groups in state->order, by the shares of each cell, then without; their value. */
double pack_place_in_order(struct pack_state *state);
/* Whatever jobs of a group still fit; what they are worth. */
double pack_place_any(struct pack_state *state, int32_t g);
/* Whatever jobs still fit, in state->order; what they are worth. */
double pack_fill_up(struct pack_state *state);

/* The plan being made, worth `value`, made better by jobs that push others out; its value. */
double pack_improve(struct pack_state *state, double value);

/* Branch and bound over the open jobs, from the state's prices, in what is left; the items stand
 * and are worth `value`.  Better plans are kept; what is less than `tolerance` better is not looked
 * for. */
struct pack_branching {
    double value, tolerance;
    int32_t nodes; /* most; then how many there were */
    double bound;  /* of all plans with these items, when done */
};
void pack_branch(struct pack_state *state, struct pack_branching *branching);

/* Parts of the best plan decided anew while the rest stands, by so many nodes at most. */
void pack_decide_anew(struct pack_state *state, int32_t nodes);

/* Branch and bound over all jobs; the bound that holds at the end. */
double pack_search_exactly(struct pack_state *state, struct pack_plan *plan);

#endif
