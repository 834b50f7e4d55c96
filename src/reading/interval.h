/*
 * interval.h - moments and spans of time as ISO 8601 writes them.
 */
#ifndef READING_INTERVAL_H
#define READING_INTERVAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* "2027-03-08T13:00:00+00:00" or "...Z": seconds of UTC from the start of daynum 0.  A moment
 * without its offset from UTC is none, nor is one outside years 1800 to 2199. */
bool moment_parse(size_t length, const char *text, int64_t *second);

/* Months have the length that the calendar gives them. */
struct duration {
    int64_t months, seconds;
};

/* "P1DT6H", "PT13H", "P2W", "P0Y0M1D", "PT1.5H": more than nothing.  The last part may have a
 * fraction, but not of a month or a year. */
bool duration_parse(size_t length, const char *text, struct duration *duration);

/* From the first second to before `end`. */
struct interval {
    int64_t start, end;
};

/* "start/duration", "start/end" or "duration/end". */
bool interval_parse(size_t length, const char *text, struct interval *interval);

#endif
