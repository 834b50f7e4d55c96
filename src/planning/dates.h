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
#include "orchard/state.h"
#include "planning/bloom.h"
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

/* Never NULL.  The same pointer for the same (site, species, selection, season). */
const struct bloom *dates_bloom(struct dates *dates, const struct site *site, const char *species,
                                const struct selection *selection, int season);

/*
 * What looks of this season say of one graft, or of one bag that hangs, moves its dates (looks.h,
 * condition.h); dates of other grafts stay as they are.  The pointer of dates_bloom where nothing
 * was seen, and the same pointer for the same looks; bloom->looks tells what was seen.  The graft
 * stands on a tree of a known site.
 */
const struct bloom *dates_graft_bloom(struct dates *dates, const struct state *state,
                                      const struct graft_state *graft, int season);
const struct bloom *dates_bag_bloom(struct dates *dates, const struct state *state,
                                    const struct bag *bag);

/* The species of a graft: of its true selection; of unknown parentage, the one that was meant. */
const char *graft_species(const struct graft_state *graft);

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

/* Heat sums (deg C day) of this season's futures at the end of each day from *first on, [members *
 * days], member by member with `stride` from one to the next; NULL without members. */
struct member_sums {
    const double *sums;
    size_t members, stride;
    daynum first; /* day of sums[0]; the first on which the clock sums */
    size_t days;
};
struct member_sums dates_member_sums(struct dates *dates, const struct site *site, int season,
                                     const struct clock *clock);

/* First day on which a clock sums in a season of the site; DAY_NONE without members. */
daynum dates_sum_start(struct dates *dates, const struct site *site, int season,
                       const struct clock *clock);

/* Day on which each member meets a requirement by a clock: [members] daynums or CONETIDE_NEVER;
 * NULL without members. */
const int32_t *dates_reached(struct dates *dates, const struct site *site, int season,
                             const struct clock *clock, double units_c, double per_day_c);

#endif
