/*
 * why.h - everything that stands behind the dates of one graft: numbers, days, and the rows and
 * notes that they come from, each with its file and line.
 *
 * Dates are those of flowering_of_graft, so they are those of `flowering`.
 */
#ifndef PLANNING_WHY_H
#define PLANNING_WHY_H

#include "planning/flowering.h"

/* One row on the way from an event back to weather or calendar. */
struct why_step {
    enum event event;
    const struct threshold *row; /* NULL: no row tells it, and it follows unasked */
    enum event after;            /* of a row that follows another event, or unasked */
    int days;                    /* after that event */
};

/* What an event hangs on. */
struct why_event {
    enum event event;
    struct why_step steps[EVENTS]; /* the last one is the sum or calendar row */
    size_t step_count;             /* 0: nothing is known of the event */
    int days_late;                 /* of the selection, that moved it; 0: not moved */
    int calendar_days;             /* by which site and elevation moved a calendar row */
    double own_days;               /* spread of its own beside that of the leading event; 0: none */
    size_t unchilled;              /* members that do not bring it for want of chilling */
    size_t raised;                 /* members whose event was moved to keep the order of events */
    daynum unseen[THREE_DATES];    /* without looks of this season; DAY_NONE: there are none */
    daynum past[THREE_DATES];      /* what past years alone say; DAY_NONE: the same calendar date */
};

/* A clock that some event is summed by, and how far it is. */
struct why_clock {
    const struct clock *clock;
    daynum start;              /* of summing */
    daynum day;                /* newest day of known weather; DAY_NONE: before the season */
    struct sum_range sum;      /* at the end of that day, deg C day or units of the clock's count */
    double usual;              /* of past years on that day */
    struct sum_range chilling; /* that the clock asks first, on that day; NaN: it asks none */
    double chilling_usual;
    daynum chilling_start;
    daynum ahead_day; /* the last day foretold; DAY_NONE: none */
    struct sum_range ahead;
    double ahead_usual;
};

/* A past year as a future. */
struct why_member {
    int season;
    daynum day;    /* of the event told, on average over the futures of that year that no look
                      contradicts; CONETIDE_NEVER */
    double weight; /* of the year among all; the years left sum to 1 */
};

/* If the days that are not known yet were warmer, or colder. */
struct why_warmer {
    daynum from, to; /* the days changed */
    double add_c;
    daynum p50; /* of the leading event */
};

struct why_season {
    struct flowering_row row;
    struct flowering_alive alive;
    const struct season_weather *weather;
    struct why_event events[EVENTS]; /* bag_by to closed, those asked for */
    size_t event_count;
    struct why_clock *clocks;
    size_t clock_count;
    enum event leading;            /* whose row tells the spread; EVENTS: no event is known */
    enum event told;               /* whose members are told: the one asked for, else the leading */
    struct why_member *members;    /* by day, then year */
    size_t member_count;           /* 0: no weather in these dates, or looks alone tell them */
    double member_sd_days;         /* NaN: fewer than two members */
    const struct bloom *plain;     /* without looks of this season */
    const struct bloom *bag_bloom; /* of the bag that was asked for; NULL: none */
    struct event_unknowns unknowns;
    double unknowns_sd_days;          /* of these parts together; row.bloom->sigma_days is used */
    const struct rate *strobili_rate; /* NULL: counted, or no rate */
    struct why_warmer warmer, colder; /* add_c 0: weather does not move these dates */
    daynum site_p50;  /* of `told` by the site in general; DAY_NONE: these are those */
    size_t seen_here; /* seasons that looks date `told` in, of the species at the site */
    size_t seen_of_selection;
    daynum look_from; /* when the next look tells most; DAY_NONE: over */
    daynum look_to;
};

/* What a note about the graft did. */
enum why_effect {
    WHY_MADE,       /* the graft */
    WHY_RENAMED,    /* it carries another tag */
    WHY_IS,         /* its selection */
    WHY_CHECKED,    /* its label */
    WHY_CONDITION,  /* alive or not */
    WHY_COUNT,      /* strobili of a season */
    WHY_STAGE,      /* dates of the graft */
    WHY_BAG_STAGE,  /* dates of one bag */
    WHY_SUPERSEDED, /* a newer one took its place */
    WHY_NO_DATE     /* bags, pollination, harvest */
};

struct why_note {
    const struct note *note;
    enum why_effect effect;
};

struct why_asked {
    enum event event;      /* EVENTS: every one */
    int season;            /* 0: every one */
    const struct bag *bag; /* NULL: none */
};

struct why {
    const struct graft_state *graft;
    const struct bag *bag;               /* that was asked for; NULL: none */
    const struct note *relabelled;       /* of the graft, or of the tree its scion came from */
    const struct note *verified;         /* the newest */
    const struct station *station;       /* NULL: no row of it */
    const struct station_record *record; /* the weather of the site; NULL: no season to come */
    struct why_note *notes;
    size_t note_count;
    struct why_season *seasons; /* by season; none: it does not flower in any to come */
    size_t season_count;
};

/* NULL when nothing is called so.  A tag that the graft has had, or a bag of it; of a bag *bag. */
const struct graft_state *why_graft(const struct state *state, const char *name,
                                    const struct bag **bag);

/*
 * What may have been meant by a name that is no tag: the grafts of the tree or selection of that
 * name, else the nearest tags.  At most `most`, in `names`; *what: "tree", "selection", or NULL.
 */
size_t why_meant(const struct state *state, const char *name, size_t most, const char **names,
                 const char **what);

struct why why_of(const struct state *state, struct dates *dates, const struct graft_state *graft,
                  struct why_asked asked, struct arena *arena);

#endif
