/* propose.c - from candidates to crosses: who takes part, the design, the seed of each cross. */
#include "planning/propose_parts.h"

#include <math.h>
#include <stdlib.h>

static const double SHARE_LEAST = 1e-6; /* of a parent that takes part */
static const double SMALL = 0.1; /* of the average cross: less is not worth a bag, own choice */

struct refusal {
    struct pairing pair;
    enum propose_reason reason;
};

struct making {
    struct field field;
    struct proposal *proposal;
    size_t *taking_part; /* places, ascending */
    size_t taking_part_count;
    struct arrangement arrangement;
    struct pairings crosses;
    const double *shares; /* [crosses] */
    struct refusal *refused;
    size_t refused_count, refused_capacity;
};

static bool is_weighted(const struct making *making)
{
    return !isnan(making->proposal->weight);
}

/* Parents by shares of all gametes [count]. */
static struct propose_group group_of(const struct field *field, const double *shares)
{
    struct propose_group group = {.breeding_value = 0, .group_coancestry = 0};

    for (size_t i = 0; i < field->count; i++) {
        if (shares[i] == 0)
            continue;
        group.parents++;
        group.breeding_value += shares[i] * field->parents[i].breeding_value;
        for (size_t j = 0; j < field->count; j++)
            group.group_coancestry += shares[i] * shares[j] * field_coancestry(field, i, j);
    }
    if (group.parents == 0)
        group.breeding_value = group.group_coancestry = NAN;
    group.status_number = pedigree_status_number(group.group_coancestry);
    return group;
}

static double merit_of(const struct propose_group *group, double weight)
{
    return group->breeding_value - weight * group->group_coancestry;
}

/* With weight, those whose breeding value is known; else all. */
static void take_known(struct making *making)
{
    struct field *field = &making->field;
    const struct propose_request *request = field->request;
    bool weigh = !isnan(request->coancestry_weight) || !isnan(request->status_number);

    making->taking_part = ARENA_ARRAY(field->arena, field->count, size_t);
    for (size_t i = 0; i < field->count; i++) {
        if (weigh && isnan(field->parents[i].breeding_value))
            field->parents[i].why = "its breeding value is not known";
        else
            making->taking_part[making->taking_part_count++] = i;
    }
}

/* The weight asked for, or the one that leads to the status number asked for. */
static const char *set_weight(struct making *making, struct shares_problem *any)
{
    const struct propose_request *request = making->field.request;
    double most;

    any->weight = request->coancestry_weight;
    if (!isnan(request->status_number)) {
        any->weight = shares_weight_for(any, request->status_number, &most);
        if (isnan(any->weight))
            return arena_printf(making->field.arena,
                                "a status number of %g was asked for, and crosses of these "
                                "candidates reach %.4g at most",
                                request->status_number, most);
    }
    making->proposal->weight = any->weight;
    return NULL;
}

/* The best shares, were every allowed pair crossed; parents without one take no part.  Of a
 * factorial they do, for a tester is there to be compared with. */
static void take_best(struct making *making, const struct shares_problem *any)
{
    struct field *field = &making->field;
    struct proposal *proposal = making->proposal;
    double *shares = ARENA_ARRAY(field->arena, any->count, double);
    double *best = ARENA_ARRAY(field->arena, field->count, double);
    double lacks = shares_solve(any, shares);
    size_t kept = 0;

    for (size_t i = 0; i < any->count; i++) {
        best[any->pairs[i].seed] += shares[i] / 2;
        best[any->pairs[i].pollen] += shares[i] / 2;
    }
    proposal->best = group_of(field, best);
    proposal->merit_most = merit_of(&proposal->best, proposal->weight) + lacks;
    for (size_t i = 0; i < making->taking_part_count; i++) {
        struct proposed_parent *parent = &field->parents[making->taking_part[i]];

        parent->best_share = best[making->taking_part[i]];
        if (field->request->design != PROPOSE_FACTORIAL && parent->best_share < SHARE_LEAST) {
            parent->why = "its breeding value is too low for the weight on kinship";
            parent->best_share = best[making->taking_part[i]] = 0;
        } else
            making->taking_part[kept++] = making->taking_part[i];
    }
    making->taking_part_count = kept;
    proposal->best = group_of(field, best);
}

/* Who takes part.  NULL, or why the request cannot be met. */
static const char *choose_parents(struct making *making)
{
    struct field *field = &making->field;
    const struct propose_request *request = field->request;
    struct shares_problem any = {.field = field};
    struct pairings allowed;
    const char *fault;

    take_known(making);
    if (making->taking_part_count < 2)
        return "fewer than two candidates have a breeding value, and it is to be weighed";
    if (isnan(request->coancestry_weight) && isnan(request->status_number))
        return NULL;
    allowed = design_allowed(field, making->taking_part_count, making->taking_part);
    any.pairs = allowed.list;
    any.count = allowed.count;
    fault = set_weight(making, &any);
    if (!fault && any.count > 0)
        take_best(making, &any);
    return fault;
}

