/*
 * optimise_take.c - the packing's plan as bags that crews hang, visit and take off.
 *
 * The packing knows the minutes of a site and day in all; here each step gets a crew and a
 * half-day.  Of grafts of a cross that do as well, bags go to the tree with fewest of them.  Steps
 * whose day costs nothing go where a crew is anyhow, bagging to the latest day that fits.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>

#define NOTHING 1e-9 /* a price of a minute that is none */

struct taker {
    struct chooser *chooser;
    const struct packed *packed;
    const struct packing *packing;
    const struct pack_plan *plan;
    daynum as_of;
    double *spare; /* [PACK_SETS][sites][days] minutes that the plan leaves */
};

/* Crews stand where the packing put them, on days on which it has work there, and where they are
 * given places. */
static void open_places(const struct taker *taker)
{
    const struct packing *packing = taker->packing;
    const struct orchard *orchard = taker->chooser->inputs->state->orchard;
    bool *busy = ARENA_ARRAY(taker->chooser->inputs->arena,
                             (size_t)(packing->site_count * packing->day_count), bool);
    const size_t crews = staff_count(taker->chooser->staff);

    for (int32_t i = 0; i < taker->plan->item_count; i++) {
        const struct pack_item *item = &taker->plan->items[i];
        const struct pack_group *group = &packing->groups[item->group];
        const struct pack_way *way = &group->ways[item->way];
        bool *own = busy + packing->lanes[group->lane[PACK_MAIN]].site * packing->day_count;
        const int days[] = {item->early, way->main[0], way->main[1], item->late};

        for (size_t d = 0; d < sizeof days / sizeof *days; d++)
            if (days[d] != PACK_NONE)
                own[days[d]] = true;
    }
    for (int32_t k = 0; k < packing->stand_count; k++)
        for (int half = 0; half < 2; half++) {
            const int32_t site = taker->plan->places[2 * k + half], day = packing->stands[k].day;

            const bool given =
                taker->chooser->wish.places != NULL && packing->stands[k].fixed[half] != PACK_NONE;

            if (site != PACK_NONE && (given || busy[site * packing->day_count + day]) &&
                packing->stands[k].minutes[half][site * PACK_SETS + PACK_EITHER] > 0)
                staff_mean(taker->chooser->staff,
                           (struct spot){(size_t)k % crews, (size_t)day, half},
                           &orchard->sites.list[site]);
        }
}

static enum fit_level fit_on(const struct taker *taker, const struct candidate *candidate,
                             enum job job, daynum day)
{
    return staff_fit(taker->chooser->staff, (struct errand){candidate, job, day}, FIT_CREW);
}

static double price_of(const struct taker *taker, const struct pack_group *group, int step, int day)
{
    return taker->plan->lane_price[group->lane[step] * taker->packing->day_count + day];
}

static size_t cell_of(const struct taker *taker, const struct pack_group *group, int step, int day)
{
    return (size_t)(taker->packing->lanes[group->lane[step]].site * taker->packing->day_count +
                    day);
}

static size_t cells_of(const struct taker *taker)
{
    return (size_t)(taker->packing->site_count * taker->packing->day_count);
}

/* Minutes of a step are spare again; below 0: are taken. */
static void give_back(struct taker *taker, const struct pack_group *group, int step, int day,
                      int times)
{
    const enum pack_work work = taker->packing->lanes[group->lane[step]].work;
    const size_t cell = cell_of(taker, group, step, day);
    const double minutes = (double)group->minutes[step] * times;

    for (int set = (int)work; set != PACK_NONE; set = pack_wider(set))
        taker->spare[(size_t)set * cells_of(taker) + cell] += minutes;
}

/* Has the day minutes that no other planned step needs? */
static bool has_room(const struct taker *taker, const struct pack_group *group, int step, int day)
{
    const enum pack_work work = taker->packing->lanes[group->lane[step]].work;
    const size_t cell = cell_of(taker, group, step, day);

    for (int set = (int)work; set != PACK_NONE; set = pack_wider(set))
        if (taker->spare[(size_t)set * cells_of(taker) + cell] < group->minutes[step])
            return false;
    return true;
}

/* All steps of an option given back, or taken. */
static void give_back_option(struct taker *taker, const struct pack_group *group,
                             const struct option *option, int times)
{
    if (group->early_from != PACK_NONE)
        give_back(taker, group, PACK_EARLY, option->bag - taker->as_of, times);
    for (int v = 0; v < VISITS_MOST && option->visit[v] != DAY_NONE; v++)
        give_back(taker, group, PACK_MAIN, option->visit[v] - taker->as_of, times);
    give_back(taker, group, PACK_LATE, option->unbag - taker->as_of, times);
}

