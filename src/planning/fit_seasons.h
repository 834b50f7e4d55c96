/*
 * fit_seasons.h - weather and heat sums of the past seasons in which an event was seen.
 *
 * Days of a season are told by x: 1 on 1 January (south: 1 July) of the season's year.
 */
#ifndef PLANNING_FIT_SEASONS_H
#define PLANNING_FIT_SEASONS_H

#include "planning/station_record.h"

struct fit_season {
    int season; /* a year */
    struct season_rule rule;
    daynum first_day, new_year;    /* x is 1 on new_year */
    size_t known;                  /* days known from first_day on */
    const double *tmin_c, *tmax_c; /* [known] short gaps filled; NaN: a longer gap */
    const struct station_record *record;
};

/* The weather of a site for a fit: all that was known on the orchard's as-of day. */
struct station_record fit_record_of(const struct orchard *orchard, const struct site *site,
                                    struct arena *arena);

/* A season of that record, which must outlive it, by the rule of its site. */
struct fit_season fit_season_of(const struct station_record *record, struct season_rule rule,
                                int season, struct arena *arena);

/* Are all days from `from` to `to` there, no more than `filled_most` of them neither observed nor
 * taken from the neighbour? */
bool fit_season_holds(const struct fit_season *season, daynum from, daynum to, int filled_most);

/* A clock and the heat units that a requirement changes by a day: what a sum is worth. */
struct fit_clock {
    struct clock clock;
    double per_day_c; /* <= 0 */
};

/* Heat sums of one season by one clock. */
struct fit_sums {
    daynum start, new_year;
    size_t count;      /* days from start on for which a sum is known */
    const double *sum; /* [count] at the end of each day                            [deg C day] */
    double per_day_c;
};

struct fit_sums fit_sums_of(const struct fit_season *season, const struct fit_clock *clock,
                            struct arena *arena);

/* The units_c of the requirement that would be met at the end of `day`: the sum less per_day x.
 * NaN: not known. */
double fit_level(const struct fit_sums *sums, daynum day);

/* Day on which the requirement units_c + per_day x is met; DAY_NONE: on no day known. */
daynum fit_day_met(const struct fit_sums *sums, double units_c);

#endif
