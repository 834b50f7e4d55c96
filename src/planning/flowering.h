/*
 * flowering.h - per graft and season: dates, chance alive, strobili.
 */
#ifndef PLANNING_FLOWERING_H
#define PLANNING_FLOWERING_H

#include "orchard/state.h"
#include "planning/dates.h"
#include "planning/grafting.h"

/* What a graft may give in one season. */
struct flowering_row {
    const struct graft_state *graft;
    const struct site *site;
    int season, season_number; /* a year; 1, 2 or, when asked, beyond */
    const struct bloom *bloom;
    const struct bloom *past;          /* by past years alone; NULL: not asked */
    daynum dates[EVENTS][THREE_DATES]; /* of bag_by, opening, first, peak, last, closed */
    double chance_alive; /* in that season's spring; 1 when seen alive this season; NaN: no rate */
    double strobili;     /* counted, or expected of a live graft; NaN: no rate */
    bool counted;
    daynum counted_on;
    bool over; /* the season's last receptive day is past in every future */
};

struct flowering_rows {
    struct flowering_row *list;
    size_t count;
};

/* Every graft that may live, its seasons 1 and 2 that are not over (their season has not ended by
 * as-of); sorted by season, site, tag. */
struct flowering_rows flowering_of(const struct state *state, struct dates *dates,
                                   struct arena *arena);

/* The rows of one graft alone, by season; none when flowering_of has none of it. */
struct flowering_rows flowering_of_graft(const struct state *state, struct dates *dates,
                                         const struct graft_state *graft, struct arena *arena);

struct flowering_asked {
    const struct graft_state *only; /* NULL: all */
    int season;                     /* a year, past ones too; 0: the seasons of flowering_of */
};

/* What was asked alone, with `past` beside; of a season every graft that was there before it.  No
 * rows: nothing can flower so. */
struct flowering_rows flowering_asked(const struct state *state, struct dates *dates,
                                      struct flowering_asked asked, struct arena *arena);

enum alive_way {
    ALIVE_COUNTED, /* strobili were counted on it this season */
    ALIVE_NEW,     /* not looked at: the share of grafts made that live in that season */
    ALIVE_SEEN,    /* seen alive: what each year since leaves of the live ones */
    ALIVE_DOUBTFUL /* half of that */
};

/* Where the chance that a graft is alive comes from. */
struct flowering_alive {
    double chance; /* NaN: no rate */
    enum alive_way way;
    int years;                         /* from the season it was seen in to this one */
    const struct rate *first, *second; /* survival to season 1 and 2; NULL: not needed, or none */
};
struct flowering_alive flowering_alive_of(const struct state *state,
                                          const struct flowering_row *row);

#endif
