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

enum { STEPS_MOST = 50000, STEPS_BETWEEN = 8, HALVINGS = 32 };
static const double EXACT = 1e-9;

struct solving {
    const struct shares_problem *problem;
    double *given;    /* [field count] what each parent gives of all gametes */
    double *slope;    /* [field count] change of the merit with it */
    double *gradient; /* [pairs] */
    double *ahead, *next;
    double step;
};

/* To the nearest shares that add up to 1 (Michelot 1986, from memory): the level that is taken off
 * rises as those below it drop out; rounding must not bring one back. */
static void project(double *shares, size_t count)
{
    double level = -INFINITY;

    for (size_t left = count + 1;;) {
        double sum = 0;
        size_t above = 0;

        for (size_t i = 0; i < count; i++)
            if (shares[i] > level) {
                sum += shares[i];
                above++;
            }
        if (above == 0 || above >= left)
            break;
        left = above;
        level = (sum - 1) / (double)above;
    }
    for (size_t i = 0; i < count; i++)
        shares[i] = fmax(shares[i] - level, 0);
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
    double most = -INFINITY, here = 0;

    see_gradient(solving, shares);
    for (size_t i = 0; i < problem->count; i++) {
        here += shares[i] * solving->gradient[i];
        most = fmax(most, solving->gradient[i]);
    }
    return most - here;
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
    project(solving->next, problem->count);
    for (size_t i = 0; i < problem->count; i++)
        back += (solving->ahead[i] - solving->next[i]) * (solving->next[i] - shares[i]);
    return back > 0;
}

/* How far the breeding values lie apart, which come in any unit. */
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
    return high > low ? high - low : 1;
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
    double enough = EXACT * (scale_of(problem) + problem->weight / 2), momentum = 1, lacks;

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

/* The status number of the parents of crosses in the best shares. */
static double status_number_at(const struct shares_problem *problem, double weight)
{
    const struct field *field = problem->field;
    struct shares_problem asked = *problem;
    double *shares = ARENA_ARRAY(field->arena, problem->count, double);
    double *given = ARENA_ARRAY(field->arena, field->count, double), akin = 0;

    asked.weight = weight;
    (void)shares_solve(&asked, shares);
    for (size_t i = 0; i < problem->count; i++) {
        given[problem->pairs[i].seed] += shares[i] / 2;
        given[problem->pairs[i].pollen] += shares[i] / 2;
    }
    for (size_t i = 0; i < field->count; i++)
        for (size_t j = 0; j < field->count; j++)
            akin += given[i] * given[j] * field_coancestry(field, i, j);
    return pedigree_status_number(akin);
}

double shares_weight_for(const struct shares_problem *problem, double status_number, double *most)
{
    double low = -10, high = 24, scale = scale_of(problem);

    *most = problem->count == 0 ? 0 : status_number_at(problem, scale * exp2(high));
    if (*most < status_number)
        return NAN;
    for (int halving = 0; halving < HALVINGS; halving++) {
        double middle = (low + high) / 2;
        bool more = status_number_at(problem, scale * exp2(middle)) >= status_number;

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
