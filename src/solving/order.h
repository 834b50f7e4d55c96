/*
 * order.h - indices sorted by a key, without the C library's qsort.
 */
#ifndef SOLVING_ORDER_H
#define SOLVING_ORDER_H

#include <stdint.h>

/* Sorts `index` so that key[index[i]] falls; of equal keys the smaller index first.  No NaN. */
void order_falling(int32_t *index, const double *key, int32_t count);

#endif
