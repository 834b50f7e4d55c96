/*
 * station_record.h - the weather of a site: what its station observed by a day, gaps that a line
 * would not bridge filled from the neighbour station, forecast days after them, all of it moved to
 * the site's elevation.
 *
 * Minimum and maximum each for itself.  Gaps of at most GAP_LINEAR_MOST days between observed days
 * stay open: whoever lays the days on a season draws the line.
 */
#ifndef PLANNING_STATION_RECORD_H
#define PLANNING_STATION_RECORD_H

#include "orchard/orchard.h"
#include "planning/neighbour_offset.h"

enum day_kind { DAY_OPEN, DAY_OBSERVED, DAY_NEIGHBOUR, DAY_FORECAST };

struct station_record {
    struct record series;                 /* at the site; count 0: no weather at all */
    unsigned char *tmin_kind, *tmax_kind; /* [series.count] of enum day_kind */
    double tmin_change_c, tmax_change_c;  /* from station to site, in every value of `series` */
    bool no_elevation; /* nothing was moved, because one of the two elevations is missing */
    bool reads_morning;
    daynum newest_observed; /* of the station itself, both extremes; DAY_NONE: none */

    const char *neighbour; /* NULL: there is none, or it has no observed day */
    daynum neighbour_newest;
    struct month_offsets tmin_offsets, tmax_offsets; /* from neighbour to station */

    size_t days_ahead;               /* days of `series` after as_of, from forecasts */
    const struct forecast *forecast; /* the newest of which a day was taken; NULL: none */
    daynum forecast_last;            /* the last day taken from any */
};

/* For a linked orchard.  Nothing observed after as_of or issued after it is looked at. */
struct station_record station_record_of(const struct orchard *orchard, const struct site *site,
                                        daynum as_of, struct arena *arena);

/* What station_record_of makes depends on the site by these alone: its record, its station's row
 * and its elevation. */

/* The less direct of the kinds of a day's extremes; DAY_OPEN when either is open, or no such day.
 */
enum day_kind station_record_kind(const struct station_record *record, daynum day);

#endif
