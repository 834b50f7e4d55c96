/*
 * work_calendar.h - the planned work as entries of a calendar, against one given out earlier.
 */
#ifndef PLANNING_WORK_CALENDAR_H
#define PLANNING_WORK_CALENDAR_H

#include "orchard/calendar.h"
#include "planning/crossing.h"

enum { CALENDAR_KEPT_DAYS = 60 }; /* past entries are kept so long: own choice */

/*
 * One entry for each crew, day and site from as-of on.  Entries of `earlier` (NULL: there is none)
 * keep their number where nothing changed and take the next where something did; those of days to
 * come that are no longer planned are cancelled, once; past ones stay as they were.
 */
struct calendar work_calendar_of(const struct crossing_plan *plan, const struct orchard *orchard,
                                 const struct calendar *earlier, struct arena *arena);

#endif
