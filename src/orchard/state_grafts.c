/*
 * Grafts: alive or not, and of which selection.
 */
#include "orchard/state_parts.h"
#include "orchard/words.h"

#include <stdlib.h>

static int order_graft_note(const void *left, const void *right)
{
    const struct graft_note *a = left, *b = right;
    if (a->graft != b->graft) /* both point into one list */
        return a->graft < b->graft ? -1 : 1;
    return (a->note > b->note) - (a->note < b->note);
}

static void index_notes(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    state->graft_notes = ARENA_ARRAY(arena, orchard->notes.count, struct graft_note);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        struct bag_name parts;
        const struct graft *graft = note->bag
                                        ? state_graft_of_bag(orchard, arena, note->bag, &parts)
                                        : orchard_graft(orchard, note->tag);
        if (graft)
            state->graft_notes[state->graft_note_count++] = (struct graft_note){graft, note};
    }
    if (state->graft_note_count > 1)
        qsort(state->graft_notes, state->graft_note_count, sizeof *state->graft_notes,
              order_graft_note);
}

static void set_condition(const struct state *state, struct graft_state *of)
{
    const struct graft *graft = of->graft;
    of->condition = state_dated_condition(state, graft, DAY_LAST, &of->condition_on);
    if (of->condition == CONDITION_UNKNOWN)
        of->condition = graft->condition; /* an undated cell: present truth */

    /* No graft outlives its tree, whatever was written before the tree died. */
    const struct tree *tree = graft->tree;
    if (tree && tree->health == HEALTH_DEAD && !condition_is_gone(of->condition) &&
        (tree->health_on == DAY_NONE || of->condition_on <= tree->health_on)) {
        of->condition = CONDITION_DEAD;
        of->condition_on = tree->health_on;
    }
}

static size_t index_of_tree(const struct state *state, const struct tree *tree)
{
    return (size_t)(tree - state->orchard->trees.list);
}

static void find_relabelled_trees(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    state->relabelled_trees = ARENA_ARRAY(arena, orchard->trees.count, const struct note *);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        /* beside a tag or a lot the tree only says where that stands or came from */
        const struct tree *tree = note->kind == NOTE_RELABELLED && !note->tag && !note->lot
                                      ? orchard_tree(orchard, note->tree)
                                      : NULL;
        if (tree)
            state->relabelled_trees[index_of_tree(state, tree)] = note;
    }
}

static void set_selection(const struct state *state, struct graft_state *of)
{
    const struct graft *graft = of->graft;
    const struct note *relabelled = NULL;
    bool cleared = false; /* verified after the table said `wrong` */
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        if (note->kind == NOTE_RELABELLED && !note->bag)
            relabelled = note;
        cleared = cleared ||
                  (note->kind == NOTE_VERIFIED && !note->bag && note->date > graft->identity_on);
    }
    relabelled =
        state_relabelled(state, relabelled, graft->batch ? graft->batch->source_tree : NULL);
    of->relabelled = relabelled != NULL;
    if (relabelled) /* "unknown" is no selection */
        of->selection = orchard_selection(state->orchard, relabelled->value);
    else if (graft->identity == IDENTITY_WRONG && !cleared)
        of->selection = NULL;
    else
        of->selection = graft->selection;
}

void state_make_grafts(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    index_notes(state, arena);
    state->grafts = ARENA_ARRAY(arena, orchard->grafts.count, struct graft_state);
    state->taken = arena_alloc(arena, orchard->trees.count, sizeof *state->taken);

    find_relabelled_trees(state, arena);
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        struct graft_state *of = &state->grafts[i];
        of->graft = &orchard->grafts.list[i];
        set_condition(state, of);
        set_selection(state, of);
        if (of->graft->tree && of->condition != CONDITION_REMOVED)
            state->taken[index_of_tree(state, of->graft->tree)][of->graft->crown]++;
    }
}
