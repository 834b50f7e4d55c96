/*
 * cycle_day.h - dates of the four-year cycle as tasks.csv writes them: Y3-09-12.
 */
#ifndef PLANNING_CYCLE_DAY_H
#define PLANNING_CYCLE_DAY_H

#include "base/day.h"

#include <stdbool.h>

/* Y1 is the year that the cycle is named for, Y0 the year before; month and day are the north's. */
struct cycle_day {
    int year; /* 0 to 9 */
    struct month_day month_day;
};

/* Exactly Yn-MM-DD of a day that exists; false (and output untouched) for anything else, NULL too.
 */
bool cycle_day_read(const char *text, struct cycle_day *day);

/*
 * The day in the cycle of year `cycle`.  In the south it falls in the same season six months on, as
 * that hemisphere has its spring: a northern September is a southern March.  DAY_NONE beyond the
 * calendar.
 */
daynum cycle_day_of(struct cycle_day day, struct season_rule rule, int cycle);

#endif
