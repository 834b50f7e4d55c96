#include "planning/rate_levels.h"

#include "orchard/order.h"
#include "planning/rate_model.h"
#include "planning/rate_range.h"

#include <math.h>

static struct rate_group sum_of(const struct rate_levels *levels, size_t first, size_t end)
{
    struct rate_group group = {.pieces = (double)(end - first), .factor = 1};

    for (size_t i = first; i < end; i++) {
        const struct rate_unit *unit = &levels->units[i];
        double of = unit->piece->of;

        group.counted += unit->piece->counted;
        group.of += of;
        group.expected += of * rate_times(levels->share, unit->above, unit->season_factor);
        group.above += of * unit->above;
        group.above_spread += of * unit->above_spread;
    }
    group.expected /= group.of;
    group.above /= group.of;
    group.above_spread /= group.of;
    return group;
}

/*
 * Pieces scatter about the mean of their like (same season, tree, selection); their variance by
 * that of independent counts, with RATE_SCATTER_WORTH pieces that scatter as these do.  Shares
 * never less.
 */
static double scatter_of(const struct rate_levels *levels, double pooled)
{
    const struct rate_unit *units = levels->units; /* in the order of pieces */
    double squares = 0, degrees = 0, scatter;

    for (size_t i = 0, end; i < levels->count; i = end) {
        const struct rate_subject *a = &units[i].piece->subject;
        double counted = 0, of = 0;

        for (end = i; end < levels->count; end++) {
            const struct rate_subject *b = &units[end].piece->subject;

            if (units[i].piece->season != units[end].piece->season ||
                a->season_number != b->season_number || order_text(a->site, b->site) != 0 ||
                order_text(a->host_species, b->host_species) != 0 ||
                order_text(a->clone, b->clone) != 0 || order_text(a->selection, b->selection) != 0)
                break;
            counted += units[end].piece->counted;
            of += units[end].piece->of;
        }
        for (size_t j = i; j < end; j++) {
            double off = units[j].piece->counted - units[j].piece->of * counted / of;

            squares += off * off / units[j].piece->of;
        }
        degrees += (double)(end - i - 1);
    }
    scatter = (squares / (levels->share ? pooled * (1 - pooled) : pooled) + RATE_SCATTER_WORTH) /
              (degrees + RATE_SCATTER_WORTH);
    return levels->share && scatter < 1 ? 1 : scatter;
}

static double pooled_rate(const struct rate_levels *levels)
{
    double counted = 0, of = 0;

    for (size_t i = 0; i < levels->count; i++) {
        counted += levels->units[i].piece->counted;
        of += levels->units[i].piece->of;
    }
    return rate_held(levels->share, counted / of);
}

static void set_range(const struct rate_levels *levels, const struct rate_group *group,
                      struct rate_row *row)
{
    double unit = rate_unit(levels->share, group->value);
    double variance = unit * unit * (group->spread + levels->season_spread);
    struct rate_range range = levels->share
                                  ? rate_beta_range(group->value, variance, RATE_OUTSIDE)
                                  : rate_gamma_range(group->value, variance, RATE_OUTSIDE);

    row->low = range.low;
    row->high = range.high;
}

/* Does a group make a row?  Where a row of its cells stands already, it would go on to hold. */
static bool is_told(struct rate_levels *levels, const struct rate_row *row,
                    const struct rate_group *group)
{
    double moved = fabs(group->value - group->above);
    double unit = rate_unit(levels->share, group->value);

    if (levels->each_clone && row->level != RATE_LEVEL_SITE)
        return true;
    if (row->pieces < RATE_SEEN_LEAST) {
        levels->fit->little_seen++;
        return false;
    }
    return isnan(group->above) ||
           (levels->apart && moved >= RATE_MOVED_LEAST * unit * sqrt(group->spread)) ||
           rate_row_with_cells(levels->orchard, row, true) ||
           rate_row_with_cells(levels->orchard, row, false);
}

static void take_group(struct rate_levels *levels, enum rate_level level, size_t first, size_t end,
                       const struct rate_group *group)
{
    struct rate_row row = rate_row_of(levels, level, first, end);

    row.above = group->above;
    if (!is_told(levels, &row, group))
        return;
    set_range(levels, group, &row);
    rate_add_row(levels, &row, group->value);
    for (size_t i = first; i < end; i++) {
        levels->units[i].above = group->value;
        levels->units[i].above_spread = group->spread;
    }
}

