/*
 * rate_model.h - groups of pieces drawn toward what the level above expects of them.
 *
 * Shares are beta-binomial, counts gamma-Poisson.  Spreads are relative: the variance of a share p
 * is spread * p (1 - p), that of a mean m is spread * m^2.
 */
#ifndef PLANNING_RATE_MODEL_H
#define PLANNING_RATE_MODEL_H

#include <stdbool.h>
#include <stddef.h>

struct rate_group {
    double counted, of;  /* of > 0 */
    double pieces;       /* how many grafts or bags */
    double expected;     /* rate by the level above, the seasons of its pieces allowed for */
    double above;        /* the same in a season like all */
    double above_spread; /* of what is not known of `above` */
    double value;        /* the rate drawn, in a season like all */
    double spread;       /* of what is not known of it */
    double factor;       /* of the odds (share) or the mean: drawn by expected */
};

/* Standard deviation of one independent thing counted, as the spread's unit. */
double rate_unit(bool share, double rate);

/* The odds of a share, or a mean, by so much. */
double rate_times(bool share, double rate, double factor);

/* Within what can be drawn on: a share off 0 and 1, a mean off 0. */
double rate_held(bool share, double rate);

/* How far the groups of a level lie apart beside what chance explains. */
struct rate_apart {
    double spread;
    double degrees;     /* of freedom, the prior's worth with them */
    bool beyond_chance; /* they differ by a standard deviation more than chance alone would have it
                         */
};

/* What a level's spread is drawn toward. */
struct rate_prior {
    double spread, worth; /* worth: in groups */
    double pieces_least;  /* only groups with so many pieces are asked */
};

/*
 * The moment estimate of DerSimonian and Laird 1986 (from memory), with as many degrees of freedom
 * as groups asked less one, drawn toward the prior; `scatter`: variance of a piece by that of
 * independent counts.
 */
struct rate_apart rate_apart_of(bool share, double scatter, struct rate_prior prior, size_t count,
                                const struct rate_group *groups);

/*
 * Fill in value, spread and factor of a group.  That the level's spread is itself estimated is
 * allowed for as by Morris 1983 (from memory): the more, the fewer the groups and the farther off.
 */
void rate_draw(bool share, double scatter, const struct rate_apart *level,
               struct rate_group *group);

#endif
