/*
 * observed_days.h - the days of a station's record as civil days, known by the end of a day.
 */
#ifndef PLANNING_OBSERVED_DAYS_H
#define PLANNING_OBSERVED_DAYS_H

#include "base/arena.h"
#include "orchard/nouns.h"

/*
 * A copy of `record` (NULL: none) to as_of.  The maximum that a morning reader (`station`; may be
 * NULL) wrote on a day is that of the day before, so the last day has none yet.  A day whose
 * minimum lies above its maximum was not observed.  Begins and ends with a day of which something
 * was observed; count 0: there is no such day.
 */
struct record observed_days_of(const struct record *record, const struct station *station,
                               daynum as_of, struct arena *arena);

/* The newest day of which both extremes are there; DAY_NONE: none. */
daynum observed_days_newest(const struct record *observed);

#endif
