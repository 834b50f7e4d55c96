/*
 * sights.h - what was seen of events in past seasons: between which two looks each came.
 */
#ifndef PLANNING_SIGHTS_H
#define PLANNING_SIGHTS_H

#include "orchard/dated.h"
#include "orchard/state.h"

/* One event of one graft, tree or unnamed subject in one season: it came after `after` and by `by`.
 */
struct sight {
    const struct site *site;
    const char *species; /* NULL: not told */
    enum event event;
    const struct selection *selection; /* the true one, under the one name that stands for the
                                          clone; NULL: not told */
    const char *subject;               /* tag or tree; NULL: not told */
    int season;
    daynum after; /* DAY_NONE: the first look saw it */
    daynum by;    /* DAY_NONE: the last look had not seen it */
};

struct sights {
    struct sight *list; /* by site, species, event, season, selection, subject, days */
    size_t count, capacity;
    size_t unknown; /* grafts and trees whose identity is not known, left out */
};

/*
 * From `stage` and `male_stage` notes.  An event has come when a look finds
 *   opening      stage 3 or more (of a range, its higher end)
 *   first        4 or more (likewise: a fifth of the strobili, when they lie evenly over the range)
 *   peak         5 or more (of a range, half of its stages)
 *   last         6 (no range)
 *   shed_first   shedding or over
 *   shed_last    over
 * Looks at a graft and at its bags are looks at the graft; those of one day are taken together,
 * from the lowest stage to the highest.  Notes cannot tell `closed` from `last`, nor `shed_peak`.
 */
struct sights sights_of_notes(const struct state *state, struct arena *arena);

/* Has a female event come at a look that finds stages low to high? */
bool sight_has_come(enum event event, int low, int high);

/* From a file of dates, after dated_link. */
struct sights sights_of_dates(const struct dated_events *events, const struct orchard *orchard,
                              struct arena *arena);

#endif
