/*
 * task_units.c - which subjects there are work for, and in which cycles.
 */
#include "orchard/words.h"
#include "planning/site_calendar.h"
#include "planning/task_parts.h"

/* Grafting that is wanted is no more to come so long after the calendar's close (own choice). */
enum { GRAFTING_OVER_DAYS = 31 };

static size_t subjects_of(const struct tasking *tasking, enum subject_kind kind)
{
    const struct orchard *orchard = tasking->orchard;

    switch (kind) {
    case SUBJECT_GRAFT:
        return orchard->grafts.count;
    case SUBJECT_BAG:
        return tasking->state->bag_count;
    case SUBJECT_TREE:
        return orchard->trees.count;
    case SUBJECT_LOT:
        return orchard->lots.count;
    case SUBJECT_BATCH:
        return orchard->batches.count;
    case SUBJECT_SITE:
        return orchard->sites.count;
    case SUBJECT_SELECTION:
        return orchard->selections.count;
    case SUBJECT_CROSS:
        return orchard->crosses.count;
    case SUBJECT_PROGRAMME:
    case SUBJECT_KINDS:
        break;
    }
    return 1;
}

#define PLACE_IN(rows, noun) ((size_t)((noun) - (rows).list))

static bool hold_site(const struct tasking *tasking, const struct site *site, size_t *holder)
{
    if (site == NULL)
        return false;
    *holder = PLACE_IN(tasking->orchard->sites, site);
    return true;
}

static bool hold_selection(const struct tasking *tasking, const struct selection *selection,
                           size_t *holder)
{
    if (selection == NULL)
        return false;
    *holder = PLACE_IN(tasking->orchard->selections,
                       selection->self != NULL ? selection->self : selection);
    return true;
}

static bool hold_tree(const struct tasking *tasking, const struct tree *tree,
                      enum subject_kind wide, size_t *holder)
{
    if (tree == NULL)
        return false;
    if (wide == SUBJECT_SITE)
        return hold_site(tasking, tree->site, holder);
    *holder = PLACE_IN(tasking->orchard->trees, tree);
    return wide == SUBJECT_TREE;
}

static bool hold_graft(const struct tasking *tasking, const struct graft *graft,
                       enum subject_kind wide, size_t *holder)
{
    const struct graft_state *now = state_graft(tasking->state, graft);

    switch (wide) {
    case SUBJECT_GRAFT:
        *holder = PLACE_IN(tasking->orchard->grafts, graft);
        return true;
    case SUBJECT_TREE:
    case SUBJECT_SITE:
        return hold_tree(tasking, graft->tree, wide, holder);
    case SUBJECT_SELECTION:
        return hold_selection(tasking, now->selection, holder);
    case SUBJECT_BATCH:
        if (graft->batch == NULL)
            return false;
        *holder = PLACE_IN(tasking->orchard->batches, graft->batch);
        return true;
    default:
        return false;
    }
}

static bool hold_bag(const struct tasking *tasking, const struct bag *bag, enum subject_kind wide,
                     size_t *holder)
{
    if (wide == SUBJECT_CROSS && bag->cross != NULL) {
        *holder = PLACE_IN(tasking->orchard->crosses, bag->cross);
        return true;
    }
    if (wide == SUBJECT_LOT && bag->lot != NULL) {
        *holder = PLACE_IN(tasking->orchard->lots, bag->lot);
        return true;
    }
    return hold_graft(tasking, bag->graft, wide, holder);
}

bool task_holder(const struct tasking *tasking, enum subject_kind kind, size_t subject,
                 enum subject_kind wide, size_t *holder)
{
    const struct orchard *orchard = tasking->orchard;

    *holder = kind == wide ? subject : 0;
    if (kind == wide || wide == SUBJECT_PROGRAMME)
        return true;
    switch (kind) {
    case SUBJECT_GRAFT:
        return hold_graft(tasking, &orchard->grafts.list[subject], wide, holder);
    case SUBJECT_BAG:
        return hold_bag(tasking, &tasking->state->bags[subject], wide, holder);
    case SUBJECT_TREE:
        return wide == SUBJECT_SITE &&
               hold_tree(tasking, &orchard->trees.list[subject], wide, holder);
    case SUBJECT_LOT:
        return wide == SUBJECT_SELECTION &&
               hold_selection(tasking, orchard->lots.list[subject].selection, holder);
    case SUBJECT_BATCH:
        return wide == SUBJECT_SELECTION &&
               hold_selection(tasking, orchard->batches.list[subject].selection, holder);
    case SUBJECT_CROSS:
        return wide == SUBJECT_SELECTION &&
               hold_selection(tasking, orchard->crosses.list[subject].seed_parent, holder);
    default:
        return false;
    }
}

