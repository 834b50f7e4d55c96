/*
 * rate_groups.c - pieces of one rate sorted into the groups of a level.
 */
#include "orchard/order.h"
#include "planning/rate_levels.h"

#include <math.h>
#include <stdlib.h>

static const char *key_of(const struct rate_unit *unit, int level, struct arena *arena)
{
    const struct rate_subject *subject = &unit->piece->subject;

    switch (level) {
    case RATE_LEVEL_GENERAL:
        return "";
    case RATE_LEVEL_SEASON_NUMBER:
        return subject->season_number == 1 ? "1" : subject->season_number == 2 ? "2" : NULL;
    case RATE_LEVEL_HOST_SPECIES:
        return subject->host_species;
    case RATE_LEVEL_SITE:
        return subject->site;
    case RATE_LEVEL_CLONE:
        return subject->clone;
    case RATE_LEVEL_SELECTION:
        return subject->selection;
    default:
        return arena_printf(arena, "%d", unit->piece->season);
    }
}

static int order_key(const struct rate_unit *a, const struct rate_unit *b)
{
    int order = order_text(a->key, b->key);

    if (order == 0)
        order = order_text(a->host, b->host);
    return order != 0 ? order : a->number - b->number;
}

static int order_unit(const void *left, const void *right)
{
    const struct rate_unit *a = left, *b = right;
    int order = order_key(a, b);

    return order != 0 ? order : order_whole((int64_t)a->index, (int64_t)b->index);
}

/* Where a species decides much, a site is not to hide it. */
static bool names_host(const struct rate_levels *levels, int level)
{
    return levels->by_number && level > RATE_LEVEL_HOST_SPECIES && level < RATE_LEVELS;
}

size_t rate_sort_level(struct rate_levels *levels, int level)
{
    size_t without = 0;

    for (size_t i = 0; i < levels->count; i++) {
        struct rate_unit *unit = &levels->units[i];
        const struct rate_subject *subject = &unit->piece->subject;

        unit->key = key_of(unit, level, levels->arena);
        unit->host = names_host(levels, level) ? subject->host_species : NULL;
        unit->number = levels->by_number && level != RATE_BY_SEASON ? subject->season_number : 0;
    }
    qsort(levels->units, levels->count, sizeof *levels->units, order_unit);
    while (without < levels->count && !levels->units[without].key)
        without++;
    return without;
}

size_t rate_group_end(const struct rate_levels *levels, size_t first)
{
    size_t end = first + 1;

    while (end < levels->count && order_key(&levels->units[first], &levels->units[end]) == 0)
        end++;
    return end;
}

struct rate_row rate_row_of(const struct rate_levels *levels, enum rate_level level, size_t first,
                            size_t end)
{
    const struct rate_unit *units = levels->units;
    const struct rate_subject *subject = &units[first].piece->subject;
    struct rate_row row = {.kind = levels->kind,
                           .level = level,
                           .rate = levels->rate,
                           .low = NAN,
                           .high = NAN,
                           .above = NAN,
                           .pieces = end - first,
                           .first_season = units[first].piece->season,
                           .last_season = units[first].piece->season};

    if (levels->by_number || level == RATE_LEVEL_SEASON_NUMBER)
        row.cells.season_number = subject->season_number;
    if (level == RATE_LEVEL_HOST_SPECIES || names_host(levels, (int)level))
        row.cells.host_species = subject->host_species;
    if (level == RATE_LEVEL_SITE)
        row.cells.site = subject->site;
    if (level == RATE_LEVEL_CLONE)
        row.cells.clone = subject->clone;
    if (level == RATE_LEVEL_SELECTION)
        row.cells.selection = subject->selection;
    for (size_t i = first; i < end; i++) {
        int season = units[i].piece->season;

        row.seen += units[i].piece->of;
        row.first_season = season < row.first_season ? season : row.first_season;
        row.last_season = season > row.last_season ? season : row.last_season;
    }
    return row;
}
