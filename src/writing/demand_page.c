#include "writing/demand_parts.h"

const char *const demand_table_names[DEMAND_TABLES] = {"crosses",  "selections", "pollen",
                                                       "supplies", "work",       "rates"};

struct sheet demand_sheet(const struct demand_plan *plan, enum demand_table table,
                          const struct page_run *run)
{
    switch (table) {
    case DEMAND_CROSSES:
        return demand_crosses_sheet(plan, run);
    case DEMAND_SELECTIONS:
        return demand_selections_sheet(plan, run);
    case DEMAND_POLLEN:
        return demand_pollen_sheet(plan, run);
    case DEMAND_SUPPLIES:
        return demand_supplies_sheet(plan, run);
    case DEMAND_WORK:
        return demand_work_sheet(plan, run);
    case DEMAND_RATES:
    case DEMAND_TABLES:
        break;
    }
    return demand_rates_sheet(plan, run);
}
