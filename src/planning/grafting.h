/*
 * grafting.h - when grafting opens and must stop, per site and interstock clone, and how it stands.
 */
#ifndef PLANNING_GRAFTING_H
#define PLANNING_GRAFTING_H

#include "orchard/state.h"
#include "planning/dates.h"
#include "planning/grafting_row.h"
#include "planning/site_calendar.h"

struct grafting_rows {
    struct grafting_row *list;
    size_t count;
};

/* Rows of the season that holds as-of, or of the next when this one's window is long closed (more
 * than 90 days), sorted by site and clone.  Only trees used for grafting. */
struct grafting_rows grafting_of(const struct state *state, struct dates *dates,
                                 struct arena *arena);

/* 0 while grafting of season `season`, that of as-of, is not closed everywhere, 1 from then on. */
int grafting_ahead(const struct state *state, struct dates *dates, int season, struct arena *arena);

/* The winter whose grafts are made now or next: a season, of the first site. */
int grafting_winter(const struct state *state, struct dates *dates, struct arena *arena);

#endif
