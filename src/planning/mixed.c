#include "planning/mixed.h"

#include "conetide/normal.h"

#include <math.h>

enum { ROUNDS_MOST = 2000 };
static const double still = 1e-6; /* of the spread */

/* Mean and variance of a standard normal value within bounds. */
struct moments {
    double mean, variance;
};

static double density(double z)
{
    return isinf(z) ? 0 : 0.39894228040143267794 * exp(-z * z / 2);
}

static double times_density(double z)
{
    return isinf(z) ? 0 : z * density(z);
}

static struct moments moments_between(double low, double high)
{
    double chance, mean, variance;

    if (low > 0) { /* the tail in which digits are kept */
        struct moments turned = moments_between(-high, -low);

        return (struct moments){-turned.mean, turned.variance};
    }
    if (high - low < 1e-3) /* flat within: rounding would drown it below */
        return (struct moments){(low + high) / 2, (high - low) * (high - low) / 12};
    chance = conetide_normal_cumulative(high) - conetide_normal_cumulative(low);
    if (!(chance > 1e-300)) /* far out: all of it is at the near bound */
        return (struct moments){high, 0};
    mean = (density(low) - density(high)) / chance;
    variance = 1 + (times_density(low) - times_density(high)) / chance - mean * mean;
    return (struct moments){mean, variance > 0 ? variance : 0};
}

struct part {
    double *value, *variance; /* of each season or selection */
    double *total;            /* for one round */
    size_t *count;
    size_t n;
};

struct making {
    const struct mixed_task *task;
    struct mixed *mixed;
    struct part season, selection;
    double *variance; /* [n] of each value within its bounds */
    double moved;     /* the farthest of this round */
};

static struct part part_of(size_t n, double *value, struct arena *arena)
{
    return (struct part){value, ARENA_ARRAY(arena, n, double), ARENA_ARRAY(arena, n, double),
                         ARENA_ARRAY(arena, n, size_t), n};
}

static bool says_something(const struct mixed_value *value)
{
    return !(isinf(value->bounds.lower) && isinf(value->bounds.upper));
}

static double selection_of(const struct making *making, const struct mixed_value *value)
{
    return value->selection == MIXED_NONE ? 0 : making->selection.value[value->selection];
}

static double expected_of(const struct making *making, const struct mixed_value *value)
{
    return making->mixed->mean + making->season.value[value->season] + selection_of(making, value);
}

/* Where each value is to be expected within its bounds. */
static void expect(struct making *making)
{
    const struct mixed_task *task = making->task;
    double sd = making->mixed->spread_sd;

    for (size_t i = 0; i < task->n; i++) {
        const struct mixed_value *value = &task->values[i];
        double at = expected_of(making, value);
        struct moments moments =
            moments_between((value->bounds.lower - at) / sd, (value->bounds.upper - at) / sd);

        making->mixed->expected[i] = at + sd * moments.mean;
        making->variance[i] = sd * sd * moments.variance;
    }
}

static void begin(struct part *part)
{
    for (size_t i = 0; i < part->n; i++) {
        part->total[i] = 0;
        part->count[i] = 0;
    }
}

/* Each member drawn toward 0 by the variance of its kind. */
static void settle(struct making *making, struct part *part, double kind_sd)
{
    double spread = making->mixed->spread_sd * making->mixed->spread_sd;

    for (size_t i = 0; i < part->n; i++) {
        double weight = (double)part->count[i] / spread + 1 / (kind_sd * kind_sd);
        double value = part->count[i] > 0 ? part->total[i] / spread / weight : 0;

        making->moved = fmax(making->moved, fabs(value - part->value[i]));
        part->value[i] = value;
        part->variance[i] = 1 / weight;
    }
}

static void settle_seasons(struct making *making)
{
    const struct mixed_task *task = making->task;
    struct part *part = &making->season;

    begin(part);
    for (size_t i = 0; i < task->n; i++) {
        const struct mixed_value *value = &task->values[i];

        if (!says_something(value))
            continue;
        part->total[value->season] +=
            making->mixed->expected[i] - making->mixed->mean - selection_of(making, value);
        part->count[value->season]++;
    }
    settle(making, part, making->mixed->season_sd);
}

static void settle_selections(struct making *making)
{
    const struct mixed_task *task = making->task;
    struct part *part = &making->selection;

    begin(part);
    for (size_t i = 0; i < task->n; i++) {
        const struct mixed_value *value = &task->values[i];

        if (!says_something(value) || value->selection == MIXED_NONE)
            continue;
        part->total[value->selection] +=
            making->mixed->expected[i] - making->mixed->mean - making->season.value[value->season];
        part->count[value->selection]++;
    }
    settle(making, part, making->mixed->selection_sd);
}

