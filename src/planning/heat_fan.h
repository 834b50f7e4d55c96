/*
 * heat_fan.h - the heat sum of a season at a site, as far as it is known and as it may go on, and
 * what it has to reach.
 */
#ifndef PLANNING_HEAT_FAN_H
#define PLANNING_HEAT_FAN_H

#include "planning/flowering.h"

/* A requirement of one event, and for whom it holds. */
struct heat_line {
    const struct threshold *threshold; /* a sum */
    const char *selections;            /* "S101, S102"; "all others" of a row that names none */
    size_t selection_count;
    daynum early, middle,
        late; /* 10, 50, 90 % of meeting it by weather alone; DAY_NEVER: not met */
};

/* One clock at one site in one season.  Arrays are [days] from first_day on, in deg C day. */
struct heat_fan {
    const struct site *site;
    const struct clock *clock;
    int season;
    daynum first_day, as_of;
    size_t days, known;          /* known: days that are the same in every future, 0 to days */
    double *low, *middle, *high; /* 10, 50, 90 % of the futures (Hyndman & Fan type 8) */
    double *usual;               /* mean of the past years themselves */
    struct heat_line *lines;     /* by requirement, lowest first */
    size_t line_count;
    size_t members;
};

struct heat_fans {
    struct heat_fan *list; /* by site, then clock */
    size_t count;
};

/* Of the event `event` in `season` (a year) on the rows' sites, up to the last day that a line is
 * met at 90 %, and some days more.  Rows whose date is not by a sum have none. */
struct heat_fans heat_fans_of(const struct flowering_rows *rows, struct dates *dates,
                              const struct orchard *orchard, enum event event, int season,
                              struct arena *arena);

#endif
