/*
 * From the text of one cell to a value, or a message that says what was found, what was expected
 * and what to do.
 */
#include "base/day.h"
#include "base/number.h"
#include "base/text.h"
#include "reading/columns.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

enum { WORD_BYTES_MOST = 64, WORDS_MOST = 64, FIRST_YEAR = 1800, LAST_YEAR = 2199 };

static const double metres_of_foot = 0.3048;

/* ---- words ---------------------------------------------------------------------------------- */

const char *words_joined(struct arena *arena, struct words words)
{
    struct text text;
    text_init(&text, arena);
    for (size_t i = 0; i < words.count; i++)
        text_addf(&text, "%s%s", i == 0 ? "" : ", ", words.list[i]);
    return text.bytes;
}

const char *words_nearest(const char *word, struct words words)
{
    char lower[WORD_BYTES_MOST];
    size_t length = strlen(word);
    if (length >= sizeof lower)
        return NULL;
    for (size_t i = 0; i <= length; i++)
        lower[i] = (char)(word[i] >= 'A' && word[i] <= 'Z' ? word[i] - 'A' + 'a' : word[i]);
    return text_nearest(lower, words.count, words.list);
}

int words_find(const char *word, struct words words)
{
    for (size_t i = 0; i < words.count; i++)
        if (strcmp(words.list[i], word) == 0)
            return (int)i;
    return -1;
}

void cell_tell_word(struct reader *reader, const char *column, const char *word, struct words words)
{
    const char *near = words_nearest(word, words);
    diag_error(reader->diags, reader->place, "unknown-word", "'%s' is %s, expected one of %s%s%s%s",
               column, rows_quote(reader->rows, word), words_joined(reader->diags->arena, words),
               near == NULL ? "" : ", did you mean '", near == NULL ? "" : near,
               near == NULL ? "" : "'?");
}

/* ---- numbers -------------------------------------------------------------------------------- */

static bool is_not_known(const char *text)
{
    static const char *const words[] = {
        "na", "n/a", "nan", "null", "none", "nil",      "m",       "-",       "--",  ".",
        "?",  "x",   "inf", "-inf", "+inf", "infinity", "unknown", "missing", "#n/a"};
    char lower[16];
    size_t length = strlen(text);
    if (length >= sizeof lower)
        return false;
    for (size_t i = 0; i <= length; i++)
        lower[i] = (char)tolower((unsigned char)text[i]);
    return words_find(lower, WORDS(words)) >= 0;
}

/* Why is this not a number, and what is to be done? */
static const char *number_advice(const char *text)
{
    const char *digits = text + (text[0] == '+' || text[0] == '-');
    if (is_not_known(text))
        return "leave it blank when it is not known";
    if (digits[0] == '0' && (digits[1] == 'x' || digits[1] == 'X'))
        return "write it in decimal digits";
    if (strchr(digits, ',') != NULL && digits[strspn(digits, "0123456789,.")] == '\0')
        return "write a point before the fraction and no comma";
    if (digits[0] >= '0' && digits[0] <= '9' && digits[strspn(digits, "0123456789.")] != '\0' &&
        digits[strspn(digits, "0123456789.eE+-")] == '\0')
        return "write it out without an exponent";
    if (digits[0] == '.' || (digits[0] != '\0' && digits[strlen(digits) - 1] == '.'))
        return "write digits on both sides of the point";
    if (digits[0] != '\0' && digits[strspn(digits, "0123456789.")] == '\0')
        return "write at most 15 digits and one point";
    return "write digits only, without a unit";
}

static bool tell_number(struct reader *reader, const struct column *column, const struct cell *cell)
{
    double number;
    bool fraction = column->kind == COLUMN_WHOLE && number_parse(cell->length, cell->text, &number);
    diag_error(reader->diags, reader->place, "bad-number", "'%s' is %s, expected a %s, %s",
               column->name, rows_quote(reader->rows, cell->text),
               column->kind == COLUMN_WHOLE ? "whole number like 12" : "number like 12.5",
               fraction ? "write it without a fraction" : number_advice(cell->text));
    return false;
}

static bool check_range(struct reader *reader, const struct column *column, const struct cell *cell,
                        double value)
{
    if ((column->least == 0 && column->most == 0) ||
        (value >= column->least && value <= column->most))
        return true;
    bool missing = strncmp(cell->text, "-99", 3) == 0;
    diag_error(reader->diags, reader->place, "out-of-range", "'%s' is %s, expected %d to %d, %s",
               column->name, rows_quote(reader->rows, cell->text), column->least, column->most,
               missing ? "leave it blank when it is not known" : "check the number and its unit");
    return false;
}

double unit_in_metric(enum column_unit unit, double value)
{
    switch (unit) {
    case UNIT_FEET:
        return value * metres_of_foot;
    case UNIT_FAHRENHEIT:
        return (value - 32) / 1.8;
    case UNIT_FAHRENHEIT_SUM:
        return value / 1.8;
    case UNIT_AS_TYPED:
        break;
    }
    return value;
}

static bool read_number(struct reader *reader, const struct column *column, const struct cell *cell,
                        double *member)
{
    double value;
    if (!number_parse(cell->length, cell->text, &value))
        return tell_number(reader, column, cell);
    if (!check_range(reader, column, cell, value))
        return false;
    *member = unit_in_metric(column->unit, value);
    return true;
}

