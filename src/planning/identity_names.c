/*
 * identity_names.c - names that changed: relabelled, retagged, written in notes alone, doubled.
 */
#include "planning/identity_parts.h"

#include <string.h>

static const char *true_name(const struct note *note)
{
    return strcmp(note->value, "unknown") == 0 ? "something that is not known" : note->value;
}

static void add_relabelled_graft(struct identity_maker *maker, const struct note *note)
{
    const struct graft *graft = orchard_graft(maker->orchard, note->tag);
    struct identity_row *row;
    size_t before = 0;

    if (graft == NULL)
        return;
    row = identity_add_graft(maker, CONCERN_CHANGED, state_graft(maker->state, graft));
    for (size_t i = 0; i < maker->state->bag_count; i++)
        before +=
            maker->state->bags[i].graft == graft && maker->state->bags[i].bagged_on <= note->date;
    row->since = note->date;
    row->what =
        arena_printf(maker->arena, "was taken for %s and is %s; %zu bag%s hung under the old name",
                     graft->selection_name != NULL ? graft->selection_name : "nothing",
                     true_name(note), before, before == 1 ? "" : "s");
}

static void add_relabelled_tree(struct identity_maker *maker, const struct note *note)
{
    const struct orchard *orchard = maker->orchard;
    const struct tree *tree = orchard_tree(orchard, note->tree);
    struct identity_row *row;
    size_t grafts = 0, lots = 0;

    if (tree == NULL)
        return;
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct batch *batch = orchard->grafts.list[i].batch;

        grafts += batch != NULL && batch->source_tree == tree;
    }
    for (size_t i = 0; i < orchard->lots.count; i++)
        lots += state_lot_is_from(maker->state, &orchard->lots.list[i], tree);
    row = identity_add(maker, CONCERN_CHANGED, IDENTITY_TREE, tree->name);
    row->selection_name = note->value;
    row->since = note->date;
    row->what =
        arena_printf(maker->arena,
                     "was taken for %s and is %s; %zu graft%s of its scions, %zu lot%s of its "
                     "pollen",
                     tree->selection_name != NULL ? tree->selection_name : "nothing",
                     true_name(note), grafts, grafts == 1 ? "" : "s", lots, lots == 1 ? "" : "s");
}

static void add_relabelled_lot(struct identity_maker *maker, const struct note *note)
{
    const struct lot *lot = orchard_lot(maker->orchard, note->lot);
    struct identity_row *row;
    size_t bags = 0;

    if (lot == NULL)
        return;
    for (size_t i = 0; i < maker->state->bag_count; i++)
        bags += maker->state->bags[i].lot == lot;
    row = identity_add(maker, CONCERN_CHANGED, IDENTITY_LOT, lot->name);
    row->selection_name = note->value;
    row->since = note->date;
    row->what =
        arena_printf(maker->arena, "was taken for %s and is %s; %zu bag%s pollinated from it",
                     lot->selection_name != NULL ? lot->selection_name : "a mix", true_name(note),
                     bags, bags == 1 ? "" : "s");
}

static void add_retagged(struct identity_maker *maker, const struct note *note)
{
    const struct graft *graft = orchard_graft(maker->orchard, note->tag);
    struct identity_row *row;

    if (graft == NULL)
        return;
    row = identity_add_graft(maker, CONCERN_NOT_LISTED, state_graft(maker->state, graft));
    row->since = note->date;
    row->what = arena_printf(maker->arena, "was tagged %s and became %s", note->tag, note->value);
}

static void add_note(struct identity_maker *maker, const struct note *note)
{
    if (note->kind == NOTE_RETAGGED && note->value != NULL)
        add_retagged(maker, note);
    if (note->kind != NOTE_RELABELLED || note->value == NULL)
        return;
    if (note->tag != NULL)
        add_relabelled_graft(maker, note);
    if (note->lot != NULL)
        add_relabelled_lot(maker, note);
    if (note->tag == NULL && note->lot == NULL)
        add_relabelled_tree(maker, note);
}

static void add_of_notes(struct identity_maker *maker)
{
    for (size_t i = 0; i < maker->orchard->grafts.count; i++) {
        const struct graft_state *of = &maker->state->grafts[i];
        struct identity_row *row;

        if (!of->graft->from_note)
            continue;
        row = identity_add_graft(maker, CONCERN_NOT_LISTED, of);
        row->since = of->graft->grafted_on;
        row->what = "made by a grafted note, give it a row in grafts.csv";
    }
}

struct uses {
    size_t grafts, lots, crosses;
};

static struct uses uses_of(const struct orchard *orchard, const struct selection *selection)
{
    struct uses uses = {0, 0, 0};

    for (size_t i = 0; i < orchard->grafts.count; i++)
        uses.grafts += orchard->grafts.list[i].selection == selection;
    for (size_t i = 0; i < orchard->lots.count; i++)
        uses.lots += orchard->lots.list[i].selection == selection;
    for (size_t i = 0; i < orchard->crosses.count; i++)
        uses.crosses += orchard->crosses.list[i].seed_parent == selection ||
                        orchard->crosses.list[i].pollen_parent == selection;
    return uses;
}

static void add_two_names(struct identity_maker *maker)
{
    const struct orchard *orchard = maker->orchard;

    for (size_t i = 0; i < orchard->selections.count; i++) {
        const struct selection *selection = &orchard->selections.list[i];
        struct identity_row *row;
        struct uses uses;

        if (selection->same_as == NULL)
            continue;
        uses = uses_of(orchard, selection);
        row = identity_add(maker, CONCERN_TWO_NAMES, IDENTITY_SELECTION, selection->name);
        row->selection_name = selection->same_as->name;
        row->what = arena_printf(maker->arena,
                                 "another name of %s; grafts under it: %zu, lots: %zu, crosses: "
                                 "%zu",
                                 selection->same_as->name, uses.grafts, uses.lots, uses.crosses);
    }
}

void identity_add_names(struct identity_maker *maker)
{
    for (size_t i = 0; i < maker->orchard->notes.count; i++)
        add_note(maker, &maker->orchard->notes.list[i]);
    add_of_notes(maker);
    add_two_names(maker);
}
