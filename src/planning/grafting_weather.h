/*
 * grafting_weather.h - what the weather of the members lets a grafting window do: good days, frost
 * after grafting, cautions.
 */
#ifndef PLANNING_GRAFTING_WEATHER_H
#define PLANNING_GRAFTING_WEATHER_H

#include "planning/grafting_row.h"
#include "planning/grafting_window.h"

struct grafting_view {
    const struct program *program;
    daynum as_of;
    struct arena *arena;
};

/* Fills good_days_*, freeze_chance and caution of a row whose dates and state are there. */
void grafting_weather_take(const struct grafting_view *view, const struct grafting_window *window,
                           struct grafting_row *row);

#endif
