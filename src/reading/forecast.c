/*
 * A forecast file: which form it has, the days it tells, and what is wrong with them as a whole.
 */
#include "reading/forecast.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct forecast_form *const forms[] = {&forecast_grid_point};

/* ---- the whole ------------------------------------------------------------------------------- */

static int order_days(const void *left, const void *right)
{
    const struct forecast_day *a = left, *b = right;
    return (a->day > b->day) - (a->day < b->day);
}

static void check_order(const struct forecast_file *file)
{
    for (size_t i = 0; i < file->count; i++) {
        const struct forecast_day *day = &file->days[i];
        char text[DAY_TEXT];
        if (day->tmin_c > day->tmax_c)
            json_tell(file->reader, day->tmin_path, "minimum-above-maximum",
                      arena_printf(file->reader->scratch,
                                   "the minimum of %s is %.1f and its maximum %.1f deg C, expected "
                                   "the minimum not to be higher, check both",
                                   day_text(day->day, text), day->tmin_c, day->tmax_c));
    }
}

static bool check_span(const struct forecast_file *file)
{
    char first[DAY_TEXT], last[DAY_TEXT];
    if (file->count == 0)
        return json_tell(file->reader, "", "empty-forecast",
                         "no value of any day, expected minima and maxima, get the file again");
    if (file->days[file->count - 1].day - file->days[0].day < FORECAST_DAYS_MOST)
        return true;
    return json_tell(file->reader, "", "forecast-too-long",
                     arena_printf(file->reader->scratch,
                                  "days from %s to %s, expected no more than %d, correct the "
                                  "intervals",
                                  day_text(file->days[0].day, first),
                                  day_text(file->days[file->count - 1].day, last),
                                  FORECAST_DAYS_MOST));
}

static void append(struct orchard *orchard, const char *station, const struct forecast_file *file)
{
    int64_t local = file->issued + (int64_t)llround(file->utc_offset_h * 3600);
    assert(file->count > 0 && file->days != NULL); /* a file without a day is told */
    struct forecast forecast = {
        .place = {.file = file->reader->file},
        .station = arena_text(orchard->arena, strlen(station), station),
        .issued = forecast_day_of(local),
        .issued_minute = local / 60,
        .first_day = file->days[0].day,
        .count = (size_t)(file->days[file->count - 1].day - file->days[0].day) + 1};
    forecast.tmin_c = ARENA_ARRAY(orchard->arena, forecast.count, double);
    forecast.tmax_c = ARENA_ARRAY(orchard->arena, forecast.count, double);
    for (size_t i = 0; i < forecast.count; i++)
        forecast.tmin_c[i] = forecast.tmax_c[i] = NAN;
    for (size_t i = 0; i < file->count; i++) {
        forecast.tmin_c[file->days[i].day - forecast.first_day] = file->days[i].tmin_c;
        forecast.tmax_c[file->days[i].day - forecast.first_day] = file->days[i].tmax_c;
    }
    *ARENA_PUSH(orchard->arena, orchard->forecasts.list, orchard->forecasts.count,
                orchard->forecasts.capacity) = forecast;
    *ARENA_PUSH(orchard->arena, orchard->weather_files.list, orchard->weather_files.count,
                orchard->weather_files.capacity) =
        (struct weather_file){.place = forecast.place,
                              .station = forecast.station,
                              .form = "grid-point forecast",
                              .unit = "the unit that it names",
                              .first_day = forecast.first_day,
                              .last_day = forecast.first_day + (daynum)forecast.count - 1,
                              .days = forecast.count,
                              .flags = ""};
}

/* ---- reading --------------------------------------------------------------------------------- */

/* That of the station, or of the first site by name that has this station. */
static double utc_offset_of(const struct orchard *orchard, const char *station)
{
    const struct site *first = NULL;
    for (size_t i = 0; i < orchard->stations.count; i++) {
        const struct station *row = &orchard->stations.list[i];
        if (strcmp(row->name, station) == 0 && !isnan(row->utc_offset_h))
            return row->utc_offset_h;
    }
    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];
        if (site->station_name == NULL || strcmp(site->station_name, station) != 0 ||
            isnan(site->utc_offset_h))
            continue;
        if (first == NULL || strcmp(site->name, first->name) < 0)
            first = site;
    }
    return first != NULL ? first->utc_offset_h : (double)NAN;
}

/* An answer that is an error told as JSON (RFC 7807: type, title, status, detail). */
static bool is_problem(const cJSON *tree)
{
    return cJSON_HasObjectItem(tree, "title") && cJSON_HasObjectItem(tree, "status") &&
           !cJSON_HasObjectItem(tree, "properties");
}

static void tell_problem(struct json_reader *reader, const cJSON *tree)
{
    const cJSON *title = cJSON_GetObjectItemCaseSensitive(tree, "title");
    json_tell(reader, "", "no-forecast",
              arena_printf(reader->scratch,
                           "an error that the weather service answered with (%s), expected a "
                           "forecast, get the file again",
                           cJSON_IsString(title) ? diag_quote(reader->diags, title->valuestring)
                                                 : "without a title"));
}

static void read_form(struct forecast_file *file, const cJSON *tree)
{
    struct json_reader *reader = file->reader;
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (forms[i]->is(tree)) {
            forms[i]->read(file, tree);
            return;
        }
    }
    if (is_problem(tree)) {
        tell_problem(reader, tree);
        return;
    }
    json_tell(reader, "", "no-forecast",
              arena_printf(reader->scratch,
                           "no form of forecast that is read, expected %s, get that one",
                           forms[0]->name));
}

struct forecasting {
    struct orchard *orchard;
    const char *station;
};

static void take_forecast(struct json_reader *reader, const cJSON *tree, void *context)
{
    const struct forecasting *forecasting = context;
    struct orchard *orchard = forecasting->orchard;
    const char *station = forecasting->station;
    struct forecast_file file = {.reader = reader, .utc_offset_h = utc_offset_of(orchard, station)};
    size_t errors = reader->diags->errors;
    if (isnan(file.utc_offset_h)) {
        json_tell(reader, "", "no-utc-offset",
                  "the station has no utc_offset_h, expected it to know the days of a forecast, "
                  "fill it in in stations.csv or sites.csv, or say it with --utc-offset where a "
                  "file is read alone");
        return;
    }
    read_form(&file, tree);
    if (reader->diags->errors > errors)
        return;
    if (file.count > 1)
        qsort(file.days, file.count, sizeof *file.days, order_days);
    check_order(&file);
    if (check_span(&file) && reader->diags->errors == errors)
        append(orchard, station, &file);
}

bool read_forecast(struct orchard *orchard, const char *station, const struct source *source,
                   struct diags *diags)
{
    struct forecasting forecasting = {orchard, station};

    return json_read(source, orchard->arena, diags,
                     (struct json_taker){take_forecast, &forecasting});
}
