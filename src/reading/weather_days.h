/*
 * weather_days.h - the days of one weather file while it is read, and how they join a record.
 *
 * Days come in any order, so they are laid into blocks of one slot a day, made when a day of theirs
 * turns up.  Dates are bounded, so memory is too, however many rows repeat a day.
 */
#ifndef READING_WEATHER_DAYS_H
#define READING_WEATHER_DAYS_H

#include "base/arena.h"
#include "base/day.h"
#include "base/diag.h"
#include "orchard/orchard.h"

#include <stdbool.h>
#include <stddef.h>

enum extreme { EXTREME_MINIMUM, EXTREME_MAXIMUM };
#define EXTREMES 2

enum { WEATHER_BLOCK_DAYS = 512, WEATHER_BLOCKS = 286 }; /* 1800 to 2199 and a little */

struct weather_block {
    double value[EXTREMES][WEATHER_BLOCK_DAYS];
    unsigned line[EXTREMES][WEATHER_BLOCK_DAYS]; /* 0: not in the file */
};

struct weather_days {
    struct arena *scratch;
    struct weather_block *blocks[WEATHER_BLOCKS]; /* NULL: no row of any of its days */
    daynum first, last;                           /* DAY_NONE: no row at all */
};

void weather_days_init(struct weather_days *days, struct arena *scratch);

/* A row that tells a whole day; NaN: a blank. */
struct weather_row {
    struct place place;
    daynum date;
    double tmin_c, tmax_c;
};

/* A day that stands there already is told: a warning with the same values, else an error. */
void weather_days_lay(struct weather_days *days, const struct weather_row *row,
                      struct diags *diags);

/* A value that tells one extreme of a day. */
struct weather_value {
    struct place place;
    daynum date;
    enum extreme extreme;
    double value;
};

/* As weather_days_lay, for one extreme. */
void weather_days_put(struct weather_days *days, const struct weather_value *value,
                      struct diags *diags);

/* The values of a day, whether they may be changed or not; NULL: no row of it. */
struct weather_slot {
    double *value[EXTREMES];
    unsigned line[EXTREMES];
};
bool weather_days_slot(const struct weather_days *days, daynum day, struct weather_slot *slot);

/* How many days have a value. */
size_t weather_days_count(const struct weather_days *days);

/* Into the record of `station`, made when there is none.  What differs from an earlier file is told
 * once, and this file is taken; a blank never wins over a value. */
void weather_days_merge(const struct weather_days *days, struct orchard *orchard,
                        const char *station, struct place file, struct diags *diags);

#endif
