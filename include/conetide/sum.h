/*
 * sum.h - heat sums as prefix sums, and the day on which a requirement is met.
 */
#ifndef CONETIDE_SUM_H
#define CONETIDE_SUM_H

#include "conetide/status.h"

#include <stddef.h>

/*
 * conetide_heat_sum - the heat sum at the end of each day.
 *
 * Given:
 *   n           number of days
 *   heat_units  [n] heat units of each day, from the day on which summing starts    [degree day]
 * Returned:
 *   sum         [n] sum[i] = heat_units[0] + ... + heat_units[i]                    [degree day]
 *
 * Notes:
 *   1) A NaN day makes its sum and all later sums NaN: a missing day is not a cold day.
 *   2) `sum` may be `heat_units` itself.
 */
void conetide_heat_sum(size_t n, const double *heat_units, double *sum);

/*
 * A requirement that may move with the date: on day index i it is
 * units + per_day * (x_of_first + i).  per_day < 0: declining (Boyer 1972); 0: constant.
 */
struct conetide_need {
    double units;      /* [degree day, or any unit of the sums] */
    double per_day;    /* [that unit a day] */
    double x_of_first; /* x of index 0, for example the day of the year */
};

/* A sum this little short of its requirement has met it: rounding must not cost a day.  In the
 * unit of the sums. */
#define CONETIDE_SUM_TOLERANCE 1e-6

/*
 * conetide_need_reached - the day at whose end a heat requirement is met.
 *
 * Given:
 *   n           number of days
 *   sum         [n] heat sum at the end of each day, never decreasing; NaN from some day on where
 *               days are missing                                                      [degree day]
 *   need        the requirement, finite                                               [degree day]
 * Returned:
 *   *index      first i with sum[i] >= need on i - CONETIDE_SUM_TOLERANCE and need on i > 0;
 *               n when there is none                                                   [day index]
 * Returned (function value):
 *   CONETIDE_OK
 *   CONETIDE_NOT_REACHED    on no day given                                   *index is n
 *   CONETIDE_MISSING        not before the first NaN sum, later is not known  *index is n
 *   CONETIDE_BAD_ARGUMENT   a member of `need` is not finite                  *index is n
 *
 * Notes:
 *   1) A requirement of 0 or less is never met: a declining line that runs out before any heat has
 *      come tells of a cold season, not of a date.
 *
 * Time: log n when per_day <= 0 (sum less requirement then never falls), else n.
 * Source: declining requirement: Boyer 1972, Ecology 54(2) (the line
 *   19009 - 89.26 X in degree-hours over 50 deg F); the search: own derivation.
 */
enum conetide_status conetide_need_reached(size_t n, const double *sum, struct conetide_need need,
                                           size_t *index) __attribute__((warn_unused_result));

#endif
