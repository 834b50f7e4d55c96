#include "writing/cell.h"

#include "writing/words.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double FAHRENHEIT_PER_CELSIUS = 1.8;
static const double METRES_PER_FOOT = 0.3048;

bool cell_is_missing(const struct sheet_column *column, union cell cell)
{
    switch (column->kind) {
    case CELL_TEXT:
        return !cell.text;
    case CELL_DAY:
        return cell.day == DAY_NONE;
    default:
        return !isfinite(cell.number);
    }
}

bool column_in_data(const struct sheet_column *column)
{
    return column->where == COLUMN_EVERYWHERE || column->where == COLUMN_DATA_ONLY;
}

bool column_in_table(const struct sheet_column *column)
{
    return column->where == COLUMN_EVERYWHERE || column->where == COLUMN_TEXT_ONLY;
}

/* A number with its digits; what rounds to nothing has no sign. */
static void add_number(struct text *out, int digits, double number)
{
    size_t start = out->length;
    text_addf(out, "%.*f", digits, number);
    char *wrote = out->bytes + start;
    if (wrote[0] == '-' && wrote[strspn(wrote, "-0.")] == '\0') {
        memmove(wrote, wrote + 1, strlen(wrote));
        out->length--;
    }
}

static int digits_of(const struct sheet_column *column, struct sheet_style style)
{
    switch (column->kind) {
    case CELL_INTEGER:
        return 0;
    case CELL_NUMBER:
    case CELL_TEMPERATURE:
    case CELL_HEAT:
        return style.digits >= 0 ? style.digits : column->digits;
    default:
        return column->digits;
    }
}

void cell_add_data(struct text *out, const struct sheet_column *column, union cell cell,
                   struct sheet_style style)
{
    char day[DAY_TEXT];
    if (cell_is_missing(column, cell))
        return;
    if (column->kind == CELL_TEXT)
        text_add(out, cell.text);
    else if (column->kind == CELL_DAY)
        text_add(out, cell.day == DAY_NEVER         ? "not reached"
                      : cell.day == WORDS_UNCHILLED ? "chilling not met"
                                                    : day_text(cell.day, day));
    else
        add_number(out, digits_of(column, style), cell.number);
}

static double in_us_units(enum cell_kind kind, double number)
{
    switch (kind) {
    case CELL_TEMPERATURE:
        return number * FAHRENHEIT_PER_CELSIUS + 32;
    case CELL_HEAT:
        return number * FAHRENHEIT_PER_CELSIUS;
    case CELL_LENGTH:
        return number / METRES_PER_FOOT;
    default:
        return number;
    }
}

void cell_add_shown(struct text *out, const struct sheet_column *column, union cell cell,
                    struct sheet_style style)
{
    if (cell_is_missing(column, cell)) {
        text_add(out, "-");
        return;
    }
    switch (column->kind) {
    case CELL_TEXT:
        text_add_printable(out, cell.text);
        return;
    case CELL_DAY:
        if (column->digits > 0)
            words_add_day(out, cell.day);
        else
            cell_add_data(out, column, cell, style);
        return;
    case CELL_CHANCE:
        words_add_chance(out, cell.number);
        return;
    default:
        if (style.units_us)
            cell.number = in_us_units(column->kind, cell.number);
        add_number(out, digits_of(column, style), cell.number);
    }
}

static const char *unit_of(enum cell_kind kind, bool us)
{
    switch (kind) {
    case CELL_TEMPERATURE:
        return us ? " [F]" : " [C]";
    case CELL_HEAT:
        return us ? " [F day]" : " [C day]";
    case CELL_LENGTH:
        return us ? " [ft]" : " [m]";
    default:
        return "";
    }
}

void cell_add_title(struct text *out, const struct sheet_column *column, struct sheet_style style)
{
    const char *unit = unit_of(column->kind, style.units_us);
    const char *title = column->title ? column->title : column->name;
    size_t length = strlen(title);
    if (!column->title && *unit && length > 2 && title[length - 2] == '_')
        length -= 2; /* tmin_c, reach_m: the unit follows in words */
    text_add_bytes(out, length, title);
    text_add(out, unit);
}
