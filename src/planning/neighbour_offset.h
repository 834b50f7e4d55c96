/*
 * neighbour_offset.h - how much warmer one place is than another.
 */
#ifndef PLANNING_NEIGHBOUR_OFFSET_H
#define PLANNING_NEIGHBOUR_OFFSET_H

#include "base/day.h"

#include <stddef.h>

/*
 * What a move from one elevation to another adds to a temperature, in deg C: less by
 * `lapse_c_per_km` (NaN: LAPSE_DEFAULT_C_PER_KM) a kilometre higher up.  NaN: an elevation is not
 * known.
 *
 * Between Calhoun and Blairsville in Georgia, 384 m apart, heat units from January to April are met
 * within 1 % by 5 and missed by 10 % by 6.5 (facts/degreedays.md 5.7, from the daily records).
 */
#define LAPSE_DEFAULT_C_PER_KM 5.0
double elevation_change_c(double lapse_c_per_km, double from_m, double to_m);

/* One extreme of a station, dense from first_day; NaN: not observed. */
struct one_extreme {
    daynum first_day;
    size_t count;
    const double *c;
};

#define COMMON_DAYS_LEAST 20 /* for a mean difference: own choice */

enum offset_origin {
    OFFSET_OF_MONTH,     /* mean difference over the common days of that month of all years */
    OFFSET_OF_ALL,       /* of all common days: the month has too few */
    OFFSET_OF_ELEVATION, /* too few common days in all: by the lapse rate */
    OFFSET_NONE          /* and an elevation is missing: taken as it is */
};

struct month_offsets {
    double c[12]; /* from January: what a neighbour's value is moved by */
    enum offset_origin origin[12];
    size_t common_days;
};

/* Of one extreme of a station and its neighbour.  `by_elevation_c` as elevation_change_c has it. */
struct month_offsets month_offsets_of(struct one_extreme own, struct one_extreme neighbour,
                                      double by_elevation_c);

#endif
