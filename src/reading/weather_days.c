#include "reading/weather_days.h"

#include "reading/columns.h"

#include <math.h>
#include <string.h>

static const char *const extreme_names[EXTREMES] = {"minimum", "maximum"};

void weather_days_init(struct weather_days *days, struct arena *scratch)
{
    *days = (struct weather_days){.scratch = scratch, .first = DAY_NONE, .last = DAY_NONE};
}

static struct weather_block *block_of(struct weather_days *days, daynum date, size_t *at)
{
    size_t slot = (size_t)(date - CELL_FIRST_DAY);
    struct weather_block **block = &days->blocks[slot / WEATHER_BLOCK_DAYS];
    *at = slot % WEATHER_BLOCK_DAYS;
    if (*block == NULL)
        *block = ARENA_NEW(days->scratch, struct weather_block);
    return *block;
}

static void widen_to(struct weather_days *days, daynum date)
{
    if (days->first == DAY_NONE || date < days->first)
        days->first = date;
    if (days->last == DAY_NONE || date > days->last)
        days->last = date;
}

static bool is_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* A day that stands in the file already. */
static void tell_again(struct diags *diags, const struct weather_row *row,
                       const struct weather_block *block, size_t at)
{
    char day[DAY_TEXT];
    unsigned line = block->line[EXTREME_MINIMUM][at];
    if (is_same(block->value[EXTREME_MINIMUM][at], row->tmin_c) &&
        is_same(block->value[EXTREME_MAXIMUM][at], row->tmax_c))
        diag_warning(diags, row->place, "duplicate-day",
                     "day %s stands in line %u too, with the same values, expected it once, remove "
                     "one",
                     day_text(row->date, day), line);
    else
        diag_error(diags, row->place, "conflicting-day",
                   "day %s stands in line %u too, with other values, expected it once, remove the "
                   "wrong one",
                   day_text(row->date, day), line);
}

void weather_days_lay(struct weather_days *days, const struct weather_row *row, struct diags *diags)
{
    size_t at;
    struct weather_block *block = block_of(days, row->date, &at);
    if (block->line[EXTREME_MINIMUM][at] != 0) {
        tell_again(diags, row, block, at);
        return;
    }
    block->value[EXTREME_MINIMUM][at] = row->tmin_c;
    block->value[EXTREME_MAXIMUM][at] = row->tmax_c;
    block->line[EXTREME_MINIMUM][at] = block->line[EXTREME_MAXIMUM][at] = row->place.line;
    widen_to(days, row->date);
}

void weather_days_put(struct weather_days *days, const struct weather_value *value,
                      struct diags *diags)
{
    size_t at;
    struct weather_block *block = block_of(days, value->date, &at);
    unsigned *line = &block->line[value->extreme][at];
    char day[DAY_TEXT];
    if (*line != 0 && is_same(block->value[value->extreme][at], value->value)) {
        diag_warning(diags, value->place, "duplicate-day",
                     "the %s of %s stands in line %u too, with the same value, expected it once, "
                     "remove one",
                     extreme_names[value->extreme], day_text(value->date, day), *line);
    } else if (*line != 0) {
        diag_error(diags, value->place, "conflicting-day",
                   "the %s of %s stands in line %u too, with another value, expected it once, "
                   "remove the wrong one",
                   extreme_names[value->extreme], day_text(value->date, day), *line);
    } else {
        block->value[value->extreme][at] = value->value;
        *line = value->place.line;
        widen_to(days, value->date);
    }
}

bool weather_days_slot(const struct weather_days *days, daynum day, struct weather_slot *slot)
{
    size_t from = (size_t)(day - CELL_FIRST_DAY), at = from % WEATHER_BLOCK_DAYS;
    struct weather_block *block = days->blocks[from / WEATHER_BLOCK_DAYS];
    bool found = false;
    if (block == NULL)
        return false;
    for (size_t e = 0; e < EXTREMES; e++) {
        if (block->line[e][at] == 0)
            block->value[e][at] = NAN; /* not in the file: nothing is lost */
        slot->value[e] = &block->value[e][at];
        slot->line[e] = block->line[e][at];
        found = found || slot->line[e] != 0;
    }
    return found;
}

size_t weather_days_count(const struct weather_days *days)
{
    struct weather_slot slot;
    size_t count = 0;
    if (days->first == DAY_NONE)
        return 0;
    for (daynum day = days->first; day <= days->last; day++)
        if (weather_days_slot(days, day, &slot))
            count += !isnan(*slot.value[EXTREME_MINIMUM]) || !isnan(*slot.value[EXTREME_MAXIMUM]);
    return count;
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

void weather_days_merge(const struct weather_days *days, struct orchard *orchard,
                        const char *station, struct place file, struct diags *diags)
{
    struct record *record = record_of(orchard, station, file.file);
    if (days->first == DAY_NONE)
        return;
    widen(record, days->first, days->last, orchard->arena);
    size_t differing = 0;
    daynum first = DAY_NONE;
    unsigned line = 0;
    for (daynum day = days->first; day <= days->last; day++) {
        size_t to = (size_t)(day - record->first_day);
        struct weather_slot slot;
        if (!weather_days_slot(days, day, &slot))
            continue;
        bool tmin = replace(&record->tmin_c[to], *slot.value[EXTREME_MINIMUM]);
        bool tmax = replace(&record->tmax_c[to], *slot.value[EXTREME_MAXIMUM]);
        if ((tmin || tmax) && differing++ == 0) {
            first = day;
            line = slot.line[tmin ? EXTREME_MINIMUM : EXTREME_MAXIMUM];
        }
    }
    char text[DAY_TEXT];
    if (differing > 0)
        diag_warning(
            diags, file, "differing-files",
            "%zu %s other values than in an earlier file of this station, first %s in line "
            "%u; this file was taken, remove the wrong one",
            differing, differing == 1 ? "day has" : "days have", day_text(first, text), line);
}
