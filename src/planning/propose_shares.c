/*
 * propose_shares.c - the shares of seed that weigh gain against kinship.
 *
 * The merit, mean breeding value less weight x group coancestry (Lindgren and Mullin 1997, from
 * memory), is concave, for a coancestry matrix has no negative eigenvalue; so what no small change
 * betters is the best there is.  Projected gradients with momentum, begun afresh where it
 * overshoots (Beck and Teboulle 2009; O'Donoghue and Candes 2015, both from memory).  The best that
 * the gradient promises anywhere, less what it gives here, bounds what is still missing (Frank and
 * Wolfe 1956, from memory).
 */
#include "planning/propose_parts.h"

#include <math.h>
#include <stdlib.h>

enum { STEPS_MOST = 50000, STEPS_BETWEEN = 8, HALVINGS = 80, WEIGHT_HALVINGS = 40 };
static const double EXACT = 1e-9;

struct solving {
    const struct shares_problem *problem;
    double *given;    /* [field count] what each parent gives of all gametes */
    double *slope;    /* [field count] change of the merit with it */
    double *gradient; /* [pairs] */
    double *ahead, *next;
    double step;
};

static double clamp(double value, double most)
{
    return value < 0 ? 0 : value > most ? most : value;
}

/* To the nearest shares that add up to 1 and are none of them over `most`. */
static void project(double *shares, size_t count, double most)
{
    double low = INFINITY, high = -INFINITY, sum_free = 0, sum_most = 0;
    size_t free_count = 0;

    for (size_t i = 0; i < count; i++) {
        low = fmin(low, shares[i] - 1);
        high = fmax(high, shares[i]);
    }
    for (int halving = 0; halving < HALVINGS; halving++) {
        double level = low + (high - low) / 2, sum = 0;

        for (size_t i = 0; i < count; i++)
            sum += clamp(shares[i] - level, most);
        *(sum > 1 ? &low : &high) = level;
    }
    for (size_t i = 0; i < count; i++) {
        double share = shares[i] - high;

        if (share >= most)
            sum_most += most;
        else if (share > 0) {
            sum_free += shares[i];
            free_count++;
        }
    }
    if (free_count > 0) /* the level that is exact for those that are free */
        high = (sum_free + sum_most - 1) / (double)free_count;
    for (size_t i = 0; i < count; i++)
        shares[i] = clamp(shares[i] - high, most);
}

static void see_gradient(struct solving *solving, const double *shares)
{
    const struct shares_problem *problem = solving->problem;
    const struct field *field = problem->field;

    for (size_t i = 0; i < field->count; i++)
        solving->given[i] = 0;
    for (size_t i = 0; i < problem->count; i++) {
        solving->given[problem->pairs[i].seed] += shares[i] / 2;
        solving->given[problem->pairs[i].pollen] += shares[i] / 2;
    }
    for (size_t i = 0; i < field->count; i++) {
        double akin = 0;

        for (size_t j = 0; j < field->count; j++)
            if (solving->given[j] != 0)
                akin += solving->given[j] * field_coancestry(field, i, j);
        solving->slope[i] = field->parents[i].breeding_value - 2 * problem->weight * akin;
    }
    for (size_t i = 0; i < problem->count; i++)
        solving->gradient[i] =
            (solving->slope[problem->pairs[i].seed] + solving->slope[problem->pairs[i].pollen]) / 2;
}

/* How much more merit there may be than with these shares. */
static double missing(struct solving *solving, const double *shares)
{
    const struct shares_problem *problem = solving->problem;
    double first = -INFINITY, second = -INFINITY, here = 0;

    see_gradient(solving, shares);
    for (size_t i = 0; i < problem->count; i++) {
        double slope = solving->gradient[i];

        here += shares[i] * slope;
        second = fmax(second, fmin(first, slope));
        first = fmax(first, slope);
    }
    return (problem->most < 1 ? (first + second) / 2 : first) - here;
}

/* A step that no curvature of the merit can make too long. */
static double safe_step(const struct shares_problem *problem)
{
    const struct field *field = problem->field;
    double *degree = ARENA_ARRAY(field->arena, field->count, double);
    double akin_most = 0, degree_most = 0;

    for (size_t i = 0; i < problem->count; i++) {
        degree[problem->pairs[i].seed] += 0.5;
        degree[problem->pairs[i].pollen] += 0.5;
    }
    for (size_t i = 0; i < field->count; i++) {
        double akin = 0;

        for (size_t j = 0; j < field->count; j++)
            akin += field_coancestry(field, i, j);
        akin_most = fmax(akin_most, akin);
        degree_most = fmax(degree_most, degree[i]);
    }
    return 1 / (2 * problem->weight * akin_most * degree_most);
}

