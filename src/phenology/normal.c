/*
 * normal.c - the standard normal distribution.
 *
 * 1 - erf loses every digit in the lower tail; erfc keeps them.
 */
#include "conetide/normal.h"

#include <math.h>

static const double half_root = 0.70710678118654752440; /* sqrt(1/2) */

double conetide_normal_cumulative(double z)
{
    return 0.5 * erfc(-z * half_root);
}
