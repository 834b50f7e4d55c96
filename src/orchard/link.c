/*
 * Joining identifiers.  Everything is sorted before the first pointer is taken, because sorting
 * moves rows.
 */
#include "base/text.h"
#include "orchard/known.h"
#include "orchard/link_grafts.h"
#include "orchard/orchard.h"
#include "orchard/order.h"

#include <string.h>

struct linking {
    struct orchard *orchard;
    struct diags *diags;
    struct known known[KNOWN_TABLES];
};

/* Tell a name that was not found; `noun` and `who` say who needs it. */
static void missing(struct linking *linking, enum known_table table, struct place place,
                    const char *noun, const char *who, const char *name)
{
    const char *what = arena_printf(linking->orchard->arena, "%s %s", noun,
                                    diag_quote(linking->diags, who ? who : ""));
    known_tell_missing(&linking->known[table], linking->diags, place, what, name);
}

/* row->member = the row named by row->member_name, told when it is not there. */
#define JOIN(row, member, find, table, noun, who)                                                  \
    do {                                                                                           \
        (row)->member = find(linking->orchard, (row)->member##_name);                              \
        if ((row)->member##_name && !(row)->member)                                                \
            missing(linking, table, (row)->place, noun, who, (row)->member##_name);                \
    } while (0)

static void drop_repeated_notes(struct orchard *orchard)
{
    size_t kept = 0;
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        if (kept && note->entry && order_note_content(&orchard->notes.list[kept - 1], note) == 0)
            continue;
        orchard->notes.list[kept++] = *note;
    }
    orchard->notes.count = kept;
}

/* Tasks are sorted by name, the folder's own before a shipped one. */
static void drop_replaced_tasks(struct orchard *orchard)
{
    size_t kept = 0;
    for (size_t i = 0; i < orchard->tasks.count; i++) {
        const struct task_kind *task = &orchard->tasks.list[i];
        if (kept && task->shipped && !orchard->tasks.list[kept - 1].shipped &&
            order_text(orchard->tasks.list[kept - 1].task, task->task) == 0)
            continue;
        orchard->tasks.list[kept++] = *task;
    }
    orchard->tasks.count = kept;
}

static void link_sites(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->sites.count; i++) {
        struct site *site = &orchard->sites.list[i];
        site->station = orchard_station(orchard, site->station_name);
        site->record = orchard_record(orchard, site->station_name);
        /* stations.csv is optional: a station is known by its row or by its weather file. */
        if (site->station_name && orchard->stations.count && !site->station && !site->record)
            missing(linking, KNOWN_STATIONS, site->place, "site", site->name, site->station_name);
    }
    for (size_t i = 0; i < orchard->stations.count; i++) {
        const struct station *station = &orchard->stations.list[i];
        if (station->neighbour && !orchard_station(orchard, station->neighbour) &&
            !orchard_record(orchard, station->neighbour))
            missing(linking, KNOWN_STATIONS, station->place, "station", station->name,
                    station->neighbour);
    }
}

/* The end of the chain of same_as; of a loop its first name, which is told once. */
static const struct selection *same_root(struct linking *linking, const struct selection *start)
{
    const struct orchard *orchard = linking->orchard;
    const struct selection *slow = start, *fast = start;
    while (fast->same_as && fast->same_as->same_as) {
        slow = slow->same_as;
        fast = fast->same_as->same_as;
        if (slow != fast)
            continue;
        const struct selection *first = slow; /* rows are sorted by name */
        for (const struct selection *at = slow->same_as; at != slow; at = at->same_as)
            first = at < first ? at : first;
        if (first == start) {
            struct text path;
            text_init(&path, orchard->arena);
            const struct selection *at = first;
            do {
                text_addf(&path, "%s, ", diag_quote(linking->diags, at->name));
                at = at->same_as;
            } while (at != first);
            diag_error(
                linking->diags, first->place, "same-as-loop",
                "same_as goes round through %sand back, expected one name that has no same_as, "
                "blank the cell of the name that is to stand for the clone",
                path.bytes);
        }
        return first;
    }
    return fast->same_as ? fast->same_as : fast;
}

static void link_selections(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->selections.count; i++) {
        struct selection *row = &orchard->selections.list[i];
        JOIN(row, seed_parent, orchard_selection, KNOWN_SELECTIONS, "selection", row->name);
        JOIN(row, pollen_parent, orchard_selection, KNOWN_SELECTIONS, "selection", row->name);
        JOIN(row, same_as, orchard_selection, KNOWN_SELECTIONS, "selection", row->name);
    }
    for (size_t i = 0; i < orchard->selections.count; i++) {
        struct selection *row = &orchard->selections.list[i];
        row->self = same_root(linking, row);
    }
}

static void link_trees_and_batches(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->trees.count; i++) {
        struct tree *row = &orchard->trees.list[i];
        JOIN(row, site, orchard_site, KNOWN_SITES, "tree", row->name);
        JOIN(row, selection, orchard_selection, KNOWN_SELECTIONS, "tree", row->name);
    }
    for (size_t i = 0; i < orchard->batches.count; i++) {
        struct batch *row = &orchard->batches.list[i];
        JOIN(row, selection, orchard_selection, KNOWN_SELECTIONS, "batch", row->name);
        JOIN(row, source_tree, orchard_tree, KNOWN_TREES, "batch", row->name);
    }
}

