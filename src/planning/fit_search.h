/*
 * fit_search.h - the clock that tells the dates of past seasons best, and how far to trust it.
 */
#ifndef PLANNING_FIT_SEARCH_H
#define PLANNING_FIT_SEARCH_H

#include "conetide/requirement_fit.h"
#include "planning/fit_seasons.h"

/* Seasons and when the event came in each, as x; may lie between days. */
struct fit_dates {
    size_t n; /* >= 3 */
    const struct fit_season *seasons;
    const double *x;                    /* [n] */
    const struct conetide_curve *curve; /* the only one to be searched; NULL: all that are */
};

/* A season of the search. */
struct fit_left_out {
    struct fit_clock clock; /* chosen without it */
    double observed_x;      /* to half a day */
    double error_days;      /* projected less observed */
};

struct fit_search {
    bool searched;          /* false: the clock was given */
    struct fit_clock clock; /* chosen; its name is NULL when searched */
    struct conetide_requirement found;
    struct fit_left_out *left_out;      /* [n] */
    double lower_least_c, lower_most_c; /* of the valley, as are all these */
    struct month_day start_first, start_last;
    double per_day_least_c, per_day_most_c;
    const struct conetide_curve *curve_first, *curve_last; /* in the order of the search */
};

/*
 * Searched: curves sine, average and daily-maximum without a cut-off; lower thresholds -4 to 14 deg
 * C by 1; sums from 1 November to 20 March (south: from 1 May) by 5 days, but from 10 days before
 * the earliest date at the latest; a requirement that falls by 0, 2 or 4 deg C day a day. Published
 * lower thresholds of conifers lie between 0 and 13 deg C; the rest is an own choice, made before
 * the search was run on any series (docs/skill.md).
 *
 * The first day of the search, which weather must reach back to, as x.
 */
#define FIT_SEARCH_FIRST_X (-60)
#define FIT_SEARCH_START_EVERY 5 /* days between the starts searched */

/* false: weather is missing that was told to be there, or no day is left to start on. */
bool fit_search(const struct fit_dates *dates, struct arena *arena, struct fit_search *search);

/* The same errors of one clock that is given, nothing being searched. */
bool fit_judge(const struct fit_dates *dates, const struct fit_clock *clock, struct arena *arena,
               struct fit_search *search);

#endif
