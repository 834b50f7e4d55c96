/*
 * groups.c - the bags that may be had: one group for a cross on a graft in a season, either way
 * round, and one for each bag that hangs.
 */
#include "planning/crossing_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const job_names[JOBS] = {"bag", "pollinate", "unbag"};
const enum job job_of_task[BAG_TASKS] = {JOB_BAG, JOB_POLLINATE, JOB_POLLINATE, JOB_UNBAG};

struct maker {
    struct supply *supply;
    const struct orchard *orchard;
    struct arena *arena;
    struct option_tables *tables;
    struct carrier *carriers; /* [flowering rows] */
    struct candidates made;
    size_t list_capacity;
};

static double or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

static double rate_of_row(const struct maker *maker, const char *rate,
                          const struct flowering_row *row)
{
    return or_zero(rate_on_graft(maker->orchard, rate, row->graft, row->season_number));
}

static int phase_of(const struct maker *maker, const struct flowering_row *row)
{
    struct season_rule rule = orchard_season_rule(maker->orchard, row->site);

    return row->season - day_season(rule, maker->orchard->as_of);
}

/* Bags that a graft may still carry this season: each bag that has hung took its shoot. */
static int places_left(const struct maker *maker, const struct flowering_row *row)
{
    const struct state *state = maker->supply->inputs->state;
    double strobili = row->strobili;
    double most = rate_of_row(maker, "bags_per_graft", row);

    if (!(row->chance_alive > 0))
        return 0;
    if (!row->counted)
        strobili *= maker->orchard->program.uncounted_share;
    int places = bag_places_of(strobili, rate_of_row(maker, "strobili_per_bag", row),
                               (int)floor(most + 1e-9));
    for (size_t i = 0; i < state->bag_count; i++)
        if (state->bags[i].graft == row->graft->graft && state->bags[i].season == row->season)
            places--;
    return places > 0 ? places : 0;
}

static void fill_jobs(const struct maker *maker, struct candidate *candidate)
{
    const struct graft_state *graft = candidate->group->graft;
    const struct tree *tree = graft->graft->tree;
    struct rate_subject subject = {
        .host_species = tree->species,
        .clone = tree->clone,
        .site = tree->site_name,
        .selection = graft->selection->name,
        .season_number = candidate->group->season_number,
    };

    for (int job = 0; job < JOBS; job++) {
        const struct task_kind *kind = orchard_task(maker->orchard, job_names[job]);

        if (kind == NULL)
            continue;
        struct task_minutes minutes = task_minutes_of(maker->orchard, kind, subject);
        candidate->minutes[job] = minutes.each + minutes.per_tree;
        candidate->work[job] = kind->work;
    }
}

static int better_lot(const void *a, const void *b)
{
    const struct lot_left *x = *(struct lot_left *const *)a, *y = *(struct lot_left *const *)b;

    if (x->share > y->share || x->share < y->share)
        return x->share > y->share ? -1 : 1;
    return strcmp(x->balance->lot->name, y->balance->lot->name);
}

bool lot_is_pollen_of(const struct lot *lot, const struct group *group)
{
    if (group->hangs != NULL && group->hangs->visits > 0)
        return lot == group->hangs->lot;
    if (group->pollen_parent == NULL)
        return lot == group->cross->mix;
    return lot->part_count == 0 && selection_same(lot->selection, group->pollen_parent);
}

static void fill_lots(const struct maker *maker, struct candidate *candidate)
{
    const struct group *group = candidate->group;
    bool begun = group->hangs != NULL && group->hangs->visits > 0;
    size_t count = 0;

    for (size_t i = 0; i < maker->orchard->lots.count; i++)
        count += lot_is_pollen_of(&maker->orchard->lots.list[i], group);
    candidate->lots = ARENA_ARRAY(maker->arena, count, struct lot_left *);
    for (size_t i = 0; i < maker->orchard->lots.count; i++) {
        struct lot_left *lot = &maker->supply->lots[i];

        /* The lot of a bag that has been pollinated stands, whatever became of it. */
        if (lot_is_pollen_of(&maker->orchard->lots.list[i], group) &&
            (begun || (!lot->dead && lot->balance->usable)))
            candidate->lots[candidate->lot_count++] = lot;
    }
    if (candidate->lot_count > 1)
        qsort(candidate->lots, candidate->lot_count, sizeof *candidate->lots, better_lot);
}

