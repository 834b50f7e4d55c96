#include "planning/most_grafted.h"

#include <stdbool.h>
#include <string.h>

struct tally {
    const char *species;
    size_t grafts;
};

static const char *species_of(const struct graft *graft)
{
    return graft->selection != NULL ? graft->selection->species : graft->tree->species;
}

static bool is_more(const struct tally *one, const struct tally *other)
{
    if (one->grafts != other->grafts)
        return one->grafts > other->grafts;
    return strcmp(one->species, other->species) < 0;
}

const char *most_grafted_species(const struct orchard *orchard, const struct site *site,
                                 struct arena *arena)
{
    struct tally *tallies = NULL;
    size_t count = 0, capacity = 0, most = 0;

    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];
        const char *species;
        size_t at = 0;

        if (graft->tree == NULL || graft->tree->site != site)
            continue;
        species = species_of(graft);
        if (species == NULL)
            continue;
        while (at < count && strcmp(tallies[at].species, species) != 0)
            at++;
        if (at == count)
            *ARENA_PUSH(arena, tallies, count, capacity) = (struct tally){species, 0};
        tallies[at].grafts++;
    }
    for (size_t i = 1; i < count; i++) {
        if (is_more(&tallies[i], &tallies[most]))
            most = i;
    }
    return count > 0 ? tallies[most].species : NULL;
}
