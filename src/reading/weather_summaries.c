/*
 * Daily summaries of the archive as CSV: a row a day, a column an element.
 *
 * Columns are named STATION, DATE, TMAX, TMIN, TMAX_ATTRIBUTES, TMIN_ATTRIBUTES and stand in any
 * order among others, which are passed over.  Attributes are "M,Q,S": measurement, quality and
 * source flag, as in the other forms.  The unit is not named (weather_unit.c).  Checked against a
 * station file of the archive of 2026.
 */
#include "base/number.h"
#include "reading/columns.h"
#include "reading/weather.h"

#include <math.h>
#include <string.h>

/* The cells of a row by the header; 0: no such column, else from 1. */
struct layout {
    size_t count; /* of cells */
    size_t station, date, value[EXTREMES], attributes[EXTREMES];
};

static const char *const value_names[EXTREMES] = {"TMIN", "TMAX"};
static const char *const attribute_names[EXTREMES] = {"TMIN_ATTRIBUTES", "TMAX_ATTRIBUTES"};

static size_t cell_named(const struct row *row, const char *name)
{
    for (size_t i = 0; i < row->count; i++)
        if (strcmp(row->cells[i].text, name) == 0)
            return i + 1;
    return 0;
}

static struct layout layout_of(const struct row *row)
{
    struct layout layout = {.count = row->count,
                            .station = cell_named(row, "STATION"),
                            .date = cell_named(row, "DATE")};
    for (size_t e = 0; e < EXTREMES; e++) {
        layout.value[e] = cell_named(row, value_names[e]);
        layout.attributes[e] = cell_named(row, attribute_names[e]);
    }
    return layout;
}

static bool is_day_rows(const struct weather_head *head)
{
    struct layout layout = layout_of(&head->row);
    return layout.date > 0 &&
           (layout.value[EXTREME_MINIMUM] > 0 || layout.value[EXTREME_MAXIMUM] > 0);
}

static struct place place_of(const struct weather_reading *reading, const struct row *row,
                             size_t cell)
{
    return (struct place){reading->file, row->cells[cell - 1].line, (unsigned)cell};
}

static bool check_header(struct weather_reading *reading, const struct row *row,
                         const struct layout *layout)
{
    struct place place = {.file = reading->file, .line = row->first_line};
    bool whole = true;
    for (size_t e = 0; e < EXTREMES; e++) {
        if (layout->value[e] > 0)
            continue;
        whole = false;
        diag_error(reading->diags, place, "missing-column",
                   "no column '%s', expected it in daily summaries, order them with it",
                   value_names[e]);
    }
    return whole;
}

/* The letter between the first two commas of "M,Q,S". */
static char quality_of(const struct cell *attributes)
{
    const char *comma = strchr(attributes->text, ',');
    return comma == NULL || comma[1] == ',' ? '\0' : comma[1];
}

static void see(struct unit_signs *signs, const struct cell *cell, double value)
{
    double tenths = value * 10;
    signs->padded = signs->padded || cell->text[0] == ' ';
    signs->finer = signs->finer || fabs(tenths - round(tenths)) > 1e-6;
    signs->rounded = signs->rounded && value == round(value);
}

struct summaries {
    struct weather_reading *reading;
    struct layout layout;
    struct unit_signs signs;
};

/* The value of one extreme; NaN: blank, dropped, or told. */
static double read_value(struct summaries *summaries, const struct row *row, enum extreme extreme)
{
    struct weather_reading *reading = summaries->reading;
    size_t at = summaries->layout.value[extreme], flags = summaries->layout.attributes[extreme];
    const struct cell *cell = &row->cells[at - 1];
    const char *text = cell->text;
    size_t length = cell->length;
    double value;
    while (length > 0 && *text == ' ') { /* inside quotes */
        text++;
        length--;
    }
    if (length == 0 || cell->bad)
        return NAN;
    if (!number_parse(length, text, &value)) {
        diag_error(reading->diags, place_of(reading, row, at), "bad-number",
                   "'%s' is %s, expected a number like 12.5, leave it blank when it is not known",
                   value_names[extreme], diag_quote(reading->diags, cell->text));
        return NAN;
    }
    if (value == -9999 ||
        (flags > 0 && weather_flag_drops(&reading->flags, quality_of(&row->cells[flags - 1]))))
        return NAN;
    see(&summaries->signs, cell, value);
    return value;
}

static void read_row(struct summaries *summaries, const struct row *row)
{
    struct weather_reading *reading = summaries->reading;
    const struct layout *layout = &summaries->layout;
    struct weather_row day = {.place = {.file = reading->file, .line = row->first_line}};
    if (row->count != layout->count) {
        diag_error(reading->diags, day.place, "ragged-row",
                   "%zu cells, expected %zu as in the header line, get the file again; the row was "
                   "left out",
                   row->count, layout->count);
        return;
    }
    const struct cell *date = &row->cells[layout->date - 1];
    if (layout->station > 0 &&
        !weather_takes_station(reading, row->cells[layout->station - 1].length,
                               row->cells[layout->station - 1].text))
        return;
    if (!day_parse(date->length, date->text, &day.date) || day.date < CELL_FIRST_DAY ||
        day.date > CELL_LAST_DAY) {
        diag_error(reading->diags, place_of(reading, row, layout->date), "no-such-day",
                   "'DATE' is %s, expected a day like 2027-03-09 from 1800 to 2199, get the file "
                   "again; the row was left out",
                   diag_quote(reading->diags, date->text));
        return;
    }
    day.tmin_c = read_value(summaries, row, EXTREME_MINIMUM);
    day.tmax_c = read_value(summaries, row, EXTREME_MAXIMUM);
    weather_days_lay(&reading->days, &day, reading->diags);
}

static bool read_day_rows(struct weather_reading *reading)
{
    struct rows *rows = rows_open(reading->source, reading->file, reading->scratch, reading->diags);
    struct summaries summaries = {.reading = reading, .signs = {.rounded = true}};
    struct row row;
    if (!rows_header(rows, &row))
        return !rows_failed(rows);
    summaries.layout = layout_of(&row);
    if (!check_header(reading, &row, &summaries.layout))
        return !rows_failed(rows);
    while (rows_next(rows, &row))
        read_row(&summaries, &row);
    weather_one_station(reading);
    weather_to_celsius(reading, weather_unit_of(reading, summaries.signs));
    return !rows_failed(rows);
}

const struct weather_form weather_day_rows = {
    .name = "daily summaries", .is = is_day_rows, .read = read_day_rows};
