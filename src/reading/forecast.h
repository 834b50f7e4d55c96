/*
 * forecast.h - what the forms of forecast files share.
 */
#ifndef READING_FORECAST_H
#define READING_FORECAST_H

#include "reading/interval.h"
#include "reading/json.h"

/* A day of a forecast while its file is read; NaN: not told. */
struct forecast_day {
    daynum day;
    double tmin_c, tmax_c;
    const char *tmin_path; /* of the value that tells the minimum */
};

/* What a form fills in. */
struct forecast_file {
    struct json_reader *reader;
    double utc_offset_h; /* of the station */
    int64_t issued;      /* seconds of UTC from the start of daynum 0 */
    struct forecast_day *days;
    size_t count, capacity;
};

enum forecast_extreme { FORECAST_MINIMUM, FORECAST_MAXIMUM };

/*
 * A value that holds for an interval, put on the civil days at the station whose usual hour of that
 * extreme lies in it (minimum 6:00, maximum 15:00, own choice: near sunrise and the warmest hour);
 * if none does, a minimum on the day on which it ends, a maximum on the day on which it starts.  Of
 * several values of a day the most extreme counts.  false: told.
 */
bool forecast_add(struct forecast_file *file, enum forecast_extreme extreme,
                  struct interval interval, double c, const char *path);

/* The civil day of a local second. */
daynum forecast_day_of(int64_t second);

/* A form of forecast files; another one is another such value in forecast.c. */
struct forecast_form {
    const char *name; /* for people */
    bool (*is)(const cJSON *tree);
    void (*read)(struct forecast_file *file, const cJSON *tree);
};
extern const struct forecast_form forecast_grid_point;

#endif