size_t task_unit_of(const struct tasking *tasking, enum subject_kind kind, size_t subject,
                    int cycle)
{
    const struct unit_list *units = &tasking->units[kind];

    if (cycle < tasking->first_cycle || cycle - tasking->first_cycle >= (int)tasking->cycles)
        return NO_UNIT;
    return units->at[subject * tasking->cycles + (size_t)(cycle - tasking->first_cycle)];
}

static const char *name_of(const struct tasking *tasking, enum subject_kind kind, size_t subject)
{
    const struct orchard *orchard = tasking->orchard;

    switch (kind) {
    case SUBJECT_GRAFT:
        return orchard->grafts.list[subject].tag;
    case SUBJECT_BAG:
        return tasking->state->bags[subject].name;
    case SUBJECT_TREE:
        return orchard->trees.list[subject].name;
    case SUBJECT_LOT:
        return orchard->lots.list[subject].name;
    case SUBJECT_BATCH:
        return orchard->batches.list[subject].name;
    case SUBJECT_SITE:
        return orchard->sites.list[subject].name;
    case SUBJECT_SELECTION:
        return orchard->selections.list[subject].name;
    case SUBJECT_CROSS:
        return orchard->crosses.list[subject].name;
    case SUBJECT_PROGRAMME:
    case SUBJECT_KINDS:
        break;
    }
    return "";
}

struct task_subject task_subject_of(const struct tasking *tasking, enum subject_kind kind,
                                    size_t subject)
{
    const struct orchard *orchard = tasking->orchard;
    struct task_subject all = {.kind = kind, .name = ""};
    size_t at;

    if (task_holder(tasking, kind, subject, SUBJECT_GRAFT, &at))
        all.graft = &tasking->state->grafts[at];
    if (task_holder(tasking, kind, subject, SUBJECT_TREE, &at))
        all.tree = &orchard->trees.list[at];
    if (task_holder(tasking, kind, subject, SUBJECT_SITE, &at))
        all.site = &orchard->sites.list[at];
    if (task_holder(tasking, kind, subject, SUBJECT_SELECTION, &at))
        all.selection = &orchard->selections.list[at];
    if (task_holder(tasking, kind, subject, SUBJECT_CROSS, &at))
        all.cross = &orchard->crosses.list[at];
    if (task_holder(tasking, kind, subject, SUBJECT_BATCH, &at))
        all.batch = &orchard->batches.list[at];
    if (task_holder(tasking, kind, subject, SUBJECT_LOT, &at))
        all.lot = &orchard->lots.list[at];
    if (kind == SUBJECT_BAG)
        all.bag = &tasking->state->bags[subject];
    all.name = name_of(tasking, kind, subject);
    return all;
}

/* ---- which ---------------------------------------------------------------------------------- */

struct marking {
    struct tasking *tasking;
    unsigned char *has[SUBJECT_KINDS]; /* [subjects * cycles] */
};

static void mark(struct marking *marking, enum subject_kind kind, size_t subject, int cycle,
                 unsigned has)
{
    const struct tasking *tasking = marking->tasking;

    if (cycle < tasking->first_cycle || cycle - tasking->first_cycle >= (int)tasking->cycles)
        return;
    marking->has[kind][subject * tasking->cycles + (size_t)(cycle - tasking->first_cycle)] |=
        (unsigned char)has;
}

static bool marked(const struct marking *marking, enum subject_kind kind, size_t subject, int cycle,
                   unsigned has)
{
    const struct tasking *tasking = marking->tasking;

    if (cycle < tasking->first_cycle || cycle - tasking->first_cycle >= (int)tasking->cycles)
        return false;
    return (marking->has[kind][subject * tasking->cycles + (size_t)(cycle - tasking->first_cycle)] &
            has) != 0;
}

