#include "planning/observed_days.h"

#include <math.h>
#include <stdbool.h>

static bool is_empty(const struct record *days, size_t i)
{
    return isnan(days->tmin_c[i]) && isnan(days->tmax_c[i]);
}

static void cut_ends(struct record *days)
{
    while (days->count > 0 && is_empty(days, days->count - 1))
        days->count--;
    while (days->count > 0 && is_empty(days, 0)) {
        days->first_day++;
        days->count--;
        days->tmin_c++;
        days->tmax_c++;
    }
}

struct record observed_days_of(const struct record *record, const struct station *station,
                               daynum as_of, struct arena *arena)
{
    struct record days = {.first_day = as_of};
    bool morning = station != NULL && station->reads_morning;
    int64_t known; /* rows to as_of */

    if (record == NULL || record->count == 0)
        return days;
    known = (int64_t)as_of - record->first_day + 1;
    if (known > (int64_t)record->count)
        known = (int64_t)record->count;
    if (known <= 0)
        return days;
    days = *record;
    days.first_day = record->first_day - morning;
    days.count = (size_t)known + morning;
    days.tmin_c = ARENA_ARRAY(arena, days.count, double);
    days.tmax_c = ARENA_ARRAY(arena, days.count, double);
    for (size_t i = 0; i < days.count; i++) {
        days.tmin_c[i] = i >= (size_t)morning ? record->tmin_c[i - morning] : (double)NAN;
        days.tmax_c[i] = i < (size_t)known ? record->tmax_c[i] : (double)NAN;
        if (days.tmin_c[i] > days.tmax_c[i])
            days.tmin_c[i] = days.tmax_c[i] = (double)NAN;
    }
    cut_ends(&days);
    return days;
}

daynum observed_days_newest(const struct record *observed)
{
    for (size_t i = observed->count; i-- > 0;) {
        if (observed->tmin_c[i] <= observed->tmax_c[i])
            return observed->first_day + (daynum)i;
    }
    return DAY_NONE;
}
