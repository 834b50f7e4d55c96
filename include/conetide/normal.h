/*
 * normal.h - the standard normal distribution.
 */
#ifndef CONETIDE_NORMAL_H
#define CONETIDE_NORMAL_H

/* Phi(z), accurate in both tails (through erfc). */
double conetide_normal_cumulative(double z);

#endif
