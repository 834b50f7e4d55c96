#include "planning/scion_chilling.h"

#include "conetide/count.h"
#include "planning/clock_sums.h"
#include "planning/gaps.h"

#include <math.h>

enum { HOURS_OF_A_DAY = 24 };

/* Where scions of the selection may have come from, when there is no doubt. */
static const struct site *only_site_of(const struct orchard *orchard,
                                       const struct selection *selection)
{
    const struct site *found = NULL;

    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];

        if (tree->site == NULL || !selection_same(tree->selection, selection))
            continue;
        if (found != NULL && found != tree->site)
            return NULL;
        found = tree->site;
    }
    return found;
}

static void take_store_end(const struct orchard *orchard, struct scion_chilling *made)
{
    made->store_end = orchard->as_of;
    if (made->batch->discarded_on != DAY_NONE && made->batch->discarded_on < made->store_end)
        made->store_end = made->batch->discarded_on;
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];

        if (graft->batch != made->batch || graft->grafted_on == DAY_NONE ||
            graft->grafted_on > made->store_end)
            continue;
        made->store_end = graft->grafted_on;
        made->grafted = true;
    }
}

static void count_store(const struct conetide_count *count, struct scion_chilling *made)
{
    int days = made->store_end - made->batch->cut_on;

    made->store_hours = 0;
    if (days > 0 && isnan(made->batch->store_c))
        made->store_hours = NAN;
    else if (days > 0)
        made->store_hours = HOURS_OF_A_DAY * days * count->of_temperature(made->batch->store_c);
}

/* The days from `from` to before cut_on that the record has, gaps on a line. */
static void count_field(const struct conetide_count *count, const struct record *series,
                        struct scion_chilling *made, struct arena *arena)
{
    size_t days = (size_t)(made->batch->cut_on - made->from), known = 0;
    double *seen_c = ARENA_ARRAY(arena, 2 * days, double);
    double *filled_c = ARENA_ARRAY(arena, 2 * days, double);
    struct clock clock = {.counts = count};
    struct clock_days given = {made->from, days, filled_c, filled_c + days,
                               site_latitude(made->site)};
    struct clock_sums counted;

    for (size_t i = 0; i < days; i++) {
        daynum index = made->from + (daynum)i - series->first_day;
        bool there = index >= 0 && index < (daynum)series->count;

        seen_c[i] = there ? series->tmin_c[index] : (double)NAN;
        seen_c[days + i] = there ? series->tmax_c[index] : (double)NAN;
    }
    gaps_fill(days, (struct extremes){seen_c, seen_c + days},
              (struct extremes){filled_c, filled_c + days});
    counted = clock_sums_of(&clock, &given, (struct clock_span){0, days, days}, arena);
    made->field_hours = 0;
    for (size_t i = 0; i < days; i++) {
        if (isnan(counted.units[i]))
            continue;
        made->field_hours += counted.units[i];
        known++;
    }
    made->missing_days = days - known;
    if (known == 0 && days > 0)
        made->field_hours = NAN;
}

static const char *reason_of(const struct scion_chilling *made)
{
    if (made->site == NULL)
        return "where it was cut is not told";
    if (isnan(site_latitude(made->site)))
        return "no latitude of the site or its station";
    if (isnan(made->field_hours))
        return "no weather of these days";
    if (isnan(made->store_hours))
        return "the temperature of the store is not told";
    return made->missing_days > 0 ? "days without weather are left out" : NULL;
}

struct scion_chillings scion_chilling(struct season_heat *heat, struct arena *arena)
{
    const struct orchard *orchard = heat->orchard;
    const struct conetide_count *count = conetide_count_named("chilling-hours-0-8");
    struct scion_chillings made = {
        .list = ARENA_ARRAY(arena, orchard->batches.count, struct scion_chilling)};

    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct batch *batch = &orchard->batches.list[i];
        const struct tree *tree = batch->source_tree;
        struct scion_chilling *one = &made.list[made.count];

        if (batch->cut_on == DAY_NONE)
            continue;
        made.count++;
        *one = (struct scion_chilling){
            .batch = batch,
            .site = tree != NULL ? tree->site : only_site_of(orchard, batch->selection),
            .from = DAY_NONE,
            .field_hours = NAN};
        take_store_end(orchard, one);
        count_store(count, one);
        if (one->site != NULL) {
            struct season_rule rule = orchard_season_rule(orchard, one->site);

            one->from = day_season_start(rule, day_season(rule, batch->cut_on));
            if (one->from != DAY_NONE)
                count_field(count, &season_heat_record(heat, one->site)->series, one, arena);
        }
        one->hours = one->field_hours + one->store_hours;
        one->reason = reason_of(one);
    }
    return made;
}
