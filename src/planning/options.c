/*
 * options.c - the value of every way to treat a bag of one bloom.
 *
 * Grafts that share a bloom share a table.  Values are shares of the seed of a bag that several
 * applications at maximum receptivity would give; weights and seeds multiply them.
 */
#include "planning/cache.h"
#include "planning/crossing_parts.h"

#define UPTAKE_ONE 0.86     /* Bridgwater & Williams 1983, 17th South. For. Tree Improv. Conf.: */
#define UPTAKE_SEVERAL 0.92 /* pollen chambers filled by one application, by several */
#define CHANCE_SLACK 1e-12
#define VISIT_LEAST_SHARE                                                                          \
    0.05 /* of the best day's chance: a first visit is not put on a worse one */
#define SAFE_DAYS_MOST 366

const int second_visit_days[SECOND_VISITS] = {0, 2, 3};

double uptake_share(double chance_any, double chance_both)
{
    return (UPTAKE_ONE * chance_any + (UPTAKE_SEVERAL - UPTAKE_ONE) * chance_both) / UPTAKE_SEVERAL;
}

struct option_tables {
    struct arena *arena;
    daynum as_of;
    double clean_chance;
    struct cache by_bloom;
};

struct option_tables *option_tables_new(struct arena *arena, daynum as_of, double clean_chance)
{
    struct option_tables *tables = ARENA_NEW(arena, struct option_tables);

    tables->arena = arena;
    tables->as_of = as_of;
    tables->clean_chance = clean_chance;
    cache_init(&tables->by_bloom, arena);
    return tables;
}

/* First and last day on which any future brings something; false when none does. */
static bool span_of(const struct bloom *bloom, daynum *first, daynum *last)
{
    *first = DAY_NEVER;
    *last = DAY_NONE;
    for (size_t m = 0; m < bloom->members; m++) {
        const struct conetide_window *window = &bloom->windows[m];

        if (window->opening != CONETIDE_NEVER && window->opening < *first)
            *first = window->opening;
        if (window->first == CONETIDE_NEVER)
            continue;
        if (window->first < *first)
            *first = window->first;
        /* A member that stays receptive does so to no known end. */
        daynum end = window->last != CONETIDE_NEVER ? window->last : window->first + 60;
        if (end > *last)
            *last = end;
    }
    if (*first == DAY_NEVER || *last == DAY_NONE)
        return false;
    *first -= bloom->shifts->reach + 1;
    *last += bloom->shifts->reach;
    return true;
}

/* Clean chances never rise from day to day, so the last day is found by halving. */
static daynum last_clean_day(const struct conetide_futures *futures, daynum first, daynum last,
                             double least)
{
    if (conetide_chance_clean(futures, first) < least - CHANCE_SLACK)
        return DAY_NONE;
    while (first < last) {
        daynum middle = first + (last - first + 1) / 2;

        if (conetide_chance_clean(futures, middle) >= least - CHANCE_SLACK)
            first = middle;
        else
            last = middle - 1;
    }
    return first;
}

static daynum first_safe_day(const struct option_table *table, daynum from)
{
    daynum last = from + SAFE_DAYS_MOST;

    if (bloom_safe_to_unbag(table->bloom, table->shed, last) < UNBAG_CHANCE - CHANCE_SLACK)
        return DAY_NONE;
    while (from < last) {
        daynum middle = from + (last - from) / 2;

        if (bloom_safe_to_unbag(table->bloom, table->shed, middle) >= UNBAG_CHANCE - CHANCE_SLACK)
            last = middle;
        else
            from = middle + 1;
    }
    return last;
}

/* Days worth a first visit from as-of on, the last of them, past or not, and the last with half the
 * best day's chance. */
