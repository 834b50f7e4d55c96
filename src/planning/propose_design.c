/*
 * propose_design.c - mating designs.
 *
 * A ring, a circulant, pairs and groups are patterns of positions; who stands where is free, for
 * every parent gives as much as any other.  It is chosen so that the fewest crosses of the pattern
 * are not allowed, then so that mates are the least akin: from a few orders by breeding value, by
 * exchanging two parents as long as that helps.
 */
#include "planning/propose_parts.h"

#include <math.h>
#include <stdlib.h>

const char *const propose_design_names[PROPOSE_DESIGNS] = {
    [PROPOSE_HALF_DIALLEL] = "half-diallel",
    [PROPOSE_FACTORIAL] = "factorial",
    [PROPOSE_SINGLE_PAIR] = "single-pair",
    [PROPOSE_CIRCULAR] = "circular",
    [PROPOSE_PARTIAL_DIALLEL] = "partial-diallel",
    [PROPOSE_DISCONNECTED_DIALLEL] = "disconnected-half-diallel",
};

enum {
    CROSSES_EACH = 3, /* gain levels off after two or three crosses a parent (Johnson 1998) */
    STRIDES = 6,      /* orders that the search for an arrangement starts from: own choice */
    PASSES_MOST = 200
};
static const double NOT_ALLOWED = 1e6; /* dearer than any kinship */

static int design_crosses_per_parent(const struct propose_request *request)
{
    switch (request->design) {
    case PROPOSE_SINGLE_PAIR:
        return 1;
    case PROPOSE_CIRCULAR:
        return 2;
    case PROPOSE_PARTIAL_DIALLEL:
    case PROPOSE_DISCONNECTED_DIALLEL:
        return request->crosses_per_parent ? request->crosses_per_parent : CROSSES_EACH;
    case PROPOSE_HALF_DIALLEL:
    case PROPOSE_FACTORIAL:
    case PROPOSE_DESIGNS:
        break;
    }
    return request->crosses_per_parent;
}

static void add(const struct field *field, struct pairings *pairs, size_t a, size_t b)
{
    *ARENA_PUSH(field->arena, pairs->list, pairs->count, pairs->capacity) = (struct pairing){a, b};
}

/* ---- patterns ------------------------------------------------------------------------------- */

/* Every position i with i + first .. i + count - first around the circle. */
static void add_circulant(const struct field *field, size_t count, size_t first,
                          struct pairings *pattern)
{
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + first; j < count && j - i <= count - first; j++)
            add(field, pattern, i, j);
}

static void add_ring(const struct field *field, size_t count, struct pairings *pattern)
{
    for (size_t i = 0; i < count; i++)
        add(field, pattern, i, (i + 1) % count);
}

/* Groups of at most `size`, as even as can be. */
static void add_groups(const struct field *field, size_t count, size_t size,
                       struct pairings *pattern)
{
    size_t groups = (count + size - 1) / size, first = 0;

    for (size_t group = 0; group < groups; group++) {
        size_t end = first + count / groups + (group < count % groups);

        for (size_t i = first; i < end; i++)
            for (size_t j = i + 1; j < end; j++)
                add(field, pattern, i, j);
        first = end;
    }
}

static const char *no_circulant(const struct field *field, size_t count, int each)
{
    struct text words;
    size_t first = count % 2 ? 2 : 1;

    text_init(&words, field->arena);
    text_addf(&words, "among %zu parents not every one can be in %d crosses of a partial diallel, ",
              count, each);
    text_addf(&words, "expected an %s number below %zu", first == 2 ? "even" : "odd", count);
    return words.bytes;
}

/* Of the positions 0 .. count - 1. */
static const char *make_pattern(const struct field *field, size_t count, struct pairings *pattern)
{
    int each = design_crosses_per_parent(field->request);
    size_t crosses;

    if (field->request->design == PROPOSE_PARTIAL_DIALLEL && !field->request->crosses_per_parent &&
        count % 2 != 0)
        each--; /* three each among an odd number of parents is no whole number of crosses */
    crosses = (size_t)each;
    switch (field->request->design) {
    case PROPOSE_SINGLE_PAIR:
        for (size_t i = 0; i + 1 < count; i += 2)
            add(field, pattern, i, i + 1);
        return NULL;
    case PROPOSE_CIRCULAR:
        if (count < 3)
            return "a ring needs three parents at least, and two take part";
        add_ring(field, count, pattern);
        return NULL;
    case PROPOSE_PARTIAL_DIALLEL:
        if (crosses >= count || (count + 1 - crosses) % 2 != 0)
            return no_circulant(field, count, each);
        add_circulant(field, count, (count + 1 - crosses) / 2, pattern);
        return NULL;
    case PROPOSE_DISCONNECTED_DIALLEL:
    case PROPOSE_HALF_DIALLEL:
    case PROPOSE_FACTORIAL:
    case PROPOSE_DESIGNS:
        break;
    }
    add_groups(field, count, crosses + 1, pattern);
    return NULL;
}

