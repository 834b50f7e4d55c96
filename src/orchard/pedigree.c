/*
 * Coancestry by the rule of the tabular method (Emik and Terrill 1949, from memory; Mrode, Linear
 * Models, table 2.1 is a test): a row of the matrix is the mean of its parents' rows.  Cells are
 * made when they are asked for and kept, so a pedigree of 10 000 names costs what is used of it.
 * Going from the younger to its parents always ends, because rows are numbered parents first.
 */
#include "orchard/pedigree.h"

#include "base/text.h"

#include <math.h>
#include <stdint.h>

enum { FOUNDER = -1, FIRST_CELLS = 1024 };

struct cell {
    uint64_t key; /* older row and younger row; 0: empty */
    double coancestry;
};

struct row {
    int seed_parent, pollen_parent; /* row numbers, or FOUNDER */
};

struct pedigree {
    const struct orchard *orchard;
    struct arena *arena;
    struct row *rows; /* parents before offspring */
    int *row_of;      /* [selections.count] by index of the row that stands for the clone */
    int row_count;
    struct cell **cells; /* not const: what was asked for is kept */
    size_t *cell_count, *cell_capacity;
};

static size_t index_of(const struct orchard *orchard, const struct selection *selection)
{
    const struct selection *self = selection->self ? selection->self : selection;
    return (size_t)(self - orchard->selections.list);
}

/* Parents of a clone: those of the row that stands for it, else of any of its other names. */
struct parents {
    const struct selection *seed_parent, *pollen_parent;
};

struct sorting {
    struct pedigree *pedigree;
    struct diags *diags;
    struct parents *parents;    /* [selections.count] */
    unsigned char *seen;        /* 0 not yet, 1 on the path, 2 numbered */
    size_t *path;               /* indices from the start to here */
    unsigned char *next_parent; /* of each on the path: which to look at next */
    size_t depth;
};

static void gather_parents(struct sorting *sorting)
{
    const struct orchard *orchard = sorting->pedigree->orchard;
    for (int own = 1; own >= 0; own--) {
        for (size_t i = 0; i < orchard->selections.count; i++) {
            const struct selection *row = &orchard->selections.list[i];
            size_t index = index_of(orchard, row);
            struct parents *of = &sorting->parents[index];
            if ((index == i) != (own == 1))
                continue;
            of->seed_parent = of->seed_parent ? of->seed_parent : row->seed_parent;
            of->pollen_parent = of->pollen_parent ? of->pollen_parent : row->pollen_parent;
        }
    }
}

/* Tell the loop that closes at `index`, and cut all its members off from their parents. */
static void cut_loop(struct sorting *sorting, size_t index)
{
    const struct orchard *orchard = sorting->pedigree->orchard;
    size_t first = sorting->depth;
    while (sorting->path[first - 1] != index)
        first--;
    first--;

    const struct selection *self = &orchard->selections.list[index];
    if (sorting->depth - first == 1) {
        diag_error(sorting->diags, self->place, "own-parent",
                   "selection %s is given as its own parent, under this or another of its names, "
                   "expected another selection or a blank cell, correct the parent",
                   diag_quote(sorting->diags, self->name));
        sorting->parents[index] = (struct parents){NULL, NULL};
        return;
    }

    /* Begin with the first name, so that the same loop reads the same wherever it was entered. */
    size_t length = sorting->depth - first, lowest = 0;
    for (size_t i = 1; i < length; i++)
        if (sorting->path[first + i] < sorting->path[first + lowest])
            lowest = i;
    struct text text;
    text_init(&text, sorting->pedigree->arena);
    for (size_t i = 0; i <= length; i++) {
        size_t at = sorting->path[first + (lowest + i) % length];
        if (i)
            text_add(&text, " from ");
        text_add(&text, diag_quote(sorting->diags, orchard->selections.list[at].name));
    }
    diag_error(sorting->diags, orchard->selections.list[sorting->path[first + lowest]].place,
               "pedigree-loop",
               "the pedigree goes round, %s, expected parents that are older than their offspring, "
               "correct a parent of one of them",
               text.bytes);
    for (size_t i = first; i < sorting->depth; i++)
        sorting->parents[sorting->path[i]] = (struct parents){NULL, NULL};
}

