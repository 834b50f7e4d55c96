/*
 * The notes about a graft, and what each of them did.
 */
#include "orchard/state_parts.h"
#include "planning/why_parts.h"

static enum why_effect effect_of(const struct note *note)
{
    switch (note->kind) {
    case NOTE_GRAFTED:
        return WHY_MADE;
    case NOTE_RETAGGED:
        return WHY_RENAMED;
    case NOTE_RELABELLED:
        return WHY_IS;
    case NOTE_VERIFIED:
        return WHY_CHECKED;
    case NOTE_SURVIVAL:
        return WHY_CONDITION;
    case NOTE_STROBILI:
        return WHY_COUNT;
    case NOTE_STAGE:
        return note->bag != NULL ? WHY_BAG_STAGE : WHY_STAGE;
    default:
        return WHY_NO_DATE;
    }
}

static int season_of(const struct whying *whying, const struct note *note)
{
    const struct tree *tree = whying->why->graft->graft->tree;
    const struct site *site = tree != NULL ? tree->site : NULL;

    return day_season(orchard_season_rule(whying->state->orchard, site), note->date);
}

/* Newer words of a kind take the place of older ones; counts and stages within their season. */
static bool supersedes(const struct whying *whying, const struct note *newer,
                       const struct note *older)
{
    if (newer->kind != older->kind || (newer->bag != NULL) != (older->bag != NULL))
        return false;
    switch (newer->kind) {
    case NOTE_RELABELLED:
    case NOTE_VERIFIED:
    case NOTE_SURVIVAL:
        return true;
    case NOTE_STROBILI:
        return season_of(whying, newer) == season_of(whying, older);
    default:
        return false;
    }
}

/* Strobili and stages of a season that is over by now say nothing of those to come. */
static bool is_past(const struct whying *whying, const struct note *note)
{
    daynum as_of = whying->state->orchard->as_of;
    const struct tree *tree = whying->why->graft->graft->tree;
    const struct site *site = tree != NULL ? tree->site : NULL;

    return (note->kind == NOTE_STROBILI || note->kind == NOTE_STAGE) &&
           season_of(whying, note) <
               day_season(orchard_season_rule(whying->state->orchard, site), as_of);
}

/* A survival note gives way to a newer dated cell of the graft's own row. */
static bool gives_way(const struct whying *whying, const struct note *note)
{
    const struct graft_state *graft = whying->why->graft;

    return note->kind == NOTE_SURVIVAL && note->date < graft->condition_on;
}

void why_take_notes(const struct whying *whying)
{
    struct why *why = whying->why;
    const struct graft *graft = why->graft->graft;
    const struct note *own = NULL;
    size_t count;
    const struct graft_note *notes = state_notes_of(whying->state, graft, &count);

    why->notes = ARENA_ARRAY(whying->arena, count, struct why_note);
    why->note_count = count;
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;

        why->notes[i] = (struct why_note){note, effect_of(note)};
        if (note->kind == NOTE_RELABELLED && note->bag == NULL)
            own = note;
        if (note->kind == NOTE_VERIFIED && note->bag == NULL)
            why->verified = note;
        if (is_past(whying, note) || gives_way(whying, note))
            why->notes[i].effect = WHY_SUPERSEDED;
        for (size_t k = 0; k < i; k++) {
            if (supersedes(whying, note, notes[k].note))
                why->notes[k].effect = WHY_SUPERSEDED;
        }
    }
    why->relabelled = state_relabelled(whying->state, own,
                                       graft->batch != NULL ? graft->batch->source_tree : NULL);
}
