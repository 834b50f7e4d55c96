/*
 * hourly.c - temperatures of the hours between daily extremes.
 *
 * Every shape that knows the sun is a day part, from this morning's minimum to sunset, and a night
 * part, from the temperature at sunset to the minimum of the morning after; hours before this
 * morning's minimum belong to yesterday's night.  So a shape is two functions, and midnight needs
 * no care.
 */
#include "conetide/hourly.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

const struct conetide_hourly_rule conetide_linvill = {CONETIDE_HOURLY_LOGARITHM, 2, 0, 1};
const struct conetide_hourly_rule conetide_parton_logan_150cm = {CONETIDE_HOURLY_EXPONENTIAL_DOWN,
                                                                 1.86 - 0.17, -0.17, 2.20};
const struct conetide_hourly_rule conetide_parton_logan_10cm = {CONETIDE_HOURLY_EXPONENTIAL_DOWN,
                                                                1.52 - 0.18, -0.18, 2.00};
const struct conetide_hourly_rule conetide_wann = {CONETIDE_HOURLY_EXPONENTIAL_DOWN, 2.59, 1.55,
                                                   2.20};
const struct conetide_hourly_rule conetide_cesaraccio = {CONETIDE_HOURLY_SQUARE_ROOT, 0, 0, 1};
const struct conetide_hourly_rule conetide_campbell_norman = {CONETIDE_HOURLY_TWO_WAVES, 0, 0, 1};

static bool has_lags(const struct conetide_hourly_rule *rule)
{
    return rule->shape == CONETIDE_HOURLY_LOGARITHM || rule->shape == CONETIDE_HOURLY_EXPONENTIAL ||
           rule->shape == CONETIDE_HOURLY_EXPONENTIAL_DOWN;
}

static bool is_rule(const struct conetide_hourly_rule *rule)
{
    if (!has_lags(rule))
        return rule->shape == CONETIDE_HOURLY_SQUARE_ROOT ||
               rule->shape == CONETIDE_HOURLY_TWO_WAVES;
    return fabs(rule->peak_after_noon_h) < 6 && fabs(rule->minimum_after_sunrise_h) <= 3 &&
           (rule->shape == CONETIDE_HOURLY_LOGARITHM || (rule->decay >= 0.01 && rule->decay <= 50));
}

static double minimum_at_h(const struct conetide_hourly_rule *rule,
                           const struct conetide_sun_day *day)
{
    return day->sunrise_h + (has_lags(rule) ? rule->minimum_after_sunrise_h : 0);
}

/* The minimum by daylight, the peak after it, and a night between sunset and the next minimum. */
static bool has_day_and_night(const struct conetide_hourly_rule *rule,
                              const struct conetide_sun_day *day)
{
    double noon_h = (day->sunrise_h + day->sunset_h) / 2, from_h = minimum_at_h(rule, day);

    return from_h >= 0 && from_h < day->sunset_h && day->sunrise_h < day->sunset_h &&
           day->sunset_h < 24 && (!has_lags(rule) || noon_h + rule->peak_after_noon_h > from_h);
}

static enum conetide_status day_status(const struct conetide_hourly_rule *rule,
                                       const struct conetide_sun_day *day)
{
    bool sun = rule->shape != CONETIDE_HOURLY_TWO_WAVES;

    if (!isfinite(day->tmin_c) || !isfinite(day->tmax_c))
        return CONETIDE_MISSING;
    if (sun && (!isfinite(day->sunrise_h) || !isfinite(day->sunset_h)))
        return CONETIDE_MISSING;
    if (day->tmin_c > day->tmax_c)
        return CONETIDE_REVERSED;
    return !sun || has_day_and_night(rule, day) ? CONETIDE_OK : CONETIDE_BAD_ARGUMENT;
}

/* Temperature of a day's daylight; the minimum after it tells how far a square root cools. */
static double by_day(const struct conetide_hourly_rule *rule, const struct conetide_sun_day *day,
                     double next_tmin_c, double hour)
{
    double range_c = day->tmax_c - day->tmin_c, since_minimum_h = hour - minimum_at_h(rule, day);
    double length_h = day->sunset_h - day->sunrise_h, to_peak_h, sunset_c;

    if (has_lags(rule)) {
        to_peak_h = length_h / 2 + rule->peak_after_noon_h - rule->minimum_after_sunrise_h;
        return day->tmin_c + range_c * sin(pi / 2 * since_minimum_h / to_peak_h);
    }
    to_peak_h = fmax(length_h - 4, length_h / 2);
    if (since_minimum_h <= to_peak_h)
        return day->tmin_c + range_c * sin(pi / 2 * since_minimum_h / to_peak_h);
    sunset_c = day->tmax_c - 0.39 * (day->tmax_c - next_tmin_c);
    return sunset_c + (day->tmax_c - sunset_c) *
                          cos(pi / 2 * (since_minimum_h - to_peak_h) / (length_h - to_peak_h));
}