/* ---- who stands where ----------------------------------------------------------------------- */

struct seating {
    const struct field *field;
    size_t count;
    size_t *next, *next_first; /* neighbours of each position, from next_first[i] */
    size_t *who;               /* [count] places of the field */
};

static double price(const struct field *field, size_t a, size_t b)
{
    return field_reason(field, a, b) == PROPOSE_ALLOWED ? field_coancestry(field, a, b)
                                                        : NOT_ALLOWED;
}

/* What a parent costs at a position, but for its cross with the position `other`. */
static double price_at(const struct seating *seating, size_t parent, size_t position, size_t other)
{
    double sum = 0;

    for (size_t i = seating->next_first[position]; i < seating->next_first[position + 1]; i++)
        if (seating->next[i] != other)
            sum += price(seating->field, parent, seating->who[seating->next[i]]);
    return sum;
}

static bool exchange_helps(const struct seating *seating, size_t a, size_t b)
{
    size_t at_a = seating->who[a], at_b = seating->who[b];
    double before = price_at(seating, at_a, a, b) + price_at(seating, at_b, b, a);
    double after = price_at(seating, at_b, a, b) + price_at(seating, at_a, b, a);

    return after < before - 1e-9;
}

static void improve(struct seating *seating)
{
    bool helped = true;

    for (int pass = 0; pass < PASSES_MOST && helped; pass++) {
        helped = false;
        for (size_t a = 0; a < seating->count; a++)
            for (size_t b = a + 1; b < seating->count; b++)
                if (exchange_helps(seating, a, b)) {
                    size_t was = seating->who[a];

                    seating->who[a] = seating->who[b];
                    seating->who[b] = was;
                    helped = true;
                }
    }
}

static void see_neighbours(struct seating *seating, const struct pairings *pattern)
{
    size_t *filled = ARENA_ARRAY(seating->field->arena, seating->count + 1, size_t);

    seating->next = ARENA_ARRAY(seating->field->arena, 2 * pattern->count, size_t);
    seating->next_first = ARENA_ARRAY(seating->field->arena, seating->count + 1, size_t);
    for (size_t i = 0; i < pattern->count; i++) {
        seating->next_first[pattern->list[i].seed + 1]++;
        seating->next_first[pattern->list[i].pollen + 1]++;
    }
    for (size_t i = 0; i < seating->count; i++)
        seating->next_first[i + 1] += seating->next_first[i];
    for (size_t i = 0; i < pattern->count; i++) {
        size_t a = pattern->list[i].seed, b = pattern->list[i].pollen;

        seating->next[seating->next_first[a] + filled[a]++] = b;
        seating->next[seating->next_first[b] + filled[b]++] = a;
    }
}

static double price_of(const struct seating *seating, const struct pairings *pattern)
{
    double sum = 0;

    for (size_t i = 0; i < pattern->count; i++)
        sum += price(seating->field, seating->who[pattern->list[i].seed],
                     seating->who[pattern->list[i].pollen]);
    return sum;
}

/* The best of what the orders by value lead to; the first of equally good ones. */
static const size_t *seat(const struct field *field, size_t count, const size_t *taking_part,
                          const struct pairings *pattern)
{
    struct seating seating = {.field = field, .count = count};
    const size_t *best = NULL;
    double best_price = INFINITY;

    see_neighbours(&seating, pattern);
    for (size_t stride = 1; stride <= STRIDES && stride <= count; stride++) {
        size_t at = 0;
        double found;

        seating.who = ARENA_ARRAY(field->arena, count, size_t);
        for (size_t first = 0; first < stride; first++)
            for (size_t i = first; i < count; i += stride)
                seating.who[at++] = taking_part[i];
        improve(&seating);
        found = price_of(&seating, pattern);
        if (found < best_price - 1e-9) {
            best_price = found;
            best = seating.who;
        }
    }
    return best;
}

