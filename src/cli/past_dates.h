/*
 * past_dates.h - what was seen of past seasons, from notes or from a file of dates (--dates), and
 * the options that choose among it.
 */
#ifndef CLI_PAST_DATES_H
#define CLI_PAST_DATES_H

#include "cli/session.h"
#include "planning/sights.h"

/* --event; EVENTS when it is not given. */
enum exit_status past_event(struct session *session, int *event);

/* --curve; NULL when it is not given. */
enum exit_status past_curve(struct session *session, const struct conetide_curve **curve);

/* All sights, of --dates or else of the notes; --site is known. */
enum exit_status past_sights(struct session *session, const struct state *state,
                             struct sights *sights);

/* Those of an event (EVENTS: every one) at --site. */
void past_keep(const struct session *session, int event, struct sights *sights);

#endif
