/*
 * season_account.h - where the days of a season at a site come from.
 */
#ifndef PLANNING_SEASON_ACCOUNT_H
#define PLANNING_SEASON_ACCOUNT_H

#include "planning/station_record.h"

/* A day counts once, by the less direct of its extremes. */
struct season_account {
    int observed;
    int neighbour; /* from the neighbour station, moved */
    int forecast;
    int on_line; /* in a gap of at most GAP_LINEAR_MOST days */
    int open;    /* none of these */
};

/* Of the days first_day .. first_day + days - 1; at most those of a season. */
struct season_account season_account_of(const struct station_record *record, daynum first_day,
                                        size_t days, struct arena *arena);

#endif
