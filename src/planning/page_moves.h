/*
 * page_moves.h - what changed since an earlier worklist was printed.
 */
#ifndef PLANNING_PAGE_MOVES_H
#define PLANNING_PAGE_MOVES_H

#include "planning/worklist.h"

/*
 * The earlier rows against those of the list, found by kind of work and subject.  Rows that were
 * typed back since, by their entry, are done and tell nothing; those of days before as-of that were
 * not typed back tell where they are now.
 */
struct page_moves page_moves_of(const struct worklist *list, const struct crossing_plan *plan,
                                const struct orchard *orchard, const struct typed_page *earlier);

#endif
