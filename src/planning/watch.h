/*
 * watch.h - what weather and sprays mean for the work of some days: told, with the choice that is
 * to be made; nothing is moved because of it.
 */
#ifndef PLANNING_WATCH_H
#define PLANNING_WATCH_H

#include "planning/crossing.h"

/* Hand work is shut by re-entry times. */
struct shut_place {
    const char *site;  /* NULL: the block at any site */
    const char *block; /* NULL: the whole site */
    daynum sprayed_on; /* of the spray that lasts longest */
    double hours;      /* of its label; NaN: not noted */
    daynum until;      /* the last day shut */
};

/* One or more nights in a row that are foretold at or below program.freeze_c. */
struct cold_spell {
    const struct site *site;
    daynum first, last; /* the days that these nights end on */
    double lowest_c;
    size_t hang_closed; /* bags that hang and are likely not to have opened by then */
    size_t hang_open;   /* that are likely to be between opening and closing */
    size_t new_grafts;  /* grafts made within program.freeze_days before it */
    /* Bags that the plan hangs before it and whose strobili are likely not to open before it. */
    const char **to_hang; /* [to_hang_count] names, sorted */
    size_t to_hang_count;
    double clean_planned; /* the least chance of a clean bag among them as planned, */
    double clean_waiting; /* and hung on the last day of the spell, after its night */
};

/* What is foretold of one site. */
struct outlook {
    const struct site *site;
    daynum first_day; /* [count] days in a row */
    size_t count;
    const double *tmin_c, *tmax_c; /* NaN where nothing is foretold */
};

struct watch {
    struct shut_place *shut; /* by site, block */
    size_t shut_count;
    struct cold_spell *spells; /* by site, first day */
    size_t spell_count;
    struct outlook *outlooks; /* by site; of days of the list alone */
    size_t outlook_count;
};

/* Places shut on or after the later of as-of and `first_day`; cold nights of all that is foretold;
 * the outlook of the days from `first_day` through `last_day`. */
struct watch watch_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                      daynum first_day, daynum last_day);

#endif
