/*
 * Pollen lots: what is left of each, and whether it may be used.
 */
#include "orchard/order.h"
#include "orchard/state_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct lot_note {
    const struct lot *lot;
    const struct note *note;
};

static int order_lot_note(const void *left, const void *right)
{
    const struct lot_note *a = left, *b = right;
    if (a->lot != b->lot)
        return a->lot < b->lot ? -1 : 1;
    return (a->note > b->note) - (a->note < b->note);
}

/* A lot on its way through its notes. */
struct lot_use {
    const struct state *state;
    struct diags *diags;
    struct lot_balance *of;
    const struct note *relabelled;
    daynum tested_on;
    daynum discarded_on;
    bool overdrawn;
};

static void move_volume(struct lot_use *use, const struct note *note, double change_ml)
{
    struct lot_balance *of = use->of;
    const struct lot *lot = of->lot;
    if (lot->measured_on != DAY_NONE && note->date <= lot->measured_on)
        return; /* the measured volume holds it already */
    if (isnan(of->balance_ml)) {
        if (change_ml < 0)
            return; /* what was never measured cannot be overdrawn */
        of->balance_ml = 0;
    }
    of->balance_ml += change_ml;
    if (of->balance_ml < -1e-9 && !use->overdrawn) {
        use->overdrawn = true;
        diag_error(use->diags, note->place, "lot-overdrawn",
                   "lot %s is %.2f ml short after this note, expected no more used than there was, "
                   "correct the amounts or the lot's volume_ml and measured_on",
                   diag_quote(use->diags, lot->name), -of->balance_ml);
    }
}

static void take_use(struct lot_use *use, const struct note *note)
{
    const struct lot *lot = use->of->lot;
    char day[DAY_TEXT];
    if (use->discarded_on != DAY_NONE) {
        diag_error(
            use->diags, note->place, "lot-discarded",
            "lot %s is used, and it was discarded on %s, expected a lot that is still there, "
            "correct the lot or the date",
            diag_quote(use->diags, lot->name), day_text(use->discarded_on, day));
        return; /* that nothing was left is said with it */
    }
    if (lot->ready_on != DAY_NONE && note->date < lot->ready_on)
        diag_error(use->diags, note->place, "lot-not-ready",
                   "lot %s is used before it is ready on %s, expected a use on or after that day, "
                   "correct the date, the lot or its ready_on",
                   diag_quote(use->diags, lot->name), day_text(lot->ready_on, day));
    else if (lot->ready_on == DAY_NONE && (lot->state == LOT_PLANNED || lot->state == LOT_DRYING))
        diag_warning(
            use->diags, note->place, "lot-still-planned",
            "lot %s is used, and its state is still planned or drying, expected a stored lot, "
            "correct the state or fill in ready_on",
            diag_quote(use->diags, lot->name));
    double dose_ml = note->number >= 0 ? note->number : use->state->orchard->program.dose_ml;
    move_volume(use, note, -dose_ml);
}

static void take_note(struct lot_use *use, const struct note *note)
{
    struct lot_balance *of = use->of;
    switch (note->kind) {
    case NOTE_COLLECTED:
        if (note->number >= 0)
            move_volume(use, note, note->number);
        break;
    case NOTE_DISCARDED:
        if (note->number >= 0) {
            move_volume(use, note, -note->number);
        } else { /* all of it */
            use->discarded_on = note->date;
            if (!isnan(of->balance_ml) && of->balance_ml > 0)
                of->balance_ml = 0;
        }
        break;
    case NOTE_POLLINATED:
        take_use(use, note);
        break;
    case NOTE_GERMINATION:
        if (note->number >= 0 && (use->tested_on == DAY_NONE || note->date >= use->tested_on)) {
            of->germination_pct = note->number;
            use->tested_on = note->date;
        }
        break;
    case NOTE_RELABELLED:
        use->relabelled = note;
        break;
    default:
        break;
    }
}

static bool any_collected(const struct lot_note *notes, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (notes[i].note->kind == NOTE_COLLECTED)
            return true;
    return false;
}

