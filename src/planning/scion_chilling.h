/*
 * scion_chilling.h - chilling hours that batches of scions have had, on the tree and in store.
 */
#ifndef PLANNING_SCION_CHILLING_H
#define PLANNING_SCION_CHILLING_H

#include "planning/season_heat.h"

/*
 * Hours at 0 to 8 deg C: South 2013, USDA RMRS-P-69:3-10.  Hours in a cold store count as those
 * outdoors: bud dormancy of loblolly fell as fast at 2 to 4 deg C in store as in nature (Carlson
 * 1985, Can. J. For. Res. 15(4):651-656, abstract).  No source tells how many a scion needs.
 */
struct scion_chilling {
    const struct batch *batch;
    const struct site *site; /* where it was cut; NULL: not told */
    daynum from;             /* the season's first day; DAY_NONE: not known */
    double field_hours;      /* to the day before cut_on, of the days known; NaN: no day is */
    size_t missing_days;     /* among them */
    daynum store_end;        /* first graft, discarding or as-of, whichever is first */
    bool grafted;            /* it is the first graft */
    double store_hours;      /* NaN: the store's temperature is not told */
    double hours;            /* of both; NaN: one is not known */
    const char *reason;      /* why hours are not known or are too few; NULL */
};

struct scion_chillings {
    struct scion_chilling *list; /* by batch, as the orchard has them */
    size_t count;
};

/* Of every batch with a cutting date.  The tree it was cut from tells the site; without one, the
 * trees of its selection when all stand on one. */
struct scion_chillings scion_chilling(struct season_heat *heat, struct arena *arena);

#endif
