/*
 * projection.h - dates of a season to come from past years' weather, and chances of days.
 *
 * A member is one past year's weather used as one possible future.  A future is a member's window
 * moved by j whole days, all its events together, with weight p_j over the number of members.
 * Days here are plain integers of the caller's choice; no calendar is known.  No random numbers.
 */
#ifndef CONETIDE_PROJECTION_H
#define CONETIDE_PROJECTION_H

#include "conetide/heat.h"
#include "conetide/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* An event that a member does not bring.  Other days keep 400 away from the ends of int32_t. */
#define CONETIDE_NEVER INT32_MAX

/* A chance this little short of the one asked for is that chance. */
#define CONETIDE_CHANCE_TOLERANCE 1e-12

/* A season of `days` days of which the first `known` have been observed or are forecast. */
struct conetide_season {
    size_t days;
    size_t known;       /* 0 to days */
    size_t start;       /* index on which summing starts, 0 to days */
    const double *tmin; /* [known]                                                       [degree] */
    const double *tmax; /* [known]                                                       [degree] */
};

/* Past years laid on the same days: [count * days], member by member. */
struct conetide_members {
    size_t count;
    const double *tmin; /*                                                               [degree] */
    const double *tmax; /*                                                               [degree] */
};

/*
 * conetide_member_sums - heat sums of every member: known days, then that member's own.
 *
 * Given:
 *   rule        curve, cut-off and thresholds                                           [degree]
 *   season      days known and where summing starts; days before `start` are not read
 *   members     past years; their days before `known` and before `start` are not read
 *   workspace   [3 * season->days] for the call alone
 * Returned:
 *   sums        [members->count * season->days] heat sum at the end of each day, 0 before `start`;
 *               NaN from a member's first day with a fault on                       [degree day]
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_MISSING, CONETIDE_REVERSED   of the first member with a faulty day; its later sums
 *               are NaN, other members are computed
 *   CONETIDE_BAD_THRESHOLDS               all sums from `start` on are NaN
 *   CONETIDE_BAD_ARGUMENT                 known or start beyond days: all sums are NaN; no such
 *               cut-off: as bad thresholds
 *
 * Notes:
 *   1) With a double curve the last known day falls to the member's minimum, and the season's last
 *      day to its own.
 *
 * Memory: the workspace.  Time: count * days.
 */
enum conetide_status conetide_member_sums(const struct conetide_heat_rule *rule,
                                          const struct conetide_season *season,
                                          const struct conetide_members *members, double *workspace,
                                          double *sums) __attribute__((warn_unused_result));

/* Whole-day shifts j = -reach .. reach; cumulative[reach + j] = C(j) = p_-reach + ... + p_j. */
#define CONETIDE_REACH_MOST 400
struct conetide_shifts {
    int reach; /* 0 to CONETIDE_REACH_MOST                                                 [days] */
    double cumulative[2 * CONETIDE_REACH_MOST + 1];
};

/*
 * conetide_shifts_of - the weights of shifts by whole days, from their standard deviation.
 *
 * Given:
 *   sigma_days  0 to 100; 0: no shift at all                                              [days]
 * Returned:
 *   *shifts     p_j = Phi((j + 1/2) / sigma) - Phi((j - 1/2) / sigma) for |j| <= ceil(4 sigma),
 *               divided by their sum, cumulated
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_BAD_ARGUMENT   sigma_days out of range or NaN: no shift with weight NaN
 *
 * Source: own derivation; rounding to whole days adds 1/12 day^2 to the variance.
 */
enum conetide_status conetide_shifts_of(double sigma_days, struct conetide_shifts *shifts)
    __attribute__((warn_unused_result));

/*
 * conetide_shifts_after - the weights of the shifts of events to come, when those that have come
 * are known to be shifted by j.
 *
 * Given:
 *   sigma_days    0 to 100, of either shift while nothing is known                        [days]
 *   correlation   of the two shifts, 0 to 1
 *   j             shift of what has come, within the reach of conetide_shifts_of          [days]
 * Returned:
 *   *shifts       normal of mean correlation * j and variance (1 - correlation^2) sigma^2, by whole
 *                 days, within the reach of conetide_shifts_of(sigma_days) and divided by what lies
 *                 there, cumulated
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_BAD_ARGUMENT   an argument out of range or NaN: no shift with weight NaN
 *
 * Source: conditional of a bivariate normal distribution with equal variances.
 */
enum conetide_status conetide_shifts_after(double sigma_days, double correlation, int j,
                                           struct conetide_shifts *shifts)
    __attribute__((warn_unused_result));

/* C(k), any k: 0 below -reach, 1 from reach on. */
double conetide_shift_cumulative(const struct conetide_shifts *shifts, int64_t k);

/*
 * What is known of one element of the futures: a member, or a member with one shift of what has
 * come.  Shifts outside least .. most are ruled out, the rest counts for `weight`.
 */
struct conetide_given {
    double weight; /* 0 to 1; all of them sum to 1 */
    const struct conetide_shifts *shifts;
    int least, most; /* some weight of `shifts` lies within                                [days] */
};

/* An event that stands on its day in every element, whatever the shift: it has come. */
#define CONETIDE_OPENING_STANDS 1u
#define CONETIDE_FIRST_STANDS 2u

