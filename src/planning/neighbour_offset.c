#include "planning/neighbour_offset.h"

#include <math.h>

double elevation_change_c(double lapse_c_per_km, double from_m, double to_m)
{
    double lapse = isnan(lapse_c_per_km) ? LAPSE_DEFAULT_C_PER_KM : lapse_c_per_km;

    return -lapse * (to_m - from_m) / 1000;
}

struct difference {
    double sum_c;
    size_t days;
};

static void take_common(struct one_extreme own, struct one_extreme neighbour,
                        struct difference month[12])
{
    daynum shift = own.first_day - neighbour.first_day;

    for (size_t i = 0; i < own.count; i++) {
        int64_t at = (int64_t)i + shift;
        double difference;

        if (at < 0 || at >= (int64_t)neighbour.count)
            continue;
        difference = own.c[i] - neighbour.c[at];
        if (isnan(difference))
            continue;
        struct difference *of = &month[day_to_civil(own.first_day + (daynum)i).month - 1];
        of->sum_c += difference;
        of->days++;
    }
}

struct month_offsets month_offsets_of(struct one_extreme own, struct one_extreme neighbour,
                                      double by_elevation_c)
{
    struct difference month[12] = {{0, 0}}, all = {0, 0};
    struct month_offsets offsets = {.common_days = 0};
    enum offset_origin otherwise = isnan(by_elevation_c) ? OFFSET_NONE : OFFSET_OF_ELEVATION;
    double usual_c = isnan(by_elevation_c) ? 0 : by_elevation_c;

    take_common(own, neighbour, month);
    for (int m = 0; m < 12; m++) {
        all.sum_c += month[m].sum_c;
        all.days += month[m].days;
    }
    offsets.common_days = all.days;
    if (all.days >= COMMON_DAYS_LEAST) {
        otherwise = OFFSET_OF_ALL;
        usual_c = all.sum_c / (double)all.days;
    }
    for (int m = 0; m < 12; m++) {
        bool enough = month[m].days >= COMMON_DAYS_LEAST;

        offsets.c[m] = enough ? month[m].sum_c / (double)month[m].days : usual_c;
        offsets.origin[m] = enough ? OFFSET_OF_MONTH : otherwise;
    }
    return offsets;
}