/* A subject and all that hold it; but a bag does not bring a graft back that is dead. */
static void mark_up(struct marking *marking, enum subject_kind kind, size_t subject, int cycle,
                    unsigned has)
{
    for (int wide = 0; wide < SUBJECT_KINDS; wide++) {
        size_t holder;

        if ((kind != SUBJECT_BAG || wide != SUBJECT_GRAFT) &&
            task_holder(marking->tasking, kind, subject, (enum subject_kind)wide, &holder))
            mark(marking, (enum subject_kind)wide, holder, cycle, has);
    }
}

/* A crop in each of its first two springs. */
static void mark_grafts(struct marking *marking)
{
    const struct tasking *tasking = marking->tasking;

    for (size_t i = 0; i < tasking->orchard->grafts.count; i++) {
        const struct graft *graft = &tasking->orchard->grafts.list[i];
        int cycle = orchard_cycle(tasking->orchard, graft);

        if (cycle == 0 || graft->tree == NULL || graft->tree->site == NULL)
            continue;
        if (condition_is_gone(tasking->state->grafts[i].condition)) {
            mark(marking, SUBJECT_GRAFT, i, cycle, HAS_GONE);
            continue;
        }
        mark_up(marking, SUBJECT_GRAFT, i, cycle, HAS_GRAFTING | HAS_FLOWERING);
        mark_up(marking, SUBJECT_GRAFT, i, cycle + 1, HAS_FLOWERING);
    }
}

/* Cones of a dead graft are worth nothing until they are counted. */
static bool bears(const struct tasking *tasking, const struct bag *bag)
{
    return bag->lost_on == DAY_NONE && bag->conelets != 0 && bag->cones != 0 &&
           (bag->cones > 0 ||
            !condition_is_gone(state_graft(tasking->state, bag->graft)->condition));
}

static void mark_bags(struct marking *marking)
{
    const struct tasking *tasking = marking->tasking;

    for (size_t i = 0; i < tasking->state->bag_count; i++) {
        const struct bag *bag = &tasking->state->bags[i];
        unsigned cones = bag->visits > 0 ? HAS_CONES : 0;

        if (bears(tasking, bag) && bag->graft->tree != NULL && bag->graft->tree->site != NULL)
            mark_up(marking, SUBJECT_BAG, i, bag->season - 1, HAS_FLOWERING | cones);
    }
}

static void mark_batches(struct marking *marking)
{
    const struct tasking *tasking = marking->tasking;

    for (size_t i = 0; i < tasking->orchard->batches.count; i++) {
        const struct batch *batch = &tasking->orchard->batches.list[i];
        const struct site *site = batch->source_tree != NULL ? batch->source_tree->site
                                  : tasking->orchard->sites.count > 0
                                      ? &tasking->orchard->sites.list[0]
                                      : NULL;

        if (batch->cut_on == DAY_NONE || batch->discarded_on != DAY_NONE || site == NULL)
            continue;
        mark_up(marking, SUBJECT_BATCH, i,
                day_season(orchard_season_rule(tasking->orchard, site), batch->cut_on),
                HAS_GRAFTING);
    }
}

static bool cross_wanted(const struct cross *cross, int season)
{
    return cross->state == CROSS_WANTED && (cross->season == 0 || cross->season == season);
}

/* Is grafting of this cycle still to come at the site? */
static bool grafting_ahead(const struct tasking *tasking, const struct site *site, int cycle)
{
    struct season_rule rule = orchard_season_rule(tasking->orchard, site);

    return cycle > 0 && tasking->as_of <=
                            site_calendar_day(
                                site, rule, tasking->orchard->program.graft_calendar_close, cycle) +
                                GRAFTING_OVER_DAYS;
}

static bool crosses_wanted_after(const struct orchard *orchard, int cycle)
{
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross->state == CROSS_WANTED && (cross->season == 0 || cross->season > cycle))
            return true;
    }
    return false;
}

static void mark_parent(struct marking *marking, const struct selection *parent, int cycle)
{
    size_t at;

    if (hold_selection(marking->tasking, parent, &at))
        mark(marking, SUBJECT_SELECTION, at, cycle, HAS_GRAFTING);
}