/*
 * One member's receptive window: first and last day inclusive, and the day the first strobilus
 * opens.  CONETIDE_NEVER where the event is not reached: such a member is never receptive (first),
 * stays receptive (last), stays clean (opening).  last < first: never receptive.
 */
struct conetide_window {
    int32_t opening; /* [day] */
    int32_t first;   /* [day] */
    int32_t last;    /* [day] */
};

struct conetide_futures {
    size_t members;                        /* >= 1 */
    const struct conetide_window *windows; /* [members] */
    const struct conetide_shifts *shifts;
    const struct conetide_given *given; /* [members]; NULL: members count alike, all by `shifts` */
    unsigned stands;                    /* CONETIDE_..._STANDS, joined by | */
};

/*
 * conetide_chance, _both, _any - the chance that day d is receptive; that d1 and d2 both are; that
 * at least one of them is.
 *
 * Given:
 *   futures     windows of members, and shifts
 *   d, d1, d2   days, d1 and d2 in either order or equal                                   [day]
 * Returned (function value): 0 to 1
 *
 * Notes:
 *   1) Both days are asked of the same future, so chances of days are nowhere multiplied.
 *   2) A member moved by j is receptive on d when d - last <= j <= d - first: an interval of j,
 *      and so is every conjunction.  The chance is the mean over members of the interval's weight.
 *      What is known of a member cuts that interval, and counts for the member's weight.
 *
 * Time: members.
 * Source: own derivation, checked by enumeration of all futures in src/phenology/chance_test.c.
 */
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

/*
 * conetide_event_by - F(d), the chance that one event has come by day d.
 *
 * Given:
 *   n           number of members, >= 1
 *   days        [n] day of the event in each, CONETIDE_NEVER where it is not reached       [day]
 *   shifts      by which it may err
 *   d           any day                                                                    [day]
 * Returned (function value): 0 to 1, never falling with d
 */
double conetide_event_by(size_t n, const int32_t *days, const struct conetide_shifts *shifts,
                         int32_t d);

/*
 * conetide_event_date - the day by which one event has come with chance p.
 *
 * Given:
 *   n, days, shifts   as for conetide_event_by, n >= 1
 *   p                 over 0, up to 1
 * Returned:
 *   *day        first day with F(day) >= p - CONETIDE_CHANCE_TOLERANCE; otherwise
 *               CONETIDE_NEVER                                                             [day]
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_NOT_REACHED    too many members never bring it
 *   CONETIDE_BAD_ARGUMENT   n is 0, or p out of range
 *
 * Time: n * log(range of days).
 */
enum conetide_status conetide_event_date(size_t n, const int32_t *days,
                                         const struct conetide_shifts *shifts, double p,
                                         int32_t *day) __attribute__((warn_unused_result));

/*
 * One event with all that is known of it.  The event of element m moved by shift j, and by i of its
 * own spread, comes on the day  max(no_sooner[m], min(no_later[m], days[m] + i)) + j, and after
 * `not_by` at the soonest.
 */
struct conetide_event {
    size_t members;      /* >= 1 */
    const int32_t *days; /* [members]; CONETIDE_NEVER where it is not reached              [day] */
    const struct conetide_shifts *shifts;
    const struct conetide_given *given; /* [members], of no wider reach than `shifts`; or NULL */
    bool stands;                        /* it has come: no shift moves it */
    const struct conetide_shifts *own;  /* spread of its own beside `shifts`; NULL: none */
    const int32_t *no_sooner;           /* [members] for `own`; NULL: no bound             [day] */
    const int32_t *no_later;            /* [members] for `own`; NULL: no bound             [day] */
    int32_t not_by;                     /* INT32_MIN: nothing is known                     [day] */
};

/* Element m's share of the chance that it has come by d: times its weight when `given` tells one.
 */
double conetide_element_by(const struct conetide_event *event, size_t m, int32_t d);

/* conetide_event_by and conetide_event_date of such an event. */
double conetide_known_event_by(const struct conetide_event *event, int32_t d);
enum conetide_status conetide_known_event_date(const struct conetide_event *event, double p,
                                               int32_t *day) __attribute__((warn_unused_result));

/*
 * conetide_event_spread - mean and standard deviation of one event's day over the members.
 *
 * Given:
 *   n, days     as for conetide_event_by; members that never bring it are left out
 * Returned:
 *   *mean       NaN when no member brings it                                               [day]
 *   *sd_days    n - 1 in the divisor; NaN below two members                               [days]
 */
void conetide_event_spread(size_t n, const int32_t *days, double *mean, double *sd_days);

/*
 * conetide_sigma_at_least - the shift's spread that keeps a date from looking surer than it is.
 *
 * Given:
 *   n, days         as for conetide_event_by
 *   sigma_days      spread of the shift, >= 0                                             [days]
 *   least_sd_days   least spread of members and shift together, >= 0                      [days]
 * Returned (function value): smallest sigma >= sigma_days with
 *   sigma^2 + (variance of the members that reach it, n in the divisor) >= least_sd_days^2 [days]
 */
double conetide_sigma_at_least(size_t n, const int32_t *days, double sigma_days,
                               double least_sd_days);

#endif
