/*
 * trial.h - what faults an orchard would have with some notes more.
 */
#ifndef ORCHARD_TRIAL_H
#define ORCHARD_TRIAL_H

#include "orchard/orchard.h"

/* A copy whose lists are its own: it may be cut off at a day, linked and audited, and the original
 * stays as it was read.  Texts and weather are shared. */
struct orchard orchard_copy(const struct orchard *orchard, struct arena *arena);

/* Notes on trial; their place tells them apart. */
struct trial {
    const struct orchard *orchard; /* as it was read, not linked */
    const struct note *notes;
    daynum today; /* bounds what dates are sensible */
};

/*
 * Every fault of the orchard with the first `count` of the notes, rows of all days in it, added to
 * `diags`, in whose arena messages and places live on.
 */
void trial_faults(const struct trial *trial, size_t count, struct diags *diags);

#endif
