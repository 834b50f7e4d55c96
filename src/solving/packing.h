/*
 * packing.h - jobs of several steps, packed into the minutes that each site has each day.
 *
 * A job of a group is done one way: an early step in a window, one or two main steps on given days,
 * a late step in a window.  Every step takes minutes at the group's site on its day; a way takes
 * one of two limits, and one of a third for every main step.  Wanted is the plan of most value and
 * a bound that no plan can pass: for any prices >= 0 of minutes and limits, what everything there
 * is costs plus what each group gains at these prices (Lagrange).  Prices come from a subgradient
 * method (Held, Wolfe & Crowder 1974; steps of Polyak 1969), plans from placing at these prices.
 *
 * Nothing is allocated: the caller gives a workspace of packing_workspace() bytes.  No random
 * numbers; ties go to the first group, way and day, so the same packing gives the same plan.
 */
#ifndef SOLVING_PACKING_H
#define SOLVING_PACKING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum pack_step { PACK_EARLY, PACK_MAIN, PACK_LATE, PACK_STEPS };

/*
 * Kinds of work, and of workers' minutes.  Each kind is counted within a wider one: high work,
 * which some lifts do not reach, within that by lift, and all within either.  What is limited is,
 * for each kind, all work that is counted in it.
 */
enum pack_work { PACK_HIGH, PACK_LIFT, PACK_GROUND, PACK_EITHER, PACK_SETS };

#define PACK_NONE (-1)

static inline int pack_wider(int set)
{
    return set == PACK_HIGH ? PACK_LIFT : set == PACK_EITHER ? PACK_NONE : PACK_EITHER;
}

/* Days count from 0. */
struct pack_way {
    double share; /* of the group's worth; > 0 */
    int16_t early_until;
    /* last day of the early step, which starts at the group's early_from; PACK_NONE: no such step
     */
    int16_t main[2];   /* days of the main steps, rising; PACK_NONE where there is none */
    int16_t late_from; /* first of `late_days` days for the late step; PACK_NONE: no such step */
};

/* The days on which some group may do one kind of work at a site. */
struct pack_lane {
    int32_t site;
    enum pack_work work;
    const bool *open; /* [day_count] */
};

struct pack_group {
    double worth;
    const struct pack_way *ways; /* by falling share */
    int32_t way_count;
    int32_t most; /* jobs */
    bool must;    /* all are placed whatever they cost, if they fit at all */
    int16_t early_from;
    int32_t lane[PACK_STEPS];
    int32_t minutes[PACK_STEPS];
    int32_t limit[3]; /* two of which a job takes one, one of which a main step takes one */
};

/*
 * A worker on one day.  Each half of the day is spent at one site.  minutes[half][site][set] are
 * those of the half-day there, 0 where it may not stand; set_up[half] goes off them unless it stood
 * there in the first half.
 */
struct pack_stand {
    int32_t day;
    const int32_t *minutes[2]; /* [site_count][PACK_SETS] */
    int32_t set_up[2];
    int32_t fixed[2]; /* site, or PACK_NONE: free */
};

struct packing {
    int32_t site_count, day_count, late_days;
    const struct pack_lane *lanes;
    int32_t lane_count;
    const struct pack_group *groups;
    int32_t group_count;
    const int32_t *limits; /* how much there is */
    int32_t limit_count;
    const struct pack_stand *stands;
    int32_t stand_count;
    int32_t iterations; /* of the price search, most; 0: 600 */
    int32_t nodes;      /* of the exact search, most; 0: 50,000 */
};

/* So many jobs of a group done one way. */
struct pack_item {
    int32_t group, way;
    int16_t early, late; /* days; PACK_NONE */
    int32_t count;
};

struct pack_plan {
    struct pack_item *items; /* by group, way and days */
    int32_t item_count;
    double value;
    const int32_t *places;    /* [stand_count][2]: site of each half-day; PACK_NONE: stays away */
    double bound;             /* with these places */
    double bound_free;        /* wherever the workers stand */
    const double *supply;     /* [PACK_SETS][site_count][day_count] minutes at these places */
    const double *lane_price; /* [lane_count][day_count] of a minute, at these places */
    bool exact;               /* the exact search ran */
    bool capped;              /* and was stopped by its count of nodes */
    int32_t nodes;
};

/* Bytes of workspace that packing_solve wants; aligned as for double. */
size_t packing_workspace(const struct packing *packing);

/* The plan lies in the workspace. */
struct pack_plan packing_solve(const struct packing *packing, void *workspace);

#endif
