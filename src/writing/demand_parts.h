/*
 * demand_parts.h - what the sheets of the demand share; nothing else includes it.
 */
#ifndef WRITING_DEMAND_PARTS_H
#define WRITING_DEMAND_PARTS_H

#include "writing/demand_page.h"

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
