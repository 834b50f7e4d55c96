/*
 * cycle_day.h - where a date of the cycle (orchard/anchor.h) falls: Y3-09-12 of cycle 2027.
 */
#ifndef PLANNING_CYCLE_DAY_H
#define PLANNING_CYCLE_DAY_H

#include "base/day.h"
#include "orchard/anchor.h"

/*
 * The day in the cycle of year `cycle`.  In the south it falls in the same season six months on, as
 * that hemisphere has its spring: a northern September is a southern March.  DAY_NONE beyond the
 * calendar.
 */
daynum cycle_day_of(struct cycle_day day, struct season_rule rule, int cycle);

#endif
