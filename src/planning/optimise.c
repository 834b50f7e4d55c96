/*
 * optimise.c - the as-of season as a packing: what each candidate may do on which days, what there
 * is of graft places, bags, doses and crews' minutes.
 *
 * Bags that hang come first whatever they cost.  The day of bagging has no value of its own, so
 * that prices of minutes alone move it.
 */
#include "planning/crossing_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FEW_GROUPS 500
#define ITERATIONS_OF_FEW 400
#define NODES_MOST 200

struct builder {
    struct chooser *chooser;
    const struct orchard *orchard;
    struct arena *arena;
    daynum as_of;
    int days;
    double low_reach_m; /* every lift reaches so far; INFINITY: as far as one asks */
    struct packing packing;
    struct pack_lane *lanes;
    struct pack_group *groups;
    struct packed *packed;
    int32_t *limits;
    size_t lane_capacity, lane_count, group_capacity, group_count, packed_capacity, packed_count,
        limit_capacity, limit_count;
};

/* The shortest lift's reach. */
static double low_reach(const struct orchard *orchard)
{
    double low = INFINITY;

    for (size_t i = 0; i < orchard->lifts.count; i++)
        if (orchard->lifts.list[i].reach_m < low)
            low = orchard->lifts.list[i].reach_m;
    return low;
}

static bool takes_part(const struct candidate *candidate)
{
    return candidate->phase == 0 && (candidate->group->hangs == NULL || candidate->planned == 0) &&
           is_wanted(candidate) && candidate->worth > 0 && candidate->want->left > 0 &&
           !candidate->want->refused && candidate->want->cross->state == CROSS_WANTED &&
           candidate->lot_count > 0 && candidate->table->last_clean != DAY_NONE &&
           candidate->table->visit_days > 0 &&
           (candidate->group->hangs != NULL || candidate->carrier->left > 0);
}

static int32_t add_limit(struct builder *builder, int64_t much)
{
    *ARENA_PUSH(builder->arena, builder->limits, builder->limit_count, builder->limit_capacity) =
        much < 100000 ? (int32_t)much : 100000;
    return (int32_t)builder->limit_count - 1;
}

/* Work by lift on a tree that not every lift reaches is high work. */
static enum pack_work pack_work_of(const struct builder *builder, const struct candidate *candidate,
                                   enum job job)
{
    const struct tree *tree = candidate->group->graft->graft->tree;

    if (candidate->work[job] != WORK_LIFT)
        return candidate->work[job] == WORK_GROUND ? PACK_GROUND : PACK_EITHER;
    return tree->reach_needed_m > builder->low_reach_m ? PACK_HIGH : PACK_LIFT;
}

/* The lane of the days on which some crew may do the job there at all. */
static int32_t lane_of(struct builder *builder, const struct candidate *candidate, enum job job)
{
    const int32_t site = (int32_t)(candidate->group->site - builder->orchard->sites.list);
    const enum pack_work work = pack_work_of(builder, candidate, job);
    bool *open = ARENA_ARRAY(builder->arena, (size_t)builder->days, bool);

    for (int day = 0; day < builder->days; day++)
        open[day] = staff_fit(builder->chooser->staff,
                              (struct errand){candidate, job, builder->as_of + day},
                              FIT_WORKING_DAY) != FIT_NOT;
    for (size_t l = 0; l < builder->lane_count; l++)
        if (builder->lanes[l].site == site && builder->lanes[l].work == work &&
            memcmp(builder->lanes[l].open, open, (size_t)builder->days * sizeof *open) == 0)
            return (int32_t)l;
    *ARENA_PUSH(builder->arena, builder->lanes, builder->lane_count, builder->lane_capacity) =
        (struct pack_lane){site, work, open};
    return (int32_t)builder->lane_count - 1;
}

static int by_share(const void *a, const void *b)
{
    const struct pack_way *x = a, *y = b;

    if (x->share > y->share || x->share < y->share)
        return x->share > y->share ? -1 : 1;
    if (x->main[0] != y->main[0])
        return x->main[0] - y->main[0];
    return x->main[1] - y->main[1];
}

/* One way, if its days are open and the pollen is there. */
static bool way_of(const struct builder *builder, const struct candidate *candidate,
                   const struct lot_left *lot, const int at[2], struct pack_way *way)
{
    const struct option_table *table = candidate->table;
    const bool fresh = candidate->group->hangs == NULL;
    const daynum first = table->first_visit + at[0];
    const int later = second_visit_days[at[1]];
    const daynum last = first + later, off = first_unbag_day(candidate, last);
    const daynum hung = table->last_clean < first ? table->last_clean : first - 1;

    if (first < builder->as_of || off == DAY_NONE || off - builder->as_of >= builder->days ||
        (lot->balance->ready_on != DAY_NONE && first <= lot->balance->ready_on) ||
        (fresh && hung < builder->as_of) || lot->doses < (later > 0 ? 2 : 1))
        return false;
    *way = (struct pack_way){
        .share = (fresh ? table->fresh : table->hanging)[at[0] * SECOND_VISITS + at[1]],
        .early_until = (int16_t)(fresh ? hung - builder->as_of : PACK_NONE),
        .main = {(int16_t)(first - builder->as_of),
                 (int16_t)(later > 0 ? last - builder->as_of : PACK_NONE)},
        .late_from = (int16_t)(off > builder->as_of ? off - builder->as_of : 0),
    };
    return way->share > 0;
}

