/*
 * count.h - what a clock counts beside heat: cold hours and days, forcing, the length of the day.
 *
 * A count is a value: its name, what it makes of an hour or of a day's mean, and its source.  Hours
 * are those of Linvill's curve between daily extremes (hourly.h), by the sun at a latitude.
 */
#ifndef CONETIDE_COUNT_H
#define CONETIDE_COUNT_H

#include <stdbool.h>
#include <stddef.h>

enum conetide_count_of {
    CONETIDE_OF_HOURS,      /* each hour by its own temperature */
    CONETIDE_OF_MEANS,      /* each day by the mean of its extremes */
    CONETIDE_OF_PORTIONS,   /* hours with a memory: the Dynamic model */
    CONETIDE_OF_DAY_LENGTH, /* a reading of the day, not a sum */
};

struct conetide_count {
    const char *name;   /* "chilling-hours-0-8" */
    const char *unit;   /* of its sum, for people: "chilling hours" */
    const char *source; /* published description */
    enum conetide_count_of of;
    bool chills;                               /* cold that a mild winter may not bring */
    double (*of_temperature)(double degree_c); /* units of one hour, or of one day by its mean;
                                                  NULL for portions and day length */
};

/* All counts, ended by NULL. */
extern const struct conetide_count *const conetide_counts[];

/* The count of that exact name, or NULL when there is none. */
const struct conetide_count *conetide_count_named(const char *name);

/* Does it need the latitude, for hours or the sun? */
bool conetide_count_needs_latitude(const struct conetide_count *count);

/* Days in a row. */
struct conetide_counted_days {
    size_t days;
    const double *tmin_c, *tmax_c; /* [days] NaN where missing                         [deg C] */
    const int *day_of_year;        /* [days] 1 to 366                                    [day] */
    double latitude_deg; /* north positive; NaN where not known              [degree of arc] */
};

/*
 * conetide_count_units - what each day brings.
 *
 * Given:
 *   count    any of conetide_counts
 *   given    the days; neighbours of from..end lend the hours at midnight, and at the ends a day is
 *            its own neighbour
 *   from     first day counted; portions start there without memory
 *   end      the day before which counting ends, from <= end <= days
 * Returned:
 *   units    [days] written from `from` to before `end`: units of the day; day length: its hours.
 *            NaN on a day with a fault of its own or a neighbour's, without a latitude that is
 *            needed, and for portions from the first such day on
 *
 * Notes:
 *   1) Where the sun stays up or down for a day, hours are made as if day and night were each at
 *      least two hours long: own choice, such curves need both.
 *
 * Memory: none.
 */
void conetide_count_units(const struct conetide_count *count,
                          const struct conetide_counted_days *given, size_t from, size_t end,
                          double *units);

/* Chill and heat of days; each is counted from an index of its own. */
struct conetide_chilled_heat {
    size_t days;
    const double *chill, *heat; /* [days] NaN where missing */
    size_t chill_from, heat_from;
    double chill_need; /* over 0 */
};

/*
 * conetide_heat_after_chilling - heat summed from the day after chilling has been enough.
 *
 * Given:
 *   given       daily units; days before chill_from or heat_from are not read for that sum
 * Returned:
 *   chill_sum   [days] at the end of each day, 0 before chill_from; goes on when it is enough
 *   heat_sum    [days] 0 up to and with the day that brings enough chilling, and before heat_from;
 *               NaN from a missing day of either that would have counted on
 * Returned (function value): the day at whose end chill_sum is first chill_need, but for
 *   CONETIDE_SUM_TOLERANCE; days when it is on no day                                  [day index]
 *
 * Source: the sequential model, Hanninen 1990, Acta For. Fenn. 213.
 */
size_t conetide_heat_after_chilling(const struct conetide_chilled_heat *given, double *chill_sum,
                                    double *heat_sum);

/* First index from..end-1 whose value is at least need, but for CONETIDE_SUM_TOLERANCE; end when
 * there is none before a NaN.  For sums that may fall, and for readings. */
size_t conetide_first_at_least(const double *value, size_t from, size_t end, double need);

#endif
