/*
 * walk.h - the order in which a crew walks its trees.
 */
#ifndef PLANNING_WALK_H
#define PLANNING_WALK_H

#include "planning/crossing.h"

/* Two visits, both of crews: by the same one on the same day? */
bool walk_is_of_one_day(const struct visit *a, const struct visit *b);

/*
 * Visits, all of crews, put in the order in which they are walked: by day and crew; then site,
 * block, row and position, every second row of trees of a block walked back; then task and bag.  Of
 * two sites that of the morning is first.  A crew that stays at one site all day walks it once, not
 * once before noon and once after, unless another crew has its lift for one of the two.
 */
void walk_visits(struct visits visits, const struct orchard *orchard, struct arena *arena);

#endif
