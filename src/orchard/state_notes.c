/*
 * What the parts of the state ask of notes.  They come sorted by day and kind (orchard_link), so
 * going through them forward is going through time.
 */
#include "orchard/state_parts.h"

const struct graft *state_graft_of_bag(const struct orchard *orchard, struct arena *arena,
                                       const char *bag, struct bag_name *parts)
{
    if (!bag_name_read(bag, parts))
        return NULL;
    return orchard_graft(orchard, arena_text(arena, parts->tag_length, bag));
}

const struct graft_note *state_notes_of(const struct state *state, const struct graft *graft,
                                        size_t *count)
{
    size_t low = 0, high = state->graft_note_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (state->graft_notes[middle].graft < graft)
            low = middle + 1;
        else
            high = middle;
    }
    size_t end = low;
    while (end < state->graft_note_count && state->graft_notes[end].graft == graft)
        end++;
    *count = end - low;
    return state->graft_notes + low;
}

enum condition state_dated_condition(const struct state *state, const struct graft *graft,
                                     daynum day, daynum *on)
{
    enum condition condition = CONDITION_UNKNOWN;
    *on = DAY_NONE;
    if (graft->condition != CONDITION_UNKNOWN && graft->condition_on != DAY_NONE &&
        graft->condition_on <= day) {
        condition = graft->condition;
        *on = graft->condition_on;
    }
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count && notes[i].note->date <= day; i++) {
        enum condition noted;
        const struct note *note = notes[i].note;
        if (note->kind == NOTE_SURVIVAL && note->date >= *on &&
            condition_read(note->value, &noted)) {
            condition = noted;
            *on = note->date;
        }
    }
    return condition;
}

enum condition state_condition_on(const struct state *state, const struct graft *graft, daynum day)
{
    daynum on;
    return state_dated_condition(state, graft, day, &on);
}

const struct note *state_relabelled(const struct state *state, const struct note *own,
                                    const struct tree *source)
{
    const struct note *of_source =
        source ? state->relabelled_trees[source - state->orchard->trees.list] : NULL;
    return of_source && (!own || of_source->date > own->date) ? of_source : own;
}
