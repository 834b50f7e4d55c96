#include "planning/places.h"

#include <string.h>

#define CHANCE_TOLERANCE 1e-12

struct places places_none(struct arena *arena, size_t wanted)
{
    struct places places = {.wanted = wanted, .chance = ARENA_ARRAY(arena, wanted + 1, double)};

    places.chance[0] = 1;
    return places;
}

static struct places copy_of(const struct places *places, struct arena *arena)
{
    struct places copy = places_none(arena, places->wanted);

    memcpy(copy.chance, places->chance, (places->wanted + 1) * sizeof *copy.chance);
    return copy;
}

/* What a graft does: nothing, bears in one of the springs, or in both. */
enum { FATES = 4 };
struct fate {
    double chance;
    size_t places;
};

static size_t not_negative(int places)
{
    return places > 0 ? (size_t)places : 0;
}

static void take_fates(const struct bearer *bearer, struct fate fates[FATES])
{
    double a = bearer->chance[0], b = bearer->chance[1], both = a < b ? a : b;
    size_t first = not_negative(bearer->places[0]), second = not_negative(bearer->places[1]);

    fates[0] = (struct fate){1 - a - b + both, 0};
    fates[1] = (struct fate){a - both, first};
    fates[2] = (struct fate){b - both, second};
    fates[3] = (struct fate){both, first + second};
}

void places_add(struct places *places, const struct bearer *bearer)
{
    struct fate fates[FATES];
    double *chance = places->chance;
    size_t wanted = places->wanted;

    take_fates(bearer, fates);
    /* From the top, so that what is read below has not been written yet. */
    for (size_t k = wanted + 1; k-- > 0;) {
        double sum = 0;

        for (size_t f = 0; f < FATES; f++) {
            size_t more = fates[f].places;

            if (k < wanted) {
                sum += k >= more ? fates[f].chance * chance[k - more] : 0;
                continue;
            }
            for (size_t j = wanted > more ? wanted - more : 0; j <= wanted; j++)
                sum += fates[f].chance * chance[j];
        }
        chance[k] = sum;
    }
}

double places_enough(const struct places *places)
{
    return places->chance[places->wanted];
}

double places_enough_with(const struct places *standing, const struct bearer *bearer, int64_t count,
                          struct arena *arena)
{
    struct places places = copy_of(standing, arena);

    for (int64_t i = 0; i < count; i++)
        places_add(&places, bearer);
    return places_enough(&places);
}

int64_t places_grafts_needed(const struct places *standing, const struct bearer *bearer,
                             double chance, struct arena *arena)
{
    struct places places = copy_of(standing, arena);

    for (int64_t grafts = 0; grafts <= PLACES_GRAFTS_MOST; grafts++) {
        if (places_enough(&places) >= chance - CHANCE_TOLERANCE)
            return grafts;
        places_add(&places, bearer);
    }
    return -1;
}