static double seeds_of(const struct maker *maker, const struct group *group)
{
    const struct flowering_row *row = group->flowering;
    const struct selection *due =
        group->turned_round ? group->cross->pollen_parent : group->cross->seed_parent;
    double strobili = rate_of_row(maker, "strobili_per_bag", row);

    if (group->hangs != NULL && group->hangs->strobili >= 0)
        strobili = group->hangs->strobili;
    if (!selection_same(group->graft->selection, due))
        return 0.0; /* a bag that hangs on what turned out to be another clone */
    return strobili * rate_of_row(maker, "conelets_kept", row) *
           rate_of_row(maker, "cones_kept", row) * rate_of_row(maker, "seeds_per_cone", row) *
           row->chance_alive;
}

static enum bag_stage stage_of(const struct bag *hangs)
{
    if (hangs == NULL)
        return BAG_WANTED;
    if (hangs->visits == 0)
        return BAG_HANGS;
    return hangs->visits == 1 ? BAG_VISITED_ONCE : BAG_VISITED;
}

struct group_key {
    struct want *want;
    size_t row;
    bool turned_round;
    const struct bag *hangs;
};

static void add_candidate(struct maker *maker, struct group_key key)
{
    const struct flowering_row *row = &maker->supply->inputs->flowering.list[key.row];
    const struct cross *cross = key.want->cross;
    struct group *group = ARENA_NEW(maker->arena, struct group);
    struct candidate *candidate =
        ARENA_PUSH(maker->arena, maker->made.list, maker->made.count, maker->list_capacity);

    *group = (struct group){
        .graft = row->graft,
        .site = row->site,
        .cross = cross,
        .turned_round = key.turned_round,
        .seed_parent = key.turned_round ? cross->pollen_parent : cross->seed_parent,
        .pollen_parent = key.turned_round ? cross->seed_parent : cross->pollen_parent,
        .season = row->season,
        .season_number = row->season_number,
        .flowering = row,
        .shed = dates_bloom(maker->supply->inputs->dates, row->site, row->bloom->species, NULL,
                            row->season),
        .hangs = key.hangs,
        .stage = stage_of(key.hangs),
        .places = key.hangs != NULL ? 1 : maker->carriers[key.row].left,
        .weight = maker->orchard->program.priority_weights[cross->priority - 1],
    };
    group->seeds_per_bag = seeds_of(maker, group);
    *candidate = (struct candidate){
        .group = group,
        .want = key.want,
        .table = option_table_of(maker->tables, row->bloom, group->shed),
        .carrier = &maker->carriers[key.row],
        .worth = group->weight * group->seeds_per_bag,
        .phase = phase_of(maker, row),
    };
    fill_jobs(maker, candidate);
    fill_lots(maker, candidate);
    if (candidate->lot_count > 0)
        candidate->best =
            candidate->worth * candidate->table->best_fresh * candidate->lots[0]->share;
}

static void add_wanted(struct maker *maker, struct want *want)
{
    const struct flowering_rows *rows = &maker->supply->inputs->flowering;
    const struct cross *cross = want->cross;

    for (size_t r = 0; r < rows->count; r++) {
        const struct flowering_row *row = &rows->list[r];
        int phase = phase_of(maker, row);

        if (row->graft->selection == NULL || row->bloom->windows == NULL ||
            !(row->chance_alive > 0) || phase < 0 || phase > 1 ||
            (cross->season != 0 && cross->season != row->season))
            continue;
        if (selection_same(row->graft->selection, cross->seed_parent))
            add_candidate(maker, (struct group_key){want, r, false, NULL});
        else if (cross->either_way && cross->pollen_parent != NULL &&
                 selection_same(row->graft->selection, cross->pollen_parent))
            add_candidate(maker, (struct group_key){want, r, true, NULL});
    }
}

static const struct flowering_row *row_of_bag(const struct maker *maker, const struct bag *bag)
{
    const struct flowering_rows *rows = &maker->supply->inputs->flowering;

    for (size_t r = 0; r < rows->count; r++)
        if (rows->list[r].graft->graft == bag->graft && rows->list[r].season == bag->season)
            return &rows->list[r];
    return NULL;
}

