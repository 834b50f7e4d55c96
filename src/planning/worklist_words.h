/*
 * worklist_words.h - what a worklist tells its reader: what decides in the crown, and what to mind.
 */
#ifndef PLANNING_WORKLIST_WORDS_H
#define PLANNING_WORKLIST_WORDS_H

#include "planning/crossing.h"

#include <stdbool.h>

/* Stage seen and what to do, by task. */
extern const char *const decide_words[BAG_TASKS];

/* The same for a row of paper: one line of at most 76 columns each. */
extern const char *const decide_briefly[BAG_TASKS];

/* What the pages of a list bring with them. */
struct hazards {
    bool crowns; /* work from a lift */
    bool tasks[BAG_TASKS];
    bool sprays; /* some site has been sprayed this season */
};

/* NULL-ended, short sentences, in a fixed order; none for no work. */
const char *const *cautions_of(struct hazards hazards, struct arena *arena);

#endif
