/*
 * task_events.c - on which days events are expected: at the median, for one subject or for all that
 * a wider one holds.
 */
#include "planning/grafting_window.h"
#include "planning/most_grafted.h"
#include "planning/task_parts.h"

#include <string.h>

/* Seasons of flowering and grafting so far from the days asked for can move nothing that is told.
 */
enum { SEASONS_BACK = 1, SEASONS_AHEAD = 2 };

static bool season_matters(const struct tasking *tasking, int season)
{
    return season >= 1 && season >= day_year(tasking->from) - SEASONS_BACK &&
           season <= day_year(tasking->to) + SEASONS_AHEAD;
}

static struct event_span *new_span(struct tasking *tasking)
{
    struct event_span *span = ARENA_NEW(tasking->arena, struct event_span);

    for (int event = 0; event < EVENTS; event++)
        span->first[event] = span->last[event] = DAY_NONE;
    return span;
}

static bool is_day(daynum day)
{
    return day != DAY_NONE && day != DAY_NEVER;
}

static void widen(struct event_span *span, int event, daynum first, daynum last)
{
    if (!is_day(first) || !is_day(last))
        return;
    if (span->first[event] == DAY_NONE || first < span->first[event])
        span->first[event] = first;
    if (span->last[event] == DAY_NONE || last > span->last[event])
        span->last[event] = last;
}

/* Events of a bloom in the order of nouns.h: opening to closed of strobili, then pollen. */
static struct event_span *span_of_bloom(struct tasking *tasking, const struct bloom *bloom)
{
    void **found = cache_at(&tasking->spans, (struct cache_key){{cache_pointer(bloom)}});

    if (*found == NULL) {
        struct event_span *span = new_span(tasking);

        for (int event = 0; event <= EVENT_SHED_LAST; event++)
            if ((tasking->rules.events & (uint32_t)1 << event) != 0) {
                daynum day = bloom_date(bloom, (enum event)event, 0.5);

                widen(span, event, day, day);
            }
        *found = span;
    }
    return *found;
}

static void widen_unit(struct tasking *tasking, struct unit *unit, const struct event_span *by,
                       int first_event, int last_event)
{
    if (unit->events == NULL)
        unit->events = new_span(tasking);
    for (int event = first_event; event <= last_event; event++)
        widen(unit->events, event, by->first[event], by->last[event]);
}

/* All that hold the subject, but not itself. */
static void widen_holders(struct tasking *tasking, enum subject_kind kind, const struct unit *unit,
                          const struct event_span *span, int first_event, int last_event)
{
    for (int wide = 0; wide < SUBJECT_KINDS; wide++) {
        size_t holder, at;

        if (wide == (int)kind || wide == SUBJECT_GRAFT ||
            !task_holder(tasking, kind, unit->subject, (enum subject_kind)wide, &holder))
            continue;
        at = task_unit_of(tasking, (enum subject_kind)wide, holder, unit->cycle);
        if (at != NO_UNIT)
            widen_unit(tasking, &tasking->units[wide].list[at], span, first_event, last_event);
    }
}

static void take_grafts(struct tasking *tasking)
{
    struct unit_list *units = &tasking->units[SUBJECT_GRAFT];

    for (size_t i = 0; i < units->count; i++) {
        struct unit *unit = &units->list[i];

        if ((unit->has & HAS_FLOWERING) == 0 || !season_matters(tasking, unit->cycle + 1))
            continue;
        unit->events = span_of_bloom(
            tasking, dates_graft_bloom(tasking->dates, tasking->state,
                                       &tasking->state->grafts[unit->subject], unit->cycle + 1));
        widen_holders(tasking, SUBJECT_GRAFT, unit, unit->events, 0, EVENT_SHED_LAST);
    }
}

static void take_bags(struct tasking *tasking)
{
    struct unit_list *units = &tasking->units[SUBJECT_BAG];

    for (size_t i = 0; i < units->count; i++)
        if (season_matters(tasking, units->list[i].cycle + 1))
            units->list[i].events = span_of_bloom(
                tasking, dates_bag_bloom(tasking->dates, tasking->state,
                                         &tasking->state->bags[units->list[i].subject]));
}