static bool read_whole(struct reader *reader, const struct column *column, const struct cell *cell,
                       int *member)
{
    int32_t value;
    double number;
    if (!number_parse_integer(cell->length, cell->text, &value)) {
        if (number_parse(cell->length, cell->text, &number) &&
            !check_range(reader, column, cell, number))
            return false;
        return tell_number(reader, column, cell);
    }
    *member = (int)value;
    return check_range(reader, column, cell, value);
}

static bool read_decimal(struct reader *reader, const struct column *column,
                         const struct cell *cell, struct decimal *member)
{
    struct decimal value;
    if (!number_parse_decimal(cell->length, cell->text, &value)) {
        double number;
        if (!number_parse(cell->length, cell->text, &number))
            return tell_number(reader, column, cell);
        diag_error(reader->diags, reader->place, "bad-number",
                   "'%s' is %s, expected at most 9 digits after the point, round it", column->name,
                   rows_quote(reader->rows, cell->text));
        return false;
    }
    *member = value;
    return check_range(reader, column, cell, number_of_decimal(value));
}

/* ---- days ----------------------------------------------------------------------------------- */

/* Does it look as if it were YYYY-MM-DD? */
static bool has_day_shape(const char *text)
{
    static const char shape[] = "0000-00-00";
    size_t i = 0;
    for (; shape[i] != '\0'; i++)
        if (shape[i] == '0' ? text[i] < '0' || text[i] > '9' : text[i] != shape[i])
            return false;
    return text[i] == '\0';
}

static bool read_day(struct reader *reader, const struct column *column, const struct cell *cell,
                     daynum *member)
{
    daynum day;
    if (!day_parse(cell->length, cell->text, &day)) {
        bool shape = has_day_shape(cell->text);
        diag_error(reader->diags, reader->place, shape ? "no-such-day" : "bad-date",
                   "'%s' is %s, %s", column->name, rows_quote(reader->rows, cell->text),
                   shape ? "expected a day of the calendar, check month and day"
                         : "expected a date like 2027-03-09, write year, month and day so");
        return false;
    }
    if (day < CELL_FIRST_DAY || day > CELL_LAST_DAY) {
        diag_error(reader->diags, reader->place, "out-of-range",
                   "'%s' is %s, expected a year from %d to %d, check the year", column->name,
                   rows_quote(reader->rows, cell->text), FIRST_YEAR, LAST_YEAR);
        return false;
    }
    *member = day;
    return true;
}

static bool read_month_day(struct reader *reader, const struct column *column,
                           const struct cell *cell, struct month_day *member)
{
    if (day_parse_month_day(cell->length, cell->text, member))
        return true;
    diag_error(reader->diags, reader->place, "bad-date",
               "'%s' is %s, expected a day of the year like 03-09, write month and day so",
               column->name, rows_quote(reader->rows, cell->text));
    return false;
}

/* ---- any ------------------------------------------------------------------------------------ */

static bool read_word(struct reader *reader, const struct column *column, const struct cell *cell,
                      void *member)
{
    int word = words_find(cell->text, column->words);
    if (word < 0) {
        cell_tell_word(reader, column->name, cell->text, column->words);
        return false;
    }
    int value = column->words_from + word;
    if (column->kind == COLUMN_ONE_OF)
        *(const char **)member = column->words.list[word];
    else if (column->kind == COLUMN_YES)
        *(bool *)member = word == 1;
    else
        memcpy(member, &value, sizeof value);
    return true;
}

bool cell_read(struct reader *reader, const struct column *column, const struct cell *cell,
               void *member)
{
    switch (column->kind) {
    case COLUMN_NAME:
    case COLUMN_STATION:
        return cell_read_name(reader, column, cell, member);
    case COLUMN_TEXT:
        *(const char **)member = arena_text(reader->arena, cell->length, cell->text);
        return true;
    case COLUMN_ONE_OF:
    case COLUMN_WORD:
    case COLUMN_YES:
        return read_word(reader, column, cell, member);
    case COLUMN_NUMBER:
        return read_number(reader, column, cell, member);
    case COLUMN_WHOLE:
        return read_whole(reader, column, cell, member);
    case COLUMN_DECIMAL:
        return read_decimal(reader, column, cell, member);
    case COLUMN_DAY:
        return read_day(reader, column, cell, member);
    case COLUMN_MONTH_DAY:
        return read_month_day(reader, column, cell, member);
    case COLUMN_OWN:
        return column->read(reader, cell, member);
    }
    return false;
}

void cell_blank(const struct column *column, void *member)
{
    int whole = isnan(column->blank) ? 0 : (int)column->blank;
    switch (column->kind) {
    case COLUMN_NUMBER:
        *(double *)member = column->blank;
        break;
    case COLUMN_WHOLE:
    case COLUMN_WORD:
        memcpy(member, &whole, sizeof whole);
        break;
    case COLUMN_DAY:
        *(daynum *)member = DAY_NONE;
        break;
    case COLUMN_YES:
        *(bool *)member = false;
        break;
    case COLUMN_DECIMAL:
        *(struct decimal *)member = (struct decimal){0};
        break;
    case COLUMN_MONTH_DAY:
        *(struct month_day *)member = (struct month_day){0};
        break;
    case COLUMN_NAME:
    case COLUMN_STATION:
    case COLUMN_TEXT:
    case COLUMN_ONE_OF:
        *(const char **)member = NULL;
        break;
    case COLUMN_OWN:
        break;
    }
}
