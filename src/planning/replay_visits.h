/*
 * replay_visits.h - two visits planned for every graft from what was known, and whether they met
 * its receptive strobili.
 */
#ifndef PLANNING_REPLAY_VISITS_H
#define PLANNING_REPLAY_VISITS_H

#include "planning/replay.h"
#include "planning/season_heat.h"

/* The sights of one site and species, of all events and seasons. */
struct replay_group {
    const struct sight *sights;
    size_t n;
};

/* A graft or tree that was looked at before, at both ends of, and after its receptive days. */
struct replay_window {
    int season;
    const struct selection *selection;
    daynum seen_from, seen_to;
    daynum possible_from, possible_to;
    double lasts_days; /* from the middle of the looks about its first day to that about its last */
};

struct replay_windows {
    const struct replay_window *list; /* by season and selection */
    size_t count;
};

struct replay_windows replay_windows_of(const struct replay_group *group, struct arena *arena);

/* What the other seasons taught, and what came true. */
struct replay_trained {
    struct event_fit first;
    double lasts_days;             /* receptive days of a graft, mean of the other seasons */
    daynum true_first;             /* of the orchard */
    struct replay_windows windows; /* of the season; none: no visits are planned */
};

/* Plan visits on day `issued` and add what became of them to the line. */
void replay_plan_visits(const struct replay_trained *trained, struct season_heat *heat,
                        const struct season_weather *weather, daynum issued,
                        struct replay_line *line);

#endif
