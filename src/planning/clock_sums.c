#include "planning/clock_sums.h"

#include "conetide/count.h"
#include "conetide/sum.h"

#include <math.h>

static double *missing_days(size_t days, struct arena *arena)
{
    double *made = ARENA_ARRAY(arena, days, double);

    for (size_t i = 0; i < days; i++)
        made[i] = NAN;
    return made;
}

static struct conetide_counted_days counted_days(const struct clock_days *given,
                                                 struct arena *arena)
{
    int *day_of = ARENA_ARRAY(arena, given->days, int);

    for (size_t i = 0; i < given->days; i++)
        day_of[i] = day_of_year(given->first_day + (daynum)i);
    return (struct conetide_counted_days){given->days, given->tmin_c, given->tmax_c, day_of,
                                          given->latitude_deg};
}

/* Heat of the days from..end-1; a double curve asks for the day after. */
static void count_heat(const struct clock *clock, const struct clock_days *given, size_t from,
                       size_t end, double *units)
{
    size_t bad_day;
    enum conetide_status status =
        conetide_heat_days(&clock->rule, (end < given->days ? end + 1 : end) - from,
                           given->tmin_c + from, given->tmax_c + from, units + from, &bad_day);

    (void)status; /* a day with a fault is NaN */
    if (end < given->days)
        units[end] = NAN;
}

static void sum_after_chilling(const struct clock *clock,
                               const struct conetide_counted_days *counted, struct clock_span span,
                               struct clock_sums *made, struct arena *arena)
{
    double *chill = missing_days(counted->days, arena);
    struct conetide_chilled_heat given = {
        span.end, chill, made->units, span.chilling_first, span.first, clock->after_chilling.units};

    made->chilling_sums = ARENA_ARRAY(arena, counted->days, double);
    if (span.chilling_first < span.end)
        conetide_count_units(clock->after_chilling.counts, counted, span.chilling_first, span.end,
                             chill);
    made->chilled = conetide_heat_after_chilling(&given, made->chilling_sums, made->sums);
    for (size_t i = span.end; i < counted->days; i++)
        made->sums[i] = made->chilling_sums[i] = NAN;
}

struct clock_sums clock_sums_of(const struct clock *clock, const struct clock_days *given,
                                struct clock_span span, struct arena *arena)
{
    struct clock_sums made = {.units = missing_days(given->days, arena),
                              .sums = missing_days(given->days, arena)};
    struct conetide_counted_days counted = counted_days(given, arena);

    if (span.first < span.end && clock->counts == NULL)
        count_heat(clock, given, span.first, span.end, made.units);
    else if (span.first < span.end)
        conetide_count_units(clock->counts, &counted, span.first, span.end, made.units);
    if (clock->after_chilling.counts != NULL) {
        sum_after_chilling(clock, &counted, span, &made, arena);
        return made;
    }
    for (size_t i = 0; i < span.first; i++)
        made.sums[i] = 0;
    if (clock->counts != NULL && clock->counts->of == CONETIDE_OF_DAY_LENGTH) {
        for (size_t i = span.first; i < span.end; i++)
            made.sums[i] = made.units[i];
    } else if (span.first < span.end) {
        conetide_heat_sum(span.end - span.first, made.units + span.first, made.sums + span.first);
    }
    return made;
}
