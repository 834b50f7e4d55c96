/*
 * state_parts.h - the parts in which the state of an orchard is made: grafts, then bags, then lots.
 */
#ifndef ORCHARD_STATE_PARTS_H
#define ORCHARD_STATE_PARTS_H

#include "orchard/state.h"
#include "orchard/words.h"

/* The graft of a bag name, under any of its tags; NULL when the name or the tag is not known. */
const struct graft *state_graft_of_bag(const struct orchard *orchard, struct arena *arena,
                                       const char *bag, struct bag_name *parts);

/* The newest dated word on condition on or before `day`; *on: its day.  An undated cell is not
 * looked at. */
enum condition state_dated_condition(const struct state *state, const struct graft *graft,
                                     daynum day, daynum *on);

/* Condition by dated words on or before `day`; CONDITION_UNKNOWN when there is none. */
enum condition state_condition_on(const struct state *state, const struct graft *graft, daynum day);

/* The newer of a graft's or lot's own `relabelled` note (or NULL) and that of its source tree: what
 * the tree is, so are its scions and its pollen. */
const struct note *state_relabelled(const struct state *state, const struct note *own,
                                    const struct tree *source);

void state_make_grafts(struct state *state, struct arena *arena);
void state_make_bags(struct state *state, struct arena *arena, struct diags *diags);
void state_make_lots(struct state *state, struct arena *arena, struct diags *diags);

#endif
