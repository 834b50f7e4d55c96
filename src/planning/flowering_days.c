#include "planning/flowering_days.h"

#include <math.h>

static const enum event told[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST, EVENT_CLOSED};

enum { TOLD = sizeof told / sizeof *told };

static void find_days(struct day_span *span, double least)
{
    const struct bloom *bloom = span->row->bloom;

    span->first = DAY_NEVER;
    span->last = DAY_NONE;
    for (size_t i = 0; i < TOLD; i++) {
        daynum from = bloom_date(bloom, told[i], least), to = bloom_date(bloom, told[i], 1 - least);

        if (from == DAY_NONE)
            continue;
        span->first = from < span->first ? from : span->first;
        span->last = to > span->last ? to : span->last;
    }
    if (span->first == DAY_NEVER) {
        span->first = 0;
        span->last = -1;
    } else if (span->last - (int64_t)span->first >= FLOWERING_DAYS_MOST) {
        span->last = span->first + FLOWERING_DAYS_MOST - 1;
    }
}

static struct day_span *span_of(struct flowering_days *days, const struct bloom *bloom)
{
    for (size_t i = days->count; i-- > 0;)
        if (days->list[i].row->bloom == bloom)
            return &days->list[i];
    return NULL;
}

struct flowering_days flowering_days_of(const struct flowering_rows *rows, double least,
                                        struct arena *arena)
{
    struct flowering_days days = {.list = ARENA_ARRAY(arena, rows->count, struct day_span)};

    for (size_t i = 0; i < rows->count; i++) {
        const struct flowering_row *row = &rows->list[i];
        struct day_span *span = span_of(&days, row->bloom);

        if (span == NULL) {
            span = &days.list[days.count++];
            span->row = row;
            find_days(span, least);
            days.days += (size_t)(span->last - span->first + 1);
        }
        span->count++;
    }
    for (size_t i = 0; i < days.count; i++) {
        days.list[i].rows = ARENA_ARRAY(arena, days.list[i].count, const struct flowering_row *);
        days.list[i].count = 0;
    }
    for (size_t i = 0; i < rows->count; i++) {
        struct day_span *span = span_of(&days, rows->list[i].bloom);

        span->rows[span->count++] = &rows->list[i];
    }
    return days;
}

double bloom_receptive(const struct bloom *bloom, daynum day)
{
    if (bloom->windows == NULL)
        return NAN;
    const struct conetide_futures futures = bloom_futures(bloom);

    return conetide_chance(&futures, day);
}
