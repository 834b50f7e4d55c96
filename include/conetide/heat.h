/*
 * heat.h - the heat units of one day from its extremes.
 *
 * A curve says how temperature is taken to run between the extremes; a cut-off says what counts
 * above the upper threshold.  All temperatures of a call share one unit; heat units come out in
 * that unit times a day.  Rate at temperature T, with L and U the thresholds:
 *
 *   cut-off         L < T <= U    T > U
 *   none            T - L         T - L
 *   horizontal      T - L         U - L
 *   intermediate    T - L         (U - L) - (T - U), below 0 when T > 2 U - L; the day's total is
 *                                 floored at 0, not the moment's
 *   vertical        T - L         0
 *
 * A threshold of a plant holds for the curve and cut-off with which it was found, and no other:
 * curves differ most in late winter, when L lies between the extremes.
 */
#ifndef CONETIDE_HEAT_H
#define CONETIDE_HEAT_H

#include "conetide/status.h"

#include <stdbool.h>
#include <stddef.h>

/* Of one day and a threshold K: mean of max(0, T - K), and the share of the day with T > K. */
struct conetide_above {
    double heat;  /* >= 0                                                            [degree day] */
    double share; /* 0 to 1                                                                 [day] */
};

struct conetide_day {
    double tmin;      /*                                                                 [degree] */
    double tmax;      /* >= tmin                                                         [degree] */
    double next_tmin; /* of the day after, may exceed tmax; only double curves use it    [degree] */
};

/*
 * A curve is one function; `above` takes a day without fault (finite, tmin <= tmax) and a finite
 * threshold.  Another program may make curves of its own, of which no temperature exceeds tmax (or
 * next_tmin where that is used).
 */
struct conetide_curve {
    const char *name;   /* "sine" */
    const char *shape;  /* one line, for people */
    const char *source; /* published description */
    bool uses_next_tmin;
    struct conetide_above (*above)(const struct conetide_day *day, double threshold);
};

extern const struct conetide_curve conetide_average, conetide_clipped_average, conetide_triangle,
    conetide_double_triangle, conetide_sine, conetide_double_sine, conetide_daily_maximum;

/* All curves in the order above, ended by NULL. */
extern const struct conetide_curve *const conetide_curves[];

/* The curve of that exact name, or NULL when there is none. */
const struct conetide_curve *conetide_curve_named(const char *name);

enum conetide_cutoff {
    CONETIDE_CUTOFF_NONE,
    CONETIDE_CUTOFF_HORIZONTAL,
    CONETIDE_CUTOFF_INTERMEDIATE,
    CONETIDE_CUTOFF_VERTICAL
};

/* "none", "horizontal", "intermediate", "vertical"; NULL-ended, indexed by enum conetide_cutoff. */
extern const char *const conetide_cutoff_names[];

/* The cut-off of that exact name in *cutoff; false (*cutoff untouched) when there is none. */
bool conetide_cutoff_named(const char *name, enum conetide_cutoff *cutoff);

struct conetide_heat_rule {
    const struct conetide_curve *curve; /* not NULL */
    enum conetide_cutoff cutoff;
    double lower; /*                                                                     [degree] */
    double upper; /* >= lower; not read when cutoff is none                              [degree] */
};

/*
 * conetide_heat_day - the heat units of one day.
 *
 * Given:
 *   rule        curve, cut-off and thresholds                                           [degree]
 *   day         extremes of the day, and for a double curve the next minimum            [degree]
 * Returned:
 *   *heat_units what the day brings, >= 0                                           [degree day]
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_MISSING          tmin, tmax or a next_tmin that is needed is not finite
 *   CONETIDE_REVERSED         tmin > tmax
 *   CONETIDE_BAD_THRESHOLDS   lower not finite; with a cut-off, upper not finite or below lower
 *   CONETIDE_BAD_ARGUMENT     no such cut-off
 *   in the last four *heat_units is NaN
 *
 * Notes:
 *   1) With F(K) and P(K) the heat and share above K: none F(L); horizontal F(L) - F(U);
 *      intermediate F(L) - 2 F(U), at least 0; vertical F(L) - F(U) - (U - L) P(U).
 *   2) A double curve is half a day from tmin to tmax and half from tmax to next_tmin.  The floor
 *      of `intermediate` is put on the sum of both halves.
 *   3) The averages and the daily maximum are temperatures that hold for the day or half of it, so
 *      `vertical` counts them whole or not at all.  clipped-average with `horizontal` is the
 *      rule that clips both extremes to the thresholds before it takes their mean.
 *   4) A moment at exactly the upper threshold still counts under `vertical`.
 *   5) Error below 1e-12 of the temperatures' range; temperatures up to 1e100 in size.
 *
 * Memory: none.  Time: constant.
 * Source: Zalom et al. 1983, Univ. California DANR Leaflet 21373 (triangles and sines, horizontal);
 *   McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300 (averages); one formula for all
 *   cases and the other cut-offs: own derivation, checked in tests/published/curves_gsl.c.
 */
enum conetide_status conetide_heat_day(const struct conetide_heat_rule *rule,
                                       const struct conetide_day *day, double *heat_units)
    __attribute__((warn_unused_result));

/*
 * conetide_heat_days - the heat units of days in a row.
 *
 * Given:
 *   rule        as for conetide_heat_day
 *   n           number of days, one after the other
 *   tmin, tmax  [n] extremes; the last day takes its own minimum as the next            [degree]
 * Returned:
 *   heat_units  [n] of each day what conetide_heat_day gives, bit for bit; NaN on a day that has a
 *               fault; may be neither tmin nor tmax                                 [degree day]
 *   *bad_day    first day with a fault; n when there is none; 0 when the rule has one  [day index]
 * Returned (function value): the status of the first day whose status is not CONETIDE_OK, or of the
 *   rule; days after it are computed all the same
 *
 * Notes:
 *   1) With a double curve a missing minimum spoils two days: its own and the one before.
 *
 * Memory: none.
 */
enum conetide_status conetide_heat_days(const struct conetide_heat_rule *rule, size_t n,
                                        const double *tmin, const double *tmax, double *heat_units,
                                        size_t *bad_day) __attribute__((warn_unused_result));

#endif
