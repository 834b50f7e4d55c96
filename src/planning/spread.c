#include "planning/spread.h"

#include <assert.h>

static const double sigma_most_days = CONETIDE_REACH_MOST / 4.0;

static const enum event shed_events[] = {EVENT_SHED_PEAK, EVENT_SHED_FIRST, EVENT_SHED_LAST};

enum { SHED_EVENTS = sizeof shed_events / sizeof *shed_events };

void spreads_init(struct spreads *spreads, struct arena *arena)
{
    spreads->arena = arena;
    cache_init(&spreads->shifts, arena);
}

static const struct event_days *first_known(const struct event_table *table, size_t count,
                                            const enum event *order)
{
    for (size_t i = 0; i < count; i++) {
        if (table->event[order[i]].members > 0)
            return &table->event[order[i]];
    }
    return NULL;
}

const struct event_days *spread_leading_event(const struct event_table *table)
{
    static const enum event order[] = {EVENT_FIRST, EVENT_OPENING, EVENT_PEAK, EVENT_LAST,
                                       EVENT_CLOSED};

    return first_known(table, sizeof order / sizeof *order, order);
}

const struct event_days *spread_leading_pollen(const struct event_table *table)
{
    return first_known(table, SHED_EVENTS, shed_events);
}

static const struct conetide_shifts *shifts_of(struct spreads *spreads, double sigma_days)
{
    void **found = cache_at(&spreads->shifts, (struct cache_key){{cache_double(sigma_days)}});

    if (*found == NULL) {
        struct conetide_shifts *shifts = ARENA_NEW(spreads->arena, struct conetide_shifts);
        enum conetide_status status = conetide_shifts_of(sigma_days, shifts);

        assert(status == CONETIDE_OK);
        (void)status;
        *found = shifts;
    }
    return *found;
}

struct spread spread_of_days(struct spreads *spreads, double sigma_days)
{
    if (!(sigma_days <= sigma_most_days))
        sigma_days = sigma_most_days;
    return (struct spread){sigma_days, shifts_of(spreads, sigma_days)};
}

const struct conetide_shifts *spread_after(struct spreads *spreads, double sigma_days,
                                           double correlation, int j)
{
    struct cache_key key = {
        {cache_double(sigma_days), cache_double(correlation), (uint64_t)(int64_t)j, 1}};
    void **found = cache_at(&spreads->shifts, key);

    if (*found == NULL) {
        struct conetide_shifts *shifts = ARENA_NEW(spreads->arena, struct conetide_shifts);
        enum conetide_status status = conetide_shifts_after(sigma_days, correlation, j, shifts);

        assert(status == CONETIDE_OK);
        (void)status;
        *found = shifts;
    }
    return *found;
}

static struct spread spread_of(struct spreads *spreads, const struct event_days *leading,
                               bool of_one, enum basis basis)
{
    double sigma_days = 0;

    if (leading != NULL)
        sigma_days = event_sigma_days(leading, of_one, true);
    if (leading != NULL && basis >= BASIS_BORROWED)
        sigma_days = conetide_sigma_at_least(leading->members, leading->days, sigma_days,
                                             UNMEASURED_SD_DAYS);
    return spread_of_days(spreads, sigma_days);
}

struct spread spread_of_strobili(struct spreads *spreads, const struct event_table *table,
                                 bool of_one, enum basis basis)
{
    return spread_of(spreads, spread_leading_event(table), of_one, basis);
}

struct spread spread_of_pollen(struct spreads *spreads, const struct event_table *table,
                               bool of_one)
{
    enum basis weakest = BASIS_FITTED_HERE;

    for (size_t i = 0; i < SHED_EVENTS; i++) {
        const struct event_days *event = &table->event[shed_events[i]];

        if (event->members > 0 && event->basis > weakest)
            weakest = event->basis;
    }
    return spread_of(spreads, spread_leading_pollen(table), of_one, weakest);
}
