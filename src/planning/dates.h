/*
 * dates.h - when the events of one season come, for one selection at one site, as a distribution.
 *
 * Identical questions (station, clock, requirement, season) are worked out once, whatever the
 * number of grafts.
 */
#ifndef PLANNING_DATES_H
#define PLANNING_DATES_H

#include "conetide/projection.h"
#include "orchard/lookup.h"
#include "orchard/orchard.h"
#include "planning/event_days.h"
#include "planning/season_weather.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct dates; /* the cache of a run */

struct dates *dates_new(const struct orchard *orchard, struct arena *arena);

/* What if weather that is not known yet is warmer by so much? */
struct dates *dates_new_warmer(const struct orchard *orchard, struct warmer warmer,
                               struct arena *arena);

/* The station weather behind a site's season (members may be 0). */
const struct season_weather *dates_weather(struct dates *dates, const struct site *site,
                                           int season);

/*
 * Everything known of the flowering of one selection on one site in one season.  Days are daynums;
 * CONETIDE_NEVER where a member does not bring the event.
 */
struct bloom {
    const struct site *site;
    const char *species;
    const struct selection *selection; /* NULL: the site in general */
    int season;
    size_t members;
    const int *member_season;    /* NULL when no weather was used (calendar) */
    const int32_t *days[EVENTS]; /* [members]; NULL: no threshold says anything of this event */
    const struct threshold
        *threshold[EVENTS]; /* the row found; NULL: none, or a built-in default */
    const struct conetide_window
        *windows; /* [members] opening, first, last; NULL when any is NULL */
    double sigma_days, shed_sigma_days;
    const struct conetide_shifts *shifts;      /* of opening to closed, and of bag_by */
    const struct conetide_shifts *shed_shifts; /* of shed_first, shed_peak, shed_last */
    enum basis basis;   /* the weakest of opening, first and last, each by the sum or calendar row
                           that it hangs on */
    int seasons_seen;   /* the fewest of those rows; -1 not told */
    bool few_members;   /* fewer than MEMBERS_MARKED */
    const char *remark; /* "9 past years only: calendar date", or NULL */
    const struct event_table *table; /* the rows that hold, by which the days were found */
};

/* Never NULL.  The same pointer for the same (site, species, selection, season). */
const struct bloom *dates_bloom(struct dates *dates, const struct site *site, const char *species,
                                const struct selection *selection, int season);

/* The same from past years alone, as if no day of the season were known yet: what a heat sum knew
 * before it began to be counted. */
const struct bloom *dates_bloom_of_past(struct dates *dates, const struct site *site,
                                        const char *species, const struct selection *selection,
                                        int season);

/* Events of the interstock trees of a species and clone (either may be NULL) at a site, with
 * graft_open and graft_close by the rows that name the clone.  The same pointer for the same
 * question. */
const struct event_table *dates_interstock(struct dates *dates, const struct site *site,
                                           const char *species, const char *clone, int season);

/* First day with at least chance p that the event has come; DAY_NEVER when too many members never
 * bring it; DAY_NONE when nothing is known of it.  EVENT_BAG_BY is the day before opening, at
 * every chance: to be early enough with 90 % a bag hangs by bag_by at 10 %. */
daynum bloom_date(const struct bloom *bloom, enum event event, double p);

/* Chance that the event has come by `day`; 0 when nothing is known of it. */
double bloom_by(const struct bloom *bloom, enum event event, daynum day);

/* For chances of days: members, windows, shifts.  Only when bloom->windows. */
struct conetide_futures bloom_futures(const struct bloom *bloom);

/*
 * Chance that every strobilus has closed before `day` and, where `shed` tells it, that outside
 * pollen is over too (closed < day and shed_last < day, over shared members, shifts independent).
 * `shed`: the bloom of the site's species in general; may be NULL or without shed_last.
 */
double bloom_safe_to_unbag(const struct bloom *bloom, const struct bloom *shed, daynum day);

/* Mean heat sum (deg C day) of the past years on `day` by `clock`, at the site: what is usual, so
 * without the days known of the season itself.  NaN without members. */
double dates_mean_sum(struct dates *dates, const struct site *site, int season,
                      const struct clock *clock, daynum day);

/* Least and greatest heat sum (deg C day) of this season's futures on `day`: one number as long as
 * `day` is known whole.  NaN without members. */
struct sum_range {
    double least, most;
};
struct sum_range dates_sum(struct dates *dates, const struct site *site, int season,
                           const struct clock *clock, daynum day);

/* First day on which a clock sums in a season of the site; DAY_NONE without members. */
daynum dates_sum_start(struct dates *dates, const struct site *site, int season,
                       const struct clock *clock);

/* Day on which each member meets a requirement by a clock: [members] daynums or CONETIDE_NEVER;
 * NULL without members. */
const int32_t *dates_reached(struct dates *dates, const struct site *site, int season,
                             const struct clock *clock, double units_c, double per_day_c);

#endif
