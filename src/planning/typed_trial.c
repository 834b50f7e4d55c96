/*
 * typed_trial.c - what the audit of the folder says with the typed notes in it, at the cells that
 * were typed.
 *
 * The audit is the one that every command runs.  A fault that was there before counts against
 * nobody; a new one counts against the row that it names or, where it shows elsewhere (an old visit
 * before a bag that is typed now), against the first row with which it appears.
 */
#include "orchard/order.h"
#include "planning/typed_parts.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* So many faults of other files are traced to their row; each takes a dozen audits. */
enum { TRACED_MOST = 8 };

/* By code: the cell to point at, and whether a new warning keeps the notes out. */
static const struct fault_kind {
    const char *code;
    enum {
        AT_ROW,
        AT_DAY,
        AT_VALUE,
        AT_AMOUNT,
        AT_TAG,
        AT_BAG,
        AT_TREE,
        AT_CROSS,
        AT_LOT,
        AT_BATCH,
        AT_SITE,
        AT_BLOCK,
        AT_TASK,
        AT_SELECTION,
        AT_ENTRY
    } at;
    bool refused;
} fault_kinds[] = {
    {"note-value", AT_VALUE, false},
    {"unknown-tag", AT_TAG, false},
    {"unknown-tree", AT_TREE, false},
    {"unknown-selection", AT_SELECTION, false},
    {"unknown-batch", AT_BATCH, false},
    {"unknown-cross", AT_CROSS, false},
    {"unknown-lot", AT_LOT, false},
    {"unknown-site", AT_SITE, false},
    {"unknown-task", AT_TASK, false},
    {"unknown-block", AT_BLOCK, false},
    {"bag-name", AT_BAG, false},
    {"bag-season", AT_BAG, false},
    {"bag-never-hung", AT_BAG, false},
    {"bag-of-two-crosses", AT_CROSS, false},
    {"bag-of-other-graft", AT_TAG, false},
    {"bagged-twice", AT_BAG, true},
    {"bag-ended-twice", AT_BAG, true},
    {"cross-not-of-graft", AT_CROSS, false},
    {"dead-graft-bagged", AT_TAG, false},
    {"other-pollen", AT_LOT, true},
    {"lot-overdrawn", AT_AMOUNT, false},
    {"lot-discarded", AT_LOT, false},
    {"lot-not-ready", AT_LOT, false},
    {"lot-still-planned", AT_LOT, false},
    {"seen-before-grafted", AT_DAY, false},
    {"pollinated-before-bagged", AT_DAY, false},
    {"unbagged-before-bagged", AT_DAY, false},
    {"noted-before-bagged", AT_DAY, false},
    {"pollinated-after-bag", AT_DAY, false},
    {"date-out-of-range", AT_DAY, false},
    {"grafted-differs", AT_TAG, false},
    {"tag-taken", AT_VALUE, false},
    {"similar-identifiers", AT_TAG, true},
    {"duplicate-identifier", AT_TAG, false},
    {"graft-on-dead-tree", AT_TREE, false},
    {"tree-not-for-grafts", AT_TREE, false},
    {"tree-full", AT_TREE, false},
    {"graft-before-scions", AT_BATCH, false},
    {"scions-too-old", AT_BATCH, false},
    {"batch-discarded", AT_BATCH, false},
    {"batch-overdrawn", AT_BATCH, false},
    {"other-selection-than-batch", AT_BATCH, false},
    {"two-values-of-a-day", AT_VALUE, true},
    {"note-twice", AT_DAY, true},
    {"entry-used-before", AT_ENTRY, false},
};

struct trying {
    const struct typing *typing;
    struct trial trial;
    const struct typed_note **tried; /* [count]: those not there yet, as in trial.notes */
    size_t count;
    struct diags before, after;
    const struct diag **sorted; /* [before.count], in the order of their content */
    size_t traced;
    size_t told; /* faults of the page before the trial */
};

static const struct fault_kind *kind_of(const char *code)
{
    static const struct fault_kind other = {.at = AT_ROW};

    for (size_t i = 0; i < sizeof fault_kinds / sizeof *fault_kinds; i++)
        if (strcmp(fault_kinds[i].code, code) == 0)
            return &fault_kinds[i];
    return &other;
}

/* The first of two columns that the row fills. */
static enum typed_column filled(const char *cell, enum typed_column column, enum typed_column other)
{
    return cell ? column : other;
}

static enum typed_column column_of(const struct typed_note *of, const struct fault_kind *kind)
{
    const struct typed_row *row = of->row;
    enum typed_column what = row->note >= 0 ? TYPED_NOTE : TYPED_TASK;

    switch (kind->at) {
    case AT_DAY:
        return of->date_from;
    case AT_VALUE:
        return of->value_from;
    case AT_AMOUNT:
        return filled(row->value, of->value_from, TYPED_LOT);
    case AT_TAG:
        return filled(row->tag, TYPED_TAG, TYPED_BAG);
    case AT_BAG:
        return filled(row->bag, TYPED_BAG, TYPED_TAG);
    case AT_TREE:
        return TYPED_TREE;
    case AT_CROSS:
        return TYPED_CROSS;
    case AT_LOT:
        return TYPED_LOT;
    case AT_BATCH:
        return filled(row->batch, TYPED_BATCH, what);
    case AT_SITE:
        return TYPED_SITE;
    case AT_BLOCK:
        return TYPED_BLOCK;
    case AT_TASK:
        return TYPED_TASK;
    case AT_SELECTION:
        return filled(row->selection, TYPED_SELECTION, of->value_from);
    case AT_ENTRY:
        return TYPED_ENTRY;
    case AT_ROW:
        break;
    }
    return what;
}

