/*
 * replay_score.h - a date told as a distribution, against the day on which it came.
 */
#ifndef PLANNING_REPLAY_SCORE_H
#define PLANNING_REPLAY_SCORE_H

#include "planning/replay.h"

/* A date as told: members, and shifts; and the dates of other seasons. */
struct replay_forecast {
    size_t members;
    const int32_t *days; /* [members] or CONETIDE_NEVER */
    const struct conetide_shifts *shifts;
    size_t past_count;
    const daynum *past; /* [past_count] ascending, days of the season told */
};

/* Fill dates and scores of `told`, of which observed is known. */
void replay_score(const struct replay_forecast *forecast, struct arena *arena,
                  struct replay_told *told);

/* Sum up what was told on issue `issue`; visits are left alone. */
void replay_sum_up(size_t count, const struct replay_told *told, size_t issue,
                   struct replay_line *line);

#endif
