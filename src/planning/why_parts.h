/*
 * why_parts.h - the parts in which the reasons for a graft's dates are gathered.
 */
#ifndef PLANNING_WHY_PARTS_H
#define PLANNING_WHY_PARTS_H

#include "planning/why.h"

struct whying {
    const struct state *state;
    struct dates *dates;
    struct arena *arena;
    struct why_asked asked;
    struct why *why;
};

/* Events with the rows behind them, clocks, members, spread: of a season whose row is there. */
void why_take_events(const struct whying *whying, struct why_season *season);

/* What would move the dates. */
void why_take_moves(const struct whying *whying, struct why_season *season);

/* Notes about the graft and its identity. */
void why_take_notes(const struct whying *whying);

#endif
