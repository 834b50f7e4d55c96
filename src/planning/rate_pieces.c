#include "planning/rate_pieces.h"

#include "orchard/order.h"
#include "orchard/words.h"

#include <stdlib.h>
#include <string.h>

static const char *const names[RATE_KINDS] = {
    [RATE_SURVIVAL] = "survival",
    [RATE_STROBILI_PER_LIVE_GRAFT] = "strobili_per_live_graft",
    [RATE_BAGS_PER_GRAFT] = "bags_per_graft",
    [RATE_STROBILI_PER_BAG] = "strobili_per_bag",
    [RATE_BAGS_LOST] = "bags_lost",
    [RATE_CONELETS_KEPT] = "conelets_kept",
    [RATE_CONES_KEPT] = "cones_kept",
    [RATE_SEEDS_PER_CONE] = "seeds_per_cone",
    [RATE_MINUTES_EACH] = "minutes_each:",
};

struct counting {
    const struct state *state;
    struct arena *arena;
    const struct graft_note *notes; /* of the graft that is counted */
    size_t note_count;
    struct rate_pieces pieces;
};

static const char *one_name(const struct selection *selection)
{
    if (!selection)
        return NULL;
    return selection->self ? selection->self->name : selection->name;
}

static struct rate_piece *add(struct counting *counting, enum rate_kind kind, double counted,
                              double of)
{
    struct rate_pieces *pieces = &counting->pieces;
    struct rate_piece *piece =
        ARENA_PUSH(counting->arena, pieces->list, pieces->count, pieces->capacity);

    *piece = (struct rate_piece){.kind = kind, .rate = names[kind], .counted = counted, .of = of};
    return piece;
}

static struct rate_piece *add_of_graft(struct counting *counting, enum rate_kind kind,
                                       const struct graft *graft, int season)
{
    struct rate_piece *piece = add(counting, kind, 0, 1);
    const struct graft_state *of = state_graft(counting->state, graft);

    piece->season = season;
    piece->subject =
        graft_rate_subject(of, season - orchard_cycle(counting->state->orchard, graft));
    piece->subject.selection = one_name(of->selection);
    return piece;
}

/* What is known of a graft's life in one season. */
struct life {
    bool alive, dead;
};

static bool is_sign_of_life(const struct note *note)
{
    return note->kind == NOTE_STAGE || note->kind == NOTE_BAGGED || note->kind == NOTE_POLLINATED ||
           (note->kind == NOTE_STROBILI && note->number > 0);
}

/* A word of the day `on`; removing tells nothing, for dead ones are removed and living ones. */
static void take_word(enum condition condition, int season_of_word, int season, struct life *life)
{
    bool alive = condition == CONDITION_ALIVE || condition == CONDITION_DOUBTFUL;
    bool dead = condition == CONDITION_DEAD || condition == CONDITION_LOST;

    if (alive && season_of_word >= season)
        *life = (struct life){true, false};
    else if (dead && season_of_word <= season)
        *life = (struct life){false, true};
}

/* Words and signs in the order of time; a sign of life in the season outlives a death in it. */
static struct life life_in(const struct counting *counting, const struct graft *graft, int season)
{
    const struct graft_state *of = state_graft(counting->state, graft);
    struct season_rule rule = orchard_season_rule(counting->state->orchard, graft->tree->site);
    struct life life = {false, false};
    enum condition cell = graft->condition;
    bool sign = false, cell_taken = cell == CONDITION_UNKNOWN;

