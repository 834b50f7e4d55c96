/*
 * calendar.h - entries of a calendar of work: a crew, a day, a site.
 */
#ifndef ORCHARD_CALENDAR_H
#define ORCHARD_CALENDAR_H

#include "base/day.h"

#include <stdbool.h>
#include <stddef.h>

struct calendar_entry {
    const char *uid; /* the same for the same crew, day, site and programme */
    daynum day;
    daynum stamped; /* as of which it last changed */
    int sequence;   /* 0 when it is first given out, one more with each change */
    bool cancelled;
    const char *summary, *location, *description; /* description: lines parted by '\n' */
};

struct calendar {
    struct calendar_entry *list; /* by day, then uid */
    size_t count, capacity;
};

#endif
