/*
 * Files that hold the days of several stations.
 */
#include "reading/weather.h"

#include <string.h>

static bool is_named(const char *name, size_t length, const char *id)
{
    return strlen(name) == length && memcmp(name, id, length) == 0;
}

bool weather_takes_station(struct weather_reading *reading, size_t length, const char *id)
{
    if (reading->id != NULL && is_named(reading->id, length, id))
        return true;
    if (reading->id == NULL || is_named(reading->station, length, id)) {
        if (reading->id != NULL) { /* the days before were of others */
            reading->other_rows++;
            weather_days_init(&reading->days, reading->scratch);
            reading->flags = (struct flag_counts){0};
        }
        reading->id = arena_text(reading->scratch, length, id);
        return true;
    }
    if (reading->another == NULL)
        reading->another = arena_text(reading->scratch, length, id);
    reading->other_rows++;
    return false;
}

void weather_one_station(struct weather_reading *reading)
{
    if (reading->other_rows == 0 || strcmp(reading->id, reading->station) == 0)
        return;
    diag_error(reading->diags, (struct place){.file = reading->file}, "several-stations",
               "the file holds days of %s and of %s, expected one station, keep the rows of one or "
               "name the station of the folder like one of them",
               diag_quote(reading->diags, reading->id),
               diag_quote(reading->diags, reading->another));
}
