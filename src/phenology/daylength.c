/*
 * daylength.c - the sun above and below the horizon.
 *
 * Both models give a declination; from there on the geometry is one.  Where the sun does not cross
 * the horizon the cosine of its half day leaves -1 to 1, and is taken back: a day of 24 hours or
 * none, which is the answer, not a fault.
 */
#include "conetide/daylength.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

static double radians(double degrees)
{
    return degrees * (pi / 180);
}

static bool is_place_and_day(double latitude_deg, double day_of_year)
{
    return latitude_deg >= -90 && latitude_deg <= 90 && day_of_year >= 1 && day_of_year <= 366;
}

/* Cosine of the angle the earth turns from sunset to midnight; outside -1 to 1: no sunset. */
static double cosine_of_half_night(double latitude, double declination, double below)
{
    /* at a pole itself the cosine is 0 but for rounding, and the quotient is huge, as it must be */
    return (sin(below) + sin(latitude) * sin(declination)) / (cos(latitude) * cos(declination));
}

static struct conetide_sun sun_of(double declination, double half_night_cosine)
{
    double clamped = fmin(1, fmax(-1, half_night_cosine));
    double length_h = 24 - 24 / pi * acos(clamped);

    return (struct conetide_sun){declination * (180 / pi), length_h, 12 - length_h / 2,
                                 12 + length_h / 2};
}

static const struct conetide_sun no_sun = {NAN, NAN, NAN, NAN};

enum conetide_status conetide_sun_of_day(double latitude_deg, double day_of_year, double below_deg,
                                         struct conetide_sun *sun)
{
    double revolution, declination;

    *sun = no_sun;
    if (!is_place_and_day(latitude_deg, day_of_year) || !(below_deg >= -18 && below_deg <= 18))
        return CONETIDE_BAD_ARGUMENT;
    revolution = 0.2163108 + 2 * atan(0.9671396 * tan(0.00860 * (day_of_year - 186)));
    declination = asin(0.39795 * cos(revolution));
    *sun = sun_of(declination,
                  cosine_of_half_night(radians(latitude_deg), declination, radians(below_deg)));
    return CONETIDE_OK;
}

static double spencer_declination(double year_angle)
{
    return 0.006918 - 0.399912 * cos(year_angle) + 0.070257 * sin(year_angle) -
           0.006758 * cos(2 * year_angle) + 0.000907 * sin(2 * year_angle) -
           0.002697 * cos(3 * year_angle) + 0.00148 * sin(3 * year_angle);
}

static double spencer_equation_of_time(double year_angle)
{
    return 229.18 * (0.000075 + 0.001868 * cos(year_angle) - 0.032077 * sin(year_angle) -
                     0.014615 * cos(2 * year_angle) - 0.040849 * sin(2 * year_angle));
}

enum conetide_status conetide_sun_utc_of_day(double latitude_deg, double longitude_deg,
                                             double day_of_year, struct conetide_sun_utc *sun_utc)
{
    double year_angle, declination, half_night_cosine, noon_utc_h;

    *sun_utc = (struct conetide_sun_utc){no_sun, NAN, NAN, NAN};
    if (!is_place_and_day(latitude_deg, day_of_year) ||
        !(longitude_deg >= -180 && longitude_deg <= 180))
        return CONETIDE_BAD_ARGUMENT;
    year_angle = 2 * pi / 365 * (day_of_year - 1);
    declination = spencer_declination(year_angle);
    half_night_cosine = cosine_of_half_night(radians(latitude_deg), declination, radians(0.833));
    sun_utc->sun = sun_of(declination, half_night_cosine);
    sun_utc->equation_of_time_min = spencer_equation_of_time(year_angle);
    if (fabs(half_night_cosine) >= 1)
        return CONETIDE_OK;
    noon_utc_h = 12 - (4 * longitude_deg + sun_utc->equation_of_time_min) / 60;
    sun_utc->rise_utc_h = noon_utc_h - sun_utc->sun.length_h / 2;
    sun_utc->set_utc_h = noon_utc_h + sun_utc->sun.length_h / 2;
    return CONETIDE_OK;
}
