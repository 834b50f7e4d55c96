/*
 * The unit of a file that does not name it, and from there to deg C.
 *
 * Daily summaries are ordered in metric units (deg C with one decimal) or standard ones (whole
 * deg F), and the archive's own files are in tenths of deg C; nothing in the file says which.  The
 * signs below are our own choice; where they leave two units open the file is refused, since a
 * wrong guess moves every date.
 */
#include "reading/columns.h"
#include "reading/weather.h"

#include <math.h>
#include <string.h>

/* No air temperature near the ground lies beyond (-89.2 and 56.7 deg C, from memory). */
#define COLDEST_C (-90.0)
#define HOTTEST_C 60.0
#define HOTTEST_F 140.0
#define COLDEST_F (-130.0)
/* With so many maxima the file holds a summer. */
enum { DAYS_OF_A_YEAR = 300 };
/* Where no day is warmer no tree grows. */
#define WARMEST_COLD_C 15.0

static const struct {
    enum weather_unit unit;
    const char *word, *said, *seen;
} units[] = {
    {WEATHER_CELSIUS, "metric", "deg C, as its name says", "deg C, taken from its values"},
    {WEATHER_FAHRENHEIT, "standard", "deg F, as its name says", "deg F, taken from its values"},
    {WEATHER_TENTHS, "tenths", "tenths of deg C, as its name says",
     "tenths of deg C, taken from its values"},
};

/* The unit that ends the name of the file, before its last point. */
static size_t unit_named(const char *file)
{
    const char *end = strrchr(file, '.');
    size_t length = end == NULL ? strlen(file) : (size_t)(end - file);
    for (size_t i = 0; i < COUNT_OF(units); i++) {
        size_t word = strlen(units[i].word);
        if (length > word && file[length - word - 1] == '-' &&
            strncmp(file + length - word, units[i].word, word) == 0)
            return i;
    }
    return COUNT_OF(units);
}

struct range {
    double least, most;
    double warmest; /* of the maxima */
    size_t maxima;
};

static struct range range_of(const struct weather_days *days)
{
    struct range range = {INFINITY, -INFINITY, -INFINITY, 0};
    for (daynum day = days->first; days->first != DAY_NONE && day <= days->last; day++) {
        struct weather_slot slot;
        if (!weather_days_slot(days, day, &slot))
            continue;
        for (size_t e = 0; e < EXTREMES; e++) {
            range.least = fmin(range.least, *slot.value[e]); /* a NaN is passed over */
            range.most = fmax(range.most, *slot.value[e]);
        }
        double maximum = *slot.value[EXTREME_MAXIMUM];
        range.maxima += isnan(maximum) ? 0 : 1;
        range.warmest = fmax(range.warmest, maximum);
    }
    return range;
}

static enum weather_unit unit_seen(struct range range, struct unit_signs signs)
{
    bool year = range.maxima >= DAYS_OF_A_YEAR;
    if (signs.padded || range.most > HOTTEST_F || range.least < COLDEST_F)
        return WEATHER_TENTHS;
    if (signs.finer || (!signs.rounded && range.most > HOTTEST_C))
        return WEATHER_FAHRENHEIT;
    if (!signs.rounded)
        return WEATHER_CELSIUS;
    if (year && range.warmest > HOTTEST_C)
        return WEATHER_FAHRENHEIT; /* tenths would make of it a year without a warm day */
    if (year && range.warmest > WARMEST_COLD_C)
        return WEATHER_CELSIUS;
    return WEATHER_UNIT_UNKNOWN;
}

enum weather_unit weather_unit_of(struct weather_reading *reading, struct unit_signs signs)
{
    size_t named = unit_named(reading->file);
    if (named < COUNT_OF(units)) {
        reading->unit = units[named].said;
        return units[named].unit;
    }
    if (weather_days_count(&reading->days) == 0)
        return WEATHER_CELSIUS; /* nothing to convert */
    enum weather_unit unit = unit_seen(range_of(&reading->days), signs);
    for (size_t i = 0; i < COUNT_OF(units); i++)
        if (units[i].unit == unit)
            reading->unit = units[i].seen;
    if (unit == WEATHER_UNIT_UNKNOWN)
        diag_error(reading->diags, (struct place){.file = reading->file}, "unit-unknown",
                   "the file does not name its unit, and its %zu days are too few and too round to "
                   "tell deg C, deg F and tenths of deg C apart, expected one of them, let its "
                   "name end in -metric, -standard or -tenths, as in HOLM-standard.csv",
                   weather_days_count(&reading->days));
    return unit;
}

/* ---- to deg C -------------------------------------------------------------------------------- */

static double in_celsius(enum weather_unit unit, double value)
{
    if (unit == WEATHER_FAHRENHEIT)
        return unit_in_metric(UNIT_FAHRENHEIT, value);
    return unit == WEATHER_TENTHS ? value / 10 : value;
}

/* Days for which something holds; they are told once. */
struct found {
    size_t count;
    daynum day;
    unsigned line;
    double value_c, other_c;
};

static void find(struct found *found, struct found here)
{
    if (found->count++ > 0)
        return;
    here.count = 1;
    *found = here;
}

static void tell_outside(const struct weather_reading *reading, const struct found *found)
{
    char day[DAY_TEXT];
    if (found->count > 0)
        diag_error(reading->diags, (struct place){.file = reading->file, .line = found->line},
                   "out-of-range",
                   "%zu %s outside %.0f to %.0f deg C, first %.1f on %s, expected temperatures of "
                   "the air, check the unit of the file",
                   found->count, found->count == 1 ? "value lies" : "values lie", COLDEST_C,
                   HOTTEST_C, found->value_c, day_text(found->day, day));
}

static void tell_reversed(const struct weather_reading *reading, const struct found *found)
{
    char day[DAY_TEXT];
    if (found->count > 0)
        diag_warning(reading->diags, (struct place){.file = reading->file, .line = found->line},
                     "minimum-above-maximum",
                     "%zu %s a minimum above the maximum, first %s with %.1f and %.1f deg C, "
                     "expected the minimum not to be higher; %s left out",
                     found->count, found->count == 1 ? "day has" : "days have",
                     day_text(found->day, day), found->value_c, found->other_c,
                     found->count == 1 ? "it was" : "they were");
}

void weather_to_celsius(struct weather_reading *reading, enum weather_unit unit)
{
    const struct weather_days *days = &reading->days;
    struct found outside = {0}, reversed = {0};
    if (unit == WEATHER_UNIT_UNKNOWN)
        return; /* told */
    for (daynum day = days->first; days->first != DAY_NONE && day <= days->last; day++) {
        struct weather_slot slot;
        if (!weather_days_slot(days, day, &slot))
            continue;
        for (size_t e = 0; e < EXTREMES; e++) {
            double c = in_celsius(unit, *slot.value[e]);
            if (c < COLDEST_C || c > HOTTEST_C) {
                find(&outside, (struct found){0, day, slot.line[e], c, NAN});
                c = NAN;
            }
            *slot.value[e] = c;
        }
        double *tmin_c = slot.value[EXTREME_MINIMUM], *tmax_c = slot.value[EXTREME_MAXIMUM];
        if (*tmin_c > *tmax_c) {
            find(&reversed, (struct found){0, day, slot.line[EXTREME_MINIMUM], *tmin_c, *tmax_c});
            *tmin_c = *tmax_c = NAN;
        }
    }
    tell_outside(reading, &outside);
    tell_reversed(reading, &reversed);
}
