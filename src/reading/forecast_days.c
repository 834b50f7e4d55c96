/*
 * Values that hold for intervals, put on civil days.
 */
#include "reading/forecast.h"

#include <math.h>

enum { SECONDS_A_DAY = 86400, MINIMUM_HOUR = 6, MAXIMUM_HOUR = 15 };

daynum forecast_day_of(int64_t second)
{
    return (daynum)(second / SECONDS_A_DAY - (second % SECONDS_A_DAY < 0));
}

static struct forecast_day *day_of(struct forecast_file *file, daynum day)
{
    for (size_t i = 0; i < file->count; i++)
        if (file->days[i].day == day)
            return &file->days[i];
    struct forecast_day *added =
        ARENA_PUSH(file->reader->scratch, file->days, file->count, file->capacity);
    *added = (struct forecast_day){.day = day, .tmin_c = NAN, .tmax_c = NAN};
    return added;
}

static void put(struct forecast_file *file, enum forecast_extreme extreme, daynum on, double c,
                const char *path)
{
    struct forecast_day *day = day_of(file, on);
    if (extreme == FORECAST_MAXIMUM) {
        day->tmax_c = fmax(day->tmax_c, c); /* a NaN is passed over */
    } else if (!(day->tmin_c <= c)) {
        day->tmin_c = c;
        day->tmin_path = path;
    }
}

bool forecast_add(struct forecast_file *file, enum forecast_extreme extreme,
                  struct interval interval, double c, const char *path)
{
    int64_t offset = (int64_t)llround(file->utc_offset_h * 3600);
    int64_t start = interval.start + offset, end = interval.end + offset;
    int64_t hour = extreme == FORECAST_MINIMUM ? MINIMUM_HOUR : MAXIMUM_HOUR;
    daynum first = forecast_day_of(start), last = forecast_day_of(end - 1);
    bool found = false;
    if (last - first >= FORECAST_DAYS_MOST)
        return json_tell(file->reader, path, "forecast-too-long",
                         "one value for more than 16 days, expected a forecast of days, correct "
                         "the interval");
    for (daynum day = first; day <= last; day++) {
        int64_t at = (int64_t)day * SECONDS_A_DAY + hour * 3600;
        if (at < start || at >= end)
            continue;
        put(file, extreme, day, c, path);
        found = true;
    }
    if (!found)
        put(file, extreme, extreme == FORECAST_MINIMUM ? last : first, c, path);
    return true;
}
