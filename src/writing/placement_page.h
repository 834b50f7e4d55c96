/*
 * placement_page.h - where this winter's grafts go, as sheets.
 */
#ifndef WRITING_PLACEMENT_PAGE_H
#define WRITING_PLACEMENT_PAGE_H

#include "planning/placement.h"
#include "writing/pages.h"

enum placement_table {
    PLACEMENT_GRAFTS, /* for people and JSON: with what is expected of each */
    PLACEMENT_SELECTIONS,
    PLACEMENT_SCIONS,
    PLACEMENT_TREES,
    PLACEMENT_TABLES
};
extern const char *const placement_table_names[PLACEMENT_TABLES]; /* "grafts" */

struct sheet placement_sheet(const struct placement *placement, enum placement_table table,
                             const struct page_run *run);

/* Rows of grafts.csv, just its columns; grafted_on is blank until the graft is made. */
struct sheet placement_rows_sheet(const struct placement *placement, const struct page_run *run);

#endif
