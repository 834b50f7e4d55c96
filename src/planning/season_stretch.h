/*
 * season_stretch.h - one season of a record with its short gaps filled, and what gaps it still has.
 */
#ifndef PLANNING_SEASON_STRETCH_H
#define PLANNING_SEASON_STRETCH_H

#include "base/arena.h"
#include "base/day.h"
#include "orchard/nouns.h"
#include "planning/gaps.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The part of a record that is known on a day. */
struct known_record {
    const struct record *record;
    int64_t from, end; /* indices of the first day with an extreme, and after the last */
};

struct known_record known_record_of(const struct record *record, daynum as_of);

struct stretch {
    daynum first_day;
    size_t days;
    bool covered;                 /* the known record reaches from its first day to its last */
    struct extremes seen, filled; /* [days]; NaN: missing */
    struct extremes wide_seen, wide_filled; /* the same with what a gap across the edges needs */
};

/* Room for any season, in the arena. */
struct stretch stretch_new(struct arena *arena);

void stretch_read(struct stretch *stretch, const struct known_record *known, daynum first_day,
                  size_t days);

/* Has day i of the season an extreme that not even a line gives? */
bool stretch_is_missing(const struct stretch *stretch, size_t i);

/* Days in gaps, and in the longest gap: of the whole season, and of days from..end-1 of it. */
struct gaps_found {
    int all, longest, counted, counted_longest;
};
struct gaps_found stretch_gaps(const struct stretch *stretch, size_t from, size_t end);

#endif
