/*
 * season_rows.h - every season of a site's record: where its days come from and what it serves for.
 */
#ifndef PLANNING_SEASON_ROWS_H
#define PLANNING_SEASON_ROWS_H

#include "planning/season_account.h"
#include "planning/season_heat.h"

enum season_use {
    SEASON_OF_NOW, /* not over by as_of */
    SEASON_MEMBER, /* a past year that serves as a future */
    SEASON_SPARE,  /* would serve, but `members_most` newer ones are enough */
    SEASON_LEFT_OUT
};

struct season_row {
    int season; /* a year */
    struct season_account days;
    int mean_days; /* of the open ones, filled with the mean of the other years */
    enum season_use use;
    struct left_out_year left_out; /* when it is SEASON_LEFT_OUT */
};

struct season_rows {
    const struct site *site;
    const struct station_record *record;
    struct season_row *list; /* oldest first */
    size_t count;
};

/* Of the record of a site on the orchard's as-of day. */
struct season_rows season_rows_of(struct season_heat *heat, const struct site *site);

#endif
