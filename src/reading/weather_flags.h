/*
 * weather_flags.h - the quality flags of the daily archive (GHCN-Daily).
 *
 * A value that failed a check of the archive carries the letter of that check; a blank one passed
 * them all.  Every letter drops its value, one that is not in the list too: a check that is new is
 * a check that failed.  Measurement and source flags say how a value came about and drop nothing.
 * Source: the archive's readme.txt, section III, "QFLAG1".
 */
#ifndef READING_WEATHER_FLAGS_H
#define READING_WEATHER_FLAGS_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

#define WEATHER_FLAGS 15 /* the fourteen letters of the list, and any other */

struct flag_counts {
    size_t count[WEATHER_FLAGS];
};

/* Does this flag drop its value?  Then it is counted. */
bool weather_flag_drops(struct flag_counts *counts, char flag);

size_t weather_flags_dropped(const struct flag_counts *counts);

/* "2 internal consistency, 1 bounds"; "" when none dropped a value. */
const char *weather_flags_words(const struct flag_counts *counts, struct arena *arena);

#endif
