#include "orchard/link_grafts.h"

#include "orchard/order.h"
#include "orchard/words.h"

#include <stdlib.h>
#include <string.h>

/* Index of the first graft with this tag among `count` sorted ones, or `count`. */
static size_t find_tag(const struct orchard *orchard, size_t count, const char *tag)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (order_text(orchard->grafts.list[middle].tag, tag) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && order_text(orchard->grafts.list[low].tag, tag) == 0 ? low : count;
}

/* A tag of a graft beside the one it came with; `index` into the sorted grafts. */
struct alias {
    const char *tag;
    size_t index;
};

struct retagging {
    struct orchard *orchard;
    struct diags *diags;
    struct alias *aliases; /* in the order in which they were given */
    size_t count, capacity;
    const char **newest; /* [grafts.count]: the tag each carries now */
};

static size_t find_any_tag(const struct retagging *retagging, const char *tag)
{
    size_t none = retagging->orchard->grafts.count;
    size_t index = find_tag(retagging->orchard, none, tag);
    for (size_t i = 0; index == none && i < retagging->count; i++)
        if (strcmp(retagging->aliases[i].tag, tag) == 0)
            index = retagging->aliases[i].index;
    return index;
}

static void add_alias(struct retagging *retagging, const char *tag, size_t index)
{
    *ARENA_PUSH(retagging->orchard->arena, retagging->aliases, retagging->count,
                retagging->capacity) = (struct alias){tag, index};
}

/*
 * Take one `retagged` note.  grafts.csv may still list the old tag or already the new one.  False
 * when neither is known yet.
 */
static bool take_retagged(struct retagging *retagging, const struct note *note)
{
    size_t none = retagging->orchard->grafts.count;
    size_t old = find_any_tag(retagging, note->tag), new = find_any_tag(retagging, note->value);
    if (old == none && new == none)
        return false;
    if (old != none && new != none && old != new) {
        diag_error(retagging->diags, note->place, "tag-taken",
                   "tag %s is to become %s, which another graft carries, expected a tag that is "
                   "free, correct the note or the row of the other graft",
                   diag_quote(retagging->diags, note->tag),
                   diag_quote(retagging->diags, note->value));
        return true;
    }
    if (new == none) {
        add_alias(retagging, note->value, old);
        retagging->newest[old] = note->value;
    } else if (old == none) {
        add_alias(retagging, note->tag, new);
        diag_warning(
            retagging->diags, note->place, "retagged-in-table",
            "tag %s became %s, and grafts.csv lists only the new one, expected the first tag "
            "there so that days before this note can be replayed, put it back",
            diag_quote(retagging->diags, note->tag), diag_quote(retagging->diags, note->value));
    } else {
        retagging->newest[old] = note->value;
    }
    return true;
}

/*
 * Forward in time, then backward through what was left: of tags A, B, C of one graft in turn the
 * table may hold only C.
 */
static void take_all_retagged(struct retagging *retagging)
{
    struct orchard *orchard = retagging->orchard;
    const struct note **left =
        ARENA_ARRAY(orchard->arena, orchard->notes.count, const struct note *);
    size_t left_count = 0;
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        if (note->kind == NOTE_RETAGGED && note->tag && note->value &&
            !take_retagged(retagging, note))
            left[left_count++] = note;
    }
    while (left_count)
        take_retagged(retagging, left[--left_count]);
}

/* A `grafted` note whose tag grafts.csv does not hold; `index` into the sorted notes. */
struct maker {
    const char *tag;
    size_t index;
};

static int order_maker(const void *left, const void *right)
{
    const struct maker *a = left, *b = right;
    int order = order_text(a->tag, b->tag);
    return order ? order : order_whole((int64_t)a->index, (int64_t)b->index);
}

static struct graft graft_of(const struct note *note)
{
    enum crown crown = CROWN_UNKNOWN;
    crown_read(note->crown, &crown);
    return (struct graft){
        .place = note->place,
        .tag = note->tag,
        .selection_name = note->selection,
        .tree_name = note->tree,
        .crown = crown,
        .branch = note->branch,
        .grafted_on = note->date,
        .batch_name = note->batch,
        .condition_on = DAY_NONE,
        .identity_on = DAY_NONE,
        .from_note = true,
    };
}

static void add_grafts_of_notes(struct orchard *orchard)
{
    size_t rows = orchard->grafts.count, count = 0;
    struct maker *makers = ARENA_ARRAY(orchard->arena, orchard->notes.count, struct maker);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        if (note->kind == NOTE_GRAFTED && note->tag && find_tag(orchard, rows, note->tag) == rows)
            makers[count++] = (struct maker){note->tag, i};
    }
    if (count > 1)
        qsort(makers, count, sizeof *makers, order_maker);
    for (size_t i = 0; i < count; i++) {
        /* Of several notes of one tag the first makes the graft; audit compares the others. */
        if (i && strcmp(makers[i - 1].tag, makers[i].tag) == 0)
            continue;
        *ARENA_PUSH(orchard->arena, orchard->grafts.list, orchard->grafts.count,
                    orchard->grafts.capacity) = graft_of(&orchard->notes.list[makers[i].index]);
    }
}

static int order_graft_name(const void *left, const void *right)
{
    const struct graft_name *a = left, *b = right;
    int order = order_text(a->tag, b->tag);
    order = order ? order : order_text(a->graft->tag, b->graft->tag);
    return order ? order : order_place(a->graft->place, b->graft->place);
}

static void add_name(struct orchard *orchard, const char *tag, const struct graft *graft)
{
    *ARENA_PUSH(orchard->arena, orchard->graft_names.list, orchard->graft_names.count,
                orchard->graft_names.capacity) = (struct graft_name){tag, graft};
}

void link_grafts(struct orchard *orchard, struct diags *diags)
{
    add_grafts_of_notes(orchard);
    order_grafts(orchard);

    size_t count = orchard->grafts.count;
    struct retagging retagging = {.orchard = orchard, .diags = diags};
    retagging.newest = ARENA_ARRAY(orchard->arena, count, const char *);
    const char **own = ARENA_ARRAY(orchard->arena, count, const char *);
    for (size_t i = 0; i < count; i++)
        own[i] = retagging.newest[i] = orchard->grafts.list[i].tag;
    take_all_retagged(&retagging);

    for (size_t i = 0; i < count; i++)
        orchard->grafts.list[i].tag = retagging.newest[i];
    order_grafts(orchard);

    orchard->graft_names.count = 0;
    for (size_t i = 0; i < count; i++)
        add_name(orchard, orchard->grafts.list[i].tag, &orchard->grafts.list[i]);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(own[i], retagging.newest[i]) != 0)
            add_name(orchard, own[i],
                     &orchard->grafts.list[find_tag(orchard, count, retagging.newest[i])]);
    }
    for (size_t i = 0; i < retagging.count; i++) {
        const struct alias *alias = &retagging.aliases[i];
        const char *newest = retagging.newest[alias->index];
        if (strcmp(alias->tag, newest) != 0)
            add_name(orchard, alias->tag, &orchard->grafts.list[find_tag(orchard, count, newest)]);
    }
    if (orchard->graft_names.count > 1)
        qsort(orchard->graft_names.list, orchard->graft_names.count,
              sizeof *orchard->graft_names.list, order_graft_name);
}
