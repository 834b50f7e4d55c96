#include "planning/looks.h"

#include "orchard/words.h"
#include "planning/sights.h"

const enum event looked_events[LOOKED_EVENTS] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK,
                                                 EVENT_LAST};

/* All that was seen on one day, from the lowest stage to the highest. */
struct look {
    daynum date;
    int low, high;
};

static void add_look(struct looks *looks, const struct look *look)
{
    looks->count++;
    for (int i = 0; i < LOOKED_EVENTS; i++) {
        if (looks->by[i] != DAY_NONE)
            continue;
        if (!sight_has_come(looked_events[i], look->low, look->high)) {
            looks->after[i] = look->date;
            continue;
        }
        looks->by[i] = look->date;
        looks->come = i + 1;
    }
}

/* A bag of the same season and number, whatever the tag that its graft had then. */
static bool is_of_bag(const struct note *note, const struct bag *bag)
{
    struct bag_name name;

    if (!note->bag)
        return note->date <= bag->bagged_on;
    return bag_name_read(note->bag, &name) && name.season == bag->season &&
           name.number == bag->number;
}

/* Notes come by day; looks of one day are taken together. */
static struct looks looks_of(const struct state *state, const struct graft *graft, int season,
                             const struct bag *bag)
{
    struct season_rule rule =
        orchard_season_rule(state->orchard, graft->tree ? graft->tree->site : NULL);
    struct looks looks = {0};
    struct look day = {.date = DAY_NONE};
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);

    for (int i = 0; i < LOOKED_EVENTS; i++)
        looks.after[i] = looks.by[i] = DAY_NONE;
    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        int low, high;

        if (note->kind != NOTE_STAGE || day_season(rule, note->date) != season ||
            (bag ? !is_of_bag(note, bag) : note->bag != NULL) ||
            !stage_read(note->value, &low, &high))
            continue;
        if (day.date == note->date) {
            day.low = low < day.low ? low : day.low;
            day.high = high > day.high ? high : day.high;
            continue;
        }
        if (day.date != DAY_NONE)
            add_look(&looks, &day);
        day = (struct look){note->date, low, high};
    }
    if (day.date != DAY_NONE)
        add_look(&looks, &day);
    return looks;
}

struct looks looks_at_graft(const struct state *state, const struct graft *graft, int season)
{
    return looks_of(state, graft, season, NULL);
}

struct looks looks_at_bag(const struct state *state, const struct bag *bag)
{
    return looks_of(state, bag->graft, bag->season, bag);
}
