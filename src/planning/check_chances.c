/*
 * check_chances.c - chances of one bag by going through every future, one at a time.
 *
 * Slower than the closed forms of the phenology library and independent of them: a future is a
 * member's days, all moved by the same shift.
 */
#include "planning/check_parts.h"

#include <math.h>

#define NEAR 1e-9
#define UPTAKE_ONE 0.86  /* Bridgwater & Williams 1983: pollen in the chambers after one */
#define UPTAKE_FULL 0.92 /* application at maximum receptivity, and after several */

/* One future: when its events come, and what it weighs among all. */
struct future {
    int32_t opening, first, last;
    double weight;
};

static double weight_of(const struct conetide_shifts *shifts, int j)
{
    int at = shifts->reach + j;

    return shifts->cumulative[at] - (at > 0 ? shifts->cumulative[at - 1] : 0.0);
}

static int32_t moved(int32_t event, bool stands, int j)
{
    return event == CONETIDE_NEVER || stands ? event : event + j;
}

/* Element m moved by j; of a weight of 0 where a look of this season rules it out. */
static struct future future_of(const struct bloom *bloom, size_t m, int j)
{
    const struct conetide_window *window = &bloom->windows[m];
    struct future future = {
        moved(window->opening, bloom->stands[EVENT_OPENING], j),
        moved(window->first, bloom->stands[EVENT_FIRST], j),
        moved(window->last, false, j),
        0.0,
    };

    if (bloom->given == NULL) {
        future.weight = weight_of(bloom->shifts, j) / (double)bloom->members;
    } else {
        const struct conetide_given *given = &bloom->given[m];
        int reach = given->shifts->reach;
        double below =
            given->least > -reach ? given->shifts->cumulative[reach + given->least - 1] : 0.0;

        if (j >= given->least && j <= given->most)
            future.weight = given->weight * weight_of(given->shifts, j) /
                            (given->shifts->cumulative[reach + given->most] - below);
    }
    return future;
}

static int least_shift(const struct bloom *bloom, size_t m)
{
    return bloom->given != NULL ? bloom->given[m].least : -bloom->shifts->reach;
}

static int most_shift(const struct bloom *bloom, size_t m)
{
    return bloom->given != NULL ? bloom->given[m].most : bloom->shifts->reach;
}

static bool receptive(const struct future *future, daynum day)
{
    return day != DAY_NONE && day >= future->first && day <= future->last;
}

double receptive_by_futures(const struct bloom *bloom, daynum day)
{
    double chance = 0;

    for (size_t m = 0; m < bloom->members; m++)
        for (int j = least_shift(bloom, m); j <= most_shift(bloom, m); j++) {
            const struct future future = future_of(bloom, m, j);

            chance += receptive(&future, day) ? future.weight : 0.0;
        }
    return chance;
}

double clean_by_futures(const struct bloom *bloom, daynum day)
{
    double chance = 0;

    for (size_t m = 0; m < bloom->members; m++)
        for (int j = least_shift(bloom, m); j <= most_shift(bloom, m); j++) {
            const struct future future = future_of(bloom, m, j);

            chance += day < future.opening ? future.weight : 0.0;
        }
    return chance;
}

/* Chance that an event's day in element m, moved by i of its own spread but not to before `other`,
 * and then by j, lies before `day`. */
static double own_before(const struct conetide_shifts *own, const int32_t days[2], int j,
                         daynum day)
{
    double chance = 0;

    if (own == NULL || days[0] == CONETIDE_NEVER)
        return moved(days[0], false, j) < day ? 1.0 : 0.0;
    for (int i = -own->reach; i <= own->reach; i++) {
        daynum at = days[0] + i > days[1] ? days[0] + i : days[1];

        chance += at + j < day ? weight_of(own, i) : 0.0;
    }
    return chance;
}

/* The last known one before `event` that moves as it does; it comes no sooner than that. */
static int32_t day_before(const struct bloom *bloom, enum event event, enum event earliest,
                          size_t m)
{
    bool all_came = bloom->looks != NULL && bloom->looks->come == LOOKED_EVENTS;

    for (int e = (int)event - 1; e >= (int)earliest; e--)
        if (bloom->days[e] != NULL && (all_came || !bloom->stands[e]))
            return bloom->days[e][m];
    return DAY_NONE;
}

/* Chance within a member of pollen that the last of it flies before `day`. */
static double over_by(const struct bloom *shed, size_t m, daynum day)
{
    const int32_t days[2] = {shed->days[EVENT_SHED_LAST][m],
                             day_before(shed, EVENT_SHED_LAST, EVENT_SHED_FIRST, m)};
    double chance = 0;

    for (int j = -shed->shed_shifts->reach; j <= shed->shed_shifts->reach; j++)
        chance +=
            weight_of(shed->shed_shifts, j) * own_before(shed->own[EVENT_SHED_LAST], days, j, day);
    return chance;
}

/* The member of pollen that goes with element m; a date by the calendar goes with all alike. */
static double over_with(const struct bloom *bloom, const struct bloom *shed, size_t m, daynum day)
{
    size_t years = bloom->plain != NULL ? bloom->plain->members : bloom->members;
    double sum = 0;

    if (shed == NULL || shed->days[EVENT_SHED_LAST] == NULL)
        return 1.0;
    if (shed->members == years)
        return over_by(shed, bloom->origin != NULL ? bloom->origin[m] : m, day);
    for (size_t n = 0; n < shed->members; n++)
        sum += over_by(shed, n, day);
    return sum / (double)shed->members;
}

