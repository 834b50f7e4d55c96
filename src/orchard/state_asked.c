/*
 * What is asked of a state once it is made.
 */
#include "orchard/order.h"
#include "orchard/state_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

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

/* The bag of a `strobili` note of 0, if it is of that season and never hung; else NULL. */
static const char *empty_shoot(const struct state *state, const struct note *note, int season)
{
    struct bag_name name;
    if (note->kind != NOTE_STROBILI || !(note->number <= 0) || !bag_name_read(note->bag, &name) ||
        name.season != season || state_bag(state, note->bag))
        return NULL;
    return note->bag;
}

int state_empty_shoots(const struct state *state, const struct graft *graft, int season)
{
    daynum counted_on;
    (void)state_strobili(state, graft, season, &counted_on);
    int empty = 0;
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    for (size_t i = 0; i < count; i++) {
        const char *bag = empty_shoot(state, notes[i].note, season);
        if (!bag || (counted_on != DAY_NONE && notes[i].note->date < counted_on))
            continue;
        bool again = false;
        for (size_t j = i + 1; j < count && !again; j++)
            again = order_text(empty_shoot(state, notes[j].note, season), bag) == 0;
        empty += !again;
    }
    return empty;
}

/* The newest stage in `season` among notes of a graft, all of its day together; of one bag when
 * `number` is not 0. */
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
        int lowest, highest;
        if (!stage_read(note->value, &lowest, &highest))
            continue;
        bool same_day = *on == note->date;
        *low = same_day && *low < lowest ? *low : lowest;
        *high = same_day && *high > highest ? *high : highest;
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
    int left = tree->places[crown] - state->taken[tree - state->orchard->trees.list][crown];
    return left > 0 ? left : 0;
}

const struct bag *state_bag(const struct state *state, const char *name)
{
    size_t low = 0, high = state->bag_count;
    if (!name)
        return NULL;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(state->bags[middle].name, name) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    if (low < state->bag_count && strcmp(state->bags[low].name, name) == 0)
        return &state->bags[low];

    /* Perhaps its graft was retagged while it hung. */
    struct bag_name parts;
    const struct graft *graft =
        state_graft_of_bag(state->orchard, state->orchard->arena, name, &parts);
    for (size_t i = 0; graft && i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];
        if (bag->graft == graft && bag->season == parts.season && bag->number == parts.number)
            return bag;
    }
    return NULL;
}

struct rate_subject graft_rate_subject(const struct graft_state *graft, int season_number)
{
    const struct tree *tree = graft->graft->tree;

    return (struct rate_subject){
        .host_species = tree->species,
        .clone = tree->clone,
        .site = tree->site_name,
        .selection = graft->selection != NULL ? graft->selection->name : NULL,
        .season_number = season_number,
    };
}

double rate_on_graft(const struct orchard *orchard, const char *rate,
                     const struct graft_state *graft, int season_number)
{
    const struct rate *found = rate_find(orchard, rate, graft_rate_subject(graft, season_number));

    return found != NULL ? number_of_decimal(found->value) : (double)NAN;
}