/* Equal but for the message, which may count others. */
static int order_fault(const struct diag *a, const struct diag *b)
{
    int order = order_place(a->place, b->place);

    order = order ? order : order_whole(a->level, b->level);
    return order ? order : strcmp(a->code, b->code);
}

static int order_faults(const void *left, const void *right)
{
    const struct diag *const *a = left, *const *b = right;

    return order_fault(*a, *b);
}

static void sort_before(struct trying *trying)
{
    trying->sorted = ARENA_ARRAY(trying->typing->arena, trying->before.count, const struct diag *);
    for (size_t i = 0; i < trying->before.count; i++)
        trying->sorted[i] = &trying->before.list[i];
    if (trying->before.count > 1)
        qsort(trying->sorted, trying->before.count, sizeof *trying->sorted, order_faults);
}

static bool was_there(const struct trying *trying, const struct diag *diag)
{
    return trying->before.count > 0 && bsearch(&diag, trying->sorted, trying->before.count,
                                               sizeof *trying->sorted, order_faults) != NULL;
}

/* The note that a fault was told at; NULL: it stands elsewhere. */
static const struct typed_note *note_of(const struct trying *trying, const struct diag *diag)
{
    for (size_t i = 0; i < trying->count && diag->place.cell > 0; i++)
        if (order_place(diag->place, trying->trial.notes[i].place) == 0)
            return trying->tried[i];
    return NULL;
}

static bool appears_with(const struct trying *trying, const struct diag *diag, size_t count)
{
    struct diags diags;

    diags_init(&diags, trying->typing->arena);
    diags.most = SIZE_MAX;
    trial_faults(&trying->trial, count, &diags);
    for (size_t i = 0; i < diags.count; i++)
        if (order_fault(&diags.list[i], diag) == 0)
            return true;
    return false;
}

/* The first note with which a fault of another file appears. */
static const struct typed_note *trace(struct trying *trying, const struct diag *diag)
{
    size_t without = 0, with = trying->count;

    if (trying->traced == TRACED_MOST || with == 0)
        return NULL;
    trying->traced++;
    while (with - without > 1) {
        size_t middle = without + (with - without) / 2;

        if (appears_with(trying, diag, middle))
            with = middle;
        else
            without = middle;
    }
    return trying->tried[with - 1];
}

static const char *where(const struct trying *trying, struct place place)
{
    struct arena *arena = trying->typing->arena;

    if (place.line > 0)
        return arena_printf(arena, "line %u of %s", place.line, place.file);
    return place.file ? place.file : "the folder";
}

/* Is it about a bag of which another row was told as a fault?  Then it may be only what follows. */
static bool follows(const struct trying *trying, const struct typed_note *of)
{
    const struct diags *diags = trying->typing->diags;
    const struct typed_page *page = trying->typing->page;

    if (trying->told == 0 || !of->note.bag)
        return false;
    for (size_t i = 0; i < page->count; i++) {
        const struct typed_row *row = &page->list[i];

        if (!row->bag || strcmp(row->bag, of->note.bag) != 0)
            continue;
        for (size_t d = 0; d < trying->told; d++)
            if (diags->list[d].place.line == row->place.line &&
                order_text(diags->list[d].place.file, page->file) == 0)
                return true;
    }
    return false;
}

/* Tell it at the cell that was typed. */
static void tell(struct trying *trying, const struct diag *diag)
{
    static const char as_it_was[] =
        "; if it was so, write the row into notes.csv by hand: check then warns of it";
    const struct typing *typing = trying->typing;
    const struct fault_kind *kind = kind_of(diag->code);
    const struct typed_note *of = note_of(trying, diag);
    const char *elsewhere = "", *more = "";
    struct place place = diag->place;
    bool refused = diag->level == DIAG_ERROR || kind->refused;

    if (!of && refused) {
        of = trace(trying, diag);
        if (of)
            elsewhere = arena_printf(
                typing->arena, "with this row, %s becomes a fault: ", where(trying, diag->place));
    }
    if (of && follows(trying, of))
        return;
    if (of)
        place = typed_place(typing->page, of->row, column_of(of, kind));
    if (diag->level != DIAG_ERROR && kind->refused)
        more = as_it_was;
    if (refused)
        diag_error(typing->diags, place, diag->code, "%s%s%s", elsewhere, diag->message, more);
    else
        diag_warning(typing->diags, place, diag->code, "%s", diag->message);
}

static void gather(struct trying *trying, const struct typed_notes *notes)
{
    struct note *list = ARENA_ARRAY(trying->typing->arena, notes->count, struct note);

    trying->tried = ARENA_ARRAY(trying->typing->arena, notes->count, const struct typed_note *);
    for (size_t i = 0; i < notes->count; i++) {
        if (notes->list[i].there)
            continue;
        list[trying->count] = notes->list[i].note;
        trying->tried[trying->count++] = &notes->list[i];
    }
    trying->trial.notes = list;
}

void typed_notes_try(const struct typing *typing, const struct typed_notes *notes)
{
    struct trying trying = {.typing = typing,
                            .trial = {.orchard = typing->read, .today = typing->as_of}};

    trying.told = typing->diags->count;
    gather(&trying, notes);
    diags_init(&trying.before, typing->arena);
    diags_init(&trying.after, typing->arena);
    trying.before.most = trying.after.most = SIZE_MAX;
    trial_faults(&trying.trial, 0, &trying.before);
    sort_before(&trying);
    trial_faults(&trying.trial, trying.count, &trying.after);
    for (size_t i = 0; i < trying.after.count; i++)
        if (!was_there(&trying, &trying.after.list[i]))
            tell(&trying, &trying.after.list[i]);
}
