/*
 * rate_range.h - the middle of what a share or a mean may be, by its mean and variance.
 */
#ifndef PLANNING_RATE_RANGE_H
#define PLANNING_RATE_RANGE_H

struct rate_range {
    double low, high;
};

/* The chance that a beta variable is at most x; a, b > 0. */
double rate_beta_cumulative(double x, double a, double b);

/* The chance that a gamma variable of scale 1 is at most x; shape > 0. */
double rate_gamma_cumulative(double x, double shape);

/* From the `outside` / 2 quantile to 1 - `outside` / 2 of the beta (gamma) distribution of this
 * mean and variance: 0 < mean (< 1), variance > 0; a beta's variance is held below mean (1 - mean).
 */
struct rate_range rate_beta_range(double mean, double variance, double outside);
struct rate_range rate_gamma_range(double mean, double variance, double outside);

#endif
