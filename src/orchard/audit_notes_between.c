/*
 * Notes against each other and against the table of grafts.  Bags and lots, whose notes must fit
 * in the order of time, are told where their state is made.
 */
#include "orchard/audit.h"
#include "orchard/order.h"
#include "orchard/words.h"

#include <stdlib.h>
#include <string.h>

static void tell_difference(struct audit *audit, const struct note *note, const char *cell,
                            const char *noted, const char *held)
{
    const struct graft *graft = orchard_graft(audit->orchard, note->tag);
    diag_error(
        audit->diags, note->place, "grafted-differs",
        "a grafted note gives %s %s for tag %s, and line %u of %s has %s, expected one, correct "
        "the wrong one",
        cell, audit_quote(audit, noted), audit_quote(audit, note->tag), graft->place.line,
        graft->place.file ? graft->place.file : "another note", audit_quote(audit, held));
}

/* A `grafted` note must agree with the row, or with the note that made the graft. */
static void check_grafted(struct audit *audit, const struct note *note)
{
    const struct orchard *orchard = audit->orchard;
    const struct graft *graft = orchard_graft(orchard, note->tag);
    if (!graft || (graft->from_note && order_place(graft->place, note->place) == 0))
        return;
    if (graft->grafted_on != DAY_NONE && graft->grafted_on != note->date) {
        char noted[DAY_TEXT], held[DAY_TEXT];
        tell_difference(audit, note, "date", day_text(note->date, noted),
                        day_text(graft->grafted_on, held));
    }
    if (note->tree && graft->tree_name && strcmp(note->tree, graft->tree_name) != 0)
        tell_difference(audit, note, "tree", note->tree, graft->tree_name);
    if (note->batch && graft->batch_name && strcmp(note->batch, graft->batch_name) != 0)
        tell_difference(audit, note, "batch", note->batch, graft->batch_name);
    const struct selection *selection = orchard_selection(orchard, note->selection);
    if (selection && graft->selection && !selection_same(selection, graft->selection))
        tell_difference(audit, note, "selection", note->selection, graft->selection_name);
    static const char *const zones[CROWNS] = {
        [CROWN_TOP] = "top", [CROWN_MIDDLE] = "middle", [CROWN_LOW] = "low"};
    enum crown crown;
    if (crown_read(note->crown, &crown) && graft->crown != CROWN_UNKNOWN && crown != graft->crown)
        tell_difference(audit, note, "crown", note->crown, zones[graft->crown]);
    if (note->branch && graft->branch && strcmp(note->branch, graft->branch) != 0)
        tell_difference(audit, note, "branch", note->branch, graft->branch);
}

static bool same_subject(const struct note *a, const struct note *b)
{
    return a->date == b->date && a->kind == b->kind && order_text(a->tag, b->tag) == 0 &&
           order_text(a->bag, b->bag) == 0 && order_text(a->tree, b->tree) == 0 &&
           order_text(a->lot, b->lot) == 0 && order_text(a->cross, b->cross) == 0 &&
           order_text(a->batch, b->batch) == 0 && order_text(a->site, b->site) == 0 &&
           order_text(a->block, b->block) == 0 && order_text(a->task, b->task) == 0 &&
           order_text(a->selection, b->selection) == 0;
}

/* Of these there can be only one truth a day. */
static bool one_value_a_day(enum note_kind kind)
{
    switch (kind) {
    case NOTE_RETAGGED:
    case NOTE_RELABELLED:
    case NOTE_SURVIVAL:
    case NOTE_STAGE:
    case NOTE_STROBILI:
    case NOTE_CATKINS:
    case NOTE_MALE_STAGE:
    case NOTE_CONELETS:
    case NOTE_CONES:
    case NOTE_SEEDS:
    case NOTE_GERMINATION:
        return true;
    default:
        return false;
    }
}

/* "line 12", of another file with its name. */
static const char *line_of(struct audit *audit, struct place other, struct place here)
{
    if (order_text(other.file, here.file) == 0)
        return arena_printf(audit->arena, "line %u", other.line);
    return arena_printf(audit->arena, "line %u of %s", other.line, other.file);
}

/* Two printed lines about one graft: looks at two of its shoots, which are taken together. */
static bool of_two_lines(const struct note *a, const struct note *b)
{
    return a->kind == NOTE_STAGE && a->tag && !a->bag && a->entry && b->entry &&
           strcmp(a->entry, b->entry) != 0;
}

/* Two neighbours in the order of notes that are about one thing on one day. */
static void check_neighbours(struct audit *audit, const struct note *before,
                             const struct note *note)
{
    if (!same_subject(before, note) || of_two_lines(before, note))
        return;
    if (order_place(before->place, note->place) > 0) { /* told at the row that came second */
        const struct note *first = note;
        note = before;
        before = first;
    }
    bool same_value = order_text(before->value, note->value) == 0;
    if (!same_value && one_value_a_day(note->kind))
        diag_warning(audit->diags, note->place, "two-values-of-a-day",
                     "this %s note says %s, and %s says %s of the same day, expected one, remove "
                     "the wrong one; until then the last in the order of values counts",
                     note_names[note->kind], audit_quote(audit, note->value),
                     line_of(audit, before->place, note->place), audit_quote(audit, before->value));
    else if (same_value && note->kind != NOTE_NOT_DONE)
        diag_warning(audit->diags, note->place, "note-twice",
                     "this %s note says what %s says of the same day, expected each thing once, "
                     "remove one unless both happened",
                     note_names[note->kind], line_of(audit, before->place, note->place));
}

struct entry {
    const struct note *note;
};

static int order_entry(const void *left, const void *right)
{
    const struct note *a = ((const struct entry *)left)->note,
                      *b = ((const struct entry *)right)->note;
    int order = order_text(a->entry, b->entry);
    return order ? order : (a > b) - (a < b);
}

/* May two notes come from one printed line?  What was seen of one subject on one day, each kind
 * once; equal notes were made one when they were linked. */
static bool of_one_line(const struct note *a, const struct note *b)
{
    return a->date == b->date && a->kind != b->kind && order_text(a->tag, b->tag) == 0 &&
           order_text(a->bag, b->bag) == 0 && order_text(a->tree, b->tree) == 0;
}

static void check_entries(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    struct entry *entries = ARENA_ARRAY(audit->arena, orchard->notes.count, struct entry);
    size_t count = 0;
    for (size_t i = 0; i < orchard->notes.count; i++)
        if (orchard->notes.list[i].entry)
            entries[count++].note = &orchard->notes.list[i];
    if (count > 1)
        qsort(entries, count, sizeof *entries, order_entry);
    for (size_t i = 1; i < count; i++)
        if (strcmp(entries[i - 1].note->entry, entries[i].note->entry) == 0 &&
            !of_one_line(entries[i - 1].note, entries[i].note))
            diag_error(audit->diags, entries[i].note->place, "entry-used-before",
                       "entry %s stands in %s with other content, expected each printed line "
                       "typed once, correct the entry or remove the wrong note",
                       audit_quote(audit, entries[i].note->entry),
                       line_of(audit, entries[i - 1].note->place, entries[i].note->place));
}

void audit_notes_between(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        if (note->kind == NOTE_GRAFTED)
            check_grafted(audit, note);
        if (i)
            check_neighbours(audit, &orchard->notes.list[i - 1], note);
    }
    check_entries(audit);
}