static void fill_ways(struct builder *builder, const struct candidate *candidate,
                      const struct lot_left *lot, struct pack_group *group)
{
    struct pack_way *ways = ARENA_ARRAY(
        builder->arena, (size_t)candidate->table->visit_days * SECOND_VISITS, struct pack_way);
    const bool *open = builder->lanes[group->lane[PACK_MAIN]].open;
    int32_t count = 0;

    for (int i = 0; i < candidate->table->visit_days; i++)
        for (int k = 0; k < SECOND_VISITS; k++) {
            struct pack_way *way = &ways[count];

            if (way_of(builder, candidate, lot, (int[]){i, k}, way) && open[way->main[0]] &&
                (way->main[1] == PACK_NONE || open[way->main[1]]) &&
                (way->early_until == PACK_NONE || way->early_until >= group->early_from))
                count++;
        }
    if (count > 1)
        qsort(ways, (size_t)count, sizeof *ways, by_share);
    group->ways = ways;
    group->way_count = count;
}

static void add_group(struct builder *builder, struct candidate *candidate, struct lot_left *lot,
                      const struct pack_group *like)
{
    struct pack_group group = *like;
    const bool fresh = candidate->group->hangs == NULL;
    int64_t most = fresh ? candidate->carrier->left : 1;

    group.worth = candidate->worth * lot->share;
    most = candidate->want->left < most ? candidate->want->left : most;
    most = lot->doses < most ? lot->doses : most;
    group.most = (int32_t)most;
    group.limit[2] = lot->limit;
    fill_ways(builder, candidate, lot, &group);
    if (most <= 0 || group.way_count == 0)
        return;
    *ARENA_PUSH(builder->arena, builder->groups, builder->group_count, builder->group_capacity) =
        group;
    *ARENA_PUSH(builder->arena, builder->packed, builder->packed_count, builder->packed_capacity) =
        (struct packed){candidate, lot};
}

/* What all groups of a candidate have in common; one group a lot. */
static void add_candidate_groups(struct builder *builder, struct candidate *candidate)
{
    const bool fresh = candidate->group->hangs == NULL;
    const daynum early = candidate->table->last_clean - (BAG_DAYS - 1);
    struct pack_group like = {
        .must = !fresh,
        .early_from = (int16_t)(!fresh                   ? PACK_NONE
                                : early > builder->as_of ? early - builder->as_of
                                                         : 0),
        .limit = {PACK_NONE, candidate->want->limit, PACK_NONE},
    };

    for (int job = 0; job < JOBS; job++) {
        like.lane[job] = lane_of(builder, candidate, (enum job)job);
        like.minutes[job] = (int32_t)candidate->minutes[job];
    }
    if (!fresh && candidate->lot_count > 1)
        like.limit[0] = add_limit(builder, 1);
    if (fresh && (candidate->carrier->users > 1 || candidate->lot_count > 1)) {
        if (candidate->carrier->limit == PACK_NONE)
            candidate->carrier->limit = add_limit(builder, candidate->carrier->left);
        like.limit[0] = candidate->carrier->limit;
    }
    for (size_t l = 0; l < candidate->lot_count; l++)
        add_group(builder, candidate, candidate->lots[l], &like);
}

static void add_limits(struct builder *builder)
{
    struct candidates *all = &builder->chooser->candidates;
    struct supply *supply = builder->chooser->supply;

    for (size_t c = 0; c < builder->orchard->crosses.count; c++)
        supply->wants[c].limit = add_limit(builder, supply->wants[c].left);
    for (size_t l = 0; l < builder->orchard->lots.count; l++)
        supply->lots[l].limit = supply->lots[l].doses == DOSES_UNKNOWN
                                    ? PACK_NONE
                                    : add_limit(builder, supply->lots[l].doses);
    for (size_t i = 0; i < all->count; i++) {
        all->list[i].carrier->limit = PACK_NONE;
        all->list[i].carrier->users = 0;
    }
    for (size_t i = 0; i < all->count; i++)
        all->list[i].carrier->users += takes_part(&all->list[i]);
}

