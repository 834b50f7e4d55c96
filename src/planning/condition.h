/*
 * condition.h - dates after looks of this season: futures that the looks contradict are dropped.
 *
 * A future is a member and two shifts, each normal with the bloom's sigma: j of the events that
 * have come, and of those to come, given j, with mean kj and variance (1 - k^2) sigma^2.
 */
#ifndef PLANNING_CONDITION_H
#define PLANNING_CONDITION_H

#include "planning/bloom.h"
#include "planning/spread.h"

/*
 * k.  Trees that opened d days later than the mean of their orchard and year ended k d days later,
 * on average.  Lodgepole pine, Prince George (PGTIS) 1997-2006, 512 trees with both dates known to
 * an interval between visits, middles of intervals, open survey data (doi 10.5281/zenodo.14597484):
 * correlation of first and last receptive day within year 0.68; 0.54 within year and clone, where
 * the days between visits are most of what is left; 0.84 within year once those are taken out.
 * tests/published/shrinkage_open_data.c counts it again.
 */
#define LATER_CORRELATION 0.7

/* Where fewer futures than this are left the interval between two looks stands alone. */
#define FUTURES_LEFT_LEAST 0.05

/* Days within which an event came, or comes, when one of its two looks is missing: own choice. */
#define OPEN_INTERVAL_DAYS 7

/*
 * Given: a bloom as of past years and weather, and looks of its season, at least one; both are
 * kept. Returned: the bloom after the looks, in `arena`; days, quantiles and chances are those of
 * the futures that are left, with their weights as before.
 *
 * Where less than FUTURES_LEFT_LEAST is left (bloom->looks_alone) members give only the days
 * between events: the newest event that came does so on any day of its interval alike; or, when
 * what has not come contradicts that too, the next one to come does so on any of OPEN_INTERVAL_DAYS
 * after the last look.
 */
struct bloom *condition_bloom(const struct bloom *plain, const struct looks *looks,
                              struct spreads *spreads, struct arena *arena);

#endif
