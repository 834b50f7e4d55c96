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

/* "P1DT6H", "PT13H", "P2W": seconds, more than 0.  Months and years have no length of their own. */
bool duration_parse(size_t length, const char *text, int64_t *seconds);

/* From the first second to before `end`. */
struct interval {
    int64_t start, end;
};

/* "start/duration", "start/end" or "duration/end". */
bool interval_parse(size_t length, const char *text, struct interval *interval);

#endif
