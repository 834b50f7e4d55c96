/*
 * season_weather.h - one season at one station: what is known on the as-of day, and past years laid
 * on the same days as members.
 */
#ifndef PLANNING_SEASON_WEATHER_H
#define PLANNING_SEASON_WEATHER_H

#include "base/arena.h"
#include "base/day.h"
#include "orchard/orchard.h"

#include <stddef.h>

#define MEMBERS_LEAST 10  /* with fewer no heat-sum date is given (own choice; WMO uses 30) */
#define MEMBERS_MARKED 15 /* with fewer the date is marked */
#define GAP_LINEAR_MOST 7 /* days; facts/degreedays.md 5.6 compares fills by gap length */
#define MISSING_MOST                                                                               \
    10 /* days in a season; with more the year is left out, and so it is when a                    \
          gap in it is longer than GAP_LINEAR_MOST or reaches past the record */

struct left_out_year {
    int season;
    int missing_days; /* before filling */
};

struct season_weather {
    int season; /* a year */
    struct season_rule rule;
    daynum first_day;
    size_t days;  /* in the season */
    size_t known; /* days from the first on that are observed up to the as-of day */
    double *known_tmin_c, *known_tmax_c; /* [known], short gaps filled; NaN: a longer gap, for which
                                            each member lends its own day */
    size_t filled_days;                  /* how many known days were filled linearly */
    size_t lent_days;                    /* how many of the known days members lend */
    size_t members;
    int *member_season;                    /* [members], newest first */
    double *member_tmin_c, *member_tmax_c; /* [members * days] */
    struct left_out_year *left_out;
    size_t left_out_count;
};

/*
 * The newest `most` complete seasons before `season` that end by as_of are members, mapped by
 * day_map_season.  Days after as_of are not looked at.  A record may be NULL: no members.
 * The season must lie in years 0001 to 9999.
 */
struct season_weather season_weather_of(const struct record *record, struct season_rule rule,
                                        int season, daynum as_of, size_t most, struct arena *arena);

/* The extremes of day i (0 on the season's first) as member `member` has them: the known day, or
 * its own where nothing is known. */
double season_weather_tmin_c(const struct season_weather *weather, size_t member, size_t i);
double season_weather_tmax_c(const struct season_weather *weather, size_t member, size_t i);

#endif