static int ascending(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;

    return (a > b) - (a < b);
}

/* Half of what every parent has with as many of its least akin mates as any has crosses. */
static double least_coancestry(const struct field *field, size_t count, const size_t *taking_part,
                               size_t each)
{
    double *akin = ARENA_ARRAY(field->arena, count, double), sum = 0;

    for (size_t i = 0; i < count; i++) {
        size_t allowed = 0;

        for (size_t j = 0; j < count; j++)
            if (field_reason(field, taking_part[i], taking_part[j]) == PROPOSE_ALLOWED)
                akin[allowed++] = field_coancestry(field, taking_part[i], taking_part[j]);
        if (allowed > 1)
            qsort(akin, allowed, sizeof *akin, ascending);
        for (size_t j = 0; j < allowed && j < each; j++)
            sum += akin[j] / 2;
    }
    return sum;
}

static const char *arrange_pattern(const struct field *field, size_t count,
                                   const size_t *taking_part, struct arrangement *arrangement)
{
    struct pairings pattern = {0};
    const char *fault = make_pattern(field, count, &pattern);
    size_t *degree = ARENA_ARRAY(field->arena, count, size_t), least = count;
    const size_t *who;

    if (fault)
        return fault;
    who = seat(field, count, taking_part, &pattern);
    for (size_t i = 0; i < pattern.count; i++) {
        add(field, &arrangement->wanted, who[pattern.list[i].seed], who[pattern.list[i].pollen]);
        degree[pattern.list[i].seed]++;
        degree[pattern.list[i].pollen]++;
    }
    for (size_t i = 0; i < count; i++)
        least = degree[i] < least ? degree[i] : least;
    arrangement->most = pattern.count;
    arrangement->coancestry_least = least_coancestry(field, count, taking_part, least);
    return NULL;
}

/* ---- every pair, or as many as there may be ------------------------------------------------- */

static void every_pair(const struct field *field, size_t count, const size_t *taking_part,
                       struct pairings *pairs)
{
    bool factorial = field->request->design == PROPOSE_FACTORIAL;

    for (size_t i = 0; i < count; i++)
        for (size_t j = factorial ? 0 : i + 1; j < count; j++)
            if (!factorial || (field->as_seed[taking_part[i]] && field->as_pollen[taking_part[j]]))
                add(field, pairs, taking_part[i], taking_part[j]);
}

enum propose_reason design_reason(const struct field *field, struct pairing pair)
{
    enum propose_reason reason = field_reason(field, pair.seed, pair.pollen);
    bool both_ways = field->request->design == PROPOSE_FACTORIAL && pair.pollen < pair.seed &&
                     field->as_seed[pair.pollen] && field->as_pollen[pair.seed];

    return reason == PROPOSE_ALLOWED && both_ways ? PROPOSE_TURNED : reason;
}

struct pairings design_allowed(const struct field *field, size_t count, const size_t *taking_part)
{
    struct pairings all = {0}, allowed = {0};

    every_pair(field, count, taking_part, &all);
    for (size_t i = 0; i < all.count; i++)
        if (design_reason(field, all.list[i]) == PROPOSE_ALLOWED)
            add(field, &allowed, all.list[i].seed, all.list[i].pollen);
    return allowed;
}

static void arrange_pairs(const struct field *field, size_t count, const size_t *taking_part,
                          struct arrangement *arrangement)
{
    struct pairings all = {0}, allowed = design_allowed(field, count, taking_part);
    size_t most_each = (size_t)design_crosses_per_parent(field->request);

    every_pair(field, count, taking_part, &all);
    for (size_t i = 0; i < all.count; i++)
        if (design_reason(field, all.list[i]) != PROPOSE_ALLOWED)
            add(field, &arrangement->wanted, all.list[i].seed, all.list[i].pollen);
    design_choose(field, &allowed, most_each ? most_each : 2 * count, arrangement);
}

const char *design_arrange(const struct field *field, size_t count, const size_t *taking_part,
                           struct arrangement *arrangement)
{
    *arrangement = (struct arrangement){.coancestry_least = NAN};
    if (field->request->design != PROPOSE_HALF_DIALLEL &&
        field->request->design != PROPOSE_FACTORIAL)
        return arrange_pattern(field, count, taking_part, arrangement);
    arrange_pairs(field, count, taking_part, arrangement);
    return NULL;
}
