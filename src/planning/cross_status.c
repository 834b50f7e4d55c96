#include "planning/cross_status.h"

#include <math.h>

const char *const cross_outlook_words[OUTLOOKS] = {
    "enough seed", "on the trees", "planned", "short", "refused", "on hold", "cancelled",
};

/* Sums of rounded rates: what lacks less than this lacks nothing. */
static const double rounding_seeds = 1e-9;

/* Bags of the season that holds as-of where they hang. */
static void count_bags(const struct harvest *harvest, const struct state *state,
                       struct cross_status *status)
{
    const struct orchard *orchard = state->orchard;

    for (size_t i = 0; i < harvest->bag_count; i++) {
        const struct harvest_bag *row = &harvest->bags[i];
        int now = day_season(orchard_season_rule(orchard, row->site), orchard->as_of);

        if (row->truth.cross != status->cross || row->bag->season != now ||
            row->bag->lost_on != DAY_NONE)
            continue;
        status->hung++;
        status->clean += row->bag->clean;
        status->pollinated += row->bag->visits > 0;
        status->unbagged += row->bag->unbagged_on != DAY_NONE;
    }
}

static void count_planned(const struct crossing_plan *plan, struct cross_status *status)
{
    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];

        if (bag->group->cross != status->cross || !stands_for_wanted(bag))
            continue;
        if (bag->pencilled) {
            status->bags_pencilled++;
            status->seeds_pencilled += bag->seeds_expected;
        } else {
            status->bags_planned++;
            status->seeds_planned += bag->seeds_expected;
        }
    }
}

static const struct harvest_cross *sum_of(const struct harvest *harvest, const struct cross *cross)
{
    for (size_t i = 0; i < harvest->cross_count; i++)
        if (harvest->crosses[i].cross == cross)
            return &harvest->crosses[i];
    return NULL;
}

static const struct shortfall *shortfall_of(const struct crossing_plan *plan,
                                            const struct cross *cross)
{
    for (size_t i = 0; i < plan->shortfall_count; i++)
        if (plan->shortfalls[i].cross == cross)
            return &plan->shortfalls[i];
    return NULL;
}

static enum cross_outlook outlook_of(const struct cross_status *status)
{
    double wanted = (double)status->cross->seeds_wanted - status->cross->seeds_in_store -
                    status->seeds_counted - rounding_seeds;

    if (status->cross->state == CROSS_CANCELLED)
        return OUTLOOK_CANCELLED;
    if (status->cross->state == CROSS_HOLD)
        return OUTLOOK_HELD;
    if (wanted <= 0)
        return OUTLOOK_STORED;
    if (wanted <= status->seeds_to_come.expected)
        return OUTLOOK_ON_TREE;
    if (status->shortfall != NULL && status->shortfall->cause == CAUSE_COANCESTRY)
        return OUTLOOK_REFUSED;
    if (status->seeds_short > 0 &&
        (status->shortfall != NULL || status->bags_planned + status->bags_pencilled == 0))
        return OUTLOOK_SHORT;
    return OUTLOOK_PLANNED;
}

struct cross_statuses cross_statuses_of(const struct crossing_plan *plan,
                                        const struct harvest *harvest, const struct state *state,
                                        struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    struct cross_statuses statuses = {
        ARENA_ARRAY(arena, orchard->crosses.count, struct cross_status), orchard->crosses.count};

    for (size_t i = 0; i < statuses.count; i++) {
        struct cross_status *status = &statuses.list[i];
        const struct harvest_cross *sum = sum_of(harvest, &orchard->crosses.list[i]);
        double short_of;

        *status = (struct cross_status){.cross = &orchard->crosses.list[i]};
        count_bags(harvest, state, status);
        count_planned(plan, status);
        if (sum != NULL) {
            status->seeds_counted = sum->seeds_counted;
            status->seeds_to_come = sum->seeds;
        }
        short_of = (double)status->cross->seeds_wanted - status->cross->seeds_in_store -
                   status->seeds_counted - status->seeds_to_come.expected - status->seeds_planned -
                   status->seeds_pencilled;
        status->seeds_short = short_of > rounding_seeds ? short_of : 0;
        status->shortfall = shortfall_of(plan, status->cross);
        status->outlook = outlook_of(status);
    }
    return statuses;
}
