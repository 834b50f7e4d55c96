/*
 * dated.h - a file of dates of past seasons: site, selection, event, date, not_before.
 */
#ifndef READING_DATED_H
#define READING_DATED_H

#include "orchard/dated.h"
#include "reading/reading.h"

/*
 * Append the rows of a CSV with the columns site, event, date, and as they are there selection, tag
 * and not_before.  An event came after not_before and by date: blank not_before, the first look saw
 * it; blank date, it had not come at the last look.  In a file without the column not_before dates
 * are known to the day.  false: the source failed.
 */
bool read_dated(struct dated_events *events, const struct orchard *orchard,
                const struct source *source, struct diags *diags);

#endif
