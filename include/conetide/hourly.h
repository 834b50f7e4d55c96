/*
 * hourly.h - temperatures of the hours between daily extremes.
 *
 * Heat units need no hours (heat.h is exact); chilling counted in hours does where only daily
 * extremes were read.  A curve follows the sun: its day rises from the minimum near sunrise to a
 * maximum in the afternoon, its night falls from the temperature at sunset to the minimum of the
 * next morning.  Hours are of the sun's clock, 0 to 24 (daylength.h).
 */
#ifndef CONETIDE_HOURLY_H
#define CONETIDE_HOURLY_H

#include "conetide/status.h"

#include <stddef.h>

enum conetide_hourly_shape {
    CONETIDE_HOURLY_LOGARITHM,        /* night: Linvill 1990, carried through to the minimum */
    CONETIDE_HOURLY_EXPONENTIAL,      /* night: Parton & Logan 1981 as published: ends above the
                                         minimum, and jumps to it */
    CONETIDE_HOURLY_EXPONENTIAL_DOWN, /* the same, stretched to reach the minimum without a jump */
    CONETIDE_HOURLY_SQUARE_ROOT,      /* Cesaraccio et al. 2001; maximum four hours before sunset */
    CONETIDE_HOURLY_TWO_WAVES         /* Campbell & Norman 1998; does not know the sun */
};

/* The numbers are read for LOGARITHM and both EXPONENTIALs alone; decay for the latter. */
struct conetide_hourly_rule {
    enum conetide_hourly_shape shape;
    double peak_after_noon_h; /* noon to maximum, over -6, below 6                    [hour] */
    double
        minimum_after_sunrise_h; /* sunrise to minimum, -3 to 3                          [hour] */
    double decay;                /* over the whole night, 0.01 to 50 */
};

/*
 * Published rules.  Parton & Logan's own lag of the maximum counts from noon and the lag of the
 * minimum together; the soil and North Carolina sets are not air over a field in Colorado.
 */
extern const struct conetide_hourly_rule conetide_linvill; /* maximum two hours past noon */
extern const struct conetide_hourly_rule conetide_parton_logan_150cm, /* air, Denver */
    conetide_parton_logan_10cm;                                       /* air, Denver */
extern const struct conetide_hourly_rule conetide_wann;               /* mean, North Carolina */
extern const struct conetide_hourly_rule conetide_cesaraccio, conetide_campbell_norman;

struct conetide_sun_day {
    double tmin_c;
    double tmax_c;    /* >= tmin_c */
    double sunrise_h; /* >= 0, below sunset_h; TWO_WAVES reads neither                   [hour] */
    double sunset_h;  /* below 24                                                        [hour] */
};

/* A day between its neighbours; at the ends of a record a day may be its own neighbour. */
struct conetide_three_days {
    struct conetide_sun_day yesterday, today, tomorrow;
};

/*
 * conetide_temperature_at - the temperature at one moment of a day.
 *
 * Given:
 *   rule            shape and numbers
 *   days            the day with its neighbours
 *   hour            0 to 24, of today                                                   [hour]
 * Returned:
 *   *temperature_c  NaN when not computed
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_MISSING        an extreme, sunrise or sunset is not finite
 *   CONETIDE_REVERSED       tmin over tmax on one of the days
 *   CONETIDE_BAD_ARGUMENT   hour or a number of the rule out of range; sunrise, minimum, maximum
 * and sunset not in that order (but for a maximum after sunset); no night, which such curves need
 *
 * Notes:
 *   1) Today's maximum and both minima are met at their moments, and the curve does not jump, but:
 *      EXPONENTIAL jumps at the minimum by exp(-decay) of its fall, TWO_WAVES stays up to 3 % of
 * the range within the extremes and jumps by as much of the change between days at 5 and 14 h. A
 * peak that falls after sunset is not met. 2) Linvill's logarithm is often divided by ln(night)
 * where ln(night + 1) reaches the minimum; the former falls some 3 % of the fall below it.  Here it
 * reaches it. 3) When a day is shorter than eight hours SQUARE_ROOT has its maximum in mid-day, as
 * four hours before sunset would be in the morning: own choice.
 *
 * Source: Linvill 1990, HortScience 25:14-16.  Parton & Logan 1981, Agric. Meteorol. 23:205-216;
 *   North Carolina set: Wann et al. 1985, Agric. For. Meteorol. 34.  Night stretched to the
 *   minimum: Kimball & Bellamy 1986, Energy Agric. 5:185-197.  Cesaraccio, Spano, Duce & Snyder
 *   2001, Int. J. Biometeorol. 45:161-169.  Campbell & Norman 1998, Environmental Biophysics.
 */
enum conetide_status conetide_temperature_at(const struct conetide_hourly_rule *rule,
                                             const struct conetide_three_days *days, double hour,
                                             double *temperature_c)
    __attribute__((warn_unused_result));

/*
 * conetide_hourly_temperatures - the 24 temperatures at 0, 1 ... 23 h of each of n days in a row.
 *
 * Given:
 *   rule           shape and numbers
 *   n              number of days; the first and the last are their own neighbours
 *   days           [n]
 * Returned:
 *   temperature_c  [24 * n] NaN for all hours of a day that has a fault or borders on one
 *   *bad_day       first day without temperatures; n when there is none              [day index]
 * Returned (function value): the status of the first hour whose status is not CONETIDE_OK; the
 *   others are computed all the same
 */
enum conetide_status conetide_hourly_temperatures(const struct conetide_hourly_rule *rule, size_t n,
                                                  const struct conetide_sun_day *days,
                                                  double *temperature_c, size_t *bad_day)
    __attribute__((warn_unused_result));

#endif
