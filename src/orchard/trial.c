#include "orchard/trial.h"

#include "orchard/state.h"

#include <string.h>

static void *copied(struct arena *arena, const void *list, size_t count, size_t size)
{
    void *copy = arena_alloc(arena, count, size);
    if (count > 0)
        memcpy(copy, list, count * size);
    return copy;
}

#define COPY(member)                                                                               \
    (copy.member.list =                                                                            \
         copied(arena, copy.member.list, copy.member.count, sizeof *copy.member.list),             \
     copy.member.capacity = copy.member.count)

struct orchard orchard_copy(const struct orchard *orchard, struct arena *arena)
{
    struct orchard copy = *orchard;
    copy.arena = arena;
    COPY(sites);
    COPY(stations);
    COPY(records);
    COPY(forecasts);
    COPY(trees);
    COPY(selections);
    COPY(batches);
    COPY(grafts);
    COPY(crosses);
    COPY(lots);
    COPY(crews);
    COPY(lifts);
    COPY(thresholds);
    COPY(rates);
    COPY(tasks);
    COPY(notes);
    COPY(graft_names);
    for (size_t i = 0; i < copy.lots.count; i++) {
        struct lot *lot = &copy.lots.list[i];
        lot->parts = copied(arena, lot->parts, lot->part_count, sizeof *lot->parts);
    }
    return copy;
}

/* A fault outlives the trial: all it points at is copied. */
static void keep(struct diags *diags, const struct diag *diag)
{
    struct place place = diag->place;
    if (place.file)
        place.file = arena_text(diags->arena, strlen(place.file), place.file);
    if (diag->level == DIAG_ERROR)
        diag_error(diags, place, diag->code, "%s", diag->message);
    else
        diag_warning(diags, place, diag->code, "%s", diag->message);
}

void trial_faults(const struct trial *trial, size_t count, struct diags *diags)
{
    struct arena arena;
    struct diags here;
    arena_init(&arena, diags->arena->refused);
    diags_init(&here, &arena);
    here.most = diags->most;

    struct orchard orchard = orchard_copy(trial->orchard, &arena);
    for (size_t i = 0; i < count; i++)
        *ARENA_PUSH(&arena, orchard.notes.list, orchard.notes.count, orchard.notes.capacity) =
            trial->notes[i];
    orchard_link(&orchard, &here);
    orchard_audit(&orchard, trial->today, &here);
    (void)state_of(&orchard, &arena, &here);
    for (size_t i = 0; i < here.count; i++)
        keep(diags, &here.list[i]);
    arena_release(&arena);
}