/* A bag that hangs and may be wanted, or has been pollinated and must come off. */
static void add_hanging(struct maker *maker, const struct bag *bag)
{
    const struct flowering_row *row = row_of_bag(maker, bag);
    const struct cross *cross = bag->cross;

    if (row == NULL || cross == NULL || row->graft->selection == NULL ||
        row->bloom->windows == NULL || !(row->chance_alive > 0) || phase_of(maker, row) != 0 ||
        bag->lost_on != DAY_NONE || bag->unbagged_on != DAY_NONE ||
        (bag->visits > 0 && bag->lot == NULL))
        return;
    struct want *want = &maker->supply->wants[cross - maker->orchard->crosses.list];
    bool turned = cross->either_way && cross->pollen_parent != NULL &&
                  !selection_same(row->graft->selection, cross->seed_parent) &&
                  selection_same(row->graft->selection, cross->pollen_parent);
    bool own = turned || selection_same(row->graft->selection, cross->seed_parent);
    if (bag->visits == 0 && (!own || want->refused || cross->state != CROSS_WANTED))
        return;
    size_t r = (size_t)(row - maker->supply->inputs->flowering.list);
    add_candidate(maker, (struct group_key){want, r, turned, bag});
}

static int by_key(const void *a, const void *b)
{
    const struct group *x = ((const struct candidate *)a)->group;
    const struct group *y = ((const struct candidate *)b)->group;
    int order = x->season - y->season;

    if (order == 0)
        order = strcmp(x->cross->name, y->cross->name);
    if (order == 0)
        order = strcmp(x->graft->graft->tag, y->graft->graft->tag);
    if (order == 0)
        order = (x->hangs != NULL) - (y->hangs != NULL);
    return order != 0 || x->hangs == NULL ? order : strcmp(x->hangs->name, y->hangs->name);
}

/* Grafts of one tree share a count of the cross's bags on it, those that hang among them. */
static void share_trees(struct maker *maker)
{
    const struct state *state = maker->supply->inputs->state;
    struct candidate *list = maker->made.list;

    for (size_t i = 0; i < maker->made.count; i++) {
        const struct tree *tree = list[i].group->graft->graft->tree;
        size_t j = i;

        while (j-- > 0 && list[j].want == list[i].want && list[j].phase == list[i].phase &&
               list[i].on_tree == NULL)
            if (list[j].group->graft->graft->tree == tree)
                list[i].on_tree = list[j].on_tree;
        if (list[i].on_tree != NULL)
            continue;
        list[i].on_tree = ARENA_NEW(maker->arena, int);
        for (size_t k = 0; k < state->bag_count; k++)
            if (state->bags[k].cross == list[i].want->cross && state->bags[k].graft->tree == tree &&
                state->bags[k].season == list[i].group->season &&
                state->bags[k].lost_on == DAY_NONE)
                ++*list[i].on_tree;
    }
}

struct candidates candidates_of(struct supply *supply)
{
    const struct crossing_inputs *inputs = supply->inputs;
    struct maker maker = {
        .supply = supply,
        .orchard = inputs->state->orchard,
        .arena = inputs->arena,
        .carriers = ARENA_ARRAY(inputs->arena, inputs->flowering.count, struct carrier),
    };

    maker.tables =
        option_tables_new(inputs->arena, maker.orchard->as_of, maker.orchard->program.clean_chance);
    for (size_t r = 0; r < inputs->flowering.count; r++)
        if (inputs->flowering.list[r].graft->selection != NULL)
            maker.carriers[r].left = places_left(&maker, &inputs->flowering.list[r]);
    for (size_t c = 0; c < maker.orchard->crosses.count; c++) {
        struct want *want = &supply->wants[c];

        if (want->bags > 0 && !want->refused)
            add_wanted(&maker, want);
    }
    for (size_t b = 0; b < inputs->state->bag_count; b++)
        add_hanging(&maker, &inputs->state->bags[b]);
    if (maker.made.count > 1)
        qsort(maker.made.list, maker.made.count, sizeof *maker.made.list, by_key);
    share_trees(&maker);

    /* In one array, so that a plan's groups can be walked. */
    maker.made.groups = ARENA_ARRAY(inputs->arena, maker.made.count, struct group);
    for (size_t i = 0; i < maker.made.count; i++) {
        maker.made.groups[i] = *maker.made.list[i].group;
        maker.made.list[i].group = &maker.made.groups[i];
    }
    return maker.made;
}
