/*
 * placement_parts.h - what the sheets of the placement share; nothing else includes it.
 */
#ifndef WRITING_PLACEMENT_PARTS_H
#define WRITING_PLACEMENT_PARTS_H

#include "writing/placement_page.h"

struct sheet placement_selections_sheet(const struct placement *placement,
                                        const struct page_run *run);
struct sheet placement_scions_sheet(const struct placement *placement, const struct page_run *run);
struct sheet placement_trees_sheet(const struct placement *placement, const struct page_run *run);

#endif
