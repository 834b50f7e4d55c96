/*
 * The CSV forms of the daily archive by year and by station: a row a day and element.
 *
 * station, YYYYMMDD, element, value, measurement flag, quality flag, source flag and, in most,
 * the hour of observation; tenths of deg C, no header or one that begins with the station's id.
 * Source: the archive's readme-by_station.txt and readme-by_year.txt.
 */
#include "base/number.h"
#include "reading/columns.h"
#include "reading/weather.h"

#include <string.h>

enum { ID, DATE, ELEMENT, VALUE, MEASUREMENT, QUALITY, SOURCE, CELLS_LEAST, CELLS_MOST };
#define MISSING (-9999)

static bool are_digits(const struct cell *cell, size_t count)
{
    if (cell->length != count)
        return false;
    for (size_t i = 0; i < count; i++)
        if (cell->text[i] < '0' || cell->text[i] > '9')
            return false;
    return true;
}

static bool is_names(const struct row *row)
{
    return strcmp(row->cells[DATE].text, "DATE") == 0 &&
           strcmp(row->cells[ELEMENT].text, "ELEMENT") == 0;
}

static bool is_element_rows(const struct weather_head *head)
{
    const struct row *row = &head->row;
    return row->count >= CELLS_LEAST && row->count <= CELLS_MOST &&
           (is_names(row) || (are_digits(&row->cells[DATE], 8) && row->cells[ELEMENT].length == 4));
}

static void tell(struct weather_reading *reading, const struct row *row, size_t cell,
                 const char *expected)
{
    const char *code = cell == DATE ? "no-such-day" : "bad-number";
    diag_error(reading->diags,
               (struct place){reading->file, row->cells[cell].line, (unsigned)cell + 1}, code,
               "%s, expected %s, get the file again; the row was left out",
               diag_quote(reading->diags, row->cells[cell].text), expected);
}

/* DAY_NONE: told. */
static daynum date_of(struct weather_reading *reading, const struct row *row)
{
    const struct cell *cell = &row->cells[DATE];
    daynum date = DAY_NONE;
    if (are_digits(cell, 8)) {
        char iso[DAY_TEXT] = {cell->text[0], cell->text[1], cell->text[2], cell->text[3],
                              '-',           cell->text[4], cell->text[5], '-',
                              cell->text[6], cell->text[7]};
        if (!day_parse(DAY_TEXT - 1, iso, &date) || date < CELL_FIRST_DAY || date > CELL_LAST_DAY)
            date = DAY_NONE;
    }
    if (date == DAY_NONE)
        tell(reading, row, DATE, "a day like 20270309 from 1800 to 2199");
    return date;
}

static void read_row(struct weather_reading *reading, const struct row *row)
{
    const struct cell *element = &row->cells[ELEMENT], *value = &row->cells[VALUE];
    struct place place = {.file = reading->file, .line = row->first_line};
    int32_t tenths;
    if (row->count < CELLS_LEAST || row->count > CELLS_MOST) {
        diag_error(reading->diags, place, "ragged-row",
                   "%zu cells, expected %d or %d, get the file again; the row was left out",
                   row->count, CELLS_LEAST, CELLS_MOST);
        return;
    }
    bool maximum = strcmp(element->text, "TMAX") == 0;
    if ((!maximum && strcmp(element->text, "TMIN") != 0) ||
        !weather_takes_station(reading, row->cells[ID].length, row->cells[ID].text))
        return;
    daynum date = date_of(reading, row);
    if (date == DAY_NONE)
        return;
    if (!number_parse_integer(value->length, value->text, &tenths))
        tell(reading, row, VALUE, "a whole number of tenths of deg C");
    else if (tenths != MISSING && !weather_flag_drops(&reading->flags, row->cells[QUALITY].text[0]))
        weather_days_put(&reading->days,
                         &(struct weather_value){
                             place, date, maximum ? EXTREME_MAXIMUM : EXTREME_MINIMUM, tenths},
                         reading->diags);
}

static bool read_element_rows(struct weather_reading *reading)
{
    struct rows *rows = rows_open(reading->source, reading->file, reading->scratch, reading->diags);
    struct row row;
    if (rows_header(rows, &row)) {
        if (!is_names(&row))
            read_row(reading, &row);
        while (rows_next(rows, &row))
            read_row(reading, &row);
    }
    reading->unit = "tenths of deg C";
    weather_one_station(reading);
    weather_to_celsius(reading, WEATHER_TENTHS);
    return !rows_failed(rows);
}

const struct weather_form weather_element_rows = {.name = "rows a day and element of GHCN-Daily",
                                                  .is = is_element_rows,
                                                  .read = read_element_rows};
