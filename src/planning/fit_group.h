/*
 * fit_group.h - the sights of one site, species and event, ready to be fitted.
 */
#ifndef PLANNING_FIT_GROUP_H
#define PLANNING_FIT_GROUP_H

#include "planning/fit.h"
#include "planning/mixed.h"

/* What the planner takes where nothing is measured, in days (the head of event_days.c). */
struct mixed_prior fit_prior_days(void);

struct fit_group {
    const struct orchard *orchard;
    struct arena *arena;
    size_t n;
    const struct sight *sights; /* [n] of the seasons that are used */
    size_t *season;             /* [n] into season_list */
    size_t *selection;          /* [n] into selection_list, or MIXED_NONE */
    size_t seasons, selections;
    struct fit_season *season_list;
    const struct selection **selection_list; /* by name */
};

#define FIT_NO_SEASON ((size_t)-1)

/* Is the sight bounded on both sides, the looks near enough? */
bool fit_is_dated(const struct sight *sight);

/* Middle of the days between two looks, as x of its season. */
double fit_middle_x(const struct fit_group *group, size_t sight);

/* Parts of the dates, as x, without season `skip` (FIT_NO_SEASON: all).  Seasons are free. */
struct mixed fit_days(const struct fit_group *group, size_t skip);

/* The dates of the orchard, [seasons]; of a season left out the mean. */
const double *fit_dates_x(const struct fit_group *group, const struct mixed *days);

/* Sums of every season by a clock, [seasons]. */
const struct fit_sums *fit_group_sums(const struct fit_group *group, const struct fit_clock *clock);

/* What the sums gain on a day about the orchard's dates x, [seasons]; skip as above.  NaN: nothing.
 */
double fit_heat_per_day(const struct fit_group *group, const struct fit_sums *sums, const double *x,
                        size_t skip);

/* Parts of the heat needed, without season `skip`; priors in days times heat_per_day. */
struct mixed fit_heat(const struct fit_group *group, const struct fit_sums *sums,
                      double heat_per_day, size_t skip);

/* fit_grafts.c: errors of single grafts; each season's clock as the search left it out. */
struct fit_graft_errors fit_graft_errors_of(const struct fit_group *group,
                                            const struct fit_search *search);

/* fit_labels.c: grafts that run apart, by selection and subject. */
struct fit_label *fit_labels_of(const struct fit_group *group, const struct mixed *heat,
                                double heat_per_day, size_t *count);

#endif
