/*
 * grafting_window.h - when the grafting window of one interstock opens and closes in every member.
 */
#ifndef PLANNING_GRAFTING_WINDOW_H
#define PLANNING_GRAFTING_WINDOW_H

#include "planning/dates.h"

/* Heat decides, but opens no earlier than this before the calendar date (own choice, no source). */
#define GRAFTING_CALENDAR_BOUND_DAYS 14

struct interstock {
    const struct site *site;
    const char *species, *clone; /* may be NULL */
    const char *grafted_species; /* whose usual peak the shares are of; may be NULL */
};

/* One end of the window. */
struct grafting_edge {
    size_t members;
    const int32_t *days; /* [members] daynums or CONETIDE_NEVER, before anything bounds them */
    bool by_heat;
    bool by_share;           /* of the usual heat sum, so by heat */
    daynum calendar;         /* shifted for the site */
    daynum earliest, latest; /* bound what heat says; DAY_NONE: nothing does */
    enum basis basis;
    int seasons_seen;
    double sigma_days;
    struct conetide_shifts shifts;
};

/* First day with at least chance p that the edge has come; DAY_NEVER when too many members never
 * bring it. */
daynum grafting_edge_date(const struct grafting_edge *edge, double p);

/* Chance that it has come by `day`. */
double grafting_edge_by(const struct grafting_edge *edge, daynum day);

/* The day in one member of the season's weather, or DAY_NEVER. */
daynum grafting_edge_in(const struct grafting_edge *edge, size_t member);

struct grafting_window {
    const struct season_weather *weather;
    struct grafting_edge open, close; /* the closing day is the last on which to graft */
    const char *remark;               /* why heat does not decide, or NULL */
};

/*
 * Fitted rows of graft_open and graft_close first, and borrowed heat sums; failing those the
 * programme's shares of the usual heat sum on the usual day of `peak` at the site; without weather
 * the calendar.  Heat never closes later than the calendar date: a row of graft_close with the
 * basis calendar, else the programme's.
 */
void grafting_window_of(struct dates *dates, const struct orchard *orchard,
                        struct interstock interstock, int season, struct arena *arena,
                        struct grafting_window *window);

#endif
