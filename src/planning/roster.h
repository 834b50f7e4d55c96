/*
 * roster.h - duties get crews: the minutes of half-days that nobody else has.
 *
 * Own choices: a crew's day lies about noon, so that its mornings end and its afternoons begin at
 * 12:00; crews without a lift choose first, so that they do not idle while a lift crew rakes; who
 * is at a tree does all that is open there and fits, for the way to it is paid once.
 */
#ifndef PLANNING_ROSTER_H
#define PLANNING_ROSTER_H

#include "planning/crossing.h"
#include "planning/duty.h"

struct roster;

/* The half-days of all crews from `first_day` through `last_day`, nobody sent anywhere yet. */
struct roster *roster_of(const struct orchard *orchard, daynum first_day, daynum last_day);

/* What the crossing plan has planned there is taken. */
void roster_take_plan(struct roster *roster, const struct crossing_plan *plan);

/*
 * Give the duties their crews, day by day: a half-day is spent at one site, at that of the duty
 * that comes first in the order of duties; set-up is paid once for each place that a crew comes
 * to, the way to a tree once while it is there.  `early`: those alone that come before the
 * crossing plan, one site a day; else the others.
 */
void roster_give(struct roster *roster, struct duties *duties, bool early);

/* What the roster has taken of each crew and day, for orchard->taken: sorted by crew and day. */
void roster_tell_taken(const struct roster *roster, struct orchard *orchard);

#define EARLY_DAYS                                                                                 \
    400 /* that such work is planned ahead: the season that crossing plans; own choice */

/* Duties of the kinds that come before the crossing plan get their crews of the EARLY_DAYS from
 * as-of on, and orchard->taken is told.  `tasks` reach as far; `placement` may be NULL. */
struct duties roster_early(struct orchard *orchard, const struct task_instances *tasks,
                           const struct placement *placement);

#endif
