/*
 * Grafts, and what is asked of the whole.  Notes come sorted by day and kind (orchard_link), so
 * going through them forward is going through time.
 */
#include "orchard/state.h"

#include "orchard/order.h"
#include "orchard/state_parts.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

const struct graft *state_graft_of_bag(const struct orchard *orchard, struct arena *arena,
                                       const char *bag, struct bag_name *parts)
{
    if (!bag_name_read(bag, parts))
        return NULL;
    return orchard_graft(orchard, arena_text(arena, parts->tag_length, bag));
}

static int order_graft_note(const void *left, const void *right)
{
    const struct graft_note *a = left, *b = right;
    if (a->graft != b->graft) /* both point into one list */
        return a->graft < b->graft ? -1 : 1;
    return (a->note > b->note) - (a->note < b->note);
}

static void index_notes(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    state->graft_notes = ARENA_ARRAY(arena, orchard->notes.count, struct graft_note);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        struct bag_name parts;
        const struct graft *graft = note->bag
                                        ? state_graft_of_bag(orchard, arena, note->bag, &parts)
                                        : orchard_graft(orchard, note->tag);
        if (graft)
            state->graft_notes[state->graft_note_count++] = (struct graft_note){graft, note};
    }
    if (state->graft_note_count > 1)
        qsort(state->graft_notes, state->graft_note_count, sizeof *state->graft_notes,
              order_graft_note);
}

const struct graft_note *state_notes_of(const struct state *state, const struct graft *graft,
                                        size_t *count)
{
    size_t low = 0, high = state->graft_note_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (state->graft_notes[middle].graft < graft)
            low = middle + 1;
        else
            high = middle;
    }
    size_t end = low;
    while (end < state->graft_note_count && state->graft_notes[end].graft == graft)
        end++;
    *count = end - low;
    return state->graft_notes + low;
}

/* The newest dated word on or before `day`; *on: its day.  An undated cell is not looked at. */
static enum condition dated_condition(const struct state *state, const struct graft *graft,
                                      daynum day, daynum *on)
{
    enum condition condition = CONDITION_UNKNOWN;
    *on = DAY_NONE;
    if (graft->condition != CONDITION_UNKNOWN && graft->condition_on != DAY_NONE &&
        graft->condition_on <= day) {
        condition = graft->condition;
        *on = graft->condition_on;
    }
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count && notes[i].note->date <= day; i++) {
        enum condition noted;
        const struct note *note = notes[i].note;
        if (note->kind == NOTE_SURVIVAL && note->date >= *on &&
            condition_read(note->value, &noted)) {
            condition = noted;
            *on = note->date;
        }
    }
    return condition;
}

enum condition state_condition_on(const struct state *state, const struct graft *graft, daynum day)
{
    daynum on;
    return dated_condition(state, graft, day, &on);
}

static void set_condition(const struct state *state, struct graft_state *of)
{
    const struct graft *graft = of->graft;
    of->condition = dated_condition(state, graft, DAY_LAST, &of->condition_on);
    if (of->condition == CONDITION_UNKNOWN)
        of->condition = graft->condition; /* an undated cell: present truth */

    /* No graft outlives its tree, whatever was written before the tree died. */
    const struct tree *tree = graft->tree;
    bool may_live = of->condition == CONDITION_UNKNOWN || of->condition == CONDITION_ALIVE ||
                    of->condition == CONDITION_DOUBTFUL;
    if (tree && tree->health == HEALTH_DEAD && may_live &&
        (tree->health_on == DAY_NONE || of->condition_on <= tree->health_on)) {
        of->condition = CONDITION_DEAD;
        of->condition_on = tree->health_on;
    }
}

static size_t index_of_tree(const struct state *state, const struct tree *tree)
{
    return (size_t)(tree - state->orchard->trees.list);
}

static void find_relabelled_trees(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    state->relabelled_trees = ARENA_ARRAY(arena, orchard->trees.count, const struct note *);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const struct tree *tree =
            note->kind == NOTE_RELABELLED ? orchard_tree(orchard, note->tree) : NULL;
        if (tree)
            state->relabelled_trees[index_of_tree(state, tree)] = note;
    }
}

