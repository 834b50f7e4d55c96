/*
 * groups.c - the bags that may be had: one group for a cross on a graft in a season, either way
 * round, and one for each bag that hangs.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>
#include <string.h>

struct maker {
    struct supply *supply;
    const struct orchard *orchard;
    struct arena *arena;
    struct option_tables *tables;
    struct carrier *carriers; /* [flowering rows] */
    struct candidates made;
    size_t list_capacity;
};

static int phase_of(const struct maker *maker, const struct flowering_row *row)
{
    struct season_rule rule = orchard_season_rule(maker->orchard, row->site);

    return row->season - day_season(rule, maker->orchard->as_of);
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
    const struct bloom *bloom;
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
        .bloom = key.bloom,
        .shed = dates_bloom(maker->supply->inputs->dates, row->site, row->bloom->species, NULL,
                            row->season),
        .hangs = key.hangs,
        .stage = stage_of(key.hangs),
        .places = key.hangs != NULL ? 1 : maker->carriers[key.row].left,
        .weight = maker->orchard->program.priority_weights[cross->priority - 1],
    };
    *candidate = (struct candidate){
        .group = group,
        .want = key.want,
        .table = option_table_of(maker->tables, group->bloom, group->shed),
        .carrier = &maker->carriers[key.row],
        .phase = phase_of(maker, row),
    };
    fill_candidate(maker->supply, candidate);
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
            add_candidate(maker, (struct group_key){want, r, false, NULL, row->bloom});
        else if (cross->either_way && cross->pollen_parent != NULL &&
                 selection_same(row->graft->selection, cross->pollen_parent))
            add_candidate(maker, (struct group_key){want, r, true, NULL, row->bloom});
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

/* Does a bag of this bloom still have days for a visit? */
static bool may_be_visited(const struct maker *maker, const struct bloom *bloom)
{
    const struct bloom *shed =
        dates_bloom(maker->supply->inputs->dates, bloom->site, bloom->species, NULL, bloom->season);

    return option_table_of(maker->tables, bloom, shed)->visit_days > 0;
}

/* A bag that hangs and may be wanted, or must come off: pollinated, or when its days are past. */
static void add_hanging(struct maker *maker, const struct bag *bag)
{
    const struct flowering_row *row = row_of_bag(maker, bag);
    const struct cross *cross = bag->cross;

    if (row == NULL || cross == NULL || row->graft->selection == NULL ||
        row->bloom->windows == NULL || !(row->chance_alive > 0) || phase_of(maker, row) != 0 ||
        bag->lost_on != DAY_NONE || bag->unbagged_on != DAY_NONE ||
        (bag->visits > 0 && bag->lot == NULL))
        return;
    const struct bloom *bloom =
        dates_bag_bloom(maker->supply->inputs->dates, maker->supply->inputs->state, bag);
    struct want *want = &maker->supply->wants[cross - maker->orchard->crosses.list];
    bool turned = cross->either_way && cross->pollen_parent != NULL &&
                  !selection_same(row->graft->selection, cross->seed_parent) &&
                  selection_same(row->graft->selection, cross->pollen_parent);
    bool own = turned || selection_same(row->graft->selection, cross->seed_parent);
    if (bag->visits == 0 && (!own || want->refused || cross->state != CROSS_WANTED) &&
        may_be_visited(maker, bloom))
        return;
    size_t r = (size_t)(row - maker->supply->inputs->flowering.list);
    add_candidate(maker, (struct group_key){want, r, turned, bag, bloom});
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
            maker.carriers[r].left = places_left(supply, &inputs->flowering.list[r]);
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
