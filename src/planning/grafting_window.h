/*
 * grafting_window.h - when the grafting window of one interstock opens and closes in every member.
 */
#ifndef PLANNING_GRAFTING_WINDOW_H
#define PLANNING_GRAFTING_WINDOW_H

#include "planning/dates.h"

/* Heat decides, but no further than this from the calendar date (own choice, no source). */
#define GRAFTING_CALENDAR_BOUND_DAYS 14

struct interstock {
    const struct site *site;
    const char *species, *clone; /* may be NULL */
};

/* One end of the window. */
struct grafting_edge {
    size_t members;
    const int32_t *days; /* [members] daynums or CONETIDE_NEVER */
    bool by_heat;
    daynum calendar; /* the date that bounds it, shifted for the site */
    enum basis basis;
    int seasons_seen;
    double sigma_days;
    struct conetide_shifts shifts;
};

struct grafting_window {
    const struct season_weather *weather;
    struct grafting_edge open, close; /* the closing day is the last on which to graft */
    const char *remark;               /* why heat does not decide, or NULL */
};

/*
 * Fitted rows of graft_open and graft_close first, and borrowed heat sums; failing those the
 * programme's shares of the usual heat sum on the usual day of `peak` at the site; without weather
 * the calendar.
 */
void grafting_window_of(struct dates *dates, const struct orchard *orchard,
                        struct interstock interstock, int season, struct arena *arena,
                        struct grafting_window *window);

#endif
