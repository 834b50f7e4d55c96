/*
 * fit_chilling.h - whether heat counted after chilling tells past seasons better than heat alone.
 */
#ifndef PLANNING_FIT_CHILLING_H
#define PLANNING_FIT_CHILLING_H

#include "planning/fit.h"

#define FIT_CHILLING_SEASONS_LEAST 6 /* with fewer it is not tried (own choice) */
#define FIT_CHILLING_GAIN 0.1        /* share of the error that it must save (own choice) */

struct fit_chilling {
    bool tried;
    const char *reason; /* why not; NULL */
    size_t hours; /* chilling hours chosen; 0: none tried comes before the event in every year */
    struct fit_clock clock; /* with after_chilling; its name is NULL */
    double units_c;
    struct conetide_errors nested, plain; /* with chilling and without, the search repeated in each
                                             season left out */
    bool helps;
};

/*
 * Tried: 200 to 1400 chilling hours at 0 to 8 deg C by 200, from 1 November (south: 1 May); after
 * them heat by the curve that was chosen, over its lower threshold or up to 2 deg C beside it, from
 * the day chosen or from 1 November too, a constant requirement: own choices, made before any
 * series was run.  A need that some season met only after its event is not kept.  The need of the
 * least error in days is chosen; left out in turn, each season is told from the others alone, need,
 * threshold and start being chosen anew.  Curve and the middle of the thresholds are those of all
 * seasons, which flatters a little: one reason for asking FIT_CHILLING_GAIN.
 */
struct fit_chilling fit_chilling_of(const struct event_fit *fit, const struct orchard *orchard,
                                    struct arena *arena);

#endif
