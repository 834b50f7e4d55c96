/*
 * attention.h - what a run wants a person to look at: a short, fixed list.
 */
#ifndef PLANNING_ATTENTION_H
#define PLANNING_ATTENTION_H

#include "planning/crossing.h"

/* Own choices: days after which weather is late, a forecast is old, help for a cross is urgent. */
enum { ATTENTION_WEATHER_DAYS = 3, ATTENTION_FORECAST_DAYS = 2, ATTENTION_HELP_DAYS = 7 };

struct attention {
    const char **list; /* in words, in the order below */
    size_t count, capacity;
};

/*
 * In this order: visits of the issued plan inside the firm days that moved or are dropped; crosses
 * short of bags that can be helped only during the next days (after remedies_fill); stations of
 * sites whose newest whole day lies too far back; stations whose newest forecast is too old.
 */
struct attention attention_of(const struct crossing_plan *plan, const struct orchard *orchard,
                              struct arena *arena);

/* The last day of which both extremes were observed; DAY_NONE: none. */
daynum attention_newest(const struct record *record);

#endif
