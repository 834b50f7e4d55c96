/*
 * pedigree.h - coancestry of selections by the tabular method; ramets of a clone are one row.
 */
#ifndef ORCHARD_PEDIGREE_H
#define ORCHARD_PEDIGREE_H

#include "orchard/orchard.h"

struct pedigree;

/*
 * Puts parents before offspring, names merged by same_as; cells of the relationship matrix are made
 * when they are asked for, in `arena`.  A loop is told in `diags` (its path printed; may be NULL)
 * and its members count as without parents; so does a selection that is its own parent.
 */
const struct pedigree *pedigree_of(const struct orchard *orchard, struct arena *arena,
                                   struct diags *diags);

/* Coancestry theta of two selections: A_ij / 2; (1 + F) / 2 of one with itself. */
double pedigree_coancestry(const struct pedigree *pedigree, const struct selection *a,
                           const struct selection *b);

/* Inbreeding coefficient F of a selection. */
double pedigree_inbreeding(const struct pedigree *pedigree, const struct selection *selection);

/* Of a cross: seed parent with the pollen parent, or with a mix the share-weighted mean; *selfs:
 * the seed parent itself stands in it, under any name. */
double pedigree_cross_coancestry(const struct pedigree *pedigree, const struct cross *cross,
                                 bool *selfs);

/* What a clone gives to a group: any weight that is not negative, names of one clone as they come.
 */
struct contribution {
    const struct selection *selection;
    double weight;
};

/* Group coancestry: the mean over all pairs, each with itself among them, by weight.  NaN: the
 * weights add up to nothing. */
double pedigree_group_coancestry(const struct pedigree *pedigree, size_t count,
                                 const struct contribution *contributions);

/* Status number of a group: 1 / (2 x group coancestry), as many unrelated clones in equal shares
 * would have (Lindgren and Mullin, from memory).  NaN of NaN; infinite of 0. */
double pedigree_status_number(double group_coancestry);

/* Mean breeding value of the parents, of a mix the share-weighted mean of its parts; NaN: one is
 * not known. */
double pedigree_cross_value(const struct cross *cross);

/* Above the limit of the program; at it is not above, whatever rounding made of it. */
bool coancestry_is_refused(const struct program *program, double coancestry);
bool coancestry_is_warned(const struct program *program, double coancestry);

#endif
