/*
 * propose_names.c - "S101xS205": names of crosses that are like no other name of crosses.csv, also
 * when blanks, hyphens, case and zeros are not looked at.
 */
#include "base/text.h"
#include "planning/propose_parts.h"

#include <stdlib.h>
#include <string.h>

enum { NAME_BYTES_MOST = 64 }; /* of a name in a table */

struct taken {
    const char **list; /* folded, sorted */
    size_t count;
};

static const char *fold(const char *name, struct arena *arena)
{
    struct text text;

    text_init(&text, arena);
    text_add_folded(&text, name);
    return text.bytes;
}

static int by_bytes(const void *left, const void *right)
{
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

/* How often a folded name is taken, 2 standing for more. */
static int times_taken(const struct taken *taken, const char *folded)
{
    const char **found = bsearch(&folded, taken->list, taken->count, sizeof *taken->list, by_bytes);
    size_t at;

    if (!found)
        return 0;
    at = (size_t)(found - taken->list);
    if (at > 0 && strcmp(taken->list[at - 1], folded) == 0)
        return 2;
    return at + 1 < taken->count && strcmp(taken->list[at + 1], folded) == 0 ? 2 : 1;
}

static const char *plain_name(const struct proposed_cross *cross, struct arena *arena)
{
    const char *name =
        arena_printf(arena, "%sx%s", cross->seed_parent->name, cross->pollen_parent->name);

    return strlen(name) <= NAME_BYTES_MOST ? name : "cross";
}

void propose_name(struct proposal *proposal, const struct orchard *orchard, struct arena *arena)
{
    size_t count = proposal->crosses.count, running = 1;
    struct taken taken = {.count = orchard->crosses.count + count};

    taken.list = ARENA_ARRAY(arena, taken.count, const char *);
    for (size_t i = 0; i < orchard->crosses.count; i++)
        taken.list[i] = fold(orchard->crosses.list[i].name, arena);
    for (size_t i = 0; i < count; i++) {
        proposal->crosses.list[i].name = plain_name(&proposal->crosses.list[i], arena);
        taken.list[orchard->crosses.count + i] = fold(proposal->crosses.list[i].name, arena);
    }
    if (taken.count > 1)
        qsort(taken.list, taken.count, sizeof *taken.list, by_bytes);
    for (size_t i = 0; i < count; i++) {
        struct proposed_cross *cross = &proposal->crosses.list[i];

        if (times_taken(&taken, fold(cross->name, arena)) < 2)
            continue;
        /* Every running number is used once, so that these cannot be alike either. */
        do
            cross->name = arena_printf(arena, "new cross %zu", running++);
        while (times_taken(&taken, fold(cross->name, arena)) > 0);
    }
}
