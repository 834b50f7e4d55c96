/*
 * identity_parts.h - what the files of the identity list share; nothing else includes it.
 *
 * identity_rows.c: rows; identity_counts.c: counts; identity_names.c: names; identity.c: the whole.
 */
#ifndef PLANNING_IDENTITY_PARTS_H
#define PLANNING_IDENTITY_PARTS_H

#include "planning/identity.h"

struct identity_maker {
    const struct state *state;
    const struct orchard *orchard;
    struct arena *arena;
    struct identity_list *identity;
    size_t *bags; /* [orchard->grafts.count] hung on each */
};

/* A new row, to be filled in before the next. */
struct identity_row *identity_add(struct identity_maker *maker, enum identity_concern concern,
                                  enum identity_kind kind, const char *subject);

/* A new row of a graft, with its selection as known today and its bags. */
struct identity_row *identity_add_graft(struct identity_maker *maker, enum identity_concern concern,
                                        const struct graft_state *graft);

/* What a graft's label was found to be. */
struct label_word {
    const struct note *verified;   /* the newest, later than the cell */
    const struct note *relabelled; /* the graft's own, the newest */
};
struct label_word label_word_of(const struct state *state, const struct graft *graft);

/* Bags, conelets, cones, seeds, survival: identity_counts.c. */
void identity_add_counts(struct identity_maker *maker);

/* Relabelled and retagged notes, grafts of notes alone, clones under two names: identity_names.c.
 */
void identity_add_names(struct identity_maker *maker);

#endif
