/*
 * requirement_cell.h - one cell of a fit: what each season needed, and when a need would be met.
 */
#ifndef PHENOLOGY_REQUIREMENT_CELL_H
#define PHENOLOGY_REQUIREMENT_CELL_H

#include "conetide/requirement_fit.h"

/* Seasons as seen from a cell. */
struct conetide_cell_view {
    const struct conetide_past *past;
    const double *sum; /* [seasons * (days + 1)] heat of the season's days before each day index */
    const double *known; /* [seasons] days of which the sum is known */
    size_t start;        /* [day index] */
    double per_day;      /* [heat units a day] */
};

/* A day met by every requirement over `above`, up to `up_to`. */
struct conetide_cell_span {
    double day;   /* days known when the need is not met */
    double above; /* [heat units] */
    double up_to; /* [heat units] */
};

/* The event's day as it is taken: the middle of the days between two visits. */
double conetide_observed_day(const struct conetide_visits *visits);

/* What a season needed, on day index 0.                                           [heat units] */
double conetide_cell_need(const struct conetide_cell_view *view, size_t season);

/* The day on which a season meets a requirement; quicker when it is `near`, >= 0, or beside it. */
struct conetide_cell_span conetide_cell_meets(const struct conetide_cell_view *view, size_t season,
                                              double units, double near);

/* Middle of n >= 1 needs, and without each in turn in without[n]; sorted is for the call alone. */
double conetide_middle_of(enum conetide_middle middle, size_t n, const double *needs,
                          double *sorted, double *without);

#endif
