#include "planning/count_days.h"

#include "planning/clock_sums.h"

#include <math.h>

struct counting {
    const struct clock *clock;
    const struct count_place *place;
    struct clock_days whole;
    struct heat_days *days;
    struct arena *arena;
};

static daynum later(daynum one, daynum other)
{
    return one > other ? one : other;
}

static daynum sooner(daynum one, daynum other)
{
    return one < other ? one : other;
}

/* Count from day `first` to before day `end`, chilling from `chilling` on; a day more on either
 * side lends its hours. */
static void count_stretch(struct counting *counting, daynum chilling, daynum first, daynum end)
{
    const struct clock_days *whole = &counting->whole;
    daynum begin = counting->clock->after_chilling.counts ? sooner(chilling, first) : first;
    daynum record_end = whole->first_day + (daynum)whole->days;
    struct clock_days slice = *whole;
    struct clock_span span;
    struct clock_sums counted;
    size_t at;

    end = sooner(end, record_end);
    if (begin < whole->first_day || begin >= end)
        return;
    slice.first_day = later(begin - 1, whole->first_day);
    slice.days = (size_t)(sooner(end + 1, record_end) - slice.first_day);
    at = (size_t)(slice.first_day - whole->first_day);
    slice.tmin_c += at;
    slice.tmax_c += at;
    span.end = (size_t)(end - slice.first_day);
    span.first = (size_t)(sooner(first, end) - slice.first_day);
    span.chilling_first = (size_t)(sooner(chilling, end) - slice.first_day);
    counted = clock_sums_of(counting->clock, &slice, span, counting->arena);
    for (size_t i = span.first; i < span.end; i++) {
        counting->days->heat_units[at + i] = counted.units[i];
        counting->days->heat_sum[at + i] = counted.sums[i];
    }
    for (size_t i = span.chilling_first; counted.chilling_sums && i < span.end; i++)
        counting->days->chilling_sum[at + i] = counted.chilling_sums[i];
}

/* One stretch a season, to the day on which the next one begins. */
static void count_seasons(struct counting *counting)
{
    const struct clock *clock = counting->clock;
    struct season_rule rule = counting->place->rule;
    daynum record_end = counting->whole.first_day + (daynum)counting->whole.days;
    int season = day_season(rule, counting->whole.first_day);

    for (daynum start = day_season_start(rule, season); start != DAY_NONE && start < record_end;
         start = day_season_start(rule, ++season)) {
        daynum next = day_season_start(rule, season + 1), first, chilling, end;
        bool chills = clock->after_chilling.counts != NULL;

        if (next == DAY_NONE)
            return;
        first = day_on_or_after(clock->start, start);
        chilling = chills ? day_on_or_after(clock->after_chilling.start, start) : first;
        end = sooner(day_on_or_after(clock->start, next),
                     chills ? day_on_or_after(clock->after_chilling.start, next) : DAY_NEVER);
        count_stretch(counting, chilling, first, end);
    }
}

static double *unknown_days(size_t count, struct arena *arena)
{
    double *made = ARENA_ARRAY(arena, count, double);

    for (size_t i = 0; i < count; i++)
        made[i] = NAN;
    return made;
}

struct heat_days count_days_of(const struct record *record, const struct clock *clock,
                               const struct count_place *place, daynum from, daynum to,
                               struct arena *arena)
{
    struct heat_days days;
    struct counting counting = {clock, place, {0}, &days, arena};
    size_t first;

    days = heat_days_cut(record, from, to, arena);
    days.clock = clock;
    if (days.count == 0)
        return days;
    from = days.first_day;
    first = (size_t)(from - record->first_day);
    counting.whole = (struct clock_days){record->first_day, record->count, days.tmin_c - first,
                                         days.tmax_c - first, place->latitude_deg};
    days.heat_units = unknown_days(record->count, arena);
    days.heat_sum = unknown_days(record->count, arena);
    if (clock->after_chilling.counts)
        days.chilling_sum = unknown_days(record->count, arena);
    if (clock->start.month)
        count_seasons(&counting);
    else
        count_stretch(&counting, from, from, record->first_day + (daynum)record->count);
    days.heat_units += first;
    days.heat_sum += first;
    if (days.chilling_sum)
        days.chilling_sum += first;
    return days;
}
