/*
 * Gaps are filled and sums run over the whole record; from..to then only cuts what is given back,
 * so that a day's sum does not depend on where a person starts to look.
 */
#include "planning/heat_days.h"

#include "conetide/heat.h"
#include "planning/gaps.h"

#include <assert.h>
#include <math.h>

static bool is_start(struct month_day start, daynum day)
{
    return start.month && day == day_in_year(start, day_year(day));
}

/* `first`: index on which the one sum of a rule without a start begins. */
static void add_up(struct heat_days *whole, struct month_day start, size_t first)
{
    double sum = (double)NAN;
    for (size_t i = 0; i < whole->count; i++) {
        if (start.month ? is_start(start, whole->first_day + (daynum)i) : i == first)
            sum = 0;
        sum += whole->heat_units[i];
        whole->heat_sum[i] = sum;
    }
}

static void tell_gaps(struct heat_days *days, const struct record *record, size_t first)
{
    for (size_t i = 0; i < days->count; i++) {
        if (!isfinite(days->tmin_c[i]) || !isfinite(days->tmax_c[i]))
            days->missing_days++;
        else if (!(record->tmin_c[first + i] <= record->tmax_c[first + i]))
            days->filled_days++;
    }
}

struct heat_days heat_days_of(const struct record *record, const struct conetide_heat_rule *rule,
                              struct month_day start, daynum from, daynum to, struct arena *arena)
{
    if (!record || record->count == 0)
        return (struct heat_days){.first_day = from};

    daynum record_end = record->first_day + (daynum)record->count; /* the day after the last */
    if (from == DAY_NONE || from < record->first_day)
        from = record->first_day;
    daynum end = to == DAY_NONE || to >= record_end ? record_end : to + 1;
    if (from >= end)
        return (struct heat_days){.first_day = from};

    size_t count = record->count, first = (size_t)(from - record->first_day);
    double *tmin_c = ARENA_ARRAY(arena, count, double);
    double *tmax_c = ARENA_ARRAY(arena, count, double);
    gaps_fill(count, (struct extremes){record->tmin_c, record->tmax_c},
              (struct extremes){tmin_c, tmax_c});

    struct heat_days days = {.first_day = record->first_day, .count = count};
    days.heat_units = ARENA_ARRAY(arena, count, double);
    days.heat_sum = ARENA_ARRAY(arena, count, double);
    size_t bad_day;
    enum conetide_status status =
        conetide_heat_days(rule, count, tmin_c, tmax_c, days.heat_units, &bad_day);
    assert(status != CONETIDE_BAD_ARGUMENT);
    (void)status; /* days with a fault are NaN, and missing they are told */
    add_up(&days, start, first);

    days.first_day = from;
    days.count = (size_t)(end - from);
    days.tmin_c = tmin_c + first;
    days.tmax_c = tmax_c + first;
    days.heat_units += first;
    days.heat_sum += first;
    days.own_minimum_as_next = rule->curve->uses_next_tmin && end == record_end;
    tell_gaps(&days, record, first);
    return days;
}
