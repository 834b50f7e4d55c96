/*
 * identity_counts.c - counts that do not add up: what was counted on one bag or graft may belong to
 * another.
 */
#include "planning/identity_parts.h"

#include "orchard/words.h"

#include <math.h>

/* Seeds a cone beyond so many times the rate that holds there are not of these cones: own choice.
 */
static const double seeds_far_beyond = 4;

static void add_bag(struct identity_maker *maker, const struct bag *bag, const char *what)
{
    const struct graft_state *graft = state_graft(maker->state, bag->graft);
    struct identity_row *row = identity_add(maker, CONCERN_COUNTS, IDENTITY_BAG, bag->name);

    row->graft = bag->graft;
    row->selection_name = graft->selection != NULL ? graft->selection->name : NULL;
    row->since = bag->bagged_on;
    row->what = what;
}

/* What is counted later on, and of what it can only be a part. */
struct part {
    const char *what, *of_what;
    int count, of;
};

static void check_part(struct identity_maker *maker, const struct bag *bag, struct part part)
{
    if (part.of >= 0 && part.count > part.of)
        add_bag(maker, bag,
                arena_printf(maker->arena, "%d %s of %d %s", part.count, part.what, part.of,
                             part.of_what));
}

static double seeds_a_cone(const struct state *state, const struct bag *bag)
{
    int number = bag->season - orchard_cycle(state->orchard, bag->graft);

    return rate_on_graft(state->orchard, "seeds_per_cone", state_graft(state, bag->graft), number);
}

static void check_seeds(struct identity_maker *maker, const struct bag *bag)
{
    double rate = seeds_a_cone(maker->state, bag);

    if (bag->seeds <= 0 || bag->cones < 0)
        return;
    if (bag->cones == 0)
        add_bag(maker, bag, arena_printf(maker->arena, "%d seeds, and no cone", bag->seeds));
    else if (rate > 0 && bag->seeds > seeds_far_beyond * rate * bag->cones)
        add_bag(maker, bag,
                arena_printf(maker->arena, "%d seeds of %d cones, where %.0f a cone are usual",
                             bag->seeds, bag->cones, rate));
}

static void check_bag(struct identity_maker *maker, const struct bag *bag)
{
    check_part(maker, bag, (struct part){"conelets", "strobili", bag->conelets, bag->strobili});
    check_part(maker, bag, (struct part){"cones", "conelets", bag->cones, bag->conelets});
    if (bag->conelets < 0)
        check_part(maker, bag, (struct part){"cones", "strobili", bag->cones, bag->strobili});
    check_seeds(maker, bag);
}

/* More strobili in the bags of a season than were counted before these were hung. */
static void check_season(struct identity_maker *maker, const struct graft_state *of, int season)
{
    const struct state *state = maker->state;
    daynum on;
    int counted = state_strobili(state, of->graft, season, &on), inside = 0;
    struct identity_row *row;

    for (size_t i = 0; i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];

        if (bag->graft == of->graft && bag->season == season && bag->bagged_on >= on &&
            bag->lost_on == DAY_NONE && bag->strobili > 0)
            inside += bag->strobili;
    }
    if (counted < 0 || inside <= counted)
        return;
    row = identity_add_graft(maker, CONCERN_COUNTS, of);
    row->since = on;
    row->what = arena_printf(maker->arena, "%d strobili in bags of %d, and %d were counted on it",
                             inside, season, counted);
}

static void check_seasons(struct identity_maker *maker, const struct graft_state *of)
{
    int first = 0, last = -1;

    for (size_t i = 0; i < maker->state->bag_count; i++) {
        const struct bag *bag = &maker->state->bags[i];

        if (bag->graft != of->graft)
            continue;
        first = last < 0 || bag->season < first ? bag->season : first;
        last = bag->season > last ? bag->season : last;
    }
    for (int season = first; season <= last; season++)
        check_season(maker, of, season);
}

/* Dead or removed, and alive again: one of the two was another graft. */
static void check_survival(struct identity_maker *maker, const struct graft_state *of)
{
    size_t count;
    const struct graft_note *notes = state_notes_of(maker->state, of->graft, &count);
    daynum gone_on = DAY_NONE;
    enum condition gone = CONDITION_UNKNOWN;

    for (size_t i = 0; i < count; i++) {
        const struct note *note = notes[i].note;
        enum condition condition;
        char day[DAY_TEXT];
        struct identity_row *row;

        if (note->kind != NOTE_SURVIVAL || !condition_read(note->value, &condition))
            continue;
        if (condition == CONDITION_DEAD || condition == CONDITION_REMOVED) {
            gone = condition;
            gone_on = note->date;
        } else if (gone_on != DAY_NONE && !condition_is_gone(condition)) {
            row = identity_add_graft(maker, CONCERN_COUNTS, of);
            row->since = note->date;
            row->what =
                arena_printf(maker->arena, "%s, and it was noted %s on %s", note->value,
                             gone == CONDITION_DEAD ? "dead" : "removed", day_text(gone_on, day));
            gone_on = DAY_NONE;
        }
    }
}

void identity_add_counts(struct identity_maker *maker)
{
    for (size_t i = 0; i < maker->state->bag_count; i++)
        check_bag(maker, &maker->state->bags[i]);
    for (size_t i = 0; i < maker->orchard->grafts.count; i++) {
        if (maker->bags[i] > 0)
            check_seasons(maker, &maker->state->grafts[i]);
        check_survival(maker, &maker->state->grafts[i]);
    }
}