static bool has_room_for(const struct taker *taker, const struct pack_group *group,
                         const struct option *option)
{
    bool room = has_room(taker, group, PACK_LATE, option->unbag - taker->as_of);

    if (group->early_from != PACK_NONE)
        room = room && has_room(taker, group, PACK_EARLY, option->bag - taker->as_of);
    for (int v = 0; v < VISITS_MOST && option->visit[v] != DAY_NONE; v++)
        room = room && has_room(taker, group, PACK_MAIN, option->visit[v] - taker->as_of);
    return room;
}

static struct option planned_option(const struct taker *taker, const struct pack_item *item)
{
    const struct pack_way *way = &taker->packing->groups[item->group].ways[item->way];

    return (struct option){
        .bag = item->early != PACK_NONE ? taker->as_of + item->early : DAY_NONE,
        .visit = {taker->as_of + way->main[0],
                  way->main[1] != PACK_NONE ? taker->as_of + way->main[1] : DAY_NONE},
        .unbag = taker->as_of + item->late,
    };
}

/* The latest day that fits and costs no more than the planned one. */
static daynum bag_day(const struct taker *taker, const struct candidate *candidate,
                      const struct pack_item *item)
{
    const struct pack_group *group = &taker->packing->groups[item->group];
    const double price = price_of(taker, group, PACK_EARLY, item->early);

    for (int day = group->ways[item->way].early_until; day >= group->early_from; day--)
        if (price_of(taker, group, PACK_EARLY, day) <= price + NOTHING &&
            has_room(taker, group, PACK_EARLY, day) &&
            fit_on(taker, candidate, JOB_BAG, taker->as_of + day) != FIT_NOT)
            return taker->as_of + day;
    return DAY_NONE;
}

/* The first day where a crew is anyhow, else that fits, that costs no more than the planned one. */
static daynum unbag_day(const struct taker *taker, const struct candidate *candidate,
                        const struct pack_item *item)
{
    const struct pack_group *group = &taker->packing->groups[item->group];
    const double price = price_of(taker, group, PACK_LATE, item->late);
    const int from = group->ways[item->way].late_from;
    daynum best = DAY_NONE;

    for (int day = from; day < from + taker->packing->late_days && day < taker->packing->day_count;
         day++) {
        if (price_of(taker, group, PACK_LATE, day) > price + NOTHING ||
            !has_room(taker, group, PACK_LATE, day))
            continue;
        switch (fit_on(taker, candidate, JOB_UNBAG, taker->as_of + day)) {
        case FIT_OPEN_PLACE:
            return taker->as_of + day;
        case FIT_NEW_PLACE:
            best = best == DAY_NONE ? taker->as_of + day : best;
            break;
        case FIT_NOT:
        default:
            break;
        }
    }
    return best;
}

static bool fits_days(const struct taker *taker, const struct candidate *candidate,
                      const struct pack_item *item)
{
    const struct pack_way *way = &taker->packing->groups[item->group].ways[item->way];

    for (int v = 0; v < VISITS_MOST && way->main[v] != PACK_NONE; v++)
        if (fit_on(taker, candidate, JOB_POLLINATE, taker->as_of + way->main[v]) == FIT_NOT)
            return false;
    return (candidate->group->hangs != NULL || bag_day(taker, candidate, item) != DAY_NONE) &&
           unbag_day(taker, candidate, item) != DAY_NONE;
}

/* What the steps of an option cost at the prices of minutes. */
static double cost_of(const struct taker *taker, const struct pack_group *group,
                      const struct option *option)
{
    double cost = 0;

    if (group->early_from != PACK_NONE)
        cost += price_of(taker, group, PACK_EARLY, option->bag - taker->as_of) *
                group->minutes[PACK_EARLY];
    for (int v = 0; v < VISITS_MOST && option->visit[v] != DAY_NONE; v++)
        cost += price_of(taker, group, PACK_MAIN, option->visit[v] - taker->as_of) *
                group->minutes[PACK_MAIN];
    return cost + price_of(taker, group, PACK_LATE, option->unbag - taker->as_of) *
                      group->minutes[PACK_LATE];
}

