#include "reading/tables.h"

#include <math.h>
#include <stddef.h>

/* ---- sites.csv ------------------------------------------------------------------------------ */

#define AT(member) .offset = offsetof(struct site, member)

static const struct column site_columns[] = {
    {.name = "site", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "station", .kind = COLUMN_STATION, .required = true, AT(station_name)},
    {.name = "latitude",
     .kind = COLUMN_NUMBER,
     AT(latitude),
     .least = -90,
     .most = 90,
     .blank = NAN},
    {.name = "longitude",
     .kind = COLUMN_NUMBER,
     AT(longitude),
     .least = -180,
     .most = 180,
     .blank = NAN},
    {.name = "elevation_m",
     .kind = COLUMN_NUMBER,
     AT(elevation_m),
     .least = -450,
     .most = 6000,
     .blank = NAN},
    {.name = "elevation_ft",
     .kind = COLUMN_NUMBER,
     AT(elevation_m),
     .least = -1500,
     .most = 20000,
     .blank = NAN,
     .unit = UNIT_FEET},
    {.name = "utc_offset_h",
     .kind = COLUMN_NUMBER,
     AT(utc_offset_h),
     .least = -12,
     .most = 14,
     .blank = NAN},
    /* Share of days in season on which work is possible: 0.7, common practice, no source. */
    {.name = "workable_share",
     .kind = COLUMN_NUMBER,
     AT(workable_share),
     .least = 0,
     .most = 1,
     .blank = 0.7},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_site(struct orchard *orchard, const void *row)
{
    APPEND(orchard, site, sites, row);
}

const struct table site_table = {.name = "sites.csv",
                                 .required = true,
                                 .row_bytes = sizeof(struct site),
                                 TABLE_COLUMNS(site_columns),
                                 .append = append_site};

#undef AT

/* ---- stations.csv --------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct station, member)

static const char *const reading_hours[] = {"midnight", "morning"};

static const struct column station_columns[] = {
    {.name = "station", .kind = COLUMN_STATION, .required = true, AT(name)},
    {.name = "latitude",
     .kind = COLUMN_NUMBER,
     AT(latitude),
     .least = -90,
     .most = 90,
     .blank = NAN},
    {.name = "longitude",
     .kind = COLUMN_NUMBER,
     AT(longitude),
     .least = -180,
     .most = 180,
     .blank = NAN},
    {.name = "elevation_m",
     .kind = COLUMN_NUMBER,
     AT(elevation_m),
     .least = -450,
     .most = 6000,
     .blank = NAN},
    {.name = "elevation_ft",
     .kind = COLUMN_NUMBER,
     AT(elevation_m),
     .least = -1500,
     .most = 20000,
     .blank = NAN,
     .unit = UNIT_FEET},
    {.name = "utc_offset_h",
     .kind = COLUMN_NUMBER,
     AT(utc_offset_h),
     .least = -12,
     .most = 14,
     .blank = NAN},
    {.name = "reads_at",
     .kind = COLUMN_YES,
     AT(reads_morning),
     .words = {COUNT_OF(reading_hours), reading_hours}},
    {.name = "neighbour", .kind = COLUMN_STATION, AT(neighbour)},
    {.name = "tmin_lapse_c_per_km",
     .kind = COLUMN_NUMBER,
     AT(tmin_lapse_c_per_km),
     .least = -30,
     .most = 30,
     .blank = NAN},
    {.name = "tmax_lapse_c_per_km",
     .kind = COLUMN_NUMBER,
     AT(tmax_lapse_c_per_km),
     .least = -30,
     .most = 30,
     .blank = NAN},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_station(struct orchard *orchard, const void *row)
{
    APPEND(orchard, station, stations, row);
}

const struct table station_table = {.name = "stations.csv",
                                    .row_bytes = sizeof(struct station),
                                    TABLE_COLUMNS(station_columns),
                                    .append = append_station};
