/*
 * most_grafted.h - which species is grafted most at a site.
 */
#ifndef PLANNING_MOST_GRAFTED_H
#define PLANNING_MOST_GRAFTED_H

#include "base/arena.h"
#include "orchard/orchard.h"

/* The species of most of the grafts ever made there, by the selections meant; of equals the first
 * by name.  NULL when no species of any graft there is known. */
const char *most_grafted_species(const struct orchard *orchard, const struct site *site,
                                 struct arena *arena);

#endif
