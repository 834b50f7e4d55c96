/*
 * propose_parts.h - what the files of propose share; nothing else includes it.
 */
#ifndef PLANNING_PROPOSE_PARTS_H
#define PLANNING_PROPOSE_PARTS_H

#include "planning/propose.h"

/* Two candidates by their places in the list of parents: the seed parent first. */
struct pairing {
    size_t seed, pollen;
};

struct pairings {
    struct pairing *list;
    size_t count, capacity;
};

/* The candidates and what is known of every pair of them. */
struct field {
    const struct propose_request *request;
    const struct orchard *orchard;
    const struct pedigree *pedigree;
    struct arena *arena;
    struct proposed_parent *parents; /* [count] */
    size_t count;
    bool *as_seed, *as_pollen;     /* [count] of a factorial */
    double *coancestry;            /* [count * count] */
    unsigned char *reason;         /* [count * count] of enum propose_reason, either way alike */
    const struct cross **asked_by; /* [count * count]; NULL but where the reason is ASKED */
};

/* What may be said of the pair before any design. */
enum propose_reason field_reason(const struct field *field, size_t a, size_t b);
double field_coancestry(const struct field *field, size_t a, size_t b);

/* ---- propose_field.c ------------------------------------------------------------------------ */

/* NULL, or why the request cannot be met. */
const char *field_of(struct field *field);

/* ---- propose_design.c ----------------------------------------------------------------------- */

struct arrangement {
    struct pairings wanted; /* what the design asks for among those who take part */
    size_t most;            /* no choice has more that is allowed */
    size_t not_chosen;
    double coancestry_least; /* sum over the crosses, of no arrangement less; NaN */
};

/* The crosses of the design among the `count` candidates `taking_part` (places, ascending); those
 * that are not allowed are among them.  NULL, or why it cannot be. */
const char *design_arrange(const struct field *field, size_t count, const size_t *taking_part,
                           struct arrangement *arrangement);

/* The allowed ones of all pairs that the design may choose from among the `count` candidates. */
struct pairings design_allowed(const struct field *field, size_t count, const size_t *taking_part);

/* As field_reason; of a factorial a pair wanted both ways is allowed the first way round. */
enum propose_reason design_reason(const struct field *field, struct pairing pair);

/* ---- propose_choice.c ----------------------------------------------------------------------- */

/* At most `most_each` crosses a parent of the `allowed` ones: the highest value first, then what
 * exchanging one for two adds.  Fills wanted, most and not_chosen. */
void design_choose(const struct field *field, const struct pairings *allowed, size_t most_each,
                   struct arrangement *arrangement);

/* ---- propose_shares.c ----------------------------------------------------------------------- */

struct shares_problem {
    const struct field *field;
    const struct pairing *pairs; /* crosses; the values of all their parents are known */
    size_t count;                /* > 0 where it is solved */
    double weight;               /* > 0 */
};

/*
 * Shares [count], adding up to 1, that make the merit greatest: mean breeding value of the parents
 * by what they give less weight x their group coancestry.  Among shares alike in merit those that
 * equal ones lead to.  Returns by how much at most the merit falls short of the greatest.
 */
double shares_solve(const struct shares_problem *problem, double *shares);

/* The smallest weight at which the parents have this status number (that of the problem is not
 * looked at); NaN: not even at the greatest, where they have *most. */
double shares_weight_for(const struct shares_problem *problem, double status_number, double *most);

/* Whole seeds that add up to `total`, in proportion; the largest remainders are rounded up, equal
 * ones from the first on. */
int *shares_round(size_t count, const double *shares, int64_t total, struct arena *arena);

/* ---- propose_names.c ------------------------------------------------------------------------ */

/* Names for the crosses, like none of the folder's. */
void propose_name(struct proposal *proposal, const struct orchard *orchard, struct arena *arena);

#endif
