/*
 * propose_choice.c - at most so many crosses a parent.
 *
 * The highest cross value first, which mates like with like.  That can leave good parents short at
 * the end; then one cross a x b is exchanged for u x a and v x b as long as u and v lack crosses.
 */
#include "planning/propose_parts.h"

#include <math.h>
#include <stdlib.h>

enum { NO_EDGE = -1 };

struct edge {
    struct pairing pair;
    double value, coancestry;
    bool chosen;
};

struct choice {
    const struct field *field;
    struct edge *edges;
    size_t count, most_each;
    int *edge_of;   /* [field count squared], either way round */
    size_t *chosen; /* [field count] crosses of each parent */
};

static int by_value(const void *left, const void *right)
{
    const struct edge *a = left, *b = right;
    bool a_known = !isnan(a->value), b_known = !isnan(b->value);

    if (a_known != b_known)
        return a_known ? -1 : 1;
    if (a_known && a->value != b->value)
        return a->value > b->value ? -1 : 1;
    if (a->coancestry != b->coancestry)
        return a->coancestry < b->coancestry ? -1 : 1;
    if (a->pair.seed != b->pair.seed)
        return a->pair.seed < b->pair.seed ? -1 : 1;
    return (a->pair.pollen > b->pair.pollen) - (a->pair.pollen < b->pair.pollen);
}

static void set_chosen(struct choice *choice, struct edge *edge, bool chosen)
{
    edge->chosen = chosen;
    choice->chosen[edge->pair.seed] += chosen ? 1 : (size_t)-1;
    choice->chosen[edge->pair.pollen] += chosen ? 1 : (size_t)-1;
}

/* The allowed cross of two parents that is not chosen yet, or NULL. */
static struct edge *free_edge(const struct choice *choice, size_t a, size_t b)
{
    int at = choice->edge_of[a * choice->field->count + b];

    return at == NO_EDGE || choice->edges[at].chosen ? NULL : &choice->edges[at];
}

/* Exchange one chosen cross for two that take in u and v, which lack one each. */
static bool exchange(struct choice *choice, size_t u, size_t v)
{
    for (size_t i = 0; i < choice->count; i++) {
        struct edge *out = &choice->edges[i];

        for (int turn = 0; turn < 2 && out->chosen; turn++) {
            size_t a = turn ? out->pair.pollen : out->pair.seed;
            size_t b = turn ? out->pair.seed : out->pair.pollen;
            struct edge *one = free_edge(choice, u, a), *two = free_edge(choice, v, b);

            if (!one || !two || one == two)
                continue;
            set_chosen(choice, out, false);
            set_chosen(choice, one, true);
            set_chosen(choice, two, true);
            return true;
        }
    }
    return false;
}

static bool exchange_once(struct choice *choice)
{
    for (size_t u = 0; u < choice->field->count; u++)
        for (size_t v = u; v < choice->field->count; v++) {
            size_t lack = u == v ? 2 : 1;

            if (choice->chosen[u] + lack <= choice->most_each &&
                choice->chosen[v] + lack <= choice->most_each && exchange(choice, u, v))
                return true;
        }
    return false;
}

/* No parent has more than it may or can; seed and pollen parents that are two sets meet. */
static size_t crosses_most(const struct choice *choice)
{
    const struct field *field = choice->field;
    size_t *can = ARENA_ARRAY(field->arena, field->count, size_t);
    size_t seeds = 0, pollens = 0;
    bool two_sets = field->request->design == PROPOSE_FACTORIAL;

    for (size_t i = 0; i < choice->count; i++) {
        can[choice->edges[i].pair.seed]++;
        can[choice->edges[i].pair.pollen]++;
    }
    for (size_t i = 0; i < field->count; i++) {
        size_t has = can[i] < choice->most_each ? can[i] : choice->most_each;

        two_sets = two_sets && !(field->as_seed[i] && field->as_pollen[i]);
        *(field->as_seed[i] ? &seeds : &pollens) += has;
    }
    if (two_sets)
        return seeds < pollens ? seeds : pollens;
    return (seeds + pollens) / 2;
}

void design_choose(const struct field *field, const struct pairings *allowed, size_t most_each,
                   struct arrangement *arrangement)
{
    struct choice choice = {
        .field = field,
        .edges = ARENA_ARRAY(field->arena, allowed->count, struct edge),
        .count = allowed->count,
        .most_each = most_each,
        .edge_of = ARENA_ARRAY(field->arena, field->count * field->count, int),
        .chosen = ARENA_ARRAY(field->arena, field->count, size_t),
    };

    for (size_t i = 0; i < allowed->count; i++) {
        struct pairing pair = allowed->list[i];

        choice.edges[i] = (struct edge){
            .pair = pair,
            .value = (field->parents[pair.seed].breeding_value +
                      field->parents[pair.pollen].breeding_value) /
                     2,
            .coancestry = field_coancestry(field, pair.seed, pair.pollen),
        };
    }
    if (allowed->count > 1)
        qsort(choice.edges, allowed->count, sizeof *choice.edges, by_value);
    for (size_t i = 0; i < field->count * field->count; i++)
        choice.edge_of[i] = NO_EDGE;
    for (size_t i = 0; i < allowed->count; i++) {
        struct edge *edge = &choice.edges[i];
        size_t a = edge->pair.seed, b = edge->pair.pollen;

        choice.edge_of[a * field->count + b] = choice.edge_of[b * field->count + a] = (int)i;
        if (choice.chosen[a] < most_each && choice.chosen[b] < most_each)
            set_chosen(&choice, edge, true);
    }
    while (exchange_once(&choice))
        ;
    arrangement->most = crosses_most(&choice);
    for (size_t i = 0; i < allowed->count; i++) {
        if (choice.edges[i].chosen)
            *ARENA_PUSH(field->arena, arrangement->wanted.list, arrangement->wanted.count,
                        arrangement->wanted.capacity) = choice.edges[i].pair;
        else
            arrangement->not_chosen++;
    }
}