    if (!cell_taken && graft->condition_on == DAY_NONE && of->condition_on == DAY_NONE) {
        /* an undated word is of now, and a death of no day is of the first */
        life.alive = cell == CONDITION_ALIVE || cell == CONDITION_DOUBTFUL;
        life.dead = cell == CONDITION_DEAD || cell == CONDITION_LOST;
        cell_taken = true;
    }
    for (size_t i = 0; i < counting->note_count; i++) {
        const struct note *note = counting->notes[i].note;
        enum condition noted;
        int at = day_season(rule, note->date);

        if (!cell_taken && graft->condition_on != DAY_NONE && graft->condition_on < note->date) {
            take_word(cell, day_season(rule, graft->condition_on), season, &life);
            cell_taken = true;
        }
        if (note->kind == NOTE_SURVIVAL && condition_read(note->value, &noted))
            take_word(noted, at, season, &life);
        sign = sign || (is_sign_of_life(note) && at >= season);
    }
    if (!cell_taken && graft->condition_on != DAY_NONE)
        take_word(cell, day_season(rule, graft->condition_on), season, &life);
    if (of->condition == CONDITION_DEAD && of->condition_on != DAY_NONE)
        take_word(CONDITION_DEAD, day_season(rule, of->condition_on), season, &life);
    return sign ? (struct life){true, false} : life;
}

static void count_graft(struct counting *counting, const struct graft *graft)
{
    const struct orchard *orchard = counting->state->orchard;
    int cycle = orchard_cycle(orchard, graft);
    int now = day_season(orchard_season_rule(orchard, graft->tree->site), orchard->as_of);

    for (int season = cycle + 1; season <= cycle + 2; season++) {
        daynum on;
        int strobili = state_strobili(counting->state, graft, season, &on);
        struct life life = life_in(counting, graft, season);

        if (season < now && life.alive != life.dead)
            add_of_graft(counting, RATE_SURVIVAL, graft, season)->counted = life.alive;
        if (strobili > 0 || (strobili == 0 && !life.dead))
            add_of_graft(counting, RATE_STROBILI_PER_LIVE_GRAFT, graft, season)->counted = strobili;
    }
}

static bool has_counts(struct counting *counting, int counted, int of)
{
    if (counted < 0 || of <= 0)
        return false;
    counting->pieces.contradictory += counted > of;
    return counted <= of;
}

static void count_bag(struct counting *counting, const struct bag *bag)
{
    const struct orchard *orchard = counting->state->orchard;
    const struct graft *graft = bag->graft;
    int now = day_season(orchard_season_rule(orchard, graft->tree->site), orchard->as_of);
    bool lost = bag->lost_on != DAY_NONE;
    struct rate_piece *piece;

    if (bag->strobili >= 0)
        add_of_graft(counting, RATE_STROBILI_PER_BAG, graft, bag->season)->counted = bag->strobili;
    if (lost || bag->unbagged_on != DAY_NONE || bag->season < now)
        add_of_graft(counting, RATE_BAGS_LOST, graft, bag->season)->counted = lost;
    if (lost)
        return;
    if (bag->visits > 0 && has_counts(counting, bag->conelets, bag->strobili)) {
        piece = add_of_graft(counting, RATE_CONELETS_KEPT, graft, bag->season);
        piece->counted = bag->conelets;
        piece->of = bag->strobili;
    }
    if (has_counts(counting, bag->cones, bag->conelets)) {
        piece = add_of_graft(counting, RATE_CONES_KEPT, graft, bag->season);
        piece->counted = bag->cones;
        piece->of = bag->conelets;
    }
    if (bag->cones > 0 && bag->seeds >= 0) {
        piece = add_of_graft(counting, RATE_SEEDS_PER_CONE, graft, bag->season);
        piece->counted = bag->seeds;
        piece->of = bag->cones;
    }
}

/* A graft in a season. */
struct borne {
    const struct graft *graft;
    int season;
};

static int order_borne(const void *left, const void *right)
{
    const struct borne *a = left, *b = right;
    int order = order_text(a->graft->tag, b->graft->tag);

    return order != 0 ? order : order_whole(a->season, b->season);
}