/* Lots of the tree; of its selection, where no tree is told. */
static void widen_lots(struct tasking *tasking, const struct tree *tree, int cycle,
                       const struct event_span *span)
{
    const struct orchard *orchard = tasking->orchard;

    for (size_t i = 0; i < orchard->lots.count; i++) {
        const struct lot *lot = &orchard->lots.list[i];
        size_t at = task_unit_of(tasking, SUBJECT_LOT, i, cycle);

        if (at != NO_UNIT &&
            (lot->source_tree != NULL ? lot->source_tree == tree
                                      : selection_same(lot->selection, tree->selection)))
            widen_unit(tasking, &tasking->units[SUBJECT_LOT].list[at], span, EVENT_SHED_FIRST,
                       EVENT_SHED_LAST);
    }
}

/* Trees that pollen is taken from flower beside the grafts. */
static void take_pollen_tree(struct tasking *tasking, const struct tree *tree, int cycle)
{
    const struct orchard *orchard = tasking->orchard;
    const struct selection *selection = tree->selection;
    struct unit own = {.subject = (size_t)(tree - orchard->trees.list), .cycle = cycle};
    const struct event_span *span = span_of_bloom(
        tasking, dates_bloom(tasking->dates, tree->site, selection->species, selection, cycle + 1));
    size_t at;

    widen_holders(tasking, SUBJECT_TREE, &own, span, EVENT_SHED_FIRST, EVENT_SHED_LAST);
    widen_lots(tasking, tree, cycle, span);
    at = task_unit_of(tasking, SUBJECT_TREE, own.subject, cycle);
    if (at != NO_UNIT)
        widen_unit(tasking, &tasking->units[SUBJECT_TREE].list[at], span, EVENT_SHED_FIRST,
                   EVENT_SHED_LAST);
    selection = selection->self != NULL ? selection->self : selection;
    at = task_unit_of(tasking, SUBJECT_SELECTION, (size_t)(selection - orchard->selections.list),
                      cycle);
    if (at != NO_UNIT)
        widen_unit(tasking, &tasking->units[SUBJECT_SELECTION].list[at], span, EVENT_SHED_FIRST,
                   EVENT_SHED_LAST);
}

static void take_pollen_trees(struct tasking *tasking)
{
    const struct orchard *orchard = tasking->orchard;

    for (size_t c = 0; c < tasking->cycles; c++) {
        int cycle = tasking->first_cycle + (int)c;

        for (size_t i = 0; i < orchard->trees.count && season_matters(tasking, cycle + 1); i++) {
            const struct tree *tree = &orchard->trees.list[i];

            if ((tree->uses & USE_POLLEN) != 0 && tree->selection != NULL && tree->site != NULL &&
                tree->health != HEALTH_DEAD)
                take_pollen_tree(tasking, tree, cycle);
        }
    }
}

/* The events of one unit as those of another: of its holder of kind `wide`. */
static void borrow(struct tasking *tasking, enum subject_kind kind, enum subject_kind wide,
                   int first_event, int last_event)
{
    struct unit_list *units = &tasking->units[kind];

    for (size_t i = 0; i < units->count; i++) {
        struct unit *unit = &units->list[i];
        size_t holder, at = NO_UNIT;

        if (task_holder(tasking, kind, unit->subject, wide, &holder))
            at = task_unit_of(tasking, wide, holder, unit->cycle);
        if (at != NO_UNIT && tasking->units[wide].list[at].events != NULL)
            widen_unit(tasking, unit, tasking->units[wide].list[at].events, first_event,
                       last_event);
    }
}

/* A lot without a tree goes by the grafts of its selection; one of which nothing is known, a mix
 * too, by all that sheds. */
