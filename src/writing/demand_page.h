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

/* The parts of it; demand_page.c chooses among them. */
struct sheet demand_crosses_sheet(const struct demand_plan *plan, const struct page_run *run);
struct sheet demand_selections_sheet(const struct demand_plan *plan, const struct page_run *run);
struct sheet demand_pollen_sheet(const struct demand_plan *plan, const struct page_run *run);
struct sheet demand_supplies_sheet(const struct demand_plan *plan, const struct page_run *run);
struct sheet demand_work_sheet(const struct demand_plan *plan, const struct page_run *run);
struct sheet demand_rates_sheet(const struct demand_plan *plan, const struct page_run *run);

/* Whole counts that are -1 where no number does stay missing. */
double demand_count_cell(int64_t count);

/* "2028", or of programmes in both hemispheres "next season"; ahead 0 to 3. */
const char *demand_spring_title(const struct demand_plan *plan, int ahead, struct arena *arena);

#endif
