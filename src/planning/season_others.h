/*
 * season_others.h - the seasons of a record beside the one asked: which have ended, and what trend
 * runs through them.
 */
#ifndef PLANNING_SEASON_OTHERS_H
#define PLANNING_SEASON_OTHERS_H

#include "planning/season_stretch.h"
#include "planning/season_weather.h"

/* The part of a season that is counted: the indices of its first day and of the one after. */
struct counted_part {
    size_t from, end;
};

struct counted_part counted_part_of(const struct stretch *stretch,
                                    const struct season_asked *asked);

/* The other seasons of the record that have ended, in the order in which they become members. */
struct others {
    struct known_record known;
    int *season;
    size_t count;
};

struct others others_of(const struct season_asked *asked, struct arena *arena);

void others_read(const struct others *others, const struct season_asked *asked, size_t i,
                 struct stretch *stretch);

/* warming_c and warming_seasons of the weather; left alone when seasons are too few. */
void others_find_warming(const struct others *others, const struct season_asked *asked,
                         struct stretch *stretch, struct season_weather *weather,
                         struct arena *arena);

#endif
