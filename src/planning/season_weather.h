/*
 * season_weather.h - one season at one station: what is known on the as-of day, and past years laid
 * on the same days as members.
 */
#ifndef PLANNING_SEASON_WEATHER_H
#define PLANNING_SEASON_WEATHER_H

#include "base/arena.h"
#include "base/day.h"
#include "orchard/orchard.h"
#include "planning/season_account.h"

#include <stddef.h>

#define MEMBERS_LEAST 10  /* with fewer no heat-sum date is given (own choice; WMO uses 30) */
#define MEMBERS_MARKED 15 /* with fewer the date is marked */
#define WARMING_LEAST 10  /* whole past seasons, with fewer no trend is taken (own choice) */

/*
 * Days of past years that not even a line gives become the usual ones, if their gap is no longer
 * than GAP_MEAN_MOST days (own choice) and no more than MISSING_MOST of them lie within
 * COUNTED_DAYS of the day from which heat is summed (facts/degreedays.md 5.6: at most 10 between
 * start and event; that the event comes within four months is an own choice).
 */
#define GAP_MEAN_MOST 31
#define MISSING_MOST 10
#define COUNTED_DAYS 120

enum left_out_reason {
    LEFT_OUT_GAP,   /* one gap too long */
    LEFT_OUT_GAPS,  /* several that are too much together */
    LEFT_OUT_RECORD /* the record does not cover the season */
};

struct left_out_year {
    int season;
    enum left_out_reason reason;
    int missing_days; /* of the gap; of the gaps; not covered or missing in the whole season */
};

struct season_weather {
    int season; /* a year */
    struct season_rule rule;
    double latitude_deg; /* of the place that asked, for hours and day length; NaN: not known */
    daynum first_day;
    size_t days;  /* in the season */
    size_t known; /* days from the first to the last of which something is known on the as-of day */
    double *known_tmin_c, *known_tmax_c; /* [known], short gaps filled; NaN: not known, so that each
                                            member lends its own */
    const struct station_record *record; /* behind it; NULL: asked without one */
    struct season_account account;       /* of the known days; zeros without such a record */
    size_t filled_days;                  /* known days with an extreme on a line, none lent */
    size_t lent_days;                    /* known days with an extreme that members lend */
    size_t members;
    size_t neighbour_members, neighbour_days; /* members with days from the neighbour station, and
                                                 these days; 0 without `record` */
    int *member_season;                       /* [members], newest first */
    int *member_mean_days;                 /* [members] days with an extreme that is the mean of the
                                              members without such days */
    double *member_tmin_c, *member_tmax_c; /* [members * days] */
    struct left_out_year *left_out;
    size_t left_out_count;
    double warming_c; /* a year, by which members were shifted; 0: not at all */
    int warming_seasons;
};

struct season_asked {
    const struct record *record; /* NULL: no members */
    struct season_rule rule;
    int season; /* must lie in years 0001 to 9999 */
    daynum as_of;
    size_t members_most;
    struct month_day first_start, last_start; /* of heat sums, in the order of the season's days */
    bool as_they_were;                        /* members are not shifted by the warming */
    bool
        all_others; /* members are the other seasons before and after: only replay may look there */
    size_t days_ahead; /* days of the record after as_of that are known: forecast ones */
};

/*
 * The newest `members_most` seasons before `season` that end by as_of and lack no more than what is
 * said above are members, mapped by day_map_season.  Days after as_of and the days ahead
 * are not looked at.
 *
 * Where springs grow warmer, old ones make dates late (facts/degreedays.md 5.5).  So a member of
 * season m is shifted by the warming times `season` - m, on all its days: the median of the slopes
 * between any two past seasons (Theil & Sen, conetide/robust.h) of the mean temperature from
 * first_start to COUNTED_DAYS after last_start, over all past seasons that lack no day of it.  Days
 * that are known are not shifted.
 *
 * all_others: seasons after `season` are members and tell the warming too, to the end of the
 * record, nearest first; the days known of `season` are still those up to as_of.
 */
struct season_weather season_weather_of(const struct season_asked *asked, struct arena *arena);

/* The same season as it is known on another day, with the members and warming of `weather`; they
 * must be those of that day, too. */
struct season_weather season_weather_on(const struct season_weather *weather,
                                        const struct season_asked *asked, struct arena *arena);

/* The extremes of day i (0 on the season's first) as member `member` has them: what is known, or
 * its own where it is not; of the two, what is lent yields when the minimum would lie above the
 * maximum.
 */
double season_weather_tmin_c(const struct season_weather *weather, size_t member, size_t i);
double season_weather_tmax_c(const struct season_weather *weather, size_t member, size_t i);

#endif
