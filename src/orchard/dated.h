/*
 * dated.h - dates of events of past seasons, from a file of their own (`conetide fit --dates`).
 */
#ifndef ORCHARD_DATED_H
#define ORCHARD_DATED_H

#include "orchard/orchard.h"

/* An event that came after not_before and by date. */
struct dated_event {
    struct place place;
    const char *site_name;
    const struct site *site;
    const char *selection_name; /* NULL: the site in general */
    const struct selection *selection;
    const char *tag; /* of the graft or tree it was seen on, any name; NULL: not told */
    enum event event;
    daynum date;       /* DAY_NONE: it had not come at not_before, and no more is known */
    daynum not_before; /* DAY_NONE: the first look saw it */
};

struct dated_events {
    struct dated_event *list;
    size_t count, capacity;
};

/* After orchard_link: join sites and selections, telling those that are not there; forget what
 * is dated after the orchard's as-of day, as orchard_as_of does. */
void dated_link(struct dated_events *events, const struct orchard *orchard, struct diags *diags);

#endif