static void count_bags(struct counting *counting)
{
    const struct state *state = counting->state;
    struct borne *borne = ARENA_ARRAY(counting->arena, state->bag_count, struct borne);
    size_t n = 0;

    for (size_t i = 0; i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];

        if (!bag->graft->tree || bag->graft->grafted_on == DAY_NONE)
            continue;
        count_bag(counting, bag);
        borne[n++] = (struct borne){bag->graft, bag->season};
    }
    if (n > 1)
        qsort(borne, n, sizeof *borne, order_borne);
    for (size_t i = 0, end; i < n; i = end) {
        for (end = i + 1; end < n && order_borne(&borne[i], &borne[end]) == 0;)
            end++;
        add_of_graft(counting, RATE_BAGS_PER_GRAFT, borne[i].graft, borne[i].season)->counted =
            (double)(end - i);
    }
}

/* The host of work at a tree. */
static struct rate_subject subject_of_tree(const struct tree *tree)
{
    return (struct rate_subject){
        .host_species = tree->species, .clone = tree->clone, .site = tree->site_name};
}

static void count_minutes(struct counting *counting)
{
    const struct state *state = counting->state;
    const struct orchard *orchard = state->orchard;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const struct graft *graft;
        const struct tree *tree;
        const struct site *site;
        struct rate_piece *piece;
        struct bag_name bag;

        if (note->kind != NOTE_DONE || !(note->number > 0) || !orchard_task(orchard, note->task))
            continue;
        graft = note->bag && bag_name_read(note->bag, &bag)
                    ? orchard_graft(orchard, arena_text(counting->arena, bag.tag_length, note->bag))
                    : orchard_graft(orchard, note->tag);
        tree = orchard_tree(orchard, note->tree);
        site = graft && graft->tree ? graft->tree->site
               : tree               ? tree->site
                                    : orchard_site(orchard, note->site);
        int season = day_season(orchard_season_rule(orchard, site), note->date);
        if (graft && graft->tree) {
            piece = add_of_graft(counting, RATE_MINUTES_EACH, graft, season);
        } else {
            piece = add(counting, RATE_MINUTES_EACH, 0, 1);
            piece->season = season;
            if (tree)
                piece->subject = subject_of_tree(tree);
            else
                piece->subject.site = site ? site->name : NULL;
        }
        piece->rate = arena_printf(counting->arena, "%s%s", names[RATE_MINUTES_EACH], note->task);
        piece->counted = note->number;
        counting->pieces.timed++;
    }
}

static int order_piece(const void *left, const void *right)
{
    const struct rate_piece *a = left, *b = right;
    int order = (int)a->kind - (int)b->kind;

    if (order == 0)
        order = order_text(a->rate, b->rate);
    if (order == 0)
        order = order_whole(a->season, b->season);
    if (order == 0)
        order = a->subject.season_number - b->subject.season_number;
    if (order == 0)
        order = order_text(a->subject.host_species, b->subject.host_species);
    if (order == 0)
        order = order_text(a->subject.site, b->subject.site);
    if (order == 0)
        order = order_text(a->subject.clone, b->subject.clone);
    if (order == 0)
        order = order_text(a->subject.selection, b->subject.selection);
    if (order == 0)
        order = order_number(a->counted, b->counted);
    return order != 0 ? order : order_number(a->of, b->of);
}

struct rate_pieces rate_pieces_of(const struct state *state, struct arena *arena)
{
    struct counting counting = {.state = state, .arena = arena};

    for (size_t i = 0, end = 0, first; i < state->orchard->grafts.count; i++) {
        const struct graft *graft = &state->orchard->grafts.list[i];

        for (first = end; end < state->graft_note_count && state->graft_notes[end].graft == graft;)
            end++;
        counting.notes = state->graft_notes + first;
        counting.note_count = end - first;
        if (graft->tree && graft->grafted_on != DAY_NONE)
            count_graft(&counting, graft);
    }
    count_bags(&counting);
    count_minutes(&counting);
    if (counting.pieces.count > 1)
        qsort(counting.pieces.list, counting.pieces.count, sizeof *counting.pieces.list,
              order_piece);
    return counting.pieces;
}