/* Share of the night's fall that is done when this share of the night is over. */
static double fallen(const struct conetide_hourly_rule *rule, double since_sunset_h, double night_h)
{
    switch (rule->shape) {
    case CONETIDE_HOURLY_LOGARITHM:
        return log(since_sunset_h + 1) / log(night_h + 1);
    case CONETIDE_HOURLY_EXPONENTIAL:
        return 1 - exp(-rule->decay * since_sunset_h / night_h);
    case CONETIDE_HOURLY_EXPONENTIAL_DOWN:
        return (1 - exp(-rule->decay * since_sunset_h / night_h)) / (1 - exp(-rule->decay));
    case CONETIDE_HOURLY_SQUARE_ROOT:
    case CONETIDE_HOURLY_TWO_WAVES:
        break;
    }
    return sqrt(since_sunset_h / night_h);
}

static double by_night(const struct conetide_hourly_rule *rule,
                       const struct conetide_sun_day *evening,
                       const struct conetide_sun_day *morning, double since_sunset_h)
{
    double sunset_c = by_day(rule, evening, morning->tmin_c, evening->sunset_h);
    double night_h = 24 - evening->sunset_h + minimum_at_h(rule, morning);

    return sunset_c - (sunset_c - morning->tmin_c) * fallen(rule, since_sunset_h, night_h);
}

/* A wave of a day and one of half a day as the share of the range above the minimum. */
static double two_waves(const struct conetide_three_days *days, double hour)
{
    double angle = pi / 12 * hour;
    double share = 0.44 - 0.46 * sin(0.9 + angle) + 0.11 * sin(0.9 + 2 * angle);
    double high_c = hour <= 5 ? days->yesterday.tmax_c : days->today.tmax_c;
    double low_c = hour > 14 ? days->tomorrow.tmin_c : days->today.tmin_c;

    return high_c * share + low_c * (1 - share);
}

static enum conetide_status status_of(const struct conetide_hourly_rule *rule,
                                      const struct conetide_three_days *days, double hour)
{
    const struct conetide_sun_day *each[] = {&days->today, &days->yesterday, &days->tomorrow};
    enum conetide_status status = CONETIDE_OK;

    if (!is_rule(rule) || !(hour >= 0 && hour <= 24))
        return CONETIDE_BAD_ARGUMENT;
    for (int i = 0; i < 3 && status == CONETIDE_OK; i++)
        status = day_status(rule, each[i]);
    return status;
}

enum conetide_status conetide_temperature_at(const struct conetide_hourly_rule *rule,
                                             const struct conetide_three_days *days, double hour,
                                             double *temperature_c)
{
    enum conetide_status status = status_of(rule, days, hour);

    *temperature_c = NAN;
    if (status != CONETIDE_OK)
        return status;
    if (rule->shape == CONETIDE_HOURLY_TWO_WAVES)
        *temperature_c = two_waves(days, hour);
    else if (hour <= minimum_at_h(rule, &days->today))
        *temperature_c =
            by_night(rule, &days->yesterday, &days->today, hour + 24 - days->yesterday.sunset_h);
    else if (hour < days->today.sunset_h)
        *temperature_c = by_day(rule, &days->today, days->tomorrow.tmin_c, hour);
    else
        *temperature_c = by_night(rule, &days->today, &days->tomorrow, hour - days->today.sunset_h);
    return CONETIDE_OK;
}

enum conetide_status conetide_hourly_temperatures(const struct conetide_hourly_rule *rule, size_t n,
                                                  const struct conetide_sun_day *days,
                                                  double *temperature_c, size_t *bad_day)
{
    enum conetide_status first = CONETIDE_OK;

    *bad_day = n;
    for (size_t i = 0; i < n; i++) {
        const struct conetide_three_days around = {days[i > 0 ? i - 1 : 0], days[i],
                                                   days[i + 1 < n ? i + 1 : i]};

        for (size_t hour = 0; hour < 24; hour++) {
            enum conetide_status status =
                conetide_temperature_at(rule, &around, (double)hour, &temperature_c[24 * i + hour]);

            if (status != CONETIDE_OK && first == CONETIDE_OK) {
                first = status;
                *bad_day = i;
            }
        }
    }
    return first;
}
