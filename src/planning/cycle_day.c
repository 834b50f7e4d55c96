#include "planning/cycle_day.h"

#include "planning/site_calendar.h"

#include <string.h>

bool cycle_day_read(const char *text, struct cycle_day *day)
{
    struct month_day month_day;

    if (text == NULL || strlen(text) != strlen("Y1-02-01") || text[0] != 'Y' || text[1] < '0' ||
        text[1] > '9' || text[2] != '-' || !day_parse_month_day(5, text + 3, &month_day))
        return false;
    *day = (struct cycle_day){text[1] - '0', month_day};
    return true;
}

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