static bool may_stand_in(const struct candidate *other, const struct candidate *candidate)
{
    return other->want == candidate->want && other->phase == candidate->phase &&
           other->group->hangs == NULL && other->packed != PACK_NONE &&
           other->carrier->left > other->carrier->reserved;
}

/*
 * Of candidates of the cross with a place to spare the one whose tree has fewest of its bags, if
 * its best way is worth no less and costs no more.  `choice` is then its way.
 */
static struct candidate *spread(const struct taker *taker, struct candidate *candidate,
                                struct choice *choice)
{
    struct candidates *all = &taker->chooser->candidates;
    const struct ways ways = {
        .staff = taker->chooser->staff, .mode = FIT_CREW, .as_of = taker->as_of};
    const double value = choice->value + NOTHING;
    const double cost =
        cost_of(taker, &taker->packing->groups[candidate->packed], &choice->option) + NOTHING;
    struct candidate *best = candidate;

    if (candidate->group->hangs != NULL)
        return candidate;
    for (size_t i = 0; i < all->count; i++) {
        struct candidate *other = &all->list[i];

        if (!may_stand_in(other, candidate) || *other->on_tree >= *best->on_tree)
            continue;
        struct choice own = choose(&ways, other);
        if (own.found && own.lot == choice->lot && own.value + 2 * NOTHING >= value &&
            (own.option.visit[1] == DAY_NONE || choice->option.visit[1] != DAY_NONE) &&
            cost_of(taker, &taker->packing->groups[other->packed], &own.option) <= cost &&
            has_room_for(taker, &taker->packing->groups[other->packed], &own.option)) {
            best = other;
            *choice = own;
        }
    }
    return best;
}

static void take_job(struct taker *taker, const struct pack_item *item)
{
    const struct packed *packed = &taker->packed[item->group];
    const struct pack_group *group = &taker->packing->groups[item->group];
    const struct pack_way *way = &group->ways[item->way];
    struct candidate *candidate = packed->candidate;
    const struct bag *hangs = candidate->group->hangs;
    struct choice choice = {
        .found = true,
        .lot = packed->lot,
        .option = planned_option(taker, item),
        .value = group->worth * way->share,
    };

    candidate->carrier->reserved--;
    give_back_option(taker, group, &choice.option, 1);
    if (!fits_days(taker, candidate, item))
        return; /* a half-day's end holds it not: the chooser finds another way */
    choice.option.bag = hangs != NULL ? hangs->bagged_on : bag_day(taker, candidate, item);
    choice.option.unbag = unbag_day(taker, candidate, item);
    struct choice stayed = choice;
    if (firm_stay(taker->chooser, candidate, &stayed) && stayed.lot == choice.lot &&
        (stayed.option.visit[1] == DAY_NONE || choice.option.visit[1] != DAY_NONE) &&
        has_room_for(taker, group, &stayed.option))
        choice = stayed;
    else
        candidate = spread(taker, candidate, &choice);
    give_back_option(taker, &taker->packing->groups[candidate->packed], &choice.option, -1);
    take_choice(taker->chooser, candidate, &choice);
}

void take_plan(struct chooser *chooser, const struct packed *packed, const struct packing *packing,
               const struct pack_plan *plan)
{
    struct taker taker = {chooser, packed, packing, plan, staff_first_day(chooser->staff), NULL};

    taker.spare = ARENA_ARRAY(chooser->inputs->arena, PACK_SETS * cells_of(&taker), double);
    for (size_t i = 0; i < PACK_SETS * cells_of(&taker); i++)
        taker.spare[i] = plan->supply[i];
    for (int32_t i = 0; i < plan->item_count; i++) {
        const struct option option = planned_option(&taker, &plan->items[i]);

        give_back_option(&taker, &packing->groups[plan->items[i].group], &option,
                         -plan->items[i].count);
    }
    open_places(&taker);
    for (size_t i = 0; i < chooser->candidates.count; i++) {
        chooser->candidates.list[i].carrier->reserved = 0;
        chooser->candidates.list[i].packed = PACK_NONE;
    }
    for (int32_t g = packing->group_count - 1; g >= 0; g--)
        packed[g].candidate->packed = g;
    for (int32_t i = 0; i < plan->item_count; i++)
        packed[plan->items[i].group].candidate->carrier->reserved += plan->items[i].count;
    for (int32_t i = 0; i < plan->item_count; i++)
        for (int32_t job = 0; job < plan->items[i].count; job++)
            take_job(&taker, &plan->items[i]);
}