/* One step from `ahead` to `next`; true: it went back on the last, so momentum must start anew. */
static bool step(struct solving *solving, const double *shares)
{
    const struct shares_problem *problem = solving->problem;
    double back = 0;

    see_gradient(solving, solving->ahead);
    for (size_t i = 0; i < problem->count; i++)
        solving->next[i] = solving->ahead[i] + solving->step * solving->gradient[i];
    project(solving->next, problem->count, problem->most);
    for (size_t i = 0; i < problem->count; i++)
        back += (solving->ahead[i] - solving->next[i]) * (solving->next[i] - shares[i]);
    return back > 0;
}

/* What is small for this problem: values and weights come in any unit. */
static double scale_of(const struct shares_problem *problem)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < problem->count; i++) {
        size_t members[2] = {problem->pairs[i].seed, problem->pairs[i].pollen};

        for (int side = 0; side < 2; side++) {
            double value = problem->field->parents[members[side]].breeding_value;

            low = fmin(low, value);
            high = fmax(high, value);
        }
    }
    return high - low + problem->weight / 2;
}

double shares_solve(const struct shares_problem *problem, double *shares)
{
    struct arena *arena = problem->field->arena;
    size_t count = problem->count;
    struct solving solving = {
        .problem = problem,
        .given = ARENA_ARRAY(arena, problem->field->count, double),
        .slope = ARENA_ARRAY(arena, problem->field->count, double),
        .gradient = ARENA_ARRAY(arena, count, double),
        .ahead = ARENA_ARRAY(arena, count, double),
        .next = ARENA_ARRAY(arena, count, double),
        .step = safe_step(problem),
    };
    double enough = EXACT * scale_of(problem), momentum = 1, lacks;

    for (size_t i = 0; i < count; i++)
        shares[i] = solving.ahead[i] = 1 / (double)count;
    lacks = missing(&solving, shares);
    for (int steps = 1; steps <= STEPS_MOST && lacks > enough; steps++) {
        bool overshot = step(&solving, shares);
        double last = overshot ? 1 : momentum;
        double carry;

        momentum = (1 + sqrt(1 + 4 * last * last)) / 2;
        carry = overshot ? 0 : (last - 1) / momentum;
        for (size_t i = 0; i < count; i++) {
            solving.ahead[i] = solving.next[i] + carry * (solving.next[i] - shares[i]);
            shares[i] = solving.next[i];
        }
        if (steps % STEPS_BETWEEN == 0)
            lacks = missing(&solving, shares);
    }
    return fmax(lacks, 0);
}

static double status_number_at(const struct field *field, const struct pairing *alone, size_t count,
                               double weight)
{
    const struct shares_problem problem = {field, alone, count, weight, 0.5};
    double *shares = ARENA_ARRAY(field->arena, count, double), akin = 0;

    (void)shares_solve(&problem, shares);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++)
            akin += shares[i] * shares[j] * field_coancestry(field, alone[i].seed, alone[j].seed);
    return pedigree_status_number(akin);
}

double shares_weight_for(const struct field *field, double status_number)
{
    struct pairing *alone = ARENA_ARRAY(field->arena, field->count, struct pairing);
    double low_value = INFINITY, high_value = -INFINITY, scale, low = -10, high = 24;
    size_t count = 0;

    for (size_t i = 0; i < field->count; i++) {
        double value = field->parents[i].breeding_value;

        if (isnan(value))
            continue;
        alone[count++] = (struct pairing){i, i};
        low_value = fmin(low_value, value);
        high_value = fmax(high_value, value);
    }
    scale = high_value > low_value ? high_value - low_value : 1;
    if (count < 2 || status_number_at(field, alone, count, scale * exp2(high)) < status_number)
        return NAN;
    for (int halving = 0; halving < WEIGHT_HALVINGS; halving++) {
        double middle = (low + high) / 2;
        bool more = status_number_at(field, alone, count, scale * exp2(middle)) >= status_number;

        *(more ? &high : &low) = middle;
    }
    return scale * exp2(high);
}

struct remainder {
    double part;
    size_t index;
};

static int largest_first(const void *left, const void *right)
{
    const struct remainder *a = left, *b = right;

    if (a->part != b->part)
        return a->part > b->part ? -1 : 1;
    return (a->index > b->index) - (a->index < b->index);
}

int *shares_round(size_t count, const double *shares, int64_t total, struct arena *arena)
{
    struct remainder *remainders = ARENA_ARRAY(arena, count, struct remainder);
    int *seeds = ARENA_ARRAY(arena, count, int);
    int64_t given = 0;

    for (size_t i = 0; i < count; i++) {
        /* A tiny step up, so that thirds of 300 are 100 each; tiny differences are none. */
        double exact = shares[i] * (double)total, whole = floor(exact + 1e-6);

        seeds[i] = (int)whole;
        given += (int64_t)whole;
        remainders[i] = (struct remainder){floor((exact - whole) * 1e6 + 0.5), i};
    }
    if (count > 1)
        qsort(remainders, count, sizeof *remainders, largest_first);
    for (size_t i = 0; i < count && given < total; i++, given++)
        seeds[remainders[i].index]++;
    return seeds;
}
