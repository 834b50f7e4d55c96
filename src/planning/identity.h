/*
 * identity.h - what to look after so that no graft, tree or lot is taken for another.
 */
#ifndef PLANNING_IDENTITY_H
#define PLANNING_IDENTITY_H

#include "orchard/state.h"

#define IDENTITY_MONTHS 12 /* without a word on a graft: own choice */

enum identity_concern {
    CONCERN_DOUBTED,       /* known to be wrong or disputed, and not settled since */
    CONCERN_CHANGED,       /* relabelled grafts, trees and lots */
    CONCERN_COUNTS,        /* that do not add up */
    CONCERN_APART,         /* flowers apart from its selection */
    CONCERN_NOT_LISTED,    /* tags that grafts.csv does not list: retagged, or made by a note */
    CONCERN_TWO_NAMES,     /* one clone under two names */
    CONCERN_NOT_SEEN,      /* for some months */
    CONCERN_NEVER_CHECKED, /* grafts that may live, trees that scions or pollen come from */
    CONCERN_CHECKED,       /* and right */
    CONCERNS
};

enum identity_kind {
    IDENTITY_GRAFT,
    IDENTITY_TREE,
    IDENTITY_LOT,
    IDENTITY_BAG,
    IDENTITY_SELECTION
};

struct identity_row {
    enum identity_concern concern;
    enum identity_kind kind;
    const char *subject;        /* tag, tree, lot, bag or selection */
    const struct graft *graft;  /* of a graft or bag; else NULL */
    const char *selection_name; /* it is taken for; NULL: none or a mix */
    daynum since;               /* DAY_NONE: not told */
    size_t bags;                /* hung on the graft, in all seasons */
    const char *what;           /* for people */
};

struct identity_list {
    struct identity_row *list; /* by concern, kind, more bags first, subject, day, words */
    size_t count, capacity;
    int months;
    size_t grafts;         /* that may live */
    size_t checked, wrong; /* of these: labels tested, and of those tested not right */
};

/* Everything but what is fine; grafts checked and right stand last. */
struct identity_list identity_of(const struct state *state, int months, struct arena *arena);

/*
 * Share of labels that are wrong.  Own choice, as no share for pine grafts is published; 1 to 10 %
 * is from memory.  Published elsewhere: 15 of 81 trees of Acacia clones on sites that were
 * suspected already; 3 of 37 eucalypts that lost their labels could not be told again
 * (Vaillancourt, Skabo and Gore 1998, Aust. For. 61:207-210).
 */
#define MISLABELLED_SHARE 0.05
#define MISLABELLED_LEAST 0.01
#define MISLABELLED_MOST 0.10

/* Labels drawn at random that show a wrong one with `chance` when a share of 0 < `share` <= 1 is
 * wrong: the first n with 1 - (1 - share)^n >= chance; -1: more than can be reckoned. */
int64_t mislabelled_tests(double share, double chance);

/* The chance that `labels` labels are all right. */
double labels_all_right(double share, int labels);

#endif
