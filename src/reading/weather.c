/*
 * Days of a weather file come in any order, so they are laid into blocks of one slot a day, made
 * when a day of theirs turns up.  Dates are bounded, so memory is too, however many rows repeat a
 * day.
 */
#include "reading/columns.h"

#include "base/day.h"
#include "base/number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

struct weather_row {
    struct place place;
    daynum date;
    double tmin_c, tmax_c;
};

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

enum { BLOCK_DAYS = 512, BLOCKS = 286 }; /* 1800 to 2199 and a little */

struct block {
    double tmin_c[BLOCK_DAYS], tmax_c[BLOCK_DAYS];
    unsigned line[BLOCK_DAYS]; /* 0: no row of that day */
};

/* The days of one file. */
struct days {
    struct arena *scratch;
    struct block *blocks[BLOCKS]; /* NULL: no row of any of its days */
    daynum first, last;           /* DAY_NONE: no row at all */
};

static bool is_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* A day that stands in the file already. */
static void tell_again(struct reader *reader, const struct weather_row *row,
                       const struct block *block, size_t at)
{
    char day[DAY_TEXT];
    if (is_same(block->tmin_c[at], row->tmin_c) && is_same(block->tmax_c[at], row->tmax_c))
        diag_warning(reader->diags, row->place, "duplicate-day",
                     "day %s stands in line %u too, with the same values, expected it once, remove "
                     "one",
                     day_text(row->date, day), block->line[at]);
    else
        diag_error(reader->diags, row->place, "conflicting-day",
                   "day %s stands in line %u too, with other values, expected it once, remove the "
                   "wrong one",
                   day_text(row->date, day), block->line[at]);
}

static void lay(struct reader *reader, struct days *days, const struct weather_row *row)
{
    size_t slot = (size_t)(row->date - CELL_FIRST_DAY), at = slot % BLOCK_DAYS;
    struct block **block = &days->blocks[slot / BLOCK_DAYS];
    if (*block == NULL)
        *block = ARENA_NEW(days->scratch, struct block);
    if ((*block)->line[at] != 0) {
        tell_again(reader, row, *block, at);
        return;
    }
    (*block)->tmin_c[at] = row->tmin_c;
    (*block)->tmax_c[at] = row->tmax_c;
    (*block)->line[at] = row->place.line;
    if (days->first == DAY_NONE || row->date < days->first)
        days->first = row->date;
    if (days->last == DAY_NONE || row->date > days->last)
        days->last = row->date;
}

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

/* ---- merging --------------------------------------------------------------------------------- */

static struct record *record_of(struct orchard *orchard, const char *station, const char *file)
{
    for (size_t i = 0; i < orchard->records.count; i++)
        if (strcmp(orchard->records.list[i].station, station) == 0)
            return &orchard->records.list[i];
    struct record *record = ARENA_PUSH(orchard->arena, orchard->records.list,
                                       orchard->records.count, orchard->records.capacity);
    *record = (struct record){.station = arena_text(orchard->arena, strlen(station), station),
                              .file = file,
                              .first_day = DAY_NONE};
    return record;
}

/* Make the record dense from `first` to `last` besides what it holds. */
static void widen(struct record *record, daynum first, daynum last, struct arena *arena)
{
    struct record wider = *record;
    daynum old_last = record->count == 0 ? last : record->first_day + (daynum)record->count - 1;
    daynum new_last = old_last > last ? old_last : last;
    if (record->count == 0 || first < record->first_day)
        wider.first_day = first;
    wider.count = (size_t)(new_last - wider.first_day) + 1;
    if (wider.count == record->count)
        return;
    wider.tmin_c = ARENA_ARRAY(arena, wider.count, double);
    wider.tmax_c = ARENA_ARRAY(arena, wider.count, double);
    for (size_t i = 0; i < wider.count; i++)
        wider.tmin_c[i] = wider.tmax_c[i] = NAN;
    if (record->count > 0) {
        size_t before = (size_t)(record->first_day - wider.first_day);
        memcpy(wider.tmin_c + before, record->tmin_c, record->count * sizeof *record->tmin_c);
        memcpy(wider.tmax_c + before, record->tmax_c, record->count * sizeof *record->tmax_c);
    }
    *record = wider;
}

/* The later file wins where it holds a value; did it replace another one? */
static bool replace(double *value, double later)
{
    if (isnan(later))
        return false;
    bool differs = !isnan(*value) && *value != later;
    *value = later;
    return differs;
}

static void merge(struct orchard *orchard, const char *station, const struct days *days,
                  const struct reader *reader)
{
    struct record *record = record_of(orchard, station, reader->file);
    if (days->first == DAY_NONE)
        return;
    widen(record, days->first, days->last, orchard->arena);
    size_t differing = 0;
    daynum first = DAY_NONE;
    unsigned line = 0;
    for (daynum day = days->first; day <= days->last; day++) {
        size_t slot = (size_t)(day - CELL_FIRST_DAY), from = slot % BLOCK_DAYS;
        size_t to = (size_t)(day - record->first_day);
        const struct block *block = days->blocks[slot / BLOCK_DAYS];
        if (block == NULL || block->line[from] == 0)
            continue;
        bool tmin = replace(&record->tmin_c[to], block->tmin_c[from]);
        bool tmax = replace(&record->tmax_c[to], block->tmax_c[from]);
        if ((tmin || tmax) && differing++ == 0) {
            first = day;
            line = block->line[from];
        }
    }
    char text[DAY_TEXT];
    if (differing > 0)
        diag_warning(
            reader->diags, (struct place){.file = reader->file}, "differing-files",
            "%zu %s other values than in an earlier file of this station, first %s in line "
            "%u; this file was taken, remove the wrong one",
            differing, differing == 1 ? "day has" : "days have", day_text(first, text), line);
}

bool read_weather(struct orchard *orchard, const char *station, const struct source *source,
                  struct diags *diags)
{
    struct arena scratch;
    arena_init(&scratch, orchard->arena->refused);
    struct reader reader = {.table = &weather_table,
                            .diags = diags,
                            .arena = orchard->arena,
                            .file = arena_text(orchard->arena, strlen(source->name), source->name)};
    reader.rows = rows_open(source, reader.file, &scratch, diags);
    struct days days = {.scratch = &scratch, .first = DAY_NONE, .last = DAY_NONE};
    struct row row;
    struct weather_row day = {.place = {.file = reader.file}};
    if (rows_header(reader.rows, &row) && reader_open(&reader, &row, &scratch)) {
        struct usual usual = usual_of(&reader);
        while (rows_next(reader.rows, &row))
            if (read_usual(&usual, &row, &day) || reader_row(&reader, &row, &day))
                lay(&reader, &days, &day);
    }
    bool failed = rows_failed(reader.rows);
    if (!failed)
        merge(orchard, station, &days, &reader);
    arena_release(&scratch);
    return !failed;
}
