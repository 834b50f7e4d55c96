/*
 * lookup.h - the row that holds: thresholds by their basis, rates by "most specific wins".
 */
#ifndef ORCHARD_LOOKUP_H
#define ORCHARD_LOOKUP_H

#include "orchard/orchard.h"

/* What a threshold row is matched against.  NULL members match only blank cells. */
struct threshold_subject {
    const char *species;
    const char *site;
    const char *selection; /* for graft_open and graft_close: the interstock clone */
};

struct threshold_found {
    const struct threshold *threshold; /* NULL: no row at all */
    enum basis basis;
    bool own_selection; /* the row names this selection (no clone spread, no days_late) */
};

/*
 * tables.md: of matching fitted rows the highest score wins (selection 4 + site 2 + species 1):
 * fitted here; failing those, fitted rows of other sites by the same score without site: other
 * site; then borrowed; then calendar.  The folder's rows come before shipped ones of equal score.
 */
struct threshold_found threshold_find(const struct orchard *orchard, enum event event,
                                      struct threshold_subject subject);

/* Two rows of equal score that match the same subject: an error that names both. */
void threshold_audit(const struct orchard *orchard, struct diags *diags);

/* Thresholds against their clocks: units, latitude, when chilling starts. */
void clock_audit(const struct orchard *orchard, struct diags *diags);

struct rate_subject {
    const char *host_species, *clone, *site, *selection;
    int season_number; /* 1, 2, or 0 */
};

/*
 * Most specific wins: more filled cells that match; of equally many the one whose filled cells come
 * first in the order selection, clone, site, host_species, season_number; the folder's rows before
 * shipped ones of equal score.  NULL when nothing matches.
 */
const struct rate *rate_find(const struct orchard *orchard, const char *rate,
                             struct rate_subject subject);

/* The row whose `low` tells what a bad year leaves: the lowest of all that match, shipped ones
 * among them, if it is below the value that holds; else NULL. */
const struct rate *rate_of_bad_year(const struct orchard *orchard, const char *rate,
                                    struct rate_subject subject);

void rate_audit(const struct orchard *orchard, struct diags *diags);

/* Minutes of a task in 1/100 minute: each (rate minutes_each:TASK before the task's own), per tree
 * and per site; rounded to the nearest. */
struct task_minutes {
    int64_t each, per_tree, per_site;
};
struct task_minutes task_minutes_of(const struct orchard *orchard, const struct task_kind *task,
                                    struct rate_subject subject);

#endif
