/*
 * Weather that cannot be, or is in the other unit.
 *
 * Bounds are outside what was ever measured near the ground: 56.7 and -89.2 degC (World
 * Meteorological Organization, archive of weather and climate extremes, from memory).
 */
#include "orchard/audit.h"

#include "base/text.h"
#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>

#define HOTTEST_C 60.0
#define COLDEST_C (-90.0)
/* A year whose middle maximum lies above this was typed in degF ... */
#define MEDIAN_HOT_C 45.0
/* ... and one without a day above this was degC taken for degF: 32 degC read so is 0, and where no
 * day is warmer no tree grows. */
#define WARMEST_COLD_C 10.0
/* Fewer days say nothing of a year. */
enum { DAYS_OF_A_SUMMER = 90, DAYS_OF_A_YEAR = 300 };
/* A year in which the maximum hardly moves is a broken sensor or a filled-down column. */
#define NARROW_C 3.0

struct weather_check {
    struct audit *audit;
    const struct record *record;
    struct place place;
    const char *station; /* quoted */
    double *sorted;      /* room for a year */
};

static int order_doubles(const void *left, const void *right)
{
    return order_number(*(const double *)left, *(const double *)right);
}

static void tell_unit(const struct weather_check *check, int year, double bound_c, bool hot)
{
    diag_error(check->audit->diags, check->place, "other-unit",
               "station %s: in %d %s above %.1f degC, expected those of a place where trees grow, "
               "the file is most likely %s: rename tmin_%c and tmax_%c to end in _%c",
               check->station, year, hot ? "half of the maxima lie" : "no maximum lies", bound_c,
               hot ? "in degF" : "in degC", hot ? 'c' : 'f', hot ? 'c' : 'f', hot ? 'f' : 'c');
}

/* The days of one calendar year; true when its unit was told. */
static bool check_year(const struct weather_check *check, size_t first, size_t end)
{
    size_t count = 0;
    for (size_t i = first; i < end; i++)
        if (!isnan(check->record->tmax_c[i]))
            check->sorted[count++] = check->record->tmax_c[i];
    if (count < DAYS_OF_A_SUMMER)
        return false;
    qsort(check->sorted, count, sizeof *check->sorted, order_doubles);
    double median = check->sorted[count / 2], least = check->sorted[0],
           most = check->sorted[count - 1];
    int year = day_year(check->record->first_day + (daynum)first);
    if (median > MEDIAN_HOT_C) {
        tell_unit(check, year, median, true);
        return true;
    }
    if (count < DAYS_OF_A_YEAR)
        return false;
    if (most < WARMEST_COLD_C) {
        tell_unit(check, year, most, false);
        return true;
    }
    if (most - least < NARROW_C)
        diag_warning(check->audit->diags, check->place, "weather-stands-still",
                     "station %s: all maxima of %d lie between %.1f and %.1f degC, expected the "
                     "course of a year, check the file for a broken sensor or a column filled down",
                     check->station, year, least, most);
    return false;
}

static bool check_years(const struct weather_check *check)
{
    const struct record *record = check->record;
    size_t first = 0;
    while (first < record->count) {
        int year = day_year(record->first_day + (daynum)first);
        size_t end = (size_t)(day_from_civil(year, 12, 31) - record->first_day) + 1;
        end = end < record->count ? end : record->count;
        if (check_year(check, first, end))
            return true; /* one year is enough to say so */
        first = end;
    }
    return false;
}

/* Count the days for which something holds, and tell them once with the first of them. */
struct days {
    size_t count;
    size_t first;
};

static void add_day(struct days *days, size_t index)
{
    if (days->count++ == 0)
        days->first = index;
}

static const char *day_at(const struct weather_check *check, size_t index, char buffer[DAY_TEXT])
{
    return day_text(check->record->first_day + (daynum)index, buffer);
}

static void check_extremes(const struct weather_check *check)
{
    const struct record *record = check->record;
    struct days impossible = {0}, reversed = {0};
    for (size_t i = 0; i < record->count; i++) {
        double tmin_c = record->tmin_c[i], tmax_c = record->tmax_c[i];
        if (tmin_c > HOTTEST_C || tmax_c > HOTTEST_C || tmin_c < COLDEST_C || tmax_c < COLDEST_C)
            add_day(&impossible, i);
        if (tmin_c > tmax_c)
            add_day(&reversed, i);
    }
    char day[DAY_TEXT];
    if (impossible.count)
        diag_error(check->audit->diags, check->place, "impossible-temperature",
                   "station %s: %zu days lie outside %.0f to %.0f degC, the first is %s with %.1f "
                   "to %.1f, expected temperatures of the air, correct the days or the unit in the "
                   "column's name",
                   check->station, impossible.count, COLDEST_C, HOTTEST_C,
                   day_at(check, impossible.first, day), record->tmin_c[impossible.first],
                   record->tmax_c[impossible.first]);
    if (reversed.count)
        diag_warning(
            check->audit->diags, check->place, "minimum-above-maximum",
            "station %s: %zu days have a minimum above the maximum once all its files are put "
            "together, the first is %s with %.1f and %.1f, expected the maximum to be no less, "
            "check the files and reads_at of stations.csv",
            check->station, reversed.count, day_at(check, reversed.first, day),
            record->tmin_c[reversed.first], record->tmax_c[reversed.first]);
}

static void check_gaps(const struct weather_check *check)
{
    const struct record *record = check->record;
    size_t missing = 0, run = 0, longest = 0, longest_end = 0, gaps = 0;
    for (size_t i = 0; i < record->count; i++) {
        if (!isnan(record->tmin_c[i]) && !isnan(record->tmax_c[i])) {
            run = 0;
            continue;
        }
        missing++;
        gaps += run == 0;
        if (++run > longest) {
            longest = run;
            longest_end = i;
        }
    }
    char first[DAY_TEXT], last[DAY_TEXT];
    if (missing)
        diag_warning(
            check->audit->diags, check->place, "weather-gap",
            "station %s: %zu of %zu days lack an extreme, in %zu gaps, the longest of %zu days "
            "from %s to %s, expected every day, add the days that can be had; the others are "
            "filled and flagged",
            check->station, missing, record->count, gaps, longest,
            day_at(check, longest_end + 1 - longest, first), day_at(check, longest_end, last));
}

struct place audit_weather_place(struct audit *audit, const struct record *record)
{
    const char *file = record->file;
    return (struct place){.file = file ? file
                                       : arena_printf(audit->arena, "weather/%s", record->station)};
}

void audit_weather(struct audit *audit)
{
    double *sorted = ARENA_ARRAY(audit->arena, 366, double);
    for (size_t i = 0; i < audit->orchard->records.count; i++) {
        const struct record *record = &audit->orchard->records.list[i];
        struct weather_check check = {
            .audit = audit,
            .record = record,
            .place = audit_weather_place(audit, record),
            .station = audit_quote(audit, record->station),
            .sorted = sorted,
        };
        if (!check_years(&check)) /* in the other unit every day is impossible: told once */
            check_extremes(&check);
        check_gaps(&check);
    }
}
