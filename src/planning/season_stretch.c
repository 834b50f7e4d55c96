#include "planning/season_stretch.h"

#include <assert.h>
#include <math.h>

enum { DAYS_MOST = 366, WIDE_MOST = DAYS_MOST + 2 * GAP_LINEAR_MOST };

static bool has_neither(const struct record *record, int64_t i)
{
    return isnan(record->tmin_c[i]) && isnan(record->tmax_c[i]);
}

struct known_record known_record_of(const struct record *record, daynum as_of)
{
    struct known_record known = {record, 0, (int64_t)as_of - record->first_day + 1};

    if (known.end > (int64_t)record->count)
        known.end = (int64_t)record->count;
    while (known.end > 0 && has_neither(record, known.end - 1))
        known.end--;
    while (known.from < known.end && has_neither(record, known.from))
        known.from++;
    return known;
}

static struct extremes new_extremes(struct arena *arena)
{
    return (struct extremes){ARENA_ARRAY(arena, WIDE_MOST, double),
                             ARENA_ARRAY(arena, WIDE_MOST, double)};
}

static struct extremes less_margin(struct extremes wide)
{
    return (struct extremes){wide.tmin_c + GAP_LINEAR_MOST, wide.tmax_c + GAP_LINEAR_MOST};
}

struct stretch stretch_new(struct arena *arena)
{
    struct stretch stretch = {.wide_seen = new_extremes(arena), .wide_filled = new_extremes(arena)};

    stretch.seen = less_margin(stretch.wide_seen);
    stretch.filled = less_margin(stretch.wide_filled);
    return stretch;
}

void stretch_read(struct stretch *stretch, const struct known_record *known, daynum first_day,
                  size_t days)
{
    const struct record *record = known->record;
    int64_t first = (int64_t)first_day - record->first_day;

    assert(days <= DAYS_MOST);
    stretch->first_day = first_day;
    stretch->days = days;
    stretch->covered = first >= known->from && first + (int64_t)days <= known->end;
    for (size_t i = 0; i < days + 2 * GAP_LINEAR_MOST; i++) {
        int64_t index = first - GAP_LINEAR_MOST + (int64_t)i;
        bool inside = index >= known->from && index < known->end;

        stretch->wide_seen.tmin_c[i] = inside ? record->tmin_c[index] : (double)NAN;
        stretch->wide_seen.tmax_c[i] = inside ? record->tmax_c[index] : (double)NAN;
    }
    gaps_fill(days + 2 * GAP_LINEAR_MOST, stretch->wide_seen, stretch->wide_filled);
}

bool stretch_is_missing(const struct stretch *stretch, size_t i)
{
    return isnan(stretch->filled.tmin_c[i]) || isnan(stretch->filled.tmax_c[i]);
}

struct gaps_found stretch_gaps(const struct stretch *stretch, size_t from, size_t end)
{
    struct gaps_found found = {0, 0, 0, 0};
    int gap = 0, counted_gap = 0;

    for (size_t i = 0; i < stretch->days; i++) {
        bool missing = stretch_is_missing(stretch, i);
        bool counts = missing && i >= from && i < end;

        gap = missing ? gap + 1 : 0;
        counted_gap = counts ? counted_gap + 1 : 0;
        found.all += missing;
        found.counted += counts;
        if (gap > found.longest)
            found.longest = gap;
        if (counted_gap > found.counted_longest)
            found.counted_longest = counted_gap;
    }
    return found;
}
