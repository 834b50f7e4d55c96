/*
 * event_days.h - the day of every event in every member, from the threshold rows that hold.
 */
#ifndef PLANNING_EVENT_DAYS_H
#define PLANNING_EVENT_DAYS_H

#include "orchard/lookup.h"
#include "planning/season_heat.h"

#include <stdbool.h>

/* Whose events. */
struct event_subject {
    const struct site *site;
    const char *species;               /* may be NULL */
    const struct selection *selection; /* NULL: the site in general */
    bool interstock;                   /* also graft_open and graft_close, of `clone` */
    const char *clone;                 /* interstock clone; may be NULL */
    int season;
    enum futures futures;
};

struct event_days {
    size_t members;      /* 0: nothing is known of it; 1: the calendar's one day; or all members */
    const int32_t *days; /* [members] daynums or CONETIDE_NEVER */
    const struct threshold *threshold; /* the row found; NULL when a built-in default stands in */
    const struct threshold *root; /* the sum or calendar row at the end of the chain of `after` */
    enum basis basis;             /* of the root: the rows between only add days */
    bool own;                     /* the root names the selection (the clone) itself */
    size_t unchilled;             /* members that do not bring it for want of chilling */
    double after_variance;        /* day^2, of the `after` rows between that tell theirs */
};

struct event_table {
    const struct season_weather *weather;
    size_t members;  /* of every known event: 1, or weather->members */
    bool by_weather; /* some event was found by heat */
    struct event_days event[EVENTS];
    const char *remark; /* why heat-sum rows were passed over, or NULL */
};

struct event_maker {
    struct season_heat *heat;
    const struct orchard *orchard;
    struct orchard without_sums; /* the same thresholds less heat-sum rows, for threshold_find */
};

void event_maker_init(struct event_maker *maker, struct season_heat *heat);

/*
 * Events of one member are put in order by raising the later: opening <= first <= peak <= last <=
 * closed and shed_first <= shed_peak <= shed_last; what follows a raised event by days follows it.
 * bag_by is the day before opening.
 */
struct event_table event_days_of(struct event_maker *maker, const struct event_subject *subject);

/* Why weather with fewer members than MEMBERS_LEAST gives no heat-sum date, in words. */
const char *few_years_remark(const struct season_weather *weather, struct arena *arena);

/* What stands where no row tells: `closed` after `last`, `shed_last` after `shed_peak`, `bag_by`
 * before `opening`; false of any other event. */
bool event_follows_unasked(enum event event, enum event *after, int *days);

/* What weather does not tell of an event, by its parts, in days; 0 where a part is not asked. */
struct event_unknowns {
    double residual_days, after_days, clone_days, graft_days;
    bool residual_raised; /* to that of a borrowed row, being fitted at another site */
};
struct event_unknowns event_unknowns_of(const struct event_days *event, bool of_one,
                                        bool of_one_graft);

/*
 * Standard deviation, in days, of what weather does not tell of an event: residual, spread between
 * clones (when `of_one` selection or clone is asked and the root is not its own), between grafts.
 * Blank cells take the defaults at the head of event_days.c.
 */
double event_sigma_days(const struct event_days *event, bool of_one, bool of_one_graft);

#endif
