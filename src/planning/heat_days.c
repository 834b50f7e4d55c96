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

struct heat_days heat_days_cut(const struct record *record, daynum from, daynum to,
                               struct arena *arena)
{
    struct heat_days days = {.first_day = from};
    daynum end;
    size_t first;

    if (!record || record->count == 0)
        return days;
    end = record->first_day + (daynum)record->count; /* the day after the last */
    if (from == DAY_NONE || from < record->first_day)
        from = record->first_day;
    if (to != DAY_NONE && to < end)
        end = to + 1;
    days.first_day = from;
    if (from >= end)
        return days;

    double *tmin_c = ARENA_ARRAY(arena, record->count, double);
    double *tmax_c = ARENA_ARRAY(arena, record->count, double);
    gaps_fill(record->count, (struct extremes){record->tmin_c, record->tmax_c},
              (struct extremes){tmin_c, tmax_c});
    first = (size_t)(from - record->first_day);
    days.count = (size_t)(end - from);
    days.tmin_c = tmin_c + first;
    days.tmax_c = tmax_c + first;
    tell_gaps(&days, record, first);
    return days;
}

struct heat_days heat_days_of(const struct record *record, const struct conetide_heat_rule *rule,
                              struct month_day start, daynum from, daynum to, struct arena *arena)
{
    struct heat_days days = heat_days_cut(record, from, to, arena), whole;
    size_t first, bad_day;
    enum conetide_status status;

    if (days.count == 0)
        return days;
    first = (size_t)(days.first_day - record->first_day);
    whole = (struct heat_days){.first_day = record->first_day,
                               .count = record->count,
                               .heat_units = ARENA_ARRAY(arena, record->count, double),
                               .heat_sum = ARENA_ARRAY(arena, record->count, double)};
    status = conetide_heat_days(rule, record->count, days.tmin_c - first, days.tmax_c - first,
                                whole.heat_units, &bad_day);
    assert(status != CONETIDE_BAD_ARGUMENT);
    (void)status; /* days with a fault are NaN, and missing they are told */
    add_up(&whole, start, first);
    days.heat_units = whole.heat_units + first;
    days.heat_sum = whole.heat_sum + first;
    days.own_minimum_as_next = rule->curve->uses_next_tmin && first + days.count == record->count;
    return days;
}