static const char *words_of(const struct making *making, struct pairing pair,
                            enum propose_reason reason)
{
    const struct field *field = &making->field;
    struct arena *arena = field->arena;

    switch (reason) {
    case PROPOSE_ASKED: {
        const struct cross *cross = field->asked_by[pair.seed * field->count + pair.pollen];

        return arena_printf(arena, "%s by cross %s of crosses.csv",
                            cross->state == CROSS_CANCELLED ? "asked for and cancelled"
                                                            : "asked for already",
                            cross->name);
    }
    case PROPOSE_KIN:
        return arena_printf(arena, "coancestry %.4g is above %g",
                            field_coancestry(field, pair.seed, pair.pollen),
                            field->orchard->program.coancestry_refuse);
    case PROPOSE_SELF:
        return "would be selfed";
    case PROPOSE_SPECIES:
        return "of two species";
    case PROPOSE_TURNED:
        return "proposed the other way round";
    case PROPOSE_SMALL:
        return "its share of the seed is under a tenth of the average";
    case PROPOSE_ALLOWED:
        break;
    }
    return NULL;
}

static void leave_out(struct making *making, struct pairing pair, enum propose_reason reason)
{
    *ARENA_PUSH(making->field.arena, making->refused, making->refused_count,
                making->refused_capacity) = (struct refusal){pair, reason};
}

/* What the design asks for, parted into what is allowed and what is not. */
static void part_wanted(struct making *making)
{
    struct pairings *crosses = &making->crosses;

    for (size_t i = 0; i < making->arrangement.wanted.count; i++) {
        struct pairing pair = making->arrangement.wanted.list[i];
        enum propose_reason reason = design_reason(&making->field, pair);

        if (reason == PROPOSE_ALLOWED)
            *ARENA_PUSH(making->field.arena, crosses->list, crosses->count, crosses->capacity) =
                pair;
        else
            leave_out(making, pair, reason);
    }
}

static int in_order(const void *left, const void *right)
{
    const struct pairing *a = left, *b = right;

    if (a->seed != b->seed)
        return a->seed < b->seed ? -1 : 1;
    return (a->pollen > b->pollen) - (a->pollen < b->pollen);
}

static int by_reason(const void *left, const void *right)
{
    const struct refusal *a = left, *b = right;

    if (a->reason != b->reason)
        return a->reason < b->reason ? -1 : 1;
    return in_order(&a->pair, &b->pair);
}

/* Take away crosses of a small share; false: there was none. */
static bool drop_small(struct making *making, const double *shares)
{
    struct pairings *crosses = &making->crosses;
    size_t kept = 0, count = crosses->count;

    for (size_t i = 0; i < count; i++) {
        if (shares[i] < SMALL / (double)count)
            leave_out(making, crosses->list[i], PROPOSE_SMALL);
        else
            crosses->list[kept++] = crosses->list[i];
    }
    crosses->count = kept;
    return kept < count;
}

static void share_out(struct making *making)
{
    struct pairings *crosses = &making->crosses;
    double *shares = ARENA_ARRAY(making->field.arena, crosses->count, double);

    if (crosses->count > 1)
        qsort(crosses->list, crosses->count, sizeof *crosses->list, in_order);
    for (size_t i = 0; i < crosses->count; i++)
        shares[i] = 1 / (double)crosses->count;
    making->shares = shares;
    if (!is_weighted(making) || crosses->count == 0)
        return;
    do {
        struct shares_problem problem = {&making->field, crosses->list, crosses->count,
                                         making->proposal->weight};

        (void)shares_solve(&problem, shares);
    } while (drop_small(making, shares));
}

static void list_crosses(struct making *making)
{
    const struct field *field = &making->field;
    struct proposal *proposal = making->proposal;
    size_t count = making->crosses.count;
    int *seeds = shares_round(count, making->shares, (int64_t)proposal->request.seeds * (int)count,
                              field->arena);
    double sum = 0;

    proposal->crosses.list = ARENA_ARRAY(field->arena, count, struct proposed_cross);
    proposal->crosses.count = count;
    for (size_t i = 0; i < count; i++) {
        struct pairing pair = making->crosses.list[i];
        const struct proposed_parent *seed = &field->parents[pair.seed];
        const struct proposed_parent *pollen = &field->parents[pair.pollen];
        double coancestry = field_coancestry(field, pair.seed, pair.pollen);

        proposal->crosses.list[i] = (struct proposed_cross){
            .seed_parent = seed->selection,
            .pollen_parent = pollen->selection,
            .coancestry = coancestry,
            .warned = coancestry_is_warned(&field->orchard->program, coancestry),
            .value = (seed->breeding_value + pollen->breeding_value) / 2,
            .seeds = seeds[i],
        };
        sum += coancestry;
    }
    if (count > 0)
        proposal->coancestry = sum / (double)count;
    propose_name(proposal, field->orchard, field->arena);
}

