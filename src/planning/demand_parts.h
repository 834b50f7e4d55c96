/*
 * demand_parts.h - what the files of the demand share; nothing else includes it.
 *
 * demand_crosses.c: the chain of each cross; demand_cover.c: which spring's grafts carry its bags;
 * demand_grafts.c: grafts and scions; demand_pollen.c: lots; demand_supplies.c and demand_work.c:
 * what it takes; demand_rates.c: what it all rests on; demand_plan.c: the whole.
 */
#ifndef PLANNING_DEMAND_PARTS_H
#define PLANNING_DEMAND_PARTS_H

#include "planning/crossing_parts.h"
#include "planning/demand_plan.h"

#define DEMAND_ROUNDING 1e-9 /* sums that are whole but for rounding are whole */

/* Bags by who carries them; [orchard->selections.count], by the row that stands for the clone. */
struct demand_tally {
    int64_t left[DEMAND_SPRINGS]; /* whole bag places expected on its grafts, not yet given away */
    int64_t early;                /* bags in springs before that of grafts still to be made */
    int64_t later;                /* bags in that spring and after */
};

struct demand_maker {
    const struct crossing_inputs *inputs;
    const struct orchard *orchard;
    struct arena *arena;
    struct supply supply;
    struct demand_tally *tallies;
    int *places;              /* [flowering rows]: bags that the graft may still carry then */
    int season;               /* of as-of, at the first site that has one */
    struct demand_plan *plan; /* in the making */
    int ahead;                /* as in struct demand_plan */
};

/* The spring of a row: 0 for that of the season that holds as-of at its site. */
int demand_spring_of(const struct demand_maker *maker, const struct flowering_row *row);

/* The tally of a clone. */
struct demand_tally *demand_tally_of(const struct demand_maker *maker,
                                     const struct selection *selection);

/* Chain and obstacle of every wanted cross; sorted. */
void demand_add_crosses(struct demand_maker *maker, struct demand_plan *plan);

/* Chance of the cross's cones with so many bags. */
double demand_chance_of_cones(const struct demand_cross *row, int64_t bags);

/* Give the places of standing grafts to crosses, in their order, spring by spring. */
void demand_cover(struct demand_maker *maker, struct demand_plan *plan);

/* A quarter more scions than grafts: own choice. */
extern const struct decimal demand_scion_spare;

void demand_add_selections(struct demand_maker *maker, struct demand_plan *plan);
void demand_add_pollen(const struct demand_maker *maker, struct demand_plan *plan);
void demand_add_supplies(const struct demand_maker *maker, struct demand_plan *plan);
void demand_add_work(const struct demand_maker *maker, struct demand_plan *plan);

/* Note that a row of rates is rested on; NULL does nothing. */
void demand_add_rate(const struct demand_maker *maker, struct demand_plan *plan,
                     const struct rate *rate, enum demand_use use);

/* The value of a rate in a winter of hard freeze; the row that tells it is rested on.  NaN: no row.
 */
double demand_freeze_rate(const struct demand_maker *maker, const char *rate,
                          struct rate_subject subject);

void demand_sort_rates(struct demand_plan *plan);

#endif
