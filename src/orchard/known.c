#include "orchard/known.h"

#include "base/text.h"
#include "orchard/order.h"

#include <stdlib.h>
#include <string.h>

/* A folder in which every name is wrong must not cost a search each. */
enum { SUGGESTIONS_MOST = 200 };

struct known_fold {
    const char *folded;
    size_t index; /* into names */
};

static const struct {
    const char *noun, *file, *unknown_code;
} tables[KNOWN_TABLES] = {
    [KNOWN_SITES] = {"site", "sites.csv", "unknown-site"},
    [KNOWN_STATIONS] = {"station", "stations.csv", "unknown-station"},
    [KNOWN_TREES] = {"tree", "trees.csv", "unknown-tree"},
    [KNOWN_SELECTIONS] = {"selection", "selections.csv", "unknown-selection"},
    [KNOWN_BATCHES] = {"batch", "scions.csv", "unknown-batch"},
    [KNOWN_GRAFTS] = {"tag", "grafts.csv", "unknown-tag"},
    [KNOWN_CROSSES] = {"cross", "crosses.csv", "unknown-cross"},
    [KNOWN_LOTS] = {"lot", "pollen.csv", "unknown-lot"},
    [KNOWN_LIFTS] = {"lift", "lifts.csv", "unknown-lift"},
    [KNOWN_TASKS] = {"task", "tasks.csv", "unknown-task"},
};

const char *known_noun(enum known_table table)
{
    return tables[table].noun;
}

#define TAKE_NAMES(rows, member)                                                                   \
    do {                                                                                           \
        known->names = ARENA_ARRAY(orchard->arena, (rows).count, const char *);                    \
        known->places = ARENA_ARRAY(orchard->arena, (rows).count, struct place);                   \
        for (size_t i = 0; i < (rows).count; i++) {                                                \
            if (!(rows).list[i].member)                                                            \
                continue;                                                                          \
            known->names[known->count] = (rows).list[i].member;                                    \
            known->places[known->count++] = (rows).list[i].place;                                  \
        }                                                                                          \
    } while (0)

/* Every tag that a graft has or had. */
static void take_graft_names(struct known *known, const struct orchard *orchard)
{
    known->count = orchard->graft_names.count;
    known->names = ARENA_ARRAY(orchard->arena, known->count, const char *);
    known->places = ARENA_ARRAY(orchard->arena, known->count, struct place);
    for (size_t i = 0; i < known->count; i++) {
        known->names[i] = orchard->graft_names.list[i].tag;
        known->places[i] = orchard->graft_names.list[i].graft->place;
    }
}

void known_of(struct known *known, const struct orchard *orchard, enum known_table table)
{
    *known = (struct known){.table = table, .arena = orchard->arena};
    switch (table) {
    case KNOWN_SITES:
        TAKE_NAMES(orchard->sites, name);
        break;
    case KNOWN_STATIONS:
        TAKE_NAMES(orchard->stations, name);
        break;
    case KNOWN_TREES:
        TAKE_NAMES(orchard->trees, name);
        break;
    case KNOWN_SELECTIONS:
        TAKE_NAMES(orchard->selections, name);
        break;
    case KNOWN_BATCHES:
        TAKE_NAMES(orchard->batches, name);
        break;
    case KNOWN_GRAFTS:
        if (orchard->graft_names.count)
            take_graft_names(known, orchard);
        else
            TAKE_NAMES(orchard->grafts, tag);
        break;
    case KNOWN_CROSSES:
        TAKE_NAMES(orchard->crosses, name);
        break;
    case KNOWN_LOTS:
        TAKE_NAMES(orchard->lots, name);
        break;
    case KNOWN_LIFTS:
        TAKE_NAMES(orchard->lifts, lift);
        break;
    case KNOWN_TASKS:
        TAKE_NAMES(orchard->tasks, task);
        break;
    case KNOWN_TABLES:
        break;
    }
}

void known_of_tags(struct known *known, const struct orchard *orchard)
{
    *known = (struct known){.table = KNOWN_GRAFTS, .arena = orchard->arena};
    TAKE_NAMES(orchard->grafts, tag);
}

static const char *fold(struct arena *arena, const char *name)
{
    struct text text;
    text_init(&text, arena);
    text_add_folded(&text, name);
    return text.bytes;
}

static int order_fold(const void *left, const void *right)
{
    const struct known_fold *a = left, *b = right;
    int order = strcmp(a->folded, b->folded);
    return order ? order : order_whole((int64_t)a->index, (int64_t)b->index);
}

