/*
 * day.h - civil days of the proleptic Gregorian calendar, years 0001 to 9999.
 *
 * A day is a count from 1970-01-01, so lengths are differences and nothing here knows a clock or
 * a time zone.  Text is ISO 8601 only: 2027-03-09, 2027-W10, 03-09.
 */
#ifndef BASE_DAY_H
#define BASE_DAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef int32_t daynum;

#define DAY_NONE INT32_MIN          /* no day known; never take part in arithmetic */
#define DAY_NEVER INT32_MAX         /* the event is not reached; sorts after every day */
#define DAY_FIRST ((daynum)-719162) /* 0001-01-01 */
#define DAY_LAST ((daynum)2932896)  /* 9999-12-31 */

struct civil {
    int year;  /* 1 to 9999 */
    int month; /* 1 to 12 */
    int day;   /* 1 to 31 */
};

/* A day of the year without its year; month 0 says that none is given. */
struct month_day {
    int month;
    int day;
};

/* Is `year` a leap year of the Gregorian calendar? */
bool day_is_leap(int year);

/* Number of days in month 1 to 12 of `year`. */
int day_month_length(int year, int month);

/* The day of a civil date; DAY_NONE when there is no such date in 0001-9999. */
daynum day_from_civil(int year, int month, int day);

/* The civil date of a day; `day` lies between DAY_FIRST and DAY_LAST (asserted). */
struct civil day_to_civil(daynum day);

/* The year a day lies in. */
int day_year(daynum day);

/* Day of the week, 1 Monday to 7 Sunday (ISO 8601). */
int day_weekday(daynum day);

/* Day of the year, 1 January = 1. */
int day_of_year(daynum day);

/* The ISO 8601 week of a day: *year is the week's own year, *week 1 to 53. */
void day_iso_week(daynum day, int *year, int *week);

/* Monday of an ISO week; DAY_NONE when that year has no such week. */
daynum day_of_iso_week(int year, int week);

/* `month_day` in `year`; 29 February falls on the 28th in common years.  DAY_NONE when there is no
 * such date in 0001-9999. */
daynum day_in_year(struct month_day month_day, int year);

/* First such month-day on or after `day`; DAY_NONE when that is past 9999. */
daynum day_on_or_after(struct month_day month_day, daynum day);

/* Read exactly YYYY-MM-DD, YYYY-Www or MM-DD of a day that exists (02-29 does); false (and output
 * untouched) for anything else. */
bool day_parse(size_t length, const char *text, daynum *day);
bool day_parse_week(size_t length, const char *text, daynum *monday);
bool day_parse_month_day(size_t length, const char *text, struct month_day *month_day);

/* Write YYYY-MM-DD (11 bytes with the NUL), or nothing for DAY_NONE and DAY_NEVER. */
#define DAY_TEXT 11
const char *day_text(daynum day, char buffer[DAY_TEXT]);

/* Write YYYY-Www of the day's ISO week (9 bytes with the NUL), or nothing as above. */
#define DAY_WEEK_TEXT 9
const char *day_week_text(daynum day, char buffer[DAY_WEEK_TEXT]);

/* English short names: "Mon" of weekday 1, "Jan" of month 1. */
const char *day_weekday_name(int weekday);
const char *day_month_name(int month);

/*
 * Seasons.  Season N is twelve months that hold the one spring of year N.  It starts on
 * `starts`: when that lies in July to December and the site is northern, in year N - 1; else in
 * year N (tables.md: north 07-01, south 01-01).
 */
struct season_rule {
    struct month_day starts; /* not 29 February: the seasons would be of unlike days */
    bool northern;
};

/* First day of season `season`; DAY_NONE when that is not in 0001-9999. */
daynum day_season_start(struct season_rule rule, int season);

/* The season that holds `day`. */
int day_season(struct season_rule rule, daynum day);

/* Days since the start of the season that holds `day`; 0 on its first day. */
int day_of_season(struct season_rule rule, daynum day);

/* Days in season `season`: 365, or 366 when it holds a 29 February.  1 <= season <= 9999. */
int day_season_length(struct season_rule rule, int season);

/*
 * The day of season `from` that corresponds to `day` of season `season`, calendar day for calendar
 * day: used to lay a past season's weather into a coming one.  A 29 February asks for the 28th
 * where `from` has none; the 29th of `from` is passed over where `season` has none.  DAY_NONE when
 * it lies outside 0001 to 9999.
 */
daynum day_map_season(struct season_rule rule, int season, daynum day, int from);

#endif
