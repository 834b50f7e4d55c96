/*
 * quantile.h - sample quantiles of Hyndman & Fan (1996), types 1 to 9.
 */
#ifndef CONETIDE_QUANTILE_H
#define CONETIDE_QUANTILE_H

#include "conetide/status.h"

#include <stddef.h>

/* `sorted`[n] ascending, n >= 1, no NaN (infinities allowed); 0 <= p <= 1. Type 8 is advised for
 * dates: median-unbiased whatever the distribution. */
enum conetide_status conetide_quantile(int type, size_t n, const double *sorted, double p,
                                       double *value) __attribute__((warn_unused_result));

#endif
