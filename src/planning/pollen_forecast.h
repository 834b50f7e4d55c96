/*
 * pollen_forecast.h - own pollen of the season: when it flies, how much, and for which cross it
 * comes in time.
 */
#ifndef PLANNING_POLLEN_FORECAST_H
#define PLANNING_POLLEN_FORECAST_H

#include "planning/flowering.h"

/* From gathering ripe catkins to a tested lot: drying and germination test (common practice, no
 * source). */
enum { POLLEN_DRYING_DAYS = 2, POLLEN_TEST_DAYS = 3 };

/* A tree that is a copy of a selection and used for pollen, or a graft on which catkins were seen
 * this season. */
struct pollen_source {
    const struct tree *tree;         /* it stands on, for a graft */
    const struct graft_state *graft; /* NULL: the tree itself */
    const struct selection *selection;
    const struct site *site;
    int season;
    const struct bloom *bloom;
    daynum shed[3][THREE_DATES]; /* first, peak, last */
    daynum ready[THREE_DATES];   /* gathered on the first day of shed, dried and tested */
    int catkins;                 /* newest count of the season; -1: not counted */
    daynum catkins_on;
    double ml; /* expected; NaN: not known */
    bool over; /* shed is over in every future */
};

/* A wanted cross of two single parents that this pollen would make. */
struct pollen_use {
    size_t source; /* index */
    const struct cross *cross;
    const struct site *site; /* of the seed parent's earliest window */
    daynum first, last;      /* receptive days of the seed parent there, at 50 % */
    double ready_by_first;   /* chance of being ready before it is receptive */
    double ready_by_last;    /* before it is over */
};

struct pollen_forecast {
    struct pollen_source *sources; /* by selection, site, tree, tag */
    size_t source_count;
    struct pollen_use *uses; /* by source, cross */
    size_t use_count;
    double ml_per_catkin; /* of trees whose catkins and pollen were both noted; NaN: none */
    size_t ml_seasons;    /* tree seasons behind it */
};

/* In the season that holds as-of at each site. */
struct pollen_forecast pollen_forecast_of(const struct state *state, struct dates *dates,
                                          const struct flowering_rows *flowering,
                                          struct arena *arena);

#endif
