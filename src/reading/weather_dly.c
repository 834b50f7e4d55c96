/*
 * The station files of the daily archive (GHCN-Daily, .dly): a line a month and element.
 *
 * Columns: station 1-11, year 12-15, month 16-17, element 18-21, then for each of 31 days a value
 * of five columns and its measurement, quality and source flags; tenths of deg C, -9999 missing,
 * and trailing blanks may be cut off.  Source: the archive's readme.txt, section III.
 */
#include "base/number.h"
#include "reading/columns.h"
#include "reading/lines.h"
#include "reading/weather.h"

#include <string.h>

enum {
    ID_BYTES = 11,
    YEAR_AT = 11,
    MONTH_AT = 15,
    ELEMENT_AT = 17,
    VALUES_AT = 21,
    VALUE_BYTES = 5,
    FLAG_QUALITY = 6, /* after the measurement flag */
    SLOT_BYTES = 8,
    SLOTS = 31,
    LINE_BYTES = VALUES_AT + SLOTS * SLOT_BYTES,
    OTHER_ID_BYTES = 6 /* of the older archive of the United States, in deg F */
};
#define MISSING (-9999)

static bool are(size_t count, const char *text, bool (*of)(char byte))
{
    for (size_t i = 0; i < count; i++)
        if (!of(text[i]))
            return false;
    return true;
}

static bool is_digit(char byte)
{
    return byte >= '0' && byte <= '9';
}

static bool is_capital_or_digit(char byte)
{
    return is_digit(byte) || (byte >= 'A' && byte <= 'Z');
}

static bool is_of_id(char byte)
{
    return is_capital_or_digit(byte) || (byte >= 'a' && byte <= 'z') || byte == '-' || byte == '_';
}

/* Station, year, month and element where an id of `id_bytes` puts them. */
static bool has_layout(size_t id_bytes, const struct weather_head *head)
{
    const char *line = head->line;
    return head->length >= id_bytes + 10 && are(id_bytes, line, is_of_id) &&
           are(6, line + id_bytes, is_digit) && are(4, line + id_bytes + 6, is_capital_or_digit) &&
           !is_digit(line[id_bytes + 6]);
}

static bool is_month_lines(const struct weather_head *head)
{
    return has_layout(ID_BYTES, head) || has_layout(OTHER_ID_BYTES, head);
}

static int32_t whole(size_t length, const char *text)
{
    int32_t value = 0;
    return number_parse_integer(length, text, &value) ? value : 0;
}

/* The month of a line; year 0: told. */
struct month {
    int year, month;
};

static struct month month_of(struct weather_reading *reading, const struct line *line)
{
    struct month month = {whole(4, line->bytes + YEAR_AT), whole(2, line->bytes + MONTH_AT)};
    if (month.month >= 1 && month.month <= 12 &&
        day_from_civil(month.year, month.month, 1) >= CELL_FIRST_DAY &&
        day_from_civil(month.year, month.month, 1) <= CELL_LAST_DAY)
        return month;
    diag_error(reading->diags, (struct place){.file = reading->file, .line = line->number},
               "no-such-month",
               "columns 12 to 17 are %s, expected a year from 1800 to 2199 and a month, get the "
               "file again; the line was left out",
               diag_quote(reading->diags, arena_text(reading->scratch, 6, line->bytes + YEAR_AT)));
    return (struct month){0, 0};
}

static void tell_slot(struct weather_reading *reading, const struct line *line, size_t slot)
{
    size_t from = VALUES_AT + slot * SLOT_BYTES;
    diag_error(
        reading->diags, (struct place){.file = reading->file, .line = line->number}, "bad-number",
        "columns %zu to %d are %s, expected a whole number of tenths of deg C or -9999, get "
        "the file again",
        from + 1, (int)from + VALUE_BYTES,
        diag_quote(reading->diags, arena_text(reading->scratch, VALUE_BYTES, line->bytes + from)));
}

