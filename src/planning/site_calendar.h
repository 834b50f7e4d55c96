/*
 * site_calendar.h - calendar dates of the base site (32.2 N, 61 m) as they fall at another site.
 */
#ifndef PLANNING_SITE_CALENDAR_H
#define PLANNING_SITE_CALENDAR_H

#include "base/day.h"
#include "orchard/nouns.h"

/* Days that a calendar date of the base site (32.2 N, 61 m) moves for a site: 4 days a degree of
 * latitude towards the pole, 4 days for 121.92 m up (Hopkins 1918; rough).  What is unknown of the
 * two moves nothing. */
int calendar_shift_days(const struct site *site);

/* A month-day six months on, as the other hemisphere has its spring: 31 August gives 28 February
 * (the 29th in leap years is the day after). */
struct month_day other_hemisphere(struct month_day month_day);

/* The day of season `season` on which a calendar date of the base site falls at the site: six
 * months on for a southern rule, moved by calendar_shift_days. */
daynum site_calendar_day(const struct site *site, struct season_rule rule,
                         struct month_day month_day, int season);

#endif
