/*
 * refresh_baseline.h - what the set that stands in OUT tells the next run.
 *
 * The plan that people hold is that of the newest set made as of an earlier day.  Each set carries
 * it on as issued.csv and issued.ics, so that a second run of the same night starts from the same.
 */
#ifndef CLI_REFRESH_BASELINE_H
#define CLI_REFRESH_BASELINE_H

#include "cli/session.h"

/* Kinds of input whose change is told; `input_names` are their names in the marker file, and
 * `input_words` what a person reads. */
enum input { INPUT_TABLES, INPUT_NOTES, INPUT_WEATHER, INPUT_FORECASTS, INPUT_MEMBERS, INPUTS };
extern const char *const input_names[INPUTS], *const input_words[INPUTS];

struct baseline {
    daynum as_of;                /* of the earlier plan; DAY_NONE: there is none */
    const char *plan, *calendar; /* the files that hold it, NULL as well */
    const char *inputs[INPUTS];  /* hashes of what went into it; "" not told */
};

/* By the marker of the set in `out` (NULL: no set) for a run as of `as_of`. */
struct baseline baseline_of(const char *out, const char *marker, daynum as_of, struct arena *arena);

/* The value of a line "what,value" of a marker; "" when there is none. */
const char *marker_value(const char *marker, const char *what, struct arena *arena);

#endif