static void take_other_lots(struct tasking *tasking)
{
    static const enum subject_kind by[] = {SUBJECT_SELECTION, SUBJECT_PROGRAMME};
    struct unit_list *units = &tasking->units[SUBJECT_LOT];

    for (size_t i = 0; i < units->count; i++) {
        struct unit *unit = &units->list[i];

        for (size_t k = 0; k < sizeof by / sizeof *by; k++) {
            size_t holder, at = NO_UNIT;

            if (unit->events != NULL && unit->events->first[EVENT_SHED_FIRST] != DAY_NONE)
                break;
            if (task_holder(tasking, SUBJECT_LOT, unit->subject, by[k], &holder))
                at = task_unit_of(tasking, by[k], holder, unit->cycle);
            if (at != NO_UNIT && tasking->units[by[k]].list[at].events != NULL)
                widen_unit(tasking, unit, tasking->units[by[k]].list[at].events, EVENT_SHED_FIRST,
                           EVENT_SHED_LAST);
        }
    }
}

/* A cross either way round flowers on its pollen parent too. */
static void take_other_way(struct tasking *tasking)
{
    const struct orchard *orchard = tasking->orchard;
    struct unit_list *units = &tasking->units[SUBJECT_CROSS];

    for (size_t i = 0; i < units->count; i++) {
        const struct cross *cross = &orchard->crosses.list[units->list[i].subject];
        const struct selection *other = cross->either_way ? cross->pollen_parent : NULL;
        size_t at;

        if (other == NULL)
            continue;
        other = other->self != NULL ? other->self : other;
        at = task_unit_of(tasking, SUBJECT_SELECTION, (size_t)(other - orchard->selections.list),
                          units->list[i].cycle);
        if (at != NO_UNIT && tasking->units[SUBJECT_SELECTION].list[at].events != NULL)
            widen_unit(tasking, &units->list[i], tasking->units[SUBJECT_SELECTION].list[at].events,
                       0, EVENT_SHED_LAST);
    }
}

/* ---- grafting ------------------------------------------------------------------------------- */

static struct event_span *span_of_window(struct tasking *tasking, struct interstock interstock,
                                         int season)
{
    struct cache_key key = {{cache_pointer(interstock.site), cache_pointer(interstock.clone),
                             cache_pointer(interstock.species), (uint64_t)(uint32_t)season}};
    void **found = cache_at(&tasking->windows, key);

    if (*found == NULL) {
        struct event_span *span = new_span(tasking);
        struct grafting_window window;
        daynum open, close;

        grafting_window_of(tasking->dates, tasking->orchard, interstock, season, tasking->arena,
                           &window);
        open = grafting_edge_date(&window.open, 0.5);
        close = grafting_edge_date(&window.close, 0.5);
        widen(span, EVENT_GRAFT_OPEN, open, open);
        widen(span, EVENT_GRAFT_CLOSE, close, close);
        *found = span;
    }
    return *found;
}

/* One address for equal texts: clones of a site are few, their trees many. */
static const char *same_text(const struct tree *const *seen, size_t count, const char *text,
                             bool clone)
{
    for (size_t i = 0; i < count && text != NULL; i++) {
        const char *other = clone ? seen[i]->clone : seen[i]->species;

        if (other != NULL && strcmp(other, text) == 0)
            return other;
    }
    return text;
}

struct interstocks {
    const struct tree **seen; /* one of each species and clone */
    size_t count, capacity;
    const char **grafted; /* [sites.count] the species most grafted there */
};

static struct interstock interstock_of(struct tasking *tasking, struct interstocks *known,
                                       const struct tree *tree)
{
    size_t site = (size_t)(tree->site - tasking->orchard->sites.list);
    struct interstock interstock = {
        tree->site, same_text(known->seen, known->count, tree->species, false),
        same_text(known->seen, known->count, tree->clone, true), known->grafted[site]};

    if (interstock.species == tree->species || interstock.clone == tree->clone)
        *ARENA_PUSH(tasking->arena, known->seen, known->count, known->capacity) = tree;
    if (known->grafted[site] == NULL)
        interstock.grafted_species = known->grafted[site] =
            most_grafted_species(tasking->orchard, tree->site, tasking->arena);
    return interstock;
}

