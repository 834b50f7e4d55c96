/*
 * typed_notes.h - from the rows that a person typed back to notes, and what speaks against them.
 */
#ifndef PLANNING_TYPED_NOTES_H
#define PLANNING_TYPED_NOTES_H

#include "orchard/orchard.h"
#include "orchard/trial.h"
#include "orchard/typed.h"

#include <stdbool.h>

struct typed_note {
    struct note note;        /* as it will be read back: stages on our scale */
    const char *value_typed; /* as it is to be written */
    const struct typed_row *row;
    enum typed_column date_from, value_from; /* where these were typed */
    bool there;                              /* the folder has it already, every cell alike */
};

struct typed_notes {
    struct typed_note *list;
    size_t count, capacity;
    size_t rows;       /* that say something */
    size_t blank_rows; /* whose result cells are all blank */
    size_t rows_there; /* of which every note is there already */
};

struct typing {
    const struct orchard *read;      /* the folder as it was read, not linked, all days in it */
    const struct orchard *linked;    /* the same as of the day */
    const struct typed_page *page;   /* what was typed */
    const struct typed_page *issued; /* the page as it was printed, to look codes up; NULL: none */
    daynum as_of;
    struct arena *arena;
    struct diags *diags; /* faults of the page, each at its cell */
};

/*
 * The notes that the rows say.  Told are rows that cannot be understood: without a day or a task,
 * a code that is mistyped or not on the page, cells that belong to two rows, days after as-of.
 * A row of a worklist says: with `done_on` the first note of its task's `closed_by` (else `done`);
 * with `not_done` that, or the bag lost; with `stage` a stage note too.
 */
struct typed_notes typed_notes_of(const struct typing *typing);

/*
 * What the notes that are not there yet contradict, each fault told at the row and cell that was
 * typed, also where it shows in another file.  Warnings that no crown can answer for (a bag hung
 * twice, pollen of another parent, two values of one day) are told as errors; other new ones as
 * warnings.
 */
void typed_notes_try(const struct typing *typing, const struct typed_notes *notes);

#endif