const struct note *state_relabelled(const struct state *state, const struct note *own,
                                    const struct tree *source)
{
    const struct note *of_source =
        source ? state->relabelled_trees[index_of_tree(state, source)] : NULL;
    return of_source && (!own || of_source->date > own->date) ? of_source : own;
}

static void set_selection(const struct state *state, struct graft_state *of)
{
    const struct graft *graft = of->graft;
    const struct note *relabelled = NULL;
    bool cleared = false; /* verified after the table said `wrong` */
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        if (note->kind == NOTE_RELABELLED && !note->bag)
            relabelled = note;
        cleared = cleared ||
                  (note->kind == NOTE_VERIFIED && !note->bag && note->date > graft->identity_on);
    }
    relabelled =
        state_relabelled(state, relabelled, graft->batch ? graft->batch->source_tree : NULL);
    of->relabelled = relabelled != NULL;
    if (relabelled) /* "unknown" is no selection */
        of->selection = orchard_selection(state->orchard, relabelled->value);
    else if (graft->identity == IDENTITY_WRONG && !cleared)
        of->selection = NULL;
    else
        of->selection = graft->selection;
}

void state_make_grafts(struct state *state, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    index_notes(state, arena);
    state->grafts = ARENA_ARRAY(arena, orchard->grafts.count, struct graft_state);
    state->taken = arena_alloc(arena, orchard->trees.count, sizeof *state->taken);

    find_relabelled_trees(state, arena);
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        struct graft_state *of = &state->grafts[i];
        of->graft = &orchard->grafts.list[i];
        set_condition(state, of);
        set_selection(state, of);
        if (of->graft->tree && of->condition != CONDITION_REMOVED)
            state->taken[index_of_tree(state, of->graft->tree)][of->graft->crown]++;
    }
}

const struct state *state_of(const struct orchard *orchard, struct arena *arena,
                             struct diags *diags)
{
    struct diags unheard;
    if (!diags) {
        diags_init(&unheard, arena);
        diags = &unheard;
    }
    struct state *state = ARENA_NEW(arena, struct state);
    state->orchard = orchard;
    state_make_grafts(state, arena);
    state_make_bags(state, arena, diags);
    state_make_lots(state, arena, diags);
    return state;
}

const struct graft_state *state_graft(const struct state *state, const struct graft *graft)
{
    if (!graft)
        return NULL;
    size_t index = (size_t)(graft - state->orchard->grafts.list);
    assert(index < state->orchard->grafts.count);
    return &state->grafts[index];
}

static struct season_rule rule_of(const struct state *state, const struct graft *graft)
{
    return orchard_season_rule(state->orchard, graft->tree ? graft->tree->site : NULL);
}

int state_strobili(const struct state *state, const struct graft *graft, int season, daynum *on)
{
    struct season_rule rule = rule_of(state, graft);
    int strobili = -1;
    *on = DAY_NONE;
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        if (note->kind == NOTE_STROBILI && !note->bag && note->number >= 0 &&
            day_season(rule, note->date) == season) {
            strobili = (int)note->number;
            *on = note->date;
        }
    }
    return strobili;
}

/* The newest stage in `season` among notes of a graft; of one bag when `number` is not 0. */
static void newest_stage(const struct state *state, const struct graft *graft, int season,
                         int number, int *low, int *high, daynum *on)
{
    struct season_rule rule = rule_of(state, graft);
    *low = *high = 0;
    *on = DAY_NONE;
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        struct bag_name bag;
        if (note->kind != NOTE_STAGE || day_season(rule, note->date) != season)
            continue;
        if (number &&
            !(bag_name_read(note->bag, &bag) && bag.season == season && bag.number == number))
            continue;
        if (stage_read(note->value, low, high))
            *on = note->date;
    }
}

void state_stage(const struct state *state, const struct graft *graft, int season, int *low,
                 int *high, daynum *on)
{
    newest_stage(state, graft, season, 0, low, high, on);
}

void state_bag_stage(const struct state *state, const struct bag *bag, int *low, int *high,
                     daynum *on)
{
    newest_stage(state, bag->graft, bag->season, bag->number, low, high, on);
}

int state_free_places(const struct state *state, const struct tree *tree, enum crown crown)
{
    if (crown == CROWN_UNKNOWN || tree->places[crown] < 0)
        return -1;
    int left = tree->places[crown] - state->taken[index_of_tree(state, tree)][crown];
    return left > 0 ? left : 0;
}
