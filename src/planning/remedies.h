/*
 * remedies.h - what would help a cross that is short of bags, and until when.
 */
#ifndef PLANNING_REMEDIES_H
#define PLANNING_REMEDIES_H

#include "planning/crossing.h"

/* Sets remedy and remedy_by of every shortfall of the plan of these inputs: one a row, in words.
 * Crew-days are told by planning again with them. */
void remedies_fill(const struct crossing_inputs *inputs, struct crossing_plan *plan);

#endif
