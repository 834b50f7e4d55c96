#include "planning/site_calendar.h"

#include <math.h>

static const double base_latitude = 32.2, base_elevation_m = 60.96;
static const double days_per_degree = 4, days_per_m = 4 / 121.92;

int calendar_shift_days(const struct site *site)
{
    double days = 0;

    if (!isnan(site->latitude))
        days += days_per_degree * (fabs(site->latitude) - base_latitude);
    if (!isnan(site->elevation_m))
        days += days_per_m * (site->elevation_m - base_elevation_m);
    return (int)lround(days);
}

struct month_day other_hemisphere(struct month_day month_day)
{
    enum { A_COMMON_YEAR = 2001 };
    int length;

    month_day.month = month_day.month > 6 ? month_day.month - 6 : month_day.month + 6;
    length = day_month_length(A_COMMON_YEAR, month_day.month);
    if (month_day.day > length)
        month_day.day = length;
    return month_day;
}

daynum site_calendar_day(const struct site *site, struct season_rule rule,
                         struct month_day month_day, int season)
{
    if (!rule.northern)
        month_day = other_hemisphere(month_day);
    return day_on_or_after(month_day, day_season_start(rule, season)) + calendar_shift_days(site);
}