static void number(struct sorting *sorting, size_t index)
{
    struct pedigree *pedigree = sorting->pedigree;
    const struct parents *parents = &sorting->parents[index];
    struct row *row = &pedigree->rows[pedigree->row_count];
    row->seed_parent = row->pollen_parent = FOUNDER;
    if (parents->seed_parent)
        row->seed_parent = pedigree->row_of[index_of(pedigree->orchard, parents->seed_parent)];
    if (parents->pollen_parent)
        row->pollen_parent = pedigree->row_of[index_of(pedigree->orchard, parents->pollen_parent)];
    pedigree->row_of[index] = pedigree->row_count++;
    sorting->seen[index] = 2;
}

/* Number everything that `start` comes from, and it; without recursion, a line may be long. */
static void number_from(struct sorting *sorting, size_t start)
{
    const struct orchard *orchard = sorting->pedigree->orchard;
    if (sorting->seen[start])
        return;
    sorting->depth = 0;
    sorting->path[sorting->depth] = start;
    sorting->next_parent[sorting->depth++] = 0;
    sorting->seen[start] = 1;
    while (sorting->depth) {
        size_t index = sorting->path[sorting->depth - 1];
        unsigned char which = sorting->next_parent[sorting->depth - 1]++;
        const struct parents *parents = &sorting->parents[index];
        if (which == 2) {
            number(sorting, index);
            sorting->depth--;
            continue;
        }
        const struct selection *parent = which ? parents->pollen_parent : parents->seed_parent;
        if (!parent)
            continue;
        size_t next = index_of(orchard, parent);
        if (sorting->seen[next] == 1) {
            cut_loop(sorting, next);
        } else if (sorting->seen[next] == 0) {
            sorting->seen[next] = 1;
            sorting->path[sorting->depth] = next;
            sorting->next_parent[sorting->depth++] = 0;
        }
    }
}

const struct pedigree *pedigree_of(const struct orchard *orchard, struct arena *arena,
                                   struct diags *diags)
{
    struct diags unheard;
    if (!diags) {
        diags_init(&unheard, arena);
        diags = &unheard;
    }
    size_t count = orchard->selections.count;
    struct pedigree *pedigree = ARENA_NEW(arena, struct pedigree);
    *pedigree = (struct pedigree){
        .orchard = orchard,
        .arena = arena,
        .rows = ARENA_ARRAY(arena, count, struct row),
        .row_of = ARENA_ARRAY(arena, count, int),
        .cells = ARENA_NEW(arena, struct cell *),
        .cell_count = ARENA_NEW(arena, size_t),
        .cell_capacity = ARENA_NEW(arena, size_t),
    };
    *pedigree->cells = ARENA_ARRAY(arena, FIRST_CELLS, struct cell);
    *pedigree->cell_capacity = FIRST_CELLS;

    struct sorting sorting = {
        .pedigree = pedigree,
        .diags = diags,
        .parents = ARENA_ARRAY(arena, count, struct parents),
        .seen = ARENA_ARRAY(arena, count, unsigned char),
        .path = ARENA_ARRAY(arena, count, size_t),
        .next_parent = ARENA_ARRAY(arena, count, unsigned char),
    };
    gather_parents(&sorting);
    for (size_t i = 0; i < count; i++)
        if (index_of(orchard, &orchard->selections.list[i]) == i)
            number_from(&sorting, i);
    return pedigree;
}

/* Where the cell of a key is, or would be put: the capacity is a power of two, never full. */
static struct cell *cell_at(struct cell *cells, size_t capacity, uint64_t key)
{
    size_t at = (size_t)((key * UINT64_C(0x9e3779b97f4a7c15)) >> 20) & (capacity - 1);
    while (cells[at].key && cells[at].key != key)
        at = (at + 1) & (capacity - 1);
    return &cells[at];
}

static void keep(const struct pedigree *pedigree, uint64_t key, double coancestry)
{
    if (*pedigree->cell_count * 2 >= *pedigree->cell_capacity) {
        size_t capacity = *pedigree->cell_capacity * 2;
        struct cell *cells = ARENA_ARRAY(pedigree->arena, capacity, struct cell);
        for (size_t i = 0; i < *pedigree->cell_capacity; i++)
            if ((*pedigree->cells)[i].key)
                *cell_at(cells, capacity, (*pedigree->cells)[i].key) = (*pedigree->cells)[i];
        *pedigree->cells = cells;
        *pedigree->cell_capacity = capacity;
    }
    *cell_at(*pedigree->cells, *pedigree->cell_capacity, key) = (struct cell){key, coancestry};
    ++*pedigree->cell_count;
}

