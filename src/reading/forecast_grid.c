/*
 * The grid-point form of the United States weather service: properties.updateTime, and
 * properties.minTemperature and maxTemperature, each {uom, values: [{validTime, value}]}, of which
 * value may be null (api.weather.gov, its description as OpenAPI, read in a copy of 2024).  What
 * else stands in the file is passed over.
 */
#include "reading/forecast.h"

#include <math.h>
#include <string.h>

static bool is_grid(const cJSON *tree)
{
    const cJSON *properties = cJSON_GetObjectItemCaseSensitive(tree, "properties");
    return cJSON_HasObjectItem(properties, "minTemperature") ||
           cJSON_HasObjectItem(properties, "maxTemperature") ||
           cJSON_HasObjectItem(properties, "updateTime");
}

/* A text of `item`, or NULL: told. */
static const char *text_of(struct json_reader *reader, const char *path, const cJSON *item,
                           const char *expected)
{
    if (item != NULL && cJSON_IsString(item))
        return item->valuestring;
    if (item == NULL)
        json_tell(reader, path, "missing-key",
                  arena_printf(reader->scratch, "is not there, expected %s, get the file again",
                               expected));
    else
        json_wrong(reader, path, item, expected);
    return NULL;
}

static void read_issue(struct forecast_file *file, const cJSON *properties)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(properties, "updateTime");
    const char *text = text_of(file->reader, "properties.updateTime", item,
                               "the moment of issue like \"2027-03-08T10:11:12+00:00\"");
    if (text != NULL && !moment_parse(strlen(text), text, &file->issued))
        json_tell(file->reader, "properties.updateTime", "bad-time",
                  arena_printf(file->reader->scratch,
                               "%s is no moment, expected one like \"2027-03-08T10:11:12+00:00\"",
                               diag_quote(file->reader->diags, text)));
}

/* degC or degF, after a namespace such as "wmoUnit:"; false: told. */
static bool read_unit(struct json_reader *reader, const char *path, const cJSON *layer,
                      bool *fahrenheit)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(layer, "uom");
    const char *name = item != NULL ? "uom" : "unitCode";
    if (item == NULL)
        item = cJSON_GetObjectItemCaseSensitive(layer, "unitCode");
    const char *full = json_path(reader, path, item != NULL ? name : "uom");
    const char *text = text_of(reader, full, item, "\"wmoUnit:degC\" or \"wmoUnit:degF\"");
    if (text == NULL)
        return false;
    const char *colon = strrchr(text, ':');
    const char *unit = colon != NULL ? colon + 1 : text;
    *fahrenheit = strcmp(unit, "degF") == 0;
    if (*fahrenheit || strcmp(unit, "degC") == 0)
        return true;
    return json_tell(reader, full, "unknown-unit",
                     arena_printf(reader->scratch,
                                  "%s is not known, expected \"wmoUnit:degC\" or "
                                  "\"wmoUnit:degF\"",
                                  diag_quote(reader->diags, text)));
}

struct layer {
    struct forecast_file *file;
    enum forecast_extreme extreme;
    bool fahrenheit;
};

static void read_value(const struct layer *layer, const char *path, const cJSON *item)
{
    static const struct key celsius = {.kind = KEY_NUMBER, .least = -90, .most = 60};
    static const struct key fahrenheit = {.kind = KEY_NUMBER, .least = -130, .most = 140};
    struct json_reader *reader = layer->file->reader;
    const cJSON *value = cJSON_GetObjectItemCaseSensitive(item, "value");
    const char *at = json_path(reader, path, "validTime");
    struct interval interval;
    if (!cJSON_IsObject(item)) {
        json_wrong(reader, path, item, "an object with validTime and value");
        return;
    }
    const char *text = text_of(reader, at, cJSON_GetObjectItemCaseSensitive(item, "validTime"),
                               "an interval like \"2027-03-08T13:00:00+00:00/PT13H\"");
    if (text == NULL)
        return;
    if (!interval_parse(strlen(text), text, &interval)) {
        json_tell(reader, at, "bad-interval",
                  arena_printf(reader->scratch,
                               "%s is no interval, expected one like "
                               "\"2027-03-08T13:00:00+00:00/PT13H\"",
                               diag_quote(reader->diags, text)));
        return;
    }
    if (cJSON_IsNull(value)) /* no data for that time */
        return;
    const char *full = json_path(reader, path, "value");
    if (value == NULL) {
        json_tell(reader, full, "missing-key",
                  "is not there, expected a number or null, get the file again");
        return;
    }
    double c = json_number(reader, full, value, layer->fahrenheit ? &fahrenheit : &celsius);
    if (layer->fahrenheit)
        c = unit_in_metric(UNIT_FAHRENHEIT, c);
    if (!isnan(c))
        forecast_add(layer->file, layer->extreme, interval, c, full);
}

static void read_layer(struct forecast_file *file, const cJSON *properties, const char *name,
                       enum forecast_extreme extreme)
{
    struct json_reader *reader = file->reader;
    const char *path = json_path(reader, "properties", name);
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(properties, name);
    const cJSON *values = cJSON_GetObjectItemCaseSensitive(item, "values"), *child;
    struct layer layer = {.file = file, .extreme = extreme};
    if (item == NULL) {
        json_tell(reader, path, "missing-key", "is not there, expected it, get the file again");
        return;
    }
    if (!cJSON_IsObject(item)) {
        json_wrong(reader, path, item, "an object with uom and values");
        return;
    }
    if (!cJSON_IsArray(values)) {
        json_tell(reader, json_path(reader, path, "values"), "missing-key",
                  "is no list, expected the values with their times, get the file again");
        return;
    }
    if (!read_unit(reader, path, item, &layer.fahrenheit))
        return;
    size_t index = 0;
    cJSON_ArrayForEach(child, values)
    {
        read_value(&layer, arena_printf(reader->scratch, "%s.values[%zu]", path, index++), child);
    }
}

static void read_grid(struct forecast_file *file, const cJSON *tree)
{
    const cJSON *properties = cJSON_GetObjectItemCaseSensitive(tree, "properties");
    read_issue(file, properties);
    read_layer(file, properties, "minTemperature", FORECAST_MINIMUM);
    read_layer(file, properties, "maxTemperature", FORECAST_MAXIMUM);
}

const struct forecast_form forecast_grid_point = {
    .name = "the grid-point form with properties.minTemperature and properties.maxTemperature",
    .is = is_grid,
    .read = read_grid,
};
