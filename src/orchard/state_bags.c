/*
 * Bags: all notes of one bag in the order of time, under whatever tag its graft had.
 */
#include "orchard/order.h"
#include "orchard/state_parts.h"
#include "orchard/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A note of a bag. */
struct bag_note {
    const struct graft *graft;
    int season, number;
    const struct note *note;
};

static int order_bag_note(const void *left, const void *right)
{
    const struct bag_note *a = left, *b = right;
    if (a->graft != b->graft)
        return a->graft < b->graft ? -1 : 1;
    int order = order_whole(a->season, b->season);
    order = order ? order : order_whole(a->number, b->number);
    return order ? order : (a->note > b->note) - (a->note < b->note);
}

static bool same_bag(const struct bag_note *a, const struct bag_note *b)
{
    return a->graft == b->graft && a->season == b->season && a->number == b->number;
}

struct hanging {
    const struct state *state;
    struct diags *diags;
    struct bag *bag;
};

static const char *quoted(const struct hanging *hanging, const struct note *note)
{
    return diag_quote(hanging->diags, note->bag);
}

/*
 * Was stage 3 reached by the day on which the bag was hung?  By the bag's own stage if one was
 * noted, else by the graft's; other bags of the graft tell nothing, it is warmer inside.
 */
static bool open_when_hung(const struct state *state, const struct bag *bag)
{
    int own_high = 0, graft_high = 0;
    daynum graft_on = DAY_NONE;
    size_t count;
    const struct graft_note *notes = state_notes_of(state, bag->graft, &count);
    for (size_t i = 0; i < count && notes[i].note->date <= bag->bagged_on; i++) {
        const struct note *note = notes[i].note;
        struct bag_name parts;
        int low, high;
        const struct tree *tree = bag->graft->tree;
        struct season_rule rule = orchard_season_rule(state->orchard, tree ? tree->site : NULL);
        if (note->kind != NOTE_STAGE || day_season(rule, note->date) != bag->season ||
            !stage_read(note->value, &low, &high))
            continue;
        if (!note->bag) {
            graft_high = graft_on == note->date && graft_high > high ? graft_high : high;
            graft_on = note->date;
        } else if (bag_name_read(note->bag, &parts) && parts.season == bag->season &&
                   parts.number == bag->number) {
            own_high = high;
        }
    }
    return (own_high ? own_high : graft_high) >= 3;
}

static bool bears_cross(const struct selection *selection, const struct cross *cross)
{
    return selection_same(selection, cross->seed_parent) ||
           (cross->either_way && selection_same(selection, cross->pollen_parent));
}

/* Is it a cross of what the graft is, or was taken for at any time?  A label that was corrected
 * since leaves the bag in the record. */
static bool bore_cross(const struct hanging *hanging, const struct cross *cross)
{
    const struct graft *graft = hanging->bag->graft;
    if (bears_cross(graft->selection, cross) ||
        bears_cross(state_graft(hanging->state, graft)->selection, cross))
        return true;
    size_t count;
    const struct graft_note *notes = state_notes_of(hanging->state, graft, &count);
    for (size_t i = 0; i < count; i++)
        if (notes[i].note->kind == NOTE_RELABELLED &&
            bears_cross(orchard_selection(hanging->state->orchard, notes[i].note->value), cross))
            return true;
    return false;
}

static void tell_wrong_cross(const struct hanging *hanging, const struct note *note,
                             const struct cross *cross)
{
    const struct graft *graft = hanging->bag->graft;
    if (!cross->seed_parent || !graft->selection || bore_cross(hanging, cross))
        return;
    diag_error(hanging->diags, note->place, "cross-not-of-graft",
               "bag %s carries cross %s with seed parent %s, and its graft is of %s, expected a "
               "cross of the graft's selection, correct the bag or the cross",
               quoted(hanging, note), diag_quote(hanging->diags, cross->name),
               diag_quote(hanging->diags, cross->seed_parent->name),
               diag_quote(hanging->diags, graft->selection->name));
}