/* The value of a slot; false: missing, or told. */
static bool read_slot(struct weather_reading *reading, const struct line *line, size_t slot,
                      int32_t *tenths)
{
    const char *text = line->bytes + VALUES_AT + slot * SLOT_BYTES;
    size_t blanks = 0;
    while (blanks < VALUE_BYTES && text[blanks] == ' ')
        blanks++;
    if (blanks == VALUE_BYTES)
        return false;
    if (number_parse_integer(VALUE_BYTES - blanks, text + blanks, tenths))
        return *tenths != MISSING;
    tell_slot(reading, line, slot);
    return false;
}

static void read_slots(struct weather_reading *reading, const struct line *line,
                       enum extreme extreme)
{
    struct month month = month_of(reading, line);
    struct place place = {.file = reading->file, .line = line->number};
    for (size_t slot = 0; month.year != 0 && slot < SLOTS; slot++) {
        size_t from = VALUES_AT + slot * SLOT_BYTES;
        int32_t tenths = MISSING;
        if (from + VALUE_BYTES > line->length || !read_slot(reading, line, slot, &tenths))
            continue;
        daynum date = day_from_civil(month.year, month.month, (int)slot + 1);
        if (date == DAY_NONE) {
            diag_error(reading->diags, place, "no-such-day",
                       "a value for day %zu of %04d-%02d, expected a day of the calendar, get the "
                       "file again",
                       slot + 1, month.year, month.month);
            continue;
        }
        if (from + FLAG_QUALITY < line->length &&
            weather_flag_drops(&reading->flags, line->bytes[from + FLAG_QUALITY]))
            continue;
        weather_days_put(&reading->days, &(struct weather_value){place, date, extreme, tenths},
                         reading->diags);
    }
}

static bool is_blank(const struct line *line)
{
    for (size_t i = 0; i < line->length; i++)
        if (line->bytes[i] != ' ')
            return false;
    return true;
}

static void read_line(struct weather_reading *reading, const struct line *line)
{
    struct place place = {.file = reading->file, .line = line->number};
    struct weather_head head = {.length = line->length, .line = line->bytes};
    size_t length = line->length;
    while (length > LINE_BYTES && line->bytes[length - 1] == ' ')
        length--;
    if (has_layout(OTHER_ID_BYTES, &head)) {
        diag_error(reading->diags, place, "other-layout",
                   "a line with a station of 6 characters, as in the older archive of the United "
                   "States in deg F, expected one of 11, get the file of GHCN-Daily");
    } else if (!has_layout(ID_BYTES, &head) || length > LINE_BYTES) {
        diag_error(reading->diags, place, "bad-line",
                   "no line of station, month, element and 31 days in at most %d columns, expected "
                   "one, get the file again; the line was left out",
                   LINE_BYTES);
    } else {
        bool maximum = memcmp(line->bytes + ELEMENT_AT, "TMAX", 4) == 0;
        if ((maximum || memcmp(line->bytes + ELEMENT_AT, "TMIN", 4) == 0) &&
            weather_takes_station(reading, ID_BYTES, line->bytes))
            read_slots(reading, line, maximum ? EXTREME_MAXIMUM : EXTREME_MINIMUM);
    }
}

static bool read_month_lines(struct weather_reading *reading)
{
    struct lines lines;
    struct line line;
    lines_open(&lines, reading->source, reading->file, reading->scratch, reading->diags);
    while (lines_take(&lines, &line) == LINES_TAKEN)
        if (!is_blank(&line))
            read_line(reading, &line);
    reading->unit = "tenths of deg C";
    weather_one_station(reading);
    weather_to_celsius(reading, WEATHER_TENTHS);
    return !lines.failed;
}

const struct weather_form weather_month_lines = {
    .name = "station file of GHCN-Daily (.dly)", .is = is_month_lines, .read = read_month_lines};
