/*
 * weather.h - what the forms of files of observed days share.
 *
 * A form is one value with the question whether a file's first line is of it and the reading of the
 * rest.  Another form is another such value in the list of weather.c.
 */
#ifndef READING_WEATHER_H
#define READING_WEATHER_H

#include "reading/reading.h"
#include "reading/rows.h"
#include "reading/weather_days.h"
#include "reading/weather_flags.h"

/* What a file's temperatures are counted in. */
enum weather_unit {
    WEATHER_UNIT_UNKNOWN,
    WEATHER_CELSIUS,
    WEATHER_FAHRENHEIT,
    WEATHER_TENTHS /* of deg C */
};

/* The first line that is not blank. */
struct weather_head {
    size_t length;
    const char *line; /* without its line end */
    struct row row;   /* the same cut into cells; count 0: it cannot be */
};

/* One file while it is read. */
struct weather_reading {
    struct orchard *orchard;
    const char *station, *file;
    const struct source *source;
    struct diags *diags;
    struct arena *scratch;
    struct weather_days days; /* as typed until the form says in what unit */
    struct flag_counts flags;
    const char *unit; /* for people; NULL: the columns say it */

    /* Files that name their stations: the one whose days are taken. */
    const char *id;      /* NULL: none yet */
    size_t other_rows;   /* of other stations, passed over */
    const char *another; /* one of those */
};

struct weather_form {
    const char *name; /* for people */
    bool (*is)(const struct weather_head *head);
    bool (*read)(struct weather_reading *reading); /* false: the source failed */
};

extern const struct weather_form weather_columns_form, weather_month_lines, weather_element_rows,
    weather_day_rows;

/* Is a row of this station to be taken?  The station of the folder's name when the file holds it,
 * else the first of the file; weather_one_station tells when that leaves others out. */
bool weather_takes_station(struct weather_reading *reading, size_t length, const char *id);
void weather_one_station(struct weather_reading *reading);

/* Days of an archive, all read: into deg C; values that cannot be are told, and days whose minimum
 * lies above the maximum are told and dropped. */
void weather_to_celsius(struct weather_reading *reading, enum weather_unit unit);

/*
 * The unit of a file that does not name it.  A file's name may end in -metric, -standard or
 * -tenths; else the values tell (docs/tables.md has the rule).  WEATHER_UNIT_UNKNOWN: told.
 */
struct unit_signs {
    bool padded;  /* values are padded with blanks, as in the archive's own station files */
    bool finer;   /* a value is finer than a tenth */
    bool rounded; /* no value has a fraction */
};
enum weather_unit weather_unit_of(struct weather_reading *reading, struct unit_signs signs);

#endif
