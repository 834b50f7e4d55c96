/*
 * bag_chances.c - chances, latest days, seeds and value of a bag whose option stands.
 */
#include "planning/crossing_parts.h"

/* Chances as printed: of each task's day, and of the bag as a whole. */
static void fill_chances(struct planned_bag *bag, const struct option_table *table)
{
    const struct conetide_futures futures = bloom_futures(table->bloom);
    const struct bag *hangs = bag->group->hangs;
    const daynum first = bag->option.visit[0], second = bag->option.visit[1];
    const daynum hung = bag->option.bag;

    bag->chance[TASK_BAG] =
        hangs != NULL ? (hangs->clean ? 1.0 : 0.0) : conetide_chance_clean(&futures, hung);
    if (first != DAY_NONE)
        bag->chance[TASK_POLLINATE_1] = conetide_chance(&futures, first);
    if (second != DAY_NONE)
        bag->chance[TASK_POLLINATE_2] = conetide_chance(&futures, second);
    bag->chance[TASK_UNBAG] = bloom_safe_to_unbag(table->bloom, table->shed, bag->option.unbag);
    if (first == DAY_NONE || (hangs != NULL && !hangs->clean))
        return; /* no chance of both a clean bag and a visit */
    if (second == DAY_NONE) {
        bag->chance_any = hangs != NULL ? conetide_chance(&futures, first)
                                        : conetide_chance_clean_and(&futures, hung, first);
    } else if (hangs != NULL) {
        bag->chance_any = conetide_chance_any(&futures, first, second);
        bag->chance_both = conetide_chance_both(&futures, first, second);
    } else {
        bag->chance_any = conetide_chance_clean_any(&futures, hung, first, second);
        bag->chance_both = conetide_chance_clean_both(&futures, hung, first, second);
    }
}

/* Uptake of visits with the bag hung on its last safe day, as the bag is weighed. */
static double weighed_share(const struct candidate *candidate, const struct option *option)
{
    const struct option_table *table = candidate->table;
    const struct conetide_futures futures = bloom_futures(table->bloom);
    const daynum first = option->visit[0], second = option->visit[1];
    daynum hung = table->last_clean < first ? table->last_clean : first - 1;

    if (candidate->group->hangs != NULL)
        return two_visits_share(table->bloom, first, second);
    if (second == DAY_NONE)
        return uptake_share(conetide_chance_clean_and(&futures, hung, first), 0.0);
    return uptake_share(conetide_chance_clean_any(&futures, hung, first, second),
                        conetide_chance_clean_both(&futures, hung, first, second));
}

/* Does seed of it count?  Not of one that was noted as not clean, or that only comes off. */
static bool counts_seed(const struct planned_bag *bag)
{
    return bag->option.visit[0] != DAY_NONE &&
           (bag->group->hangs == NULL || bag->group->hangs->clean);
}

void fill_bag(struct planned_bag *bag, const struct candidate *candidate,
              const struct lot_left *lot)
{
    const struct option_table *table = candidate->table;
    const struct option *option = &bag->option;
    daynum last = option->visit[1] != DAY_NONE ? option->visit[1] : option->visit[0];
    daynum safe = last + UNBAG_WAIT;

    fill_chances(bag, table);
    if (table->first_safe != DAY_NONE && table->first_safe > safe)
        safe = table->first_safe;
    bag->latest[TASK_BAG] = bag->done[TASK_BAG] ? DAY_NONE : table->last_clean;
    for (int task = TASK_POLLINATE_1; task <= TASK_POLLINATE_2; task++)
        bag->latest[task] =
            bag->done[task] || bag->tasks[task].day == DAY_NONE ? DAY_NONE : table->latest_visit;
    bag->latest[TASK_UNBAG] = last != DAY_NONE ? safe + UNBAG_DAYS - 1 : DAY_NONE;
    if (lot != NULL)
        bag->seeds_expected = candidate->group->seeds_per_bag * lot->share *
                              uptake_share(bag->chance_any, bag->chance_both);
    if (lot != NULL && counts_seed(bag))
        bag->value = candidate->worth * lot->share * weighed_share(candidate, option);
}