static void take_bagged(const struct hanging *hanging, const struct note *note)
{
    struct bag *bag = hanging->bag;
    const struct cross *cross = orchard_cross(hanging->state->orchard, note->cross);
    if (bag->bagged_on != DAY_NONE) {
        if (cross && bag->cross && cross != bag->cross)
            diag_error(hanging->diags, note->place, "bag-of-two-crosses",
                       "bag %s was hung for cross %s and again for cross %s, expected one cross a "
                       "bag, correct one note or number the second bag by itself",
                       quoted(hanging, note), diag_quote(hanging->diags, bag->cross->name),
                       diag_quote(hanging->diags, cross->name));
        else
            diag_warning(
                hanging->diags, note->place, "bagged-twice",
                "bag %s was hung before, expected each bag once, remove this note or number "
                "the new bag by itself",
                quoted(hanging, note));
        bag->cross = bag->cross ? bag->cross : cross;
        return;
    }
    bag->name = note->bag;
    bag->bagged_on = note->date;
    bag->cross = cross;
    bag->strobili = note->number >= 0 ? (int)note->number : -1;
    bag->clean = !open_when_hung(hanging->state, bag);
    if (cross)
        tell_wrong_cross(hanging, note, cross);
    enum condition condition = state_condition_on(hanging->state, bag->graft, note->date);
    if (condition_is_gone(condition))
        diag_error(hanging->diags, note->place, "dead-graft-bagged",
                   "bag %s was hung on a graft that was noted dead, lost or removed by that day, "
                   "expected a living graft, correct the bag's tag or note the graft alive",
                   quoted(hanging, note));
}

/* Does the pollen of a lot make the cross? */
static bool lot_makes(const struct cross *cross, const struct lot *lot)
{
    if (cross->mix)
        return cross->mix == lot;
    if (lot->part_count || !lot->selection || !cross->pollen_parent)
        return lot->part_count == 0; /* what is not known cannot be wrong */
    return selection_same(lot->selection, cross->pollen_parent) ||
           (cross->either_way && selection_same(lot->selection, cross->seed_parent));
}

static void take_pollinated(const struct hanging *hanging, const struct note *note)
{
    struct bag *bag = hanging->bag;
    daynum ended = bag->unbagged_on != DAY_NONE ? bag->unbagged_on : bag->lost_on;
    if (ended != DAY_NONE) {
        char day[DAY_TEXT];
        diag_error(
            hanging->diags, note->place, "pollinated-after-bag",
            "bag %s is pollinated, and it was %s on %s, expected a visit before that, correct "
            "the date or the bag",
            quoted(hanging, note), bag->unbagged_on != DAY_NONE ? "taken off" : "lost",
            day_text(ended, day));
        return;
    }
    const struct lot *lot = orchard_lot(hanging->state->orchard, note->lot);
    if (lot) {
        bag->lot = lot;
        if (bag->cross && !lot_makes(bag->cross, lot))
            diag_warning(
                hanging->diags, note->place, "other-pollen",
                "bag %s of cross %s was pollinated from lot %s, which is not of its pollen "
                "parent, expected the pollen of the cross, correct the lot or the bag's "
                "cross",
                quoted(hanging, note), diag_quote(hanging->diags, bag->cross->name),
                diag_quote(hanging->diags, lot->name));
    }
    const size_t most = sizeof bag->visit_on / sizeof *bag->visit_on;
    if (bag->visits && bag->visits <= most && bag->visit_on[bag->visits - 1] == note->date)
        return; /* two notes of one day are one visit */
    if (bag->visits < most)
        bag->visit_on[bag->visits] = note->date;
    bag->visits++;
}

/* A note of a bag that has not been hung by then; `hung_on`: when it is, or DAY_NONE. */
static void tell_not_hung(const struct hanging *hanging, const struct note *note, daynum hung_on)
{
    char day[DAY_TEXT];
    const char *code = note->kind == NOTE_POLLINATED ? "pollinated-before-bagged"
                       : note->kind == NOTE_UNBAGGED ? "unbagged-before-bagged"
                                                     : "noted-before-bagged";
    if (hung_on == DAY_NONE)
        diag_error(
            hanging->diags, note->place, "bag-never-hung",
            "%s is noted of bag %s, and no note says when that was hung, expected a bagged note "
            "before it, correct the bag's name or add the note",
            note_names[note->kind], quoted(hanging, note));
    else
        diag_error(hanging->diags, note->place, code,
                   "%s is noted of bag %s, which was hung only on %s, expected it on or after that "
                   "day, correct one of the dates",
                   note_names[note->kind], quoted(hanging, note), day_text(hung_on, day));
}

