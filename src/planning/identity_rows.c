/*
 * identity_rows.c - rows of the identity list, and the newest word on a label.
 */
#include "planning/identity_parts.h"

struct identity_row *identity_add(struct identity_maker *maker, enum identity_concern concern,
                                  enum identity_kind kind, const char *subject)
{
    struct identity_list *identity = maker->identity;
    struct identity_row *row =
        ARENA_PUSH(maker->arena, identity->list, identity->count, identity->capacity);

    *row = (struct identity_row){
        .concern = concern, .kind = kind, .subject = subject, .since = DAY_NONE};
    return row;
}

struct identity_row *identity_add_graft(struct identity_maker *maker, enum identity_concern concern,
                                        const struct graft_state *graft)
{
    struct identity_row *row = identity_add(maker, concern, IDENTITY_GRAFT, graft->graft->tag);

    row->graft = graft->graft;
    row->selection_name = graft->selection != NULL ? graft->selection->name : NULL;
    row->bags = maker->bags[graft->graft - maker->orchard->grafts.list];
    return row;
}

struct label_word label_word_of(const struct state *state, const struct graft *graft)
{
    struct label_word word = {NULL, NULL};
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);

    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;

        if (note->bag != NULL)
            continue;
        if (note->kind == NOTE_VERIFIED && note->date > graft->identity_on)
            word.verified = note;
        else if (note->kind == NOTE_RELABELLED)
            word.relabelled = note;
    }
    return word;
}
