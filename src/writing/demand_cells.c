#include "writing/demand_parts.h"

#include <math.h>

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
