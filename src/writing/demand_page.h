/*
 * demand_page.h - the demand as sheets, one a table.
 */
#ifndef WRITING_DEMAND_PAGE_H
#define WRITING_DEMAND_PAGE_H

#include "planning/demand_plan.h"
#include "writing/pages.h"

enum demand_table {
    DEMAND_CROSSES,
    DEMAND_SELECTIONS,
    DEMAND_POLLEN,
    DEMAND_SUPPLIES,
    DEMAND_WORK,
    DEMAND_RATES,
    DEMAND_TABLES
};
extern const char *const demand_table_names[DEMAND_TABLES]; /* "crosses" */

struct sheet demand_sheet(const struct demand_plan *plan, enum demand_table table,
                          const struct page_run *run);

#endif