/* What members share belongs to the mean: every season has one vote, whatever its grafts. */
static void centre(struct making *making, struct part *part)
{
    double total = 0;
    size_t count = 0;

    for (size_t i = 0; i < part->n; i++) {
        total += part->count[i] > 0 ? part->value[i] : 0;
        count += part->count[i] > 0;
    }
    if (count == 0)
        return;
    making->mixed->mean += total / (double)count;
    for (size_t i = 0; i < part->n; i++)
        part->value[i] -= part->count[i] > 0 ? total / (double)count : 0;
}

static double kind_sd_of(const struct part *part, double prior_sd)
{
    double squares = MIXED_PRIOR_WORTH * prior_sd * prior_sd;
    size_t count = 0;

    if (isinf(prior_sd))
        return prior_sd;
    for (size_t i = 0; i < part->n; i++) {
        if (part->count[i] == 0)
            continue;
        squares += part->value[i] * part->value[i] + part->variance[i];
        count++;
    }
    return sqrt(squares / (double)(MIXED_PRIOR_WORTH + count));
}

static double spread_sd_of(const struct making *making)
{
    const struct mixed_task *task = making->task;
    double squares = MIXED_PRIOR_WORTH * task->prior.spread_sd * task->prior.spread_sd;
    size_t count = 0;

    for (size_t i = 0; i < task->n; i++) {
        const struct mixed_value *value = &task->values[i];
        double off = making->mixed->expected[i] - expected_of(making, value);

        if (!says_something(value))
            continue;
        squares += off * off + making->variance[i] + making->season.variance[value->season];
        if (value->selection != MIXED_NONE)
            squares += making->selection.variance[value->selection];
        count++;
    }
    return sqrt(squares / (double)(MIXED_PRIOR_WORTH + count));
}

/* Begin in the middle of the bounds: every season at the mean of its own. */
static void begin_in_the_middle(struct making *making)
{
    const struct mixed_task *task = making->task;
    double mean = 0;
    size_t count = 0;

    for (size_t i = 0; i < task->n; i++) {
        struct conetide_bounds bounds = task->values[i].bounds;
        bool lower = isfinite(bounds.lower), upper = isfinite(bounds.upper);
        double middle = lower && upper ? (bounds.lower + bounds.upper) / 2
                                       : (lower ? bounds.lower : bounds.upper);

        making->mixed->expected[i] = middle;
        if (!lower && !upper)
            continue;
        mean += (middle - mean) / (double)++count;
    }
    making->mixed->mean = mean;
    settle_seasons(making);
}

struct mixed mixed_fit(const struct mixed_task *task, struct arena *arena)
{
    struct mixed mixed = {
        .season = ARENA_ARRAY(arena, task->seasons, double),
        .selection = ARENA_ARRAY(arena, task->selections, double),
        .selection_error = ARENA_ARRAY(arena, task->selections, double),
        .expected = ARENA_ARRAY(arena, task->n, double),
        .season_sd = task->prior.season_sd,
        .selection_sd = task->prior.selection_sd,
        .spread_sd = task->prior.spread_sd,
    };
    struct making making = {.task = task,
                            .mixed = &mixed,
                            .season = part_of(task->seasons, mixed.season, arena),
                            .selection = part_of(task->selections, mixed.selection, arena),
                            .variance = ARENA_ARRAY(arena, task->n, double)};

    begin_in_the_middle(&making);
    for (int round = 0; round < ROUNDS_MOST; round++) {
        making.moved = 0;
        expect(&making);
        settle_seasons(&making);
        settle_selections(&making);
        centre(&making, &making.season);
        centre(&making, &making.selection);
        mixed.spread_sd = spread_sd_of(&making);
        mixed.season_sd = kind_sd_of(&making.season, task->prior.season_sd);
        mixed.selection_sd = kind_sd_of(&making.selection, task->prior.selection_sd);
        if (making.moved < still * mixed.spread_sd)
            break;
    }
    for (size_t i = 0; i < task->seasons; i++)
        mixed.season[i] = making.season.count[i] > 0 ? mixed.season[i] : (double)NAN;
    for (size_t i = 0; i < task->selections; i++)
        mixed.selection_error[i] = sqrt(making.selection.variance[i]);
    return mixed;
}
