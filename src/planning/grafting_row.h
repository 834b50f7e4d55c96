/*
 * grafting_row.h - the grafting window of one interstock clone at one site, and how it stands.
 */
#ifndef PLANNING_GRAFTING_ROW_H
#define PLANNING_GRAFTING_ROW_H

#include "base/day.h"
#include "orchard/nouns.h"

#include <stdbool.h>
#include <stddef.h>

#define THREE_DATES 3 /* at 10, 50 and 90 % */

extern const double three_chances[THREE_DATES];

enum grafting_state { GRAFTING_NOT_YET, GRAFTING_OPEN, GRAFTING_CLOSED, GRAFTING_NO_DATE };

/* Opens and closes: first and last day on which to graft (grafting_window.h tells by what). */
struct grafting_row {
    const struct site *site;
    const char *clone; /* interstock clone; NULL: no clone named */
    int season;
    size_t trees;    /* sound trees of the clone that may be grafted */
    int free_places; /* on them; -1: not counted */
    daynum opens[THREE_DATES], closes[THREE_DATES];
    bool by_heat;              /* heat decides; else the calendar */
    const char *decided_words; /* "decided by heat, bounded by the calendar stop of 8 March" */
    daynum calendar_open, calendar_close; /* the bounding calendar, shifted for the site */
    enum grafting_state state;
    double chance_open;      /* today, 0 to 1 */
    const char *state_words; /* "open since about 12 February; likely to close about 2 March" */
    int good_days_left; /* median over members from as-of to the close, by the gates; -1 (and the
                           two below): past years too few to tell */
    int good_days_low, good_days_high; /* 10 % and 90 % */
    double freeze_chance; /* of a night at or below freeze_c within freeze_days of grafting on
                             the later of as-of and the median opening; NaN: past years too
                             few, or no grafting any more */
    const char *caution;  /* recent or known cold nights, heat; NULL when none */
    enum basis basis;
    int seasons_seen;
};

#endif
