#include "planning/cycle_day.h"

#include "planning/site_calendar.h"

daynum cycle_day_of(struct cycle_day day, struct season_rule rule, int cycle)
{
    static const struct season_rule north = {{7, 1}, true};
    daynum northern = day_in_year(day.month_day, cycle + day.year - 1);
    daynum start;

    if (rule.northern || northern == DAY_NONE)
        return northern;
    start = day_season_start(rule, day_season(north, northern));
    return start == DAY_NONE ? DAY_NONE : day_on_or_after(other_hemisphere(day.month_day), start);
}
