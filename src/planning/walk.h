/*
 * walk.h - the order in which a crew walks its trees.
 */
#ifndef PLANNING_WALK_H
#define PLANNING_WALK_H

#include "orchard/orchard.h"

/* One thing to do by one crew on one day: a visit of the crossing plan, or a duty. */
struct stop {
    daynum day;
    const char *crew, *lift; /* lift NULL: none */
    int half_day;
    const struct site *site;
    const struct tree *tree; /* NULL: the site as a whole */
    size_t order;            /* on one tree: the smaller first, */
    const char *name;        /* then by name */
    size_t index;            /* of what it stands for */
    bool of_plan;            /* a visit; else a duty */
};
struct stops {
    struct stop *list;
    size_t count;
};

/* Two stops by the same crew on the same day? */
bool walk_is_of_one_day(const struct stop *a, const struct stop *b);

/*
 * Stops put in the order in which they are walked: by day and crew; then site, block, row and
 * position, every second row of trees of a block walked back; then what is first on the tree.  Of
 * two sites that of the morning is first.  A crew that stays at one site all day walks it once, not
 * once before noon and once after, unless another crew has its lift for one of the two.
 */
void walk_stops(struct stops stops, const struct orchard *orchard);

#endif
