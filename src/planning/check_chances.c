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

static double weight_of(const struct conetide_shifts *shifts, int j)
{
    int at = shifts->reach + j;

    return shifts->cumulative[at] - (at > 0 ? shifts->cumulative[at - 1] : 0.0);
}

static bool before(daynum day, int32_t event, int j)
{
    return event == CONETIDE_NEVER || day < event + j;
}

static bool receptive(const struct conetide_window *window, int j, daynum day)
{
    return day != DAY_NONE && !before(day, window->first, j) &&
           (window->last == CONETIDE_NEVER || day <= window->last + j);
}

double receptive_by_futures(const struct bloom *bloom, daynum day)
{
    double chance = 0;

    for (size_t m = 0; m < bloom->members; m++)
        for (int j = -bloom->shifts->reach; j <= bloom->shifts->reach; j++)
            if (receptive(&bloom->windows[m], j, day))
                chance += weight_of(bloom->shifts, j);
    return chance / (double)bloom->members;
}

double clean_by_futures(const struct bloom *bloom, daynum day)
{
    double chance = 0;

    for (size_t m = 0; m < bloom->members; m++)
        for (int j = -bloom->shifts->reach; j <= bloom->shifts->reach; j++)
            if (before(day, bloom->windows[m].opening, j))
                chance += weight_of(bloom->shifts, j);
    return chance / (double)bloom->members;
}

/* Chance within one member that an event's day, moved by any shift, lies before `day`. */
static double over_by(const struct conetide_shifts *shifts, int32_t event, daynum day)
{
    double chance = 0;

    if (event == CONETIDE_NEVER)
        return 0.0;
    for (int j = -shifts->reach; j <= shifts->reach; j++)
        if (event + j < day)
            chance += weight_of(shifts, j);
    return chance;
}

/* A bloom by the calendar has one member, which goes with every member of another. */
double safe_by_futures(const struct bloom *bloom, const struct bloom *shed, daynum day)
{
    const int32_t *closed = bloom->days[EVENT_CLOSED];
    const int32_t *over = shed != NULL ? shed->days[EVENT_SHED_LAST] : NULL;
    size_t members = bloom->members;
    double sum = 0;

    if (closed == NULL || members == 0)
        return 0.0;
    if (over != NULL && shed->members > members)
        members = shed->members;
    for (size_t m = 0; m < members; m++) {
        double chance = over_by(bloom->shifts, closed[m % bloom->members], day);

        if (over != NULL)
            chance *= over_by(shed->shed_shifts, over[m % shed->members], day);
        sum += chance;
    }
    return sum / (double)members;
}

struct chances chances_by_futures(const struct planned_bag *bag)
{
    const struct bloom *bloom = bag->group->flowering->bloom;
    const struct option *option = &bag->option;
    const struct bag *hangs = bag->group->hangs;
    struct chances of = {0};

    for (size_t m = 0; m < bloom->members; m++) {
        const struct conetide_window *window = &bloom->windows[m];

        for (int j = -bloom->shifts->reach; j <= bloom->shifts->reach; j++) {
            double share = weight_of(bloom->shifts, j) / (double)bloom->members;
            bool clean = before(option->bag, window->opening, j);
            bool first = receptive(window, j, option->visit[0]);
            bool second = receptive(window, j, option->visit[1]);
            bool counts = hangs != NULL ? hangs->clean : clean;

            of.clean += clean ? share : 0;
            of.visit[0] += first ? share : 0;
            of.visit[1] += second ? share : 0;
            of.any += counts && (first || second) ? share : 0;
            of.both += counts && first && second ? share : 0;
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

    double uptake = (UPTAKE_ONE * of.any + (UPTAKE_FULL - UPTAKE_ONE) * of.both) / UPTAKE_FULL;
    double seeds = seeds_of_one_bag(check, group) * uptake;
    if (bag->lot != NULL)
        seeds *= germination_share(
            check, &check->inputs->state->lots[bag->lot - check->orchard->lots.list]);
    double weight = check->orchard->program.priority_weights[group->cross->priority - 1];
    double within = NEAR * (1.0 + seeds);

    if (!(fabs(bag->seeds_expected - seeds) <= within))
        check_fault(check, bag, "expects %.9f seeds, and %.9f by every future", bag->seeds_expected,
                    seeds);
    if (!(fabs(bag->value - weight * seeds) <= within))
        check_fault(check, bag, "is worth %.9f, and %.9f by every future", bag->value,
                    weight * seeds);
}
