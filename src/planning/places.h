/*
 * places.h - how many bag places grafts give, each of them alive or not: the exact distribution.
 */
#ifndef PLANNING_PLACES_H
#define PLANNING_PLACES_H

#include "base/arena.h"

#include <stddef.h>
#include <stdint.h>

/* A graft in two springs, the earlier first: chances to live, 0 to 1, and the bags that it may
 * carry in each when it does.  One that lives in the later spring lived in the earlier, as far as
 * the two chances allow. */
struct bearer {
    double chance[2];
    int places[2];
};

struct places {
    size_t wanted;
    double *chance; /* [wanted + 1]: of so many places; the last: of `wanted` or more */
};

/* No graft yet. */
struct places places_none(struct arena *arena, size_t wanted);

/* One graft more, independent of the others.  Time: `wanted` times four. */
void places_add(struct places *places, const struct bearer *bearer);

/* The chance of all that is wanted. */
double places_enough(const struct places *places);

/* That with `count` such grafts more. */
double places_enough_with(const struct places *standing, const struct bearer *bearer, int64_t count,
                          struct arena *arena);

/* The fewest such grafts with which it is `chance` or more, to 1e-12; -1 when PLACES_GRAFTS_MOST
 * are too few. */
int64_t places_grafts_needed(const struct places *standing, const struct bearer *bearer,
                             double chance, struct arena *arena);
#define PLACES_GRAFTS_MOST 9999

#endif
