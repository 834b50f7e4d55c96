/*
 * gaps.h - short gaps in daily extremes, filled on a straight line.
 */
#ifndef PLANNING_GAPS_H
#define PLANNING_GAPS_H

#include <stddef.h>

#define GAP_LINEAR_MOST 7 /* days; facts/degreedays.md 5.6 compares fills by gap length */

/* Lowest and highest temperature of days, [days] each; NaN: not known. */
struct extremes {
    double *tmin_c, *tmax_c;
};

/*
 * Copies `seen` to `filled` (other arrays), in which each extreme for itself lies on a line across
 * every gap of at most GAP_LINEAR_MOST days between two days on which it was seen.  A day whose
 * minimum was seen above its maximum was not seen at all.
 */
void gaps_fill(size_t days, struct extremes seen, struct extremes filled);

/*
 * Where a minimum lies above its maximum, whichever of the two was not seen yields to the other;
 * the minimum when neither was.
 */
void gaps_keep_order(size_t days, struct extremes seen, struct extremes filled);

#endif
