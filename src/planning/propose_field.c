/* propose_field.c - the candidates, a clone once, and what is known of every pair of them. */
#include "planning/propose_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum propose_reason field_reason(const struct field *field, size_t a, size_t b)
{
    return (enum propose_reason)field->reason[a * field->count + b];
}

double field_coancestry(const struct field *field, size_t a, size_t b)
{
    return field->coancestry[a * field->count + b];
}

static size_t index_of(const struct orchard *orchard, const struct selection *selection)
{
    const struct selection *self = selection->self ? selection->self : selection;

    return (size_t)(self - orchard->selections.list);
}

/* The breeding value of a clone: of the row that stands for it, else of its first other name. */
static double value_of(const struct orchard *orchard, const struct selection *self)
{
    double value = self->breeding_value;

    for (size_t i = 0; i < orchard->selections.count && isnan(value); i++)
        if (selection_same(&orchard->selections.list[i], self))
            value = orchard->selections.list[i].breeding_value;
    return value;
}

static const char *species_of(const struct orchard *orchard, const struct selection *self)
{
    const char *species = self->species;

    for (size_t i = 0; i < orchard->selections.count && !species; i++)
        if (selection_same(&orchard->selections.list[i], self))
            species = orchard->selections.list[i].species;
    return species;
}

/* The highest value first, unknown ones last; then by name. */
static int by_value(const void *left, const void *right)
{
    const struct proposed_parent *a = left, *b = right;
    bool a_known = !isnan(a->breeding_value), b_known = !isnan(b->breeding_value);

    if (a_known != b_known)
        return a_known ? -1 : 1;
    if (a_known && a->breeding_value != b->breeding_value)
        return a->breeding_value > b->breeding_value ? -1 : 1;
    return strcmp(a->selection->name, b->selection->name);
}

/* Marks [selections.count]: 1 named as a parent, 2 as a tester. */
static unsigned char *mark_named(const struct field *field)
{
    const struct propose_request *request = field->request;
    unsigned char *marks =
        ARENA_ARRAY(field->arena, field->orchard->selections.count, unsigned char);

    for (size_t i = 0; i < request->parent_count; i++)
        marks[index_of(field->orchard, request->parents[i])] |= 1;
    for (size_t i = 0; i < request->tester_count; i++)
        marks[index_of(field->orchard, request->testers[i])] |= 2;
    return marks;
}

static void gather(struct field *field, const unsigned char *marks)
{
    const struct orchard *orchard = field->orchard;
    size_t at = 0;

    field->parents = ARENA_ARRAY(field->arena, field->count, struct proposed_parent);
    field->as_seed = ARENA_ARRAY(field->arena, field->count, bool);
    field->as_pollen = ARENA_ARRAY(field->arena, field->count, bool);
    for (size_t i = 0; i < orchard->selections.count; i++) {
        const struct selection *self = &orchard->selections.list[i];

        if (marks[i])
            field->parents[at++] = (struct proposed_parent){
                .selection = self,
                .breeding_value = value_of(orchard, self),
                .tester = marks[i] == 2,
                .best_share = NAN,
            };
    }
    qsort(field->parents, field->count, sizeof *field->parents, by_value);
    for (size_t i = 0; i < field->count; i++) {
        unsigned char mark = marks[index_of(orchard, field->parents[i].selection)];

        field->as_seed[i] = mark & 1;
        field->as_pollen[i] = mark & 2;
    }
}

/* Crosses of the folder between two candidates; one that is still wanted is told before others. */
static void see_asked(struct field *field, const size_t *place)
{
    const struct orchard *orchard = field->orchard;

    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];
        size_t a, b;

        if (!cross->seed_parent || !cross->pollen_parent)
            continue;
        a = place[index_of(orchard, cross->seed_parent)];
        b = place[index_of(orchard, cross->pollen_parent)];
        if (a == 0 || b == 0 || a == b)
            continue;
        for (int turn = 0; turn < 2; turn++) {
            const struct cross **by = &field->asked_by[turn ? (b - 1) * field->count + a - 1
                                                            : (a - 1) * field->count + b - 1];
            if (!*by || ((*by)->state == CROSS_CANCELLED && cross->state != CROSS_CANCELLED))
                *by = cross;
        }
    }
}

static enum propose_reason judge(const struct field *field, size_t a, size_t b,
                                 const char *const *species)
{
    if (a == b)
        return PROPOSE_SELF;
    if (coancestry_is_refused(&field->orchard->program, field_coancestry(field, a, b)))
        return PROPOSE_KIN;
    if (species[a] && species[b] && strcmp(species[a], species[b]) != 0)
        return PROPOSE_SPECIES;
    return field->asked_by[a * field->count + b] ? PROPOSE_ASKED : PROPOSE_ALLOWED;
}

static void see_pairs(struct field *field)
{
    size_t count = field->count;
    size_t *place = ARENA_ARRAY(field->arena, field->orchard->selections.count, size_t);
    const char **species = ARENA_ARRAY(field->arena, count, const char *);

    field->coancestry = ARENA_ARRAY(field->arena, count * count, double);
    field->reason = ARENA_ARRAY(field->arena, count * count, unsigned char);
    field->asked_by = ARENA_ARRAY(field->arena, count * count, const struct cross *);
    for (size_t i = 0; i < count; i++) {
        place[index_of(field->orchard, field->parents[i].selection)] = i + 1;
        species[i] = species_of(field->orchard, field->parents[i].selection);
    }
    see_asked(field, place);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j <= i; j++) {
            field->coancestry[i * count + j] = field->coancestry[j * count + i] =
                pedigree_coancestry(field->pedigree, field->parents[i].selection,
                                    field->parents[j].selection);
            field->reason[i * count + j] = field->reason[j * count + i] =
                (unsigned char)judge(field, i, j, species);
        }
}

const char *field_of(struct field *field)
{
    unsigned char *marks = mark_named(field);

    field->count = 0;
    for (size_t i = 0; i < field->orchard->selections.count; i++)
        field->count += marks[i] != 0;
    if (field->count < 2)
        return field->count ? "there is one candidate, and a cross needs two clones"
                            : "there is no candidate, and a cross needs two clones";
    if (field->count > PROPOSE_PARENTS_MOST)
        return arena_printf(field->arena, "there are %zu candidates, expected at most %d",
                            field->count, PROPOSE_PARENTS_MOST);
    gather(field, marks);
    see_pairs(field);
    return NULL;
}
