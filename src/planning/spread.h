/*
 * spread.h - by how many days strobili, and pollen, may come sooner or later than weather tells.
 *
 * The events of one's strobili move together, and so do those of its pollen.
 */
#ifndef PLANNING_SPREAD_H
#define PLANNING_SPREAD_H

#include "conetide/projection.h"
#include "planning/cache.h"
#include "planning/event_days.h"

struct spread {
    double sigma_days;
    const struct conetide_shifts *shifts; /* the same pointer for the same sigma */
};

struct spreads {
    struct arena *arena;
    struct cache shifts; /* by sigma, and correlation and shift before: 6 KB each */
};

void spreads_init(struct spreads *spreads, struct arena *arena);

/* Shifts of a sigma, cut at the greatest that the library knows. */
struct spread spread_of_days(struct spreads *spreads, double sigma_days);

/* conetide_shifts_after, the same pointer for the same question. */
const struct conetide_shifts *spread_after(struct spreads *spreads, double sigma_days,
                                           double correlation, int j);

/* The event by whose row strobili are told to spread: `first`, or the next best known; NULL when
 * none is. */
const struct event_days *spread_leading_event(const struct event_table *table);

/* Likewise of pollen: shed_peak, shed_first or shed_last. */
const struct event_days *spread_leading_pollen(const struct event_table *table);

/*
 * From the row of that event, for one selection (`of_one`) or the site in general; with `basis`
 * borrowed or calendar never so little that members and shift together spread less than
 * UNMEASURED_SD_DAYS.
 */
struct spread spread_of_strobili(struct spreads *spreads, const struct event_table *table,
                                 bool of_one, enum basis basis);

/* Likewise of shed_peak or, failing that, shed_first or shed_last; the basis is the weakest of
 * them. */
struct spread spread_of_pollen(struct spreads *spreads, const struct event_table *table,
                               bool of_one);

/* tables.md: borrowed and calendar dates never claim to be better known than this. */
#define UNMEASURED_SD_DAYS 9.0

#endif