static void find_visit_days(struct option_table *table, const struct conetide_futures *futures,
                            const daynum span[2], daynum as_of)
{
    double best = 0;
    daynum first = DAY_NONE, last = DAY_NONE;

    for (daynum day = span[0]; day <= span[1]; day++) {
        double chance = conetide_chance(futures, day);

        best = chance > best ? chance : best;
    }
    for (daynum day = span[0]; day <= span[1] && best > 0; day++) {
        double chance = conetide_chance(futures, day);

        if (chance >= best / 2 - CHANCE_SLACK)
            table->latest_visit = day;
        if (chance < VISIT_LEAST_SHARE * best)
            continue;
        table->last_visit = day;
        if (day < as_of)
            continue;
        first = first == DAY_NONE ? day : first;
        last = day;
    }
    table->first_visit = first;
    table->visit_days = first != DAY_NONE ? (int)(last - first + 1) : 0;
    if (table->visit_days > VISIT_DAYS_MOST)
        table->visit_days = VISIT_DAYS_MOST;
}

static double fresh_share(const struct conetide_futures *futures, daynum bag, daynum visit,
                          int later)
{
    if (later == 0)
        return uptake_share(conetide_chance_clean_and(futures, bag, visit), 0.0);
    return uptake_share(conetide_chance_clean_any(futures, bag, visit, visit + later),
                        conetide_chance_clean_both(futures, bag, visit, visit + later));
}

double hanging_share(const struct bloom *bloom, daynum visit, int later)
{
    return two_visits_share(bloom, visit, later == 0 ? DAY_NONE : visit + later);
}

double two_visits_share(const struct bloom *bloom, daynum first, daynum second)
{
    const struct conetide_futures futures = bloom_futures(bloom);

    if (second == DAY_NONE)
        return uptake_share(conetide_chance(&futures, first), 0.0);
    return uptake_share(conetide_chance_any(&futures, first, second),
                        conetide_chance_both(&futures, first, second));
}

static void fill_shares(struct option_table *table, const struct conetide_futures *futures,
                        daynum as_of)
{
    size_t at = 0;

    for (int i = 0; i < table->visit_days; i++)
        for (int k = 0; k < SECOND_VISITS; k++)
            table->hanging[i * SECOND_VISITS + k] =
                hanging_share(table->bloom, table->first_visit + i, second_visit_days[k]);
    for (int i = 0; i < table->visit_days; i++)
        for (int k = 0; k < SECOND_VISITS; k++, at++) {
            daynum visit = table->first_visit + i;
            daynum bag = table->last_clean < visit ? table->last_clean : visit - 1;

            if (bag < as_of)
                continue;
            table->fresh[at] = fresh_share(futures, bag, visit, second_visit_days[k]);
            if (table->fresh[at] > table->best_fresh)
                table->best_fresh = table->fresh[at];
        }
}

static void fill_table(const struct option_tables *tables, struct option_table *table)
{
    daynum span[2];

    table->last_clean = table->first_safe = DAY_NONE;
    table->latest_visit = table->last_visit = DAY_NONE;
    if (table->bloom->windows == NULL || table->bloom->members == 0 ||
        !span_of(table->bloom, &span[0], &span[1]))
        return;
    const struct conetide_futures futures = bloom_futures(table->bloom);
    table->last_clean = last_clean_day(&futures, span[0], span[1], tables->clean_chance);
    table->first_safe = first_safe_day(table, span[0]);
    find_visit_days(table, &futures, span, tables->as_of);
    if (table->last_clean == DAY_NONE)
        table->visit_days = 0;
    size_t days = (size_t)table->visit_days;
    table->fresh = ARENA_ARRAY(tables->arena, days * SECOND_VISITS, double);
    table->hanging = ARENA_ARRAY(tables->arena, days * SECOND_VISITS, double);
    fill_shares(table, &futures, tables->as_of);
}

const struct option_table *option_table_of(struct option_tables *tables, const struct bloom *bloom,
                                           const struct bloom *shed)
{
    void **known = cache_at(
        &tables->by_bloom, (struct cache_key){.word = {cache_pointer(bloom), cache_pointer(shed)}});

    if (*known == NULL) {
        struct option_table *table = ARENA_NEW(tables->arena, struct option_table);

        table->bloom = bloom;
        table->shed = shed;
        fill_table(tables, table);
        *known = table;
    }
    return *known;
}