/* Grafting that is to come, as long as crosses are wanted for which it may be made. */
static void mark_wanted(struct marking *marking, int cycle)
{
    const struct orchard *orchard = marking->tasking->orchard;
    bool any = false;

    if (!crosses_wanted_after(orchard, cycle))
        return;
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];

        if ((tree->uses & USE_GRAFT) == 0 || tree->site == NULL || tree->health == HEALTH_DEAD ||
            tree->health == HEALTH_WEAK || !grafting_ahead(marking->tasking, tree->site, cycle))
            continue;
        mark_up(marking, SUBJECT_TREE, i, cycle, HAS_GRAFTING);
        any = true;
    }
    for (size_t i = 0; any && i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross->state != CROSS_WANTED || (cross->season != 0 && cross->season <= cycle))
            continue;
        mark_parent(marking, cross->seed_parent, cycle);
        if (cross->either_way)
            mark_parent(marking, cross->pollen_parent, cycle);
    }
}

static bool flowers(const struct marking *marking, const struct selection *selection, int cycle)
{
    size_t at;

    return hold_selection(marking->tasking, selection, &at) &&
           marked(marking, SUBJECT_SELECTION, at, cycle, HAS_FLOWERING);
}

/* Crosses and lots of a crop that is there: pollen is wanted once something flowers. */
static void mark_crosses_and_lots(struct marking *marking, int cycle)
{
    const struct tasking *tasking = marking->tasking;
    const struct orchard *orchard = tasking->orchard;

    if (!marked(marking, SUBJECT_PROGRAMME, 0, cycle, HAS_FLOWERING))
        return;
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross_wanted(cross, cycle + 1) &&
            (flowers(marking, cross->seed_parent, cycle) ||
             (cross->either_way && flowers(marking, cross->pollen_parent, cycle))))
            mark(marking, SUBJECT_CROSS, i, cycle, HAS_FLOWERING);
    }
    for (size_t i = 0; i < orchard->lots.count; i++)
        if (orchard->lots.list[i].state <= LOT_STORED)
            mark(marking, SUBJECT_LOT, i, cycle, HAS_FLOWERING);
}

static void start(struct tasking *tasking, struct marking *marking)
{
    marking->tasking = tasking;
    for (int kind = 0; kind < SUBJECT_KINDS; kind++) {
        tasking->units[kind].subjects = subjects_of(tasking, (enum subject_kind)kind);
        marking->has[kind] = ARENA_ARRAY(
            tasking->arena, tasking->units[kind].subjects * tasking->cycles, unsigned char);
    }
}

static void number_units(struct marking *marking, enum subject_kind kind)
{
    struct tasking *tasking = marking->tasking;
    struct unit_list *units = &tasking->units[kind];
    size_t cells = units->subjects * tasking->cycles;

    units->at = ARENA_ARRAY(tasking->arena, cells, size_t);
    units->count = 0;
    for (size_t i = 0; i < cells; i++)
        units->at[i] = marking->has[kind][i] != 0 ? units->count++ : NO_UNIT;
    units->list = ARENA_ARRAY(tasking->arena, units->count, struct unit);
    for (size_t i = 0; i < cells; i++)
        if (units->at[i] != NO_UNIT)
            units->list[units->at[i]] = (struct unit){
                .subject = i / tasking->cycles,
                .cycle = tasking->first_cycle + (int)(i % tasking->cycles),
                .has = marking->has[kind][i],
            };
}

void task_units_take(struct tasking *tasking)
{
    struct marking marking;

    start(tasking, &marking);
    mark_grafts(&marking);
    mark_bags(&marking);
    mark_batches(&marking);
    for (size_t i = 0; i < tasking->cycles; i++) {
        mark_wanted(&marking, tasking->first_cycle + (int)i);
        mark_crosses_and_lots(&marking, tasking->first_cycle + (int)i);
    }
    for (int kind = 0; kind < SUBJECT_KINDS; kind++)
        number_units(&marking, (enum subject_kind)kind);
}

void task_units_of_sites(struct tasking *tasking, int cycle)
{
    struct marking marking;

    tasking->first_cycle = cycle;
    tasking->cycles = 1;
    start(tasking, &marking);
    for (size_t i = 0; i < tasking->orchard->sites.count; i++)
        mark_up(&marking, SUBJECT_SITE, i, cycle, HAS_GRAFTING | HAS_FLOWERING | HAS_CONES);
    for (int kind = 0; kind < SUBJECT_KINDS; kind++)
        number_units(&marking, (enum subject_kind)kind);
}