/* What pollen of one tree is, by the newest word on the lot and on the tree. */
struct lot_source {
    const struct selection *selection;
    bool relabelled;
};

static struct lot_source source_of(const struct lot_use *use, const struct tree *tree)
{
    const struct lot *lot = use->of->lot;
    const struct note *relabelled = state_relabelled(use->state, use->relabelled, tree);
    if (relabelled) /* "unknown" is no selection */
        return (struct lot_source){orchard_selection(use->state->orchard, relabelled->value), true};
    return (struct lot_source){lot->part_count ? NULL : lot->selection, false};
}

/*
 * A lot is what its source tree is, and the trees on which it was collected: of two that are not of
 * one selection, since one was relabelled, it is not known.
 */
static void take_sources(struct lot_use *use, const struct lot_note *notes, size_t count)
{
    const struct lot *lot = use->of->lot;
    struct lot_source source = source_of(use, lot->source_tree);
    bool several = lot->source_tree != NULL;
    for (size_t i = 0; i < count && lot->part_count == 0; i++) {
        const struct tree *tree = notes[i].note->kind == NOTE_COLLECTED
                                      ? orchard_tree(use->state->orchard, notes[i].note->tree)
                                      : NULL;
        if (!tree || tree == lot->source_tree)
            continue;
        struct lot_source here = source_of(use, tree);
        if (!several)
            source = here;
        else if (!selection_same(source.selection, here.selection))
            source = (struct lot_source){NULL, true};
        several = true;
    }
    use->of->selection = source.selection;
    use->of->relabelled = source.relabelled;
}

static void make_lot(struct lot_use *use, const struct lot_note *notes, size_t count)
{
    struct lot_balance *of = use->of;
    const struct lot *lot = of->lot;
    of->balance_ml = lot->volume_ml;
    of->germination_pct = lot->germination_pct;
    use->tested_on = lot->tested_on;
    if (isnan(of->balance_ml) && any_collected(notes, count))
        of->balance_ml = 0;
    for (size_t i = 0; i < count; i++)
        take_note(use, notes[i].note);

    take_sources(use, notes, count);

    daynum as_of = use->state->orchard->as_of;
    bool ready = lot->ready_on == DAY_NONE || (as_of != DAY_NONE && lot->ready_on <= as_of);
    of->ready_on = ready ? DAY_NONE : lot->ready_on;
    bool coming = lot->state == LOT_PLANNED || lot->state == LOT_DRYING;
    of->usable = use->discarded_on == DAY_NONE &&
                 (lot->state == LOT_STORED || (coming && lot->ready_on != DAY_NONE));
}

void state_make_lots(struct state *state, struct arena *arena, struct diags *diags)
{
    const struct orchard *orchard = state->orchard;
    struct lot_note *notes = ARENA_ARRAY(arena, orchard->notes.count, struct lot_note);
    size_t count = 0;
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct lot *lot = orchard_lot(orchard, orchard->notes.list[i].lot);
        if (lot)
            notes[count++] = (struct lot_note){lot, &orchard->notes.list[i]};
    }
    if (count > 1)
        qsort(notes, count, sizeof *notes, order_lot_note);

    state->lots = ARENA_ARRAY(arena, orchard->lots.count, struct lot_balance);
    size_t first = 0;
    for (size_t i = 0; i < orchard->lots.count; i++) {
        size_t end = first;
        while (end < count && notes[end].lot == &orchard->lots.list[i])
            end++;
        state->lots[i].lot = &orchard->lots.list[i];
        struct lot_use use = {.state = state,
                              .diags = diags,
                              .of = &state->lots[i],
                              .tested_on = DAY_NONE,
                              .discarded_on = DAY_NONE};
        make_lot(&use, notes + first, end - first);
        first = end;
    }
}

bool state_lot_is_from(const struct state *state, const struct lot *lot, const struct tree *tree)
{
    const struct orchard *orchard = state->orchard;
    if (lot->source_tree == tree)
        return true;
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        if (note->kind == NOTE_COLLECTED && orchard_lot(orchard, note->lot) == lot &&
            orchard_tree(orchard, note->tree) == tree)
            return true;
    }
    return false;
}
