/*
 * daylength.h - length of the day, sunrise and sunset from latitude and day of the year.
 *
 * Hours are of the sun's own clock, on which noon is 12, unless "utc" is said.  Days of the year
 * count from 1 on 1 January; day 366 is allowed.
 */
#ifndef CONETIDE_DAYLENGTH_H
#define CONETIDE_DAYLENGTH_H

#include "conetide/status.h"

/* How far the sun's centre is below the horizon when the day is taken to begin.  [degree of arc] */
#define CONETIDE_SUN_CENTRE 0.0         /* centre on the horizon, no refraction */
#define CONETIDE_SUN_UPPER_LIMB 0.26667 /* upper limb on the horizon, no refraction */
#define CONETIDE_SUN_RISE 0.8333 /* upper limb seen, with refraction: the almanac's sunrise */
#define CONETIDE_SUN_CIVIL_TWILIGHT 6.0

struct conetide_sun {
    double declination_deg; /* of the sun                                       [degree of arc] */
    double length_h;        /* 0 where the sun stays down, 24 where it stays up          [hour] */
    double rise_h;          /* 12 - length / 2                                           [hour] */
    double set_h;           /* 12 + length / 2                                           [hour] */
};

/*
 * conetide_sun_of_day - the day's length by the CBM model.
 *
 * Given:
 *   latitude_deg   north positive, -90 to 90                                    [degree of arc]
 *   day_of_year    1 to 366, fractions allowed                                            [day]
 *   below_deg      a CONETIDE_SUN_ value or any depth, -18 to 18                [degree of arc]
 * Returned:
 *   *sun           all NaN when not computed
 * Returned (function value): CONETIDE_OK; CONETIDE_BAD_ARGUMENT for what is out of range or NaN
 *
 * Notes:
 *   1) Against an ephemeris of 2023: within 3 minutes up to 45 degrees of latitude, 5 at 60.
 *
 * Source: Forsythe, Rykiel, Stahl, Wu & Schoolfield 1995, Ecological Modelling 80:87-95.
 */
enum conetide_status conetide_sun_of_day(double latitude_deg, double day_of_year, double below_deg,
                                         struct conetide_sun *sun)
    __attribute__((warn_unused_result));

struct conetide_sun_utc {
    struct conetide_sun sun;
    double equation_of_time_min; /* sun's clock less the clock of the mean sun         [minute] */
    double rise_utc_h;           /* may be below 0 or above 24: of the day before, after; NaN  */
    double set_utc_h;            /* where the sun stays up or down                       [hour] */
};

/*
 * conetide_sun_utc_of_day - the same with clock times, by Spencer's series, for sunrise as seen.
 *
 * Given:
 *   latitude_deg   north positive, -90 to 90                                    [degree of arc]
 *   longitude_deg  east positive, -180 to 180                                   [degree of arc]
 *   day_of_year    1 to 366, taken at noon                                                [day]
 * Returned:
 *   *sun_utc       all NaN when not computed
 * Returned (function value): CONETIDE_OK; CONETIDE_BAD_ARGUMENT for what is out of range or NaN
 *
 * Notes:
 *   1) The sun's centre is taken 90.833 degrees from the zenith.
 *   2) A series by the number of the day: within 0.4 degrees of declination, whatever the year.
 *
 * Source: Spencer 1971, Search 2(5):172, with coefficients and depth as in the general solar
 *   position sheet of the United States NOAA Global Monitoring Laboratory.
 */
enum conetide_status conetide_sun_utc_of_day(double latitude_deg, double longitude_deg,
                                             double day_of_year, struct conetide_sun_utc *sun_utc)
    __attribute__((warn_unused_result));

#endif
