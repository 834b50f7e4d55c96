/*
 * Days of a weather file come in any order, so they are laid into arrays of one slot a day that
 * grow at both ends.  Dates are bounded, so memory is too, however many rows repeat a day.
 */
#include "reading/columns.h"

#include "base/day.h"

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

/* The days of one file. */
struct span {
    daynum first;
    size_t count;
    double *tmin_c, *tmax_c; /* [count] */
    unsigned *line;          /* [count]; 0: no row of that day */
};

/* Make room for `day`, at least doubling towards its side. */
static void reach(struct span *span, daynum day, struct arena *arena)
{
    struct span wider = {.first = day, .count = 512};
    size_t before = 0;
    if (span->count > 0 && day < span->first) {
        before = (size_t)(span->first - day) + span->count;
        wider.first = span->first - (daynum)before;
        wider.count = span->count + before;
    } else if (span->count > 0) {
        wider.first = span->first;
        wider.count = (size_t)(day - span->first) + 1 + span->count;
    }
    wider.tmin_c = ARENA_ARRAY(arena, wider.count, double);
    wider.tmax_c = ARENA_ARRAY(arena, wider.count, double);
    wider.line = ARENA_ARRAY(arena, wider.count, unsigned);
    if (span->count > 0) {
        memcpy(wider.tmin_c + before, span->tmin_c, span->count * sizeof *span->tmin_c);
        memcpy(wider.tmax_c + before, span->tmax_c, span->count * sizeof *span->tmax_c);
        memcpy(wider.line + before, span->line, span->count * sizeof *span->line);
    }
    *span = wider;
}

static bool is_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* A day that stands in the file already. */
static void tell_again(struct reader *reader, const struct span *span,
                       const struct weather_row *row)
{
    size_t at = (size_t)(row->date - span->first);
    char day[DAY_TEXT];
    if (is_same(span->tmin_c[at], row->tmin_c) && is_same(span->tmax_c[at], row->tmax_c))
        diag_warning(reader->diags, row->place, "duplicate-day",
                     "day %s stands in line %u too, with the same values, expected it once, remove "
                     "one",
                     day_text(row->date, day), span->line[at]);
    else
        diag_error(reader->diags, row->place, "conflicting-day",
                   "day %s stands in line %u too, with other values, expected it once, remove the "
                   "wrong one",
                   day_text(row->date, day), span->line[at]);
}

static void lay(struct reader *reader, struct span *span, const struct weather_row *row,
                struct arena *scratch)
{
    if (span->count == 0 || row->date < span->first ||
        row->date - span->first >= (daynum)span->count)
        reach(span, row->date, scratch);
    size_t at = (size_t)(row->date - span->first);
    if (span->line[at] != 0) {
        tell_again(reader, span, row);
        return;
    }
    span->tmin_c[at] = row->tmin_c;
    span->tmax_c[at] = row->tmax_c;
    span->line[at] = row->place.line;
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

/* ---- merging --------------------------------------------------------------------------------- */

static struct record *record_of(struct orchard *orchard, const char *station)
{
    for (size_t i = 0; i < orchard->records.count; i++)
        if (strcmp(orchard->records.list[i].station, station) == 0)
            return &orchard->records.list[i];
    struct record *record = ARENA_PUSH(orchard->arena, orchard->records.list,
                                       orchard->records.count, orchard->records.capacity);
    *record = (struct record){.station = arena_text(orchard->arena, strlen(station), station),
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

static void merge(struct orchard *orchard, const char *station, const struct span *span,
                  const struct reader *reader)
{
    struct record *record = record_of(orchard, station);
    size_t first = 0, end = span->count;
    while (first < end && span->line[first] == 0)
        first++;
    while (end > first && span->line[end - 1] == 0)
        end--;
    if (first == end)
        return;
    widen(record, span->first + (daynum)first, span->first + (daynum)end - 1, orchard->arena);
    size_t differing = 0, first_differing = 0;
    for (size_t i = first; i < end; i++) {
        if (span->line[i] == 0)
            continue;
        size_t at = (size_t)(span->first + (daynum)i - record->first_day);
        bool tmin = replace(&record->tmin_c[at], span->tmin_c[i]);
        bool tmax = replace(&record->tmax_c[at], span->tmax_c[i]);
        if ((tmin || tmax) && differing++ == 0)
            first_differing = i;
    }
    char day[DAY_TEXT];
    struct place place = {.file = reader->file};
    if (differing > 0)
        diag_warning(
            reader->diags, place, "differing-files",
            "%zu %s other values than in an earlier file of this station, first %s in line "
            "%u; this file was taken, remove the wrong one",
            differing, differing == 1 ? "day has" : "days have",
            day_text(span->first + (daynum)first_differing, day), span->line[first_differing]);
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
    struct span span = {0};
    struct row row;
    struct weather_row day;
    if (rows_header(reader.rows, &row) && reader_open(&reader, &row, &scratch))
        while (rows_next(reader.rows, &row))
            if (reader_row(&reader, &row, &day))
                lay(&reader, &span, &day, &scratch);
    bool failed = rows_failed(reader.rows);
    if (!failed)
        merge(orchard, station, &span, &reader);
    arena_release(&scratch);
    return !failed;
}
