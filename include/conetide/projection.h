/*
 * projection.h - dates of a season to come from past years' weather, and chances of days.
 *
 * A member is one past year's weather used as one possible future.  A future is a member's window
 * moved by j whole days, all its events together, with weight p_j over the number of members.
 * Days here are plain integers of the caller's choice; no calendar is known.
 */
#ifndef CONETIDE_PROJECTION_H
#define CONETIDE_PROJECTION_H

#include "conetide/heat.h"
#include "conetide/status.h"

#include <stddef.h>
#include <stdint.h>

#define CONETIDE_NEVER INT32_MAX /* an event that a member does not bring */

#define CONETIDE_CHANCE_TOLERANCE 1e-12

/* A season of `days` days of which the first `known` have been observed or are forecast. */
struct conetide_season {
    size_t days;
    size_t known;           /* 0 to days */
    size_t start;           /* index on which summing starts */
    const double *tmin;     /* [known] */
    const double *tmax;     /* [known] */
};

/* Past years laid on the same days: [count * days], member by member. */
struct conetide_members {
    size_t count;
    const double *tmin;
    const double *tmax;
};

/*
 * Heat sums of every member: known days, then that member's own.  sums[count * days] holds 0 before
 * season->start.  workspace[3 * days].  Returns the first status that is not OK (a NaN or reversed
 * day from `start` on); then that member's later sums are NaN and the others are computed.
 */
enum conetide_status conetide_member_sums(const struct conetide_heat_rule *rule,
                                          const struct conetide_season *season,
                                          const struct conetide_members *members,
                                          double *workspace, double *sums)
    __attribute__((warn_unused_result));

/* Whole-day shifts j = -reach .. reach; cumulative[reach + j] = C(j) = p_-reach + ... + p_j. */
#define CONETIDE_REACH_MOST 400
struct conetide_shifts {
    int reach;
    double cumulative[2 * CONETIDE_REACH_MOST + 1];
};

/*
 * p_j = Phi((j + 1/2) / sigma) - Phi((j - 1/2) / sigma), |j| <= ceil(4 sigma), renormalised.
 * sigma_days 0 to 100; 0: no shift at all.
 */
enum conetide_status conetide_shifts_of(double sigma_days, struct conetide_shifts *shifts)
    __attribute__((warn_unused_result));

/* C(k): 0 below -reach, 1 from reach on. */
double conetide_shift_cumulative(const struct conetide_shifts *shifts, int64_t k);

/* One member's receptive window: first and last day inclusive, and the day the first strobilus
 * opens.  CONETIDE_NEVER where the event is not reached: such a member is never receptive (first),
 * stays receptive (last), stays clean (opening). */
struct conetide_window {
    int32_t opening;
    int32_t first;
    int32_t last;
};

struct conetide_futures {
    size_t members;                        /* >= 1 */
    const struct conetide_window *windows; /* [members] */
    const struct conetide_shifts *shifts;
};

/* Chance that day d is receptive; that d1 < d2 both are; that at least one is. */
double conetide_chance(const struct conetide_futures *futures, int32_t d);
double conetide_chance_both(const struct conetide_futures *futures, int32_t d1, int32_t d2);
double conetide_chance_any(const struct conetide_futures *futures, int32_t d1, int32_t d2);

/* Chance that a bag hung on day b is clean: it hangs by the day before opening. */
double conetide_chance_clean(const struct conetide_futures *futures, int32_t b);

/* The same three, jointly with a bag hung on day b being clean. */
double conetide_chance_clean_and(const struct conetide_futures *futures, int32_t b, int32_t d);
double conetide_chance_clean_both(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                  int32_t d2);
double conetide_chance_clean_any(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                 int32_t d2);

/* Of one event with its day in every member, days[n] (CONETIDE_NEVER: not reached). */

/* F(d) = chance that the event has come by day d. */
double conetide_event_by(size_t n, const int32_t *days, const struct conetide_shifts *shifts,
                         int32_t d);

/* First day with F(d) >= p - CONETIDE_CHANCE_TOLERANCE; NOT_REACHED (*day = CONETIDE_NEVER) when too many members never
 * bring it. */
enum conetide_status conetide_event_date(size_t n, const int32_t *days,
                                         const struct conetide_shifts *shifts, double p,
                                         int32_t *day) __attribute__((warn_unused_result));

/* Mean and standard deviation of the members that reach it (n - 1 in the divisor); NaN below two. */
void conetide_event_spread(size_t n, const int32_t *days, double *mean, double *sd_days);

/* Smallest sigma >= sigma_days with which members and shift together have a standard deviation of
 * at least least_sd_days (variances add; population variance of the members). */
double conetide_sigma_at_least(size_t n, const int32_t *days, double sigma_days,
                               double least_sd_days);

#endif
