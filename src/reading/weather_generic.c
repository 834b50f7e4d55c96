/*
 * The form of our own: date, tmin_c or tmin_f, tmax_c or tmax_f.
 */
#include "reading/weather.h"

#include "base/number.h"
#include "reading/columns.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define AT(member) .offset = offsetof(struct weather_row, member)

/* Wider than any air temperature measured near the ground (-89.2 and 56.7 deg C, from memory). */
static const struct column weather_columns[] = {
    {.name = "date", .kind = COLUMN_DAY, .required = true, AT(date)},
    {.name = "tmin_c",
     .kind = COLUMN_NUMBER,
     .expected = true,
     AT(tmin_c),
     .least = -90,
     .most = 60,
     .blank = NAN},
    {.name = "tmin_f",
     .kind = COLUMN_NUMBER,
     .expected = true,
     AT(tmin_c),
     .least = -130,
     .most = 140,
     .blank = NAN,
     .unit = UNIT_FAHRENHEIT},
    {.name = "tmax_c",
     .kind = COLUMN_NUMBER,
     .expected = true,
     AT(tmax_c),
     .least = -90,
     .most = 60,
     .blank = NAN},
    {.name = "tmax_f",
     .kind = COLUMN_NUMBER,
     .expected = true,
     AT(tmax_c),
     .least = -130,
     .most = 140,
     .blank = NAN,
     .unit = UNIT_FAHRENHEIT},
};

/* ---- checks ---------------------------------------------------------------------------------- */

/* The cell of either twin as typed. */
static const char *typed(const struct reader *reader, const char *one, const char *other)
{
    struct place place = reader_place(reader, one);
    if (place.cell == 0)
        place = reader_place(reader, other);
    return reader->row->cells[place.cell - 1].text;
}

static bool finish_weather(struct reader *reader, void *noun)
{
    const struct weather_row *row = noun;
    if (!(row->tmin_c > row->tmax_c))
        return true;
    char day[DAY_TEXT];
    struct place place = reader_place(reader, "tmin_c");
    if (place.cell == 0)
        place = reader_place(reader, "tmin_f");
    diag_error(reader->diags, place, "minimum-above-maximum",
               "the minimum of %s is %s and its maximum %s, expected the minimum not to be higher, "
               "check both",
               day_text(row->date, day),
               rows_quote(reader->rows, typed(reader, "tmin_c", "tmin_f")),
               rows_quote(reader->rows, typed(reader, "tmax_c", "tmax_f")));
    return false;
}

static const struct table weather_table = {.name = "weather",
                                           .row_bytes = sizeof(struct weather_row),
                                           TABLE_COLUMNS(weather_columns),
                                           .finish = finish_weather};

/* ---- the usual row --------------------------------------------------------------------------- */

/* Where the three cells of a file stand, in Celsius; `whole` when nothing else does. */
struct usual {
    bool whole;
    size_t date, tmin, tmax;
};

static struct usual usual_of(const struct reader *reader)
{
    struct usual usual = {.whole = reader->complete && reader->header_count == 3};
    for (size_t i = 0; i < reader->header_count; i++) {
        const struct column *column = reader->header[i];
        if (column == &weather_columns[0])
            usual.date = i;
        else if (column == &weather_columns[1])
            usual.tmin = i;
        else if (column == &weather_columns[3])
            usual.tmax = i;
        else
            usual.whole = false;
    }
    return usual;
}

static bool is_within(double value, const struct column *column)
{
    return value >= column->least && value <= column->most;
}

/* A row in which all is well, which is nearly every row; false: go the long way, which tells why.
 */
static bool read_usual(const struct usual *usual, const struct row *row, struct weather_row *day)
{
    if (!usual->whole || row->count != 3)
        return false;
    const struct cell *date = &row->cells[usual->date];
    const struct cell *tmin = &row->cells[usual->tmin], *tmax = &row->cells[usual->tmax];
    day->place.line = row->first_line;
    return day_parse(date->length, date->text, &day->date) && day->date >= CELL_FIRST_DAY &&
           day->date <= CELL_LAST_DAY && number_parse(tmin->length, tmin->text, &day->tmin_c) &&
           number_parse(tmax->length, tmax->text, &day->tmax_c) &&
           is_within(day->tmin_c, &weather_columns[1]) &&
           is_within(day->tmax_c, &weather_columns[3]) && day->tmin_c <= day->tmax_c;
}

static bool is_generic(const struct weather_head *head)
{
    (void)head;
    return true; /* what is no other form is told of the columns that it lacks */
}

static bool read_generic(struct weather_reading *reading)
{
    struct reader reader = {.table = &weather_table,
                            .diags = reading->diags,
                            .arena = reading->orchard->arena,
                            .file = reading->file};
    reader.rows = rows_open(reading->source, reader.file, reading->scratch, reading->diags);
    struct row row;
    struct weather_row day = {.place = {.file = reader.file}};
    if (rows_header(reader.rows, &row) && reader_open(&reader, &row, reading->scratch)) {
        struct usual usual = usual_of(&reader);
        while (rows_next(reader.rows, &row))
            if (read_usual(&usual, &row, &day) || reader_row(&reader, &row, &day))
                weather_days_lay(&reading->days, &day, reading->diags);
    }
    return !rows_failed(reader.rows);
}

const struct weather_form weather_columns_form = {
    .name = "table of days", .is = is_generic, .read = read_generic};
