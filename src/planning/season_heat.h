/*
 * season_heat.h - weather, heat sums and reached days of seasons, each worked out once in a run.
 */
#ifndef PLANNING_SEASON_HEAT_H
#define PLANNING_SEASON_HEAT_H

#include "orchard/orchard.h"
#include "planning/cache.h"
#include "planning/season_weather.h"

#include <stddef.h>
#include <stdint.h>

/* What a member is made of. */
enum futures {
    FUTURES_OF_NOW, /* days known on the as-of day, then the past year's own */
    FUTURES_OF_PAST /* the past year alone: what may be said before the season starts */
};

/* Weather to come taken warmer by add_c on the days from..to, to see what that would move. */
struct warmer {
    double add_c;    /* 0: as it is */
    daynum from, to; /* after the as-of day */
};

struct season_heat {
    const struct orchard *orchard;
    struct arena *arena;
    struct cache records, weather, sums, reached;
    struct warmer warmer;               /* of days that were not observed */
    bool as_they_were, all_others;      /* as struct season_asked has them; false but for replays */
    const struct station_record *given; /* of the only site asked for; NULL: made as of the day */
    const struct season_weather *lent;  /* whose members serve; NULL: taken as of the day */
};

void season_heat_init(struct season_heat *heat, const struct orchard *orchard, struct arena *arena);

/* The weather of a site on the orchard's as-of day.  The same pointer for sites of one station that
 * are moved alike. */
const struct station_record *season_heat_record(struct season_heat *heat, const struct site *site);

/* What season_heat_weather asks of a site's record. */
struct season_asked season_heat_asked(struct season_heat *heat, const struct site *site,
                                      int season);

/* The season at a site; members may be 0. */
const struct season_weather *season_heat_weather(struct season_heat *heat, const struct site *site,
                                                 int season);

/* The day of the year on which a clock starts under a season's rule: that of the clock, but six
 * months on in the south for the clocks that ship.  A folder's own clock means the day it says. */
struct month_day season_heat_clock_start(const struct clock *clock, struct season_rule rule);

/*
 * Heat sums by `clock` at the end of each day of the season, [members * days] deg C day, 0 before
 * summing starts.  *first: the day's index on which it starts; *end: the index that it stops
 * before, clock->end_days later or with the season.  A clock that counts something else sums that,
 * in its own units; day length is that of the day.
 */
struct heat_sums {
    const double *sums;
    size_t first, end;
    size_t unchilled; /* members in which the chilling that the clock asks first is not met */
};
const struct heat_sums *season_heat_sums(struct season_heat *heat,
                                         const struct season_weather *weather,
                                         const struct clock *clock, enum futures futures);

/*
 * The requirement on a day is units_c + per_day_c * x, in deg C day, where x is 1 on 1 January
 * (south: 1 July) of the season's year.
 */
struct heat_need {
    const struct clock *clock;
    double units_c, per_day_c;
};

/* How many members do not meet it for want of chilling: by a clock that counts chilling or asks for
 * it first. */
size_t season_heat_unchilled(struct season_heat *heat, const struct season_weather *weather,
                             struct heat_need need, enum futures futures);

/* The day on which each member meets a requirement, [members] daynums or CONETIDE_NEVER. */
const int32_t *season_heat_reached(struct season_heat *heat, const struct season_weather *weather,
                                   struct heat_need need, enum futures futures);

#endif