/* Of a dead graft, whose tree may have no other in the cycle. */
static void take_windows_of_dead(struct tasking *tasking, struct interstocks *known)
{
    struct unit_list *units = &tasking->units[SUBJECT_GRAFT];

    for (size_t i = 0; i < units->count; i++) {
        struct unit *unit = &units->list[i];
        const struct tree *tree = tasking->orchard->grafts.list[unit->subject].tree;

        struct event_span *own;

        if ((unit->has & HAS_GONE) == 0 || !season_matters(tasking, unit->cycle))
            continue;
        own = new_span(tasking); /* that of a bloom is shared */
        if (unit->events != NULL)
            *own = *unit->events;
        unit->events = own;
        widen_unit(tasking, unit,
                   span_of_window(tasking, interstock_of(tasking, known, tree), unit->cycle),
                   EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
    }
}

static void take_windows(struct tasking *tasking)
{
    const struct orchard *orchard = tasking->orchard;
    struct unit_list *units = &tasking->units[SUBJECT_TREE];
    struct interstocks known = {
        .grafted = ARENA_ARRAY(tasking->arena, orchard->sites.count, const char *)};

    for (size_t i = 0; i < units->count; i++) {
        const struct tree *tree = &orchard->trees.list[units->list[i].subject];
        const struct event_span *span;

        if ((tree->uses & USE_GRAFT) == 0 || tree->site == NULL ||
            !season_matters(tasking, units->list[i].cycle))
            continue;
        span = span_of_window(tasking, interstock_of(tasking, &known, tree), units->list[i].cycle);
        widen_unit(tasking, &units->list[i], span, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
        widen_holders(tasking, SUBJECT_TREE, &units->list[i], span, EVENT_GRAFT_OPEN,
                      EVENT_GRAFT_CLOSE);
    }
    take_windows_of_dead(tasking, &known);
}

static bool asks(const struct tasking *tasking, int first_event, int last_event)
{
    for (int event = first_event; event <= last_event; event++)
        if ((tasking->rules.events & (uint32_t)1 << event) != 0)
            return true;
    return false;
}

void task_events_take(struct tasking *tasking)
{
    if (asks(tasking, 0, EVENT_SHED_LAST)) {
        take_grafts(tasking);
        take_bags(tasking);
        take_pollen_trees(tasking);
        borrow(tasking, SUBJECT_CROSS, SUBJECT_SELECTION, 0, EVENT_SHED_LAST);
        take_other_way(tasking);
        borrow(tasking, SUBJECT_LOT, SUBJECT_PROGRAMME, 0, EVENT_CLOSED);
        take_other_lots(tasking);
    }
    if (asks(tasking, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE)) {
        take_windows(tasking);
        borrow(tasking, SUBJECT_SELECTION, SUBJECT_PROGRAMME, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
        borrow(tasking, SUBJECT_BATCH, SUBJECT_PROGRAMME, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
        borrow(tasking, SUBJECT_CROSS, SUBJECT_PROGRAMME, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
        borrow(tasking, SUBJECT_LOT, SUBJECT_PROGRAMME, EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
    }
}

void task_events_of_site(struct tasking *tasking, struct unit *unit)
{
    const struct site *site = &tasking->orchard->sites.list[unit->subject];
    const char *species = most_grafted_species(tasking->orchard, site, tasking->arena);

    widen_unit(
        tasking, unit,
        span_of_bloom(tasking, dates_bloom(tasking->dates, site, species, NULL, unit->cycle + 1)),
        0, EVENT_SHED_LAST);
    widen_unit(tasking, unit,
               span_of_window(tasking,
                              (struct interstock){.site = site, .grafted_species = species},
                              unit->cycle),
               EVENT_GRAFT_OPEN, EVENT_GRAFT_CLOSE);
}
