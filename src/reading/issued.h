/*
 * issued.h - the CSV of a crossing plan, as `conetide crossing --format csv` printed it.
 */
#ifndef READING_ISSUED_H
#define READING_ISSUED_H

#include "orchard/issued.h"
#include "reading/reading.h"

/* Append its planned visits; those that are pencilled are passed over.  All must have been issued
 * on one day, before the orchard's as-of day.  false: the source failed. */
bool read_issued(struct issued_plan *plan, const struct orchard *orchard,
                 const struct source *source, struct diags *diags);

#endif