double safe_by_futures(const struct bloom *bloom, const struct bloom *shed, daynum day)
{
    double chance = 0;

    if (bloom->days[EVENT_CLOSED] == NULL)
        return 0.0;
    if (bloom->looks != NULL && bloom->looks->come < LOOKED_EVENTS &&
        bloom->looks->after[LOOKED_EVENTS - 1] >= day - 1)
        return 0.0; /* not over on that day */
    for (size_t m = 0; m < bloom->members; m++) {
        const int32_t days[2] = {bloom->days[EVENT_CLOSED][m],
                                 day_before(bloom, EVENT_CLOSED, EVENT_OPENING, m)};
        double closed = 0;

        for (int j = least_shift(bloom, m); j <= most_shift(bloom, m); j++)
            closed +=
                future_of(bloom, m, j).weight * own_before(bloom->own[EVENT_CLOSED], days, j, day);
        if (closed > 0)
            chance += closed * over_with(bloom, shed, m, day);
    }
    return chance;
}

/* Chances of one bag, by going through every future. */
struct chances {
    double clean;
    double visit[VISITS_MOST]; /* 0 where there is no visit */
    double any, both;          /* jointly with clean for a bag that is yet to be hung */
    double safe;
};

static struct chances chances_by_futures(const struct planned_bag *bag)
{
    const struct bloom *bloom = bag->group->bloom;
    const struct option *option = &bag->option;
    const struct bag *hangs = bag->group->hangs;
    struct chances of = {0};

    for (size_t m = 0; m < bloom->members; m++) {
        for (int j = least_shift(bloom, m); j <= most_shift(bloom, m); j++) {
            const struct future future = future_of(bloom, m, j);
            bool clean = option->bag < future.opening;
            bool first = receptive(&future, option->visit[0]);
            bool second = receptive(&future, option->visit[1]);
            bool counts = hangs != NULL ? hangs->clean : clean;

            of.clean += clean ? future.weight : 0;
            of.visit[0] += first ? future.weight : 0;
            of.visit[1] += second ? future.weight : 0;
            of.any += counts && (first || second) ? future.weight : 0;
            of.both += counts && first && second ? future.weight : 0;
        }
    }
    if (hangs != NULL)
        of.clean = hangs->clean ? 1.0 : 0.0;
    of.safe = safe_by_futures(bloom, bag->group->shed, option->unbag);
    return of;
}

static void check_chance(struct check *check, const struct planned_bag *bag, double found,
                         double want, const char *what)
{
    if (!(fabs(found - want) <= NEAR))
        check_fault(check, bag, "%s is %.12f, and %.12f by every future", what, found, want);
}

static double seeds_by_chances(const struct check *check, const struct planned_bag *bag,
                               const struct chances *of)
{
    double uptake = (UPTAKE_ONE * of->any + (UPTAKE_FULL - UPTAKE_ONE) * of->both) / UPTAKE_FULL;
    double seeds = seeds_of_one_bag(check, bag->group) * uptake;

    if (bag->lot != NULL)
        seeds *= germination_share(
            check, &check->inputs->state->lots[bag->lot - check->orchard->lots.list]);
    return seeds;
}

/* A plan is valued as if each bag hung on its last safe day before the visit. */
static double seeds_when_hung_last(const struct check *check, const struct planned_bag *bag)
{
    struct planned_bag last = *bag;

    if (bag->group->hangs == NULL) {
        last.option.bag = bag->latest[TASK_BAG];
        if (bag->option.visit[0] != DAY_NONE && last.option.bag >= bag->option.visit[0])
            last.option.bag = bag->option.visit[0] - 1;
    }
    const struct chances of = chances_by_futures(&last);
    return seeds_by_chances(check, bag, &of);
}

void check_value(struct check *check, const struct planned_bag *bag)
{
    const struct group *group = bag->group;
    const struct chances of = chances_by_futures(bag);

    check_chance(check, bag, bag->chance[TASK_BAG], of.clean, "the chance of a clean bag");
    check_chance(check, bag, bag->chance[TASK_POLLINATE_1], of.visit[0], "the first visit's");
    check_chance(check, bag, bag->chance[TASK_POLLINATE_2], of.visit[1], "the second visit's");
    check_chance(check, bag, bag->chance[TASK_UNBAG], of.safe, "the chance of a safe unbagging");
    check_chance(check, bag, bag->chance_any, of.any, "the chance of any visit");
    check_chance(check, bag, bag->chance_both, of.both, "the chance of both visits");

    double seeds = seeds_by_chances(check, bag, &of);
    double weight = check->orchard->program.priority_weights[group->cross->priority - 1];
    double within = NEAR * (1.0 + seeds);

    if (!(fabs(bag->seeds_expected - seeds) <= within))
        check_fault(check, bag, "expects %.9f seeds, and %.9f by every future", bag->seeds_expected,
                    seeds);
    const double worth = weight * seeds_when_hung_last(check, bag);
    if (!(fabs(bag->value - worth) <= within))
        check_fault(check, bag, "is worth %.9f, and %.9f by every future", bag->value, worth);
}