/* Toward the shipped rate, which counts as RATE_SHIPPED_WORTH of the things counted. */
static void draw_top(const struct rate_levels *levels, enum rate_level level, size_t first,
                     size_t end, struct rate_group *group)
{
    struct rate_row row = rate_row_of(levels, level, first, end);
    double shipped = rate_shipped(levels->orchard, &row), worth = RATE_SHIPPED_WORTH, whole;

    if (isnan(shipped))
        shipped = worth = 0;
    whole = group->of + worth;
    group->value = rate_held(levels->share, (group->counted + worth * shipped) / whole);
    group->spread = levels->share ? 1 / (whole / levels->scatter + 1)
                                  : levels->scatter / (whole * group->value);
    group->above = NAN;
}

static void fit_top(struct rate_levels *levels)
{
    enum rate_level level = levels->by_number ? RATE_LEVEL_SEASON_NUMBER : RATE_LEVEL_GENERAL;

    for (size_t i = rate_sort_level(levels, level), end; i < levels->count; i = end) {
        struct rate_group group;

        end = rate_group_end(levels, i);
        group = sum_of(levels, i, end);
        draw_top(levels, level, i, end, &group);
        for (size_t j = i; j < end; j++) {
            levels->units[j].above = group.value;
            levels->units[j].above_spread = group.spread;
        }
    }
}

/* Rows of the top come once the spread between seasons is known. */
static void tell_top(struct rate_levels *levels)
{
    enum rate_level level = levels->by_number ? RATE_LEVEL_SEASON_NUMBER : RATE_LEVEL_GENERAL;

    for (size_t i = rate_sort_level(levels, level), end; i < levels->count; i = end) {
        struct rate_group group = {
            .value = levels->units[i].above, .spread = levels->units[i].above_spread, .above = NAN};

        end = rate_group_end(levels, i);
        take_group(levels, level, i, end, &group);
    }
}

/* The groups of the level that units are sorted by; `ends`: of each. */
static struct rate_group *gather_groups(const struct rate_levels *levels, size_t first,
                                        size_t *count, size_t **ends)
{
    struct rate_group *groups = ARENA_ARRAY(levels->arena, levels->count, struct rate_group);

    *ends = ARENA_ARRAY(levels->arena, levels->count, size_t);
    *count = 0;
    for (size_t i = first, end; i < levels->count; i = end) {
        end = rate_group_end(levels, i);
        groups[*count] = sum_of(levels, i, end);
        (*ends)[(*count)++] = end;
    }
    return groups;
}

/*
 * A spread of few degrees of freedom is itself not known: the square of Student's quantile by the
 * normal one, to the first term (Abramowitz and Stegun 1964, 26.7.5), at RATE_OUTSIDE.
 */
static double widened(double degrees)
{
    const double z = 1.2816;
    double wider = 1 + (z * z + 1) / (4 * degrees);

    return wider * wider;
}

/* A bad season is not to be laid to those that were seen in it. */
static void fit_seasons(struct rate_levels *levels)
{
    size_t count, *ends, first = rate_sort_level(levels, RATE_BY_SEASON);
    struct rate_group *groups = gather_groups(levels, first, &count, &ends);
    struct rate_prior prior = {RATE_SEASON_SPREAD, RATE_SPREAD_WORTH, RATE_SEEN_LEAST};
    struct rate_apart apart = rate_apart_of(levels->share, levels->scatter, prior, count, groups);
    double squares = 0, whole = 0;

    for (size_t g = 0, i = first; g < count; g++) {
        rate_draw(levels->share, levels->scatter, &apart, &groups[g]);
        for (; i < ends[g]; i++)
            levels->units[i].season_factor = groups[g].factor;
        squares += groups[g].of * groups[g].of;
        whole += groups[g].of;
    }
    levels->season_spread = apart.spread * widened(apart.degrees) * squares / (whole * whole);
}

static void fit_level(struct rate_levels *levels, enum rate_level level)
{
    size_t count, *ends, first = rate_sort_level(levels, level);
    struct rate_group *groups = gather_groups(levels, first, &count, &ends);
    struct rate_prior prior = {RATE_LEVEL_SPREAD, RATE_SPREAD_WORTH, RATE_SEEN_LEAST};
    struct rate_apart apart = rate_apart_of(levels->share, levels->scatter, prior, count, groups);

    levels->apart = apart.beyond_chance;

    for (size_t g = 0, i = first; g < count; i = ends[g++]) {
        rate_draw(levels->share, levels->scatter, &apart, &groups[g]);
        take_group(levels, level, i, ends[g], &groups[g]);
    }
}

void rate_fit_levels(struct rate_levels *levels)
{
    levels->scatter = scatter_of(levels, pooled_rate(levels));
    fit_top(levels);
    fit_seasons(levels);
    tell_top(levels);
    for (int level = levels->by_number ? RATE_LEVEL_HOST_SPECIES : RATE_LEVEL_SEASON_NUMBER;
         level < RATE_LEVELS; level++)
        fit_level(levels, (enum rate_level)level);
}
