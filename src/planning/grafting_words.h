/*
 * grafting_words.h - how a grafting window stands, in a sentence.
 */
#ifndef PLANNING_GRAFTING_WORDS_H
#define PLANNING_GRAFTING_WORDS_H

#include "base/arena.h"
#include "base/text.h"
#include "orchard/orchard.h"
#include "planning/grafting_row.h"
#include "planning/grafting_window.h"

/* "open since about 12 February 2027; likely to close about 2 March (between 24 February and 9
 * March)".  From state, opens and closes of the row; in the arena. */
const char *grafting_state_words(const struct grafting_row *row, struct arena *arena);

/* "decided by heat, bounded by the calendar stop of 8 March", and by which shares of the usual heat
 * sum where no row tells.  In the arena. */
const char *grafting_decided_words(const struct grafting_window *window,
                                   const struct program *program, struct arena *arena);

/* "12 February 2027"; without its year when that is `known_year` (0: none). */
void add_date_in_words(struct text *text, daynum day, int known_year);

#endif
