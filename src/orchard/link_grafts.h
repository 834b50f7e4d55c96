/*
 * link_grafts.h - grafts under all their tags: rows of grafts.csv, grafts that only a note made,
 * and tags that were changed.
 */
#ifndef ORCHARD_LINK_GRAFTS_H
#define ORCHARD_LINK_GRAFTS_H

#include "orchard/orchard.h"

/* After order_lists: adds grafts made by notes, gives each its newest tag, sorts them again and
 * fills orchard->graft_names.  Joins nothing else. */
void link_grafts(struct orchard *orchard, struct diags *diags);

#endif