static void make_folds(struct known *known)
{
    if (known->folds)
        return;
    known->folds = ARENA_ARRAY(known->arena, known->count, struct known_fold);
    for (size_t i = 0; i < known->count; i++)
        known->folds[i] = (struct known_fold){fold(known->arena, known->names[i]), i};
    if (known->count > 1)
        qsort(known->folds, known->count, sizeof *known->folds, order_fold);
}

static const char *folded_match(struct known *known, const char *name)
{
    make_folds(known);
    const char *folded = fold(known->arena, name);
    size_t low = 0, high = known->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(known->folds[middle].folded, folded) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    if (low < known->count && strcmp(known->folds[low].folded, folded) == 0)
        return known->names[known->folds[low].index];
    return NULL;
}

/* " of FILE" when a place is in another file than the one at which it is mentioned. */
static const char *of_file(const struct known *known, struct place place, struct place at)
{
    if (!place.file || order_text(place.file, at.file) == 0)
        return "";
    return arena_printf(known->arena, " of %s", place.file);
}

static void tell_duplicates(const struct known *known, struct diags *diags)
{
    for (size_t i = 1; i < known->count; i++) {
        if (strcmp(known->names[i - 1], known->names[i]) != 0)
            continue;
        /* Rows of one name are sorted by place: point at the first of them. */
        size_t first = i - 1;
        while (first > 0 && strcmp(known->names[first - 1], known->names[i]) == 0)
            first--;
        diag_error(
            diags, known->places[i], "duplicate-identifier",
            "%s %s stands already in line %u%s, expected each %s once, remove one row or give it "
            "a name of its own",
            tables[known->table].noun, diag_quote(diags, known->names[i]),
            known->places[first].line, of_file(known, known->places[first], known->places[i]),
            tables[known->table].noun);
    }
}

void known_tell_twins(struct known *known, const struct orchard *orchard, struct diags *diags)
{
    tell_duplicates(known, diags);
    make_folds(known);
    for (size_t i = 1; i < known->count; i++) {
        const struct known_fold *before = &known->folds[i - 1], *fold_here = &known->folds[i];
        const char *a = known->names[before->index], *b = known->names[fold_here->index];
        if (strcmp(before->folded, fold_here->folded) != 0 || strcmp(a, b) == 0)
            continue;
        if (known->table == KNOWN_SELECTIONS &&
            selection_same(orchard_selection(orchard, a), orchard_selection(orchard, b)))
            continue; /* said to be two names of one clone */
        struct place place = known->places[fold_here->index], other = known->places[before->index];
        if (order_place(other, place) > 0) { /* told at the row that came second */
            const char *name = a;
            const struct place later = other;
            a = b;
            b = name;
            other = place;
            place = later;
        }
        if (known->table == KNOWN_STATIONS)
            diag_error(
                diags, place, "twin-stations",
                "station %s differs from %s in line %u%s only by case, hyphens or zeros, expected "
                "names that no file system takes for one, rename one with its weather files",
                diag_quote(diags, b), diag_quote(diags, a), other.line,
                of_file(known, other, place));
        else
            diag_warning(
                diags, place, "similar-identifiers",
                "%s %s differs from %s in line %u%s only by case, blanks, hyphens or zeros, "
                "expected names that cannot be mixed up, make them one or rename one",
                tables[known->table].noun, diag_quote(diags, b), diag_quote(diags, a), other.line,
                of_file(known, other, place));
    }
}

void known_tell_missing(struct known *known, struct diags *diags, struct place place,
                        const char *what, const char *name)
{
    const char *meant = NULL;
    if (known->suggested < SUGGESTIONS_MOST) {
        known->suggested++;
        meant = folded_match(known, name);
        if (!meant)
            meant = text_nearest(name, known->count, known->names);
    }
    const char *noun = tables[known->table].noun, *file = tables[known->table].file;
    if (meant)
        diag_error(diags, place, tables[known->table].unknown_code,
                   "%s names %s %s, which is not in %s, expected one that is, write %s if that is "
                   "meant or add it",
                   what, noun, diag_quote(diags, name), file, diag_quote(diags, meant));
    else
        diag_error(diags, place, tables[known->table].unknown_code,
                   "%s names %s %s, which is not in %s, expected one that is, correct the name or "
                   "add it",
                   what, noun, diag_quote(diags, name), file);
}