/* A bag comes off or is lost once; the first word holds. */
static void take_end(const struct hanging *hanging, const struct note *note, daynum *ended_on)
{
    const struct bag *bag = hanging->bag;
    daynum before = bag->unbagged_on != DAY_NONE ? bag->unbagged_on : bag->lost_on;
    char day[DAY_TEXT];
    if (before != DAY_NONE)
        diag_warning(hanging->diags, note->place, "bag-ended-twice",
                     "bag %s is noted as %s, and it was %s on %s, expected one end of each bag, "
                     "remove the wrong note or correct the bag's name",
                     quoted(hanging, note), note->kind == NOTE_UNBAGGED ? "taken off" : "lost",
                     bag->unbagged_on != DAY_NONE ? "taken off" : "lost", day_text(before, day));
    if (*ended_on == DAY_NONE)
        *ended_on = note->date;
}

static void take_note(const struct hanging *hanging, const struct note *note)
{
    struct bag *bag = hanging->bag;
    int count = note->number >= 0 ? (int)note->number : -1;
    switch (note->kind) {
    case NOTE_BAGGED:
        take_bagged(hanging, note);
        break;
    case NOTE_STROBILI:
        bag->strobili = count >= 0 ? count : bag->strobili;
        break;
    case NOTE_POLLINATED:
        take_pollinated(hanging, note);
        break;
    case NOTE_UNBAGGED:
        take_end(hanging, note, &bag->unbagged_on);
        break;
    case NOTE_BAG_LOST:
        take_end(hanging, note, &bag->lost_on);
        break;
    case NOTE_CONELETS:
        bag->conelets = count >= 0 ? count : bag->conelets;
        break;
    case NOTE_CONES:
        bag->cones = count >= 0 ? count : bag->cones;
        break;
    case NOTE_SEEDS:
        bag->seeds = count >= 0 ? count : bag->seeds;
        break;
    default:
        break;
    }
}

/* Notes that say something of a bag only once it hangs. */
static bool needs_bag(enum note_kind kind)
{
    return kind == NOTE_POLLINATED || kind == NOTE_UNBAGGED || kind == NOTE_BAG_LOST ||
           kind == NOTE_CONELETS || kind == NOTE_CONES || kind == NOTE_SEEDS;
}

/* All notes of one bag; false when it was never hung. */
static bool make_bag(struct hanging *hanging, const struct bag_note *notes, size_t count)
{
    *hanging->bag = (struct bag){
        .name = notes->note->bag,
        .graft = notes->graft,
        .season = notes->season,
        .number = notes->number,
        .bagged_on = DAY_NONE,
        .strobili = -1,
        .visit_on = {DAY_NONE, DAY_NONE, DAY_NONE, DAY_NONE},
        .unbagged_on = DAY_NONE,
        .lost_on = DAY_NONE,
        .conelets = -1,
        .cones = -1,
        .seeds = -1,
    };
    daynum hung_on = DAY_NONE;
    for (size_t i = 0; i < count && hung_on == DAY_NONE; i++)
        if (notes[i].note->kind == NOTE_BAGGED)
            hung_on = notes[i].note->date;
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        if (needs_bag(note->kind) && hanging->bag->bagged_on == DAY_NONE)
            tell_not_hung(hanging, note, hung_on);
        else
            take_note(hanging, note);
    }
    return hung_on != DAY_NONE;
}

static int order_bag(const void *left, const void *right)
{
    const struct bag *a = left, *b = right;
    int order = order_text(a->name, b->name);
    return order ? order : (a->graft > b->graft) - (a->graft < b->graft);
}

void state_make_bags(struct state *state, struct arena *arena, struct diags *diags)
{
    struct bag_note *notes = ARENA_ARRAY(arena, state->graft_note_count, struct bag_note);
    size_t count = 0;
    for (size_t i = 0; i < state->graft_note_count; i++) {
        struct bag_name parts;
        const struct graft_note *of = &state->graft_notes[i];
        if (bag_name_read(of->note->bag, &parts))
            notes[count++] = (struct bag_note){of->graft, parts.season, parts.number, of->note};
    }
    if (count > 1)
        qsort(notes, count, sizeof *notes, order_bag_note);

    state->bags = ARENA_ARRAY(arena, count, struct bag);
    for (size_t first = 0, end; first < count; first = end) {
        end = first + 1;
        while (end < count && same_bag(&notes[first], &notes[end]))
            end++;
        struct hanging hanging = {state, diags, &state->bags[state->bag_count]};
        if (make_bag(&hanging, notes + first, end - first))
            state->bag_count++;
    }
    if (state->bag_count > 1)
        qsort(state->bags, state->bag_count, sizeof *state->bags, order_bag);
}