static void join_grafts(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        struct graft *row = &orchard->grafts.list[i];
        JOIN(row, selection, orchard_selection, KNOWN_SELECTIONS, "graft", row->tag);
        JOIN(row, tree, orchard_tree, KNOWN_TREES, "graft", row->tag);
        JOIN(row, batch, orchard_batch, KNOWN_BATCHES, "graft", row->tag);
    }
}

static void link_lots(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->lots.count; i++) {
        struct lot *row = &orchard->lots.list[i];
        JOIN(row, selection, orchard_selection, KNOWN_SELECTIONS, "lot", row->name);
        JOIN(row, source_tree, orchard_tree, KNOWN_TREES, "lot", row->name);
        for (size_t part = 0; part < row->part_count; part++) {
            struct mix_part *of = &row->parts[part];
            of->selection = orchard_selection(orchard, of->selection_name);
            if (of->selection_name && !of->selection)
                missing(linking, KNOWN_SELECTIONS, row->place, "mix", row->name,
                        of->selection_name);
        }
    }
}

/* A pollen parent is a selection, or a lot that is a mix. */
static void link_pollen_parent(struct linking *linking, struct cross *cross)
{
    const char *name = cross->pollen_parent_name;
    cross->mix = NULL;
    cross->pollen_parent = orchard_selection(linking->orchard, name);
    if (!name || cross->pollen_parent)
        return;
    const struct lot *lot = orchard_lot(linking->orchard, name);
    if (lot && lot->part_count) {
        cross->mix = lot;
    } else if (lot) {
        diag_error(
            linking->diags, cross->place, "lot-not-mix",
            "cross %s names lot %s as its pollen parent, which is of one selection, expected a "
            "selection or a lot that is a mix, write the selection %s",
            diag_quote(linking->diags, cross->name), diag_quote(linking->diags, name),
            diag_quote(linking->diags, lot->selection_name ? lot->selection_name : ""));
    } else {
        missing(linking, KNOWN_SELECTIONS, cross->place, "cross", cross->name, name);
    }
}

static void link_crosses(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        struct cross *row = &orchard->crosses.list[i];
        JOIN(row, seed_parent, orchard_selection, KNOWN_SELECTIONS, "cross", row->name);
        link_pollen_parent(linking, row);
    }
}

static bool lift_known(const struct linking *linking, const char *name)
{
    const struct known *lifts = &linking->known[KNOWN_LIFTS];
    for (size_t i = 0; i < lifts->count; i++)
        if (strcmp(lifts->names[i], name) == 0)
            return true;
    return false;
}

static void link_working_times(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->crews.count; i++) {
        struct crew_time *row = &orchard->crews.list[i];
        JOIN(row, site, orchard_site, KNOWN_SITES, "crew", row->crew);
        /* Without lifts.csv a lift is there whenever its crew is. */
        if (row->lift_name && orchard->lifts.count && !lift_known(linking, row->lift_name))
            missing(linking, KNOWN_LIFTS, row->place, "crew", row->crew, row->lift_name);
    }
    for (size_t i = 0; i < orchard->lifts.count; i++) {
        struct lift_time *row = &orchard->lifts.list[i];
        JOIN(row, site, orchard_site, KNOWN_SITES, "lift", row->lift);
    }
}

static const char *nearest_clock(const struct orchard *orchard, const char *name)
{
    const char **names = ARENA_ARRAY(orchard->arena, orchard->program.clock_count, const char *);
    for (size_t i = 0; i < orchard->program.clock_count; i++)
        names[i] = orchard->program.clocks[i].name;
    return text_nearest(name, orchard->program.clock_count, names);
}

static void link_thresholds(struct linking *linking)
{
    struct orchard *orchard = linking->orchard;
    for (size_t i = 0; i < orchard->thresholds.count; i++) {
        struct threshold *row = &orchard->thresholds.list[i];
        row->clock = program_clock(&orchard->program, row->clock_name);
        if (row->clock_name && !row->clock) {
            const char *near = nearest_clock(orchard, row->clock_name);
            diag_error(linking->diags, row->place, "unknown-clock",
                       "the threshold of %s names clock %s, expected a shipped clock or one of "
                       "program.json, %s%s",
                       event_names[row->event], diag_quote(linking->diags, row->clock_name),
                       near ? "write " : "correct the name or add the clock",
                       near ? diag_quote(linking->diags, near) : "");
        }
    }
}

void orchard_link(struct orchard *orchard, struct diags *diags)
{
    struct linking linking_here = {.orchard = orchard, .diags = diags}, *linking = &linking_here;
    order_lists(orchard);
    drop_repeated_notes(orchard);
    drop_replaced_tasks(orchard);

    for (int table = 0; table < KNOWN_TABLES; table++)
        known_of(&linking->known[table], orchard, (enum known_table)table);
    link_grafts(orchard, diags);
    known_of_tags(&linking->known[KNOWN_GRAFTS], orchard);

    link_sites(linking);
    link_selections(linking);
    link_trees_and_batches(linking);
    join_grafts(linking);
    link_lots(linking);
    link_crosses(linking);
    link_working_times(linking);
    link_thresholds(linking);

    for (int table = 0; table < KNOWN_TABLES; table++)
        if (table != KNOWN_LIFTS) /* a lift has a row for each of its times */
            known_tell_twins(&linking->known[table], orchard, diags);
}
