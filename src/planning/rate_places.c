/*
 * rate_places.c - bags_per_graft: how many bags nine grafts of ten stay within.
 *
 * The rate is a limit, not a mean: a group's shares of grafts with 1, 2, 3 ... bags are mixed with
 * those of the level above, which count as RATE_SHIPPED_WORTH grafts.
 */
#include "planning/rate_levels.h"

#include <math.h>

enum { PLACES = 64 };
static const double within = 0.9; /* own choice */

static size_t place_of(double bags)
{
    return bags < PLACES - 1 ? (size_t)bags : PLACES - 1;
}

/* The first number of bags that at least `share` of the grafts stay within. */
static double stays_within(const double *shares, double share)
{
    double total = shares[0];
    size_t bags = 0;

    while (bags < PLACES - 1 && total < share - 1e-9)
        total += shares[++bags];
    return (double)bags;
}

/* The mean of what the level above says of the pieces; nothing where there is none. */
static const double *above_of(const struct rate_levels *levels, size_t first, size_t end)
{
    double *shares;

    if (!levels->units[first].places)
        return NULL;
    shares = ARENA_ARRAY(levels->arena, PLACES, double);
    for (size_t i = first; i < end; i++)
        for (size_t bags = 0; bags < PLACES; bags++)
            shares[bags] += levels->units[i].places[bags] / (double)(end - first);
    return shares;
}

static const double *mix(const struct rate_levels *levels, size_t first, size_t end,
                         const double *above)
{
    double *shares = ARENA_ARRAY(levels->arena, PLACES, double);
    double worth = above ? RATE_SHIPPED_WORTH : 0, whole = (double)(end - first) + worth;

    for (size_t i = first; i < end; i++)
        shares[place_of(levels->units[i].piece->counted)] += 1 / whole;
    for (size_t bags = 0; above && bags < PLACES; bags++)
        shares[bags] += above[bags] * worth / whole;
    return shares;
}

/* All grafts have what ships. */
static const double *places_shipped(const struct rate_levels *levels, const struct rate_row *row)
{
    double shipped = rate_shipped(levels->orchard, row);
    double *shares;

    if (isnan(shipped))
        return NULL;
    shares = ARENA_ARRAY(levels->arena, PLACES, double);
    shares[place_of(shipped)] = 1;
    return shares;
}

static void take_group(struct rate_levels *levels, enum rate_level level, size_t first, size_t end)
{
    struct rate_row row = rate_row_of(levels, level, first, end);
    const double *shares, *above;
    double value;

    if (row.pieces < RATE_SEEN_LEAST) {
        levels->fit->little_seen++;
        return;
    }
    above = level == RATE_LEVEL_SEASON_NUMBER ? places_shipped(levels, &row)
                                              : above_of(levels, first, end);
    if (level != RATE_LEVEL_SEASON_NUMBER && above)
        row.above = stays_within(above, within);
    shares = mix(levels, first, end, above);
    value = stays_within(shares, within);
    if (value == row.above && !rate_row_with_cells(levels->orchard, &row, true) &&
        !rate_row_with_cells(levels->orchard, &row, false))
        return;
    row.low = stays_within(shares, RATE_OUTSIDE / 2);
    row.high = value;
    for (size_t i = first; i < end; i++) {
        row.high = fmax(row.high, levels->units[i].piece->counted);
        levels->units[i].places = shares;
    }
    rate_add_row(levels, &row, value);
}

void rate_fit_places(struct rate_levels *levels)
{
    for (int level = RATE_LEVEL_SEASON_NUMBER; level < RATE_LEVELS; level++)
        for (size_t i = rate_sort_level(levels, level), end; i < levels->count; i = end) {
            end = rate_group_end(levels, i);
            take_group(levels, (enum rate_level)level, i, end);
        }
}