static void list_left_out(struct making *making)
{
    const struct field *field = &making->field;
    struct proposal *proposal = making->proposal;

    if (making->refused_count > 1)
        qsort(making->refused, making->refused_count, sizeof *making->refused, by_reason);
    proposal->left_out.count = making->refused_count;
    proposal->left_out.list =
        ARENA_ARRAY(field->arena, making->refused_count, struct propose_left_out);
    for (size_t i = 0; i < making->refused_count; i++) {
        struct refusal refusal = making->refused[i];

        proposal->left_out.list[i] = (struct propose_left_out){
            .seed_parent = field->parents[refusal.pair.seed].selection,
            .pollen_parent = field->parents[refusal.pair.pollen].selection,
            .reason = refusal.reason,
            .words = words_of(making, refusal.pair, refusal.reason),
        };
    }
}

/* What each parent gives, and why others give nothing. */
static void list_parents(struct making *making)
{
    struct field *field = &making->field;
    struct proposal *proposal = making->proposal;
    double *given = ARENA_ARRAY(field->arena, field->count, double);
    double *equal = ARENA_ARRAY(field->arena, field->count, double);
    bool *wanted = ARENA_ARRAY(field->arena, field->count, bool);
    double total = 0;

    for (size_t i = 0; i < making->crosses.count; i++)
        total += proposal->crosses.list[i].seeds;
    for (size_t i = 0; i < making->crosses.count; i++) {
        double share = proposal->crosses.list[i].seeds / total / 2;
        size_t members[2] = {making->crosses.list[i].seed, making->crosses.list[i].pollen};

        for (int side = 0; side < 2; side++) {
            given[members[side]] += share;
            field->parents[members[side]].crosses++;
        }
    }
    for (size_t i = 0; i < making->refused_count; i++)
        wanted[making->refused[i].pair.seed] = wanted[making->refused[i].pair.pollen] = true;
    for (size_t i = 0; i < field->count; i++) {
        struct proposed_parent *parent = &field->parents[i];

        equal[i] = 1 / (double)field->count;
        parent->share = given[i];
        if (parent->crosses == 0 && !parent->why)
            parent->why = wanted[i] ? "all its crosses are left out" : "no mate was left for it";
    }
    proposal->parents.list = field->parents;
    proposal->parents.count = field->count;
    proposal->candidates = group_of(field, equal);
    proposal->proposed = group_of(field, given);
    if (is_weighted(making))
        proposal->merit = merit_of(&proposal->proposed, proposal->weight);
}

static const char *make(struct making *making)
{
    struct proposal *proposal = making->proposal;
    const char *fault = field_of(&making->field);

    if (!fault)
        fault = choose_parents(making);
    if (fault)
        return fault;
    fault = design_arrange(&making->field, making->taking_part_count, making->taking_part,
                           &making->arrangement);
    if (fault)
        return fault;
    proposal->pairs_not_chosen = making->arrangement.not_chosen;
    proposal->crosses_most = making->arrangement.most;
    part_wanted(making);
    share_out(making);
    if (making->arrangement.most > 0 && making->refused_count == 0) /* the design is whole */
        proposal->coancestry_best =
            making->arrangement.coancestry_least / (double)making->arrangement.most;
    list_crosses(making);
    list_left_out(making);
    list_parents(making);
    return NULL;
}

struct proposal propose(const struct propose_request *request, const struct orchard *orchard,
                        const struct pedigree *pedigree, struct arena *arena)
{
    struct propose_group none = {0, NAN, NAN, NAN};
    struct proposal proposal = {
        .request = *request,
        .coancestry = NAN,
        .coancestry_best = NAN,
        .weight = NAN,
        .candidates = none,
        .best = none,
        .proposed = none,
        .merit = NAN,
        .merit_most = NAN,
    };
    struct making making = {
        .field = {.request = request, .orchard = orchard, .pedigree = pedigree, .arena = arena},
        .proposal = &proposal,
    };

    proposal.fault = make(&making);
    return proposal;
}