/* Days from as-of to the last on which a bag of this season may come off. */
static int days_of(const struct builder *builder)
{
    const struct candidates *all = &builder->chooser->candidates;
    daynum last = builder->as_of;

    for (size_t i = 0; i < all->count; i++) {
        const struct candidate *candidate = &all->list[i];

        if (!takes_part(candidate))
            continue;
        daynum off = first_unbag_day(candidate, candidate->table->first_visit +
                                                    candidate->table->visit_days + 2);
        if (off != DAY_NONE && off + UNBAG_DAYS > last)
            last = off + UNBAG_DAYS;
    }
    int days = (int)(last - builder->as_of) + 1;
    return days < STAFF_DAYS ? days : STAFF_DAYS;
}

static void add_stands(struct builder *builder)
{
    const struct staff *staff = builder->chooser->staff;
    const size_t crews = staff_count(staff), sites = builder->orchard->sites.count;
    struct pack_stand *stands =
        ARENA_ARRAY(builder->arena, crews * (size_t)builder->days, struct pack_stand);
    size_t count = 0;

    for (size_t day = 0; day < (size_t)builder->days; day++)
        for (size_t crew = 0; crew < crews; crew++) {
            int32_t *minutes = ARENA_ARRAY(builder->arena, 2 * sites * PACK_SETS, int32_t);

            stands[count] =
                staff_stand(staff, (struct spot){crew, day, 0}, builder->low_reach_m, minutes);
            for (size_t half = 0; half < 2 && builder->chooser->wish.places != NULL; half++)
                if (stands[count].fixed[half] == PACK_NONE)
                    stands[count].fixed[half] =
                        builder->chooser->wish.places[(crew * STAFF_DAYS + day) * 2 + half];
            count++;
        }
    builder->packing.stands = stands;
    builder->packing.stand_count = (int32_t)count;
}

static double value_so_far(const struct chooser *chooser)
{
    double value = 0;

    for (size_t i = 0; i < chooser->bag_count; i++)
        value += chooser->bags[i].value;
    return value;
}

static int by_price(const void *a, const void *b)
{
    const struct dear_day *x = a, *y = b;

    if (x->price > y->price || x->price < y->price)
        return x->price > y->price ? -1 : 1;
    if (x->day != y->day)
        return (x->day > y->day) - (x->day < y->day);
    return strcmp(x->site->name, y->site->name);
}

/* Of each site and day the dearest kind of work. */
static void keep_dear_days(struct chooser *chooser, const struct builder *builder,
                           const struct pack_plan *plan)
{
    const size_t sites = builder->orchard->sites.count, days = (size_t)builder->days;

    chooser->dear = ARENA_ARRAY(builder->arena, sites * days, struct dear_day);
    for (size_t site = 0; site < sites; site++)
        for (size_t day = 0; day < days; day++) {
            double price = 0;

            for (size_t l = 0; l < builder->lane_count; l++)
                if (builder->lanes[l].site == (int32_t)site &&
                    plan->lane_price[l * days + day] > price)
                    price = plan->lane_price[l * days + day];
            if (price > 0)
                chooser->dear[chooser->dear_count++] = (struct dear_day){
                    &builder->orchard->sites.list[site], builder->as_of + (daynum)day, price};
        }
    if (chooser->dear_count > 1)
        qsort(chooser->dear, chooser->dear_count, sizeof *chooser->dear, by_price);
}

void optimise(struct chooser *chooser)
{
    struct builder builder = {
        .chooser = chooser,
        .orchard = chooser->inputs->state->orchard,
        .arena = chooser->inputs->arena,
        .as_of = staff_first_day(chooser->staff),
    };
    struct packing *packing = &builder.packing;
    const double promised = value_so_far(chooser);

    builder.low_reach_m = low_reach(builder.orchard);
    builder.days = days_of(&builder);
    add_limits(&builder);
    for (size_t i = 0; i < chooser->candidates.count; i++)
        if (takes_part(&chooser->candidates.list[i]))
            add_candidate_groups(&builder, &chooser->candidates.list[i]);
    chooser->bounds = (struct bounds){0, promised, promised};
    if (builder.group_count == 0)
        return;
    add_stands(&builder);
    packing->site_count = (int32_t)builder.orchard->sites.count;
    packing->day_count = builder.days;
    packing->late_days = UNBAG_DAYS;
    packing->lanes = builder.lanes;
    packing->lane_count = (int32_t)builder.lane_count;
    packing->groups = builder.groups;
    packing->group_count = (int32_t)builder.group_count;
    packing->limits = builder.limits;
    packing->limit_count = (int32_t)builder.limit_count;
    packing->iterations = builder.group_count <= FEW_GROUPS ? ITERATIONS_OF_FEW : 0;
    packing->nodes = NODES_MOST;
    void *workspace = arena_alloc(builder.arena, packing_workspace(packing), 1);
    const struct pack_plan plan = packing_solve(packing, workspace);

    keep_dear_days(chooser, &builder, &plan);
    take_plan(chooser, builder.packed, packing, &plan);
    chooser->bounds.bound += plan.bound;
    chooser->bounds.bound_free += plan.bound_free;
}
