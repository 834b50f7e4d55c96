#include "writing/demand_page.h"

#include <math.h>

const char *const demand_table_names[DEMAND_TABLES] = {"crosses",  "selections", "pollen",
                                                       "supplies", "work",       "rates"};

double demand_count_cell(int64_t count)
{
    return count >= 0 ? (double)count : NAN;
}

const char *demand_spring_title(const struct demand_plan *plan, int ahead, struct arena *arena)
{
    static const char *const words[] = {"this season", "next season", "season after",
                                        "third season"};

    return plan->season != 0 ? arena_printf(arena, "%d", plan->season + ahead) : words[ahead];
}

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
