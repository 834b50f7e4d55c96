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

#endif
