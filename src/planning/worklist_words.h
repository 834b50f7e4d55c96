/*
 * worklist_words.h - what a worklist tells its reader: what decides in the crown, and what to mind.
 */
#ifndef PLANNING_WORKLIST_WORDS_H
#define PLANNING_WORKLIST_WORDS_H

#include "planning/crossing.h"

#include <stdbool.h>

/* Stage seen and what to do, by task. */
extern const char *const decide_words[BAG_TASKS];

/* What sets a bag's row apart from others of its task. */
enum remark {
    REMARK_NONE,
    REMARK_NO_LATER_DAY,     /* its crew has no later day on which it could be hung clean */
    REMARK_NOT_CLEAN,        /* it hangs, and none of its seed counts for its cross */
    REMARK_NEVER_POLLINATED, /* it hangs and only comes off */
    REMARKS
};

/* The same for a row of paper: one line of at most 76 columns each; NULL where a remark cannot be.
 */
extern const char *const decide_briefly[REMARKS][BAG_TASKS];

/* What to do where a note of this kind closes the work, in one short sentence. */
extern const char *const result_words[NOTES];

/* What the pages of a list bring with them. */
struct hazards {
    bool crowns; /* work from a lift */
    bool tasks[BAG_TASKS];
    bool other;  /* work of other kinds */
    bool blades; /* knives, saws, shears */
    bool hot;    /* hot wax */
    bool pollen; /* pollen is handled */
    bool warm;   /* in the warm half of the year */
    bool sprays; /* some site has been sprayed this season */
};

/* NULL-ended, short sentences, in a fixed order; none for no work. */
const char *const *cautions_of(struct hazards hazards, struct arena *arena);

#endif