/* theta of two rows; of an unknown parent 0. */
static double coancestry_of(const struct pedigree *pedigree, int a, int b)
{
    if (a == FOUNDER || b == FOUNDER)
        return 0;
    int younger = a > b ? a : b, older = a > b ? b : a;
    struct row row = pedigree->rows[younger];
    if (row.seed_parent == FOUNDER && row.pollen_parent == FOUNDER)
        return younger == older ? 0.5 : 0;

    uint64_t key = ((uint64_t)(unsigned)older + 1) << 32 | (unsigned)younger;
    const struct cell *kept = cell_at(*pedigree->cells, *pedigree->cell_capacity, key);
    if (kept->key)
        return kept->coancestry;
    double coancestry =
        younger == older ? 0.5 * (1 + coancestry_of(pedigree, row.seed_parent, row.pollen_parent))
                         : 0.5 * (coancestry_of(pedigree, row.seed_parent, older) +
                                  coancestry_of(pedigree, row.pollen_parent, older));
    keep(pedigree, key, coancestry);
    return coancestry;
}

double pedigree_coancestry(const struct pedigree *pedigree, const struct selection *a,
                           const struct selection *b)
{
    if (!a || !b)
        return 0;
    return coancestry_of(pedigree, pedigree->row_of[index_of(pedigree->orchard, a)],
                         pedigree->row_of[index_of(pedigree->orchard, b)]);
}

double pedigree_inbreeding(const struct pedigree *pedigree, const struct selection *selection)
{
    if (!selection)
        return 0;
    const struct row *row =
        &pedigree->rows[pedigree->row_of[index_of(pedigree->orchard, selection)]];
    return coancestry_of(pedigree, row->seed_parent, row->pollen_parent);
}

double pedigree_cross_coancestry(const struct pedigree *pedigree, const struct cross *cross,
                                 bool *selfs)
{
    if (!cross->mix) {
        *selfs = selection_same(cross->seed_parent, cross->pollen_parent);
        return pedigree_coancestry(pedigree, cross->seed_parent, cross->pollen_parent);
    }
    double mean = 0;
    *selfs = false;
    for (size_t i = 0; i < cross->mix->part_count; i++) {
        const struct mix_part *part = &cross->mix->parts[i];
        *selfs = *selfs || selection_same(cross->seed_parent, part->selection);
        mean += part->share * pedigree_coancestry(pedigree, cross->seed_parent, part->selection);
    }
    return mean;
}

double pedigree_group_coancestry(const struct pedigree *pedigree, size_t count,
                                 const struct contribution *contributions)
{
    double sum = 0, weights = 0;
    for (size_t i = 0; i < count; i++) {
        const struct contribution *one = &contributions[i];
        weights += one->weight;
        for (size_t j = 0; j < count; j++)
            sum += one->weight * contributions[j].weight *
                   pedigree_coancestry(pedigree, one->selection, contributions[j].selection);
    }
    return weights > 0 ? sum / (weights * weights) : NAN;
}

double pedigree_status_number(double group_coancestry)
{
    return 1 / (2 * group_coancestry);
}

/* Its own, or that of the row that stands for the clone. */
static double breeding_value_of(const struct selection *selection)
{
    if (!selection)
        return NAN;
    if (isnan(selection->breeding_value) && selection->self)
        return selection->self->breeding_value;
    return selection->breeding_value;
}

double pedigree_cross_value(const struct cross *cross)
{
    double of_pollen = breeding_value_of(cross->pollen_parent);
    if (cross->mix) {
        of_pollen = 0;
        for (size_t i = 0; i < cross->mix->part_count; i++) {
            const struct mix_part *part = &cross->mix->parts[i];
            of_pollen += part->share * breeding_value_of(part->selection);
        }
    }
    return (breeding_value_of(cross->seed_parent) + of_pollen) / 2;
}

/* What limits are told with: sums of halves are exact, shares of a mix are not. */
static const double rounding = 1e-12;

bool coancestry_is_refused(const struct program *program, double coancestry)
{
    return coancestry > program->coancestry_refuse + rounding;
}

bool coancestry_is_warned(const struct program *program, double coancestry)
{
    return coancestry > program->coancestry_warn + rounding;
}
