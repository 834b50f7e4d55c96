#include "planning/placement.h"

#include "orchard/order.h"
#include "orchard/words.h"
#include "planning/placement_parts.h"

#include <math.h>
#include <stdlib.h>

const double placement_crown_share[CROWNS] = {
    [CROWN_TOP] = 1.3, [CROWN_MIDDLE] = 1.0, [CROWN_LOW] = 0.6};

const char *const placement_cause_words[PLACEMENT_CAUSES] = {
    [PLACEMENT_NONE] = "",
    [PLACEMENT_TREE_WEAK] = "weak tree",
    [PLACEMENT_TREE_DEAD] = "dead tree",
    [PLACEMENT_OUT_OF_REACH] = "out of reach",
    [PLACEMENT_CLOSED] = "grafting is closed",
    [PLACEMENT_NOT_COUNTED] = "places not counted",
    [PLACEMENT_FULL] = "no free place",
    [PLACEMENT_TOO_OLD] = "too long in store",
    [PLACEMENT_DISCARDED] = "discarded",
    [PLACEMENT_NO_COUNT] = "scions not counted",
    [PLACEMENT_RELABELLED] = "their tree was relabelled",
    [PLACEMENT_NOT_WANTED] = "not wanted",
    [PLACEMENT_NO_PLACE] = "no free place on a suited tree",
    [PLACEMENT_TAKEN] = "no more free places on suited trees",
    [PLACEMENT_GIVEN_AWAY] = "places go to grafts that bring more",
    [PLACEMENT_SPREAD] = "no more may stand together",
    [PLACEMENT_NO_SCIONS] = "no scions in store",
    [PLACEMENT_NO_NUMBER] = "no number of grafts meets the demand",
};

/* A tie is broken toward trees without living grafts of the selection: worth less than 1/1000
 * strobilus, were every graft so placed. */
enum { TIES = 1 << 14 };

/* [orchard->trees.count]: living grafts of the selection. */
static int *living_of(const struct placement_maker *maker, const struct selection *selection)
{
    const struct orchard *orchard = maker->orchard;
    int *living = ARENA_ARRAY(maker->arena, orchard->trees.count, int);

    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft_state *of = &maker->inputs->state->grafts[i];

        if (of->graft->tree != NULL && !condition_is_gone(of->condition) &&
            selection_same(of->selection, selection))
            living[of->graft->tree - orchard->trees.list]++;
    }
    return living;
}

int64_t placement_gain(double strobili, double weight)
{
    double gain = 1000 * strobili * weight;

    if (!(gain > 0))
        return 0;
    return gain < 1e9 ? (int64_t)ceil(gain) : 1000000000;
}

static double strobili_in(const struct host_promise *promise, enum crown crown)
{
    return host_promise_sum(promise) * placement_crown_share[crown];
}

static double weight_of(const struct placement_maker *maker, const struct placed_selection *row)
{
    return row->priority > 0 ? maker->orchard->program.priority_weights[row->priority - 1] : 1;
}

/* Gains of one selection, zone by zone. */
static void set_gains(const struct placement_maker *maker, size_t s, int64_t *gain)
{
    const struct placed_selection *row = &maker->placement->selections.list[s];
    const int *living = living_of(maker, row->selection);
    const struct tree *tree = NULL;
    struct host_promise promise = {{0, 0}, {0, 0}, NULL};
    bool suited = false;

    for (size_t z = 0; z < maker->question.zones; z++) {
        const struct placement_offer *offer = &maker->offers[z];

        if (offer->tree != tree) {
            tree = offer->tree;
            suited = !selection_unsuited(maker->orchard, row->selection, tree);
            promise = hosts_promise(maker->inputs->hosts, tree, row->selection);
        }
        if (!suited)
            continue;
        gain[z] = TIES * placement_gain(strobili_in(&promise, offer->crown), weight_of(maker, row));
        gain[z] -= gain[z] > 0 && living[tree - maker->orchard->trees.list] > 0;
    }
}

/* Trees and clones where the selection may stand, or of `taken` does. */
struct stands {
    size_t trees, clones;
    int64_t free, most_on_tree, most_on_clone;
};

static struct stands stands_of(const struct placement_maker *maker, const int64_t *numbers)
{
    const struct placement_question *question = &maker->question;
    int64_t *on_clone = ARENA_ARRAY(maker->arena, question->clones, int64_t), on_tree = 0;
    struct stands stands = {0, 0, 0, 0, 0};
    size_t last = question->trees;

    for (size_t z = 0; z < question->zones; z++) {
        const struct placement_zone *zone = &maker->zones[z];

        if (numbers[z] <= 0)
            continue;
        if (zone->tree != last) {
            stands.trees++;
            on_tree = 0;
            last = zone->tree;
        }
        stands.clones += on_clone[zone->clone] == 0;
        on_tree += numbers[z];
        on_clone[zone->clone] += numbers[z];
        stands.free += zone->free;
        stands.most_on_tree = on_tree > stands.most_on_tree ? on_tree : stands.most_on_tree;
        if (on_clone[zone->clone] > stands.most_on_clone)
            stands.most_on_clone = on_clone[zone->clone];
    }
    return stands;
}

static int64_t least_of(size_t there, int64_t count, int least)
{
    int64_t on = count < least ? count : least;

    return (int64_t)there < on ? (int64_t)there : on;
}

struct spread {
    const struct placement_maker *maker;
    struct placement_wish *wishes;
    const int64_t *gain;
};

static void set_limits(const struct spread *spread, size_t s, int64_t count)
{
    const struct placement_maker *maker = spread->maker;
    const struct placement_options *options = &maker->inputs->options;
    struct stands may = stands_of(maker, &spread->gain[s * maker->question.zones]);
    struct placement_wish *wish = &spread->wishes[s];

    wish->most_on_tree = placement_most_on_one(count, options->trees_least, (int64_t)may.trees);
    wish->most_on_clone = placement_most_on_one(count, options->clones_least, (int64_t)may.clones);
}

/* Where fewer are placed than wanted, the limits for so many may leave them too close. */
static bool tighten(const struct spread *spread, const struct placement_choice *choice)
{
    const struct placement_maker *maker = spread->maker;
    const struct placement_options *options = &maker->inputs->options;
    bool any = false;

    for (size_t s = 0; s < maker->question.selections; s++) {
        size_t at = s * maker->question.zones;
        struct stands may = stands_of(maker, &spread->gain[at]);
        struct stands are = stands_of(maker, &choice->taken[at]);
        int64_t placed = 0;

        for (size_t z = 0; z < maker->question.zones; z++)
            placed += choice->taken[at + z];
        if ((int64_t)are.trees >= least_of(may.trees, placed, options->trees_least) &&
            (int64_t)are.clones >= least_of(may.clones, placed, options->clones_least))
            continue;
        set_limits(spread, s, placed);
        any = true;
    }
    return any;
}

static void keep_limits(struct placement_maker *maker, const struct placement_wish *wishes)
{
    for (size_t s = 0; s < maker->question.selections; s++) {
        maker->placement->selections.list[s].most_on_tree = wishes[s].most_on_tree;
        maker->placement->selections.list[s].most_on_clone = wishes[s].most_on_clone;
    }
}

/* A second pass is kept where it places as many. */
static struct placement_choice choose(struct placement_maker *maker, struct spread *spread)
{
    struct placement_choice first, second;

    if (!placement_choose(&maker->question, maker->arena, &first)) {
        maker->placement->too_large = true;
        return first;
    }
    keep_limits(maker, spread->wishes);
    if (tighten(spread, &first) && placement_choose(&maker->question, maker->arena, &second) &&
        second.placed == first.placed) {
        maker->placement->spread_again = true;
        keep_limits(maker, spread->wishes);
        return second;
    }
    return first;
}

static void add_graft(struct placement_maker *maker, size_t s, size_t z)
{
    struct placement *placement = maker->placement;
    struct placed_selection *row = &placement->selections.list[s];
    const struct placement_offer *offer = &maker->offers[z];
    struct placed_graft *graft = ARENA_PUSH(maker->arena, placement->grafts.list,
                                            placement->grafts.count, placement->grafts.capacity);

    *graft = (struct placed_graft){
        .selection = row->selection,
        .tree = offer->tree,
        .crown = offer->crown,
        .promise = hosts_promise(maker->inputs->hosts, offer->tree, row->selection),
    };
    graft->strobili = strobili_in(&graft->promise, graft->crown);
    row->placed++;
    row->strobili += graft->strobili;
}

/* Where grafts of the selection stand already. */
static void see_living(struct placement_maker *maker, struct placed_selection *row)
{
    const struct orchard *orchard = maker->orchard;
    const int *living = living_of(maker, row->selection);

    for (size_t t = 0; t < orchard->trees.count; t++)
        row->trees_before += living[t] > 0;
    for (size_t i = 0; i < maker->placement->grafts.count; i++) {
        struct placed_graft *graft = &maker->placement->grafts.list[i];

        if (graft->selection == row->selection)
            graft->beside_its_like = living[graft->tree - orchard->trees.list] > 0;
    }
}

/* Why not all that is wanted is placed; `left`: places that nobody takes. */
static enum placement_cause cause_of(const struct placement_maker *maker, const int64_t *gain,
                                     const int64_t *taken, const int64_t *left)
{
    bool any = false, rest = false, others = false;

    for (size_t z = 0; z < maker->question.zones; z++) {
        if (gain[z] <= 0)
            continue;
        any = true;
        rest = rest || left[z] > 0;
        others = others || taken[z] + left[z] < maker->zones[z].free;
    }
    if (!any)
        return PLACEMENT_NO_PLACE;
    return rest ? PLACEMENT_SPREAD : others ? PLACEMENT_GIVEN_AWAY : PLACEMENT_TAKEN;
}

static void take_choice(struct placement_maker *maker, const struct placement_choice *choice)
{
    size_t zones = maker->question.zones;
    int64_t *left = ARENA_ARRAY(maker->arena, zones, int64_t);

    for (size_t z = 0; z < zones; z++) {
        left[z] = maker->zones[z].free;
        for (size_t s = 0; s < maker->question.selections; s++) {
            left[z] -= choice->taken[s * zones + z];
            for (int64_t n = 0; n < choice->taken[s * zones + z]; n++)
                add_graft(maker, s, z);
        }
    }
    for (size_t s = 0; s < maker->question.selections; s++) {
        struct placed_selection *row = &maker->placement->selections.list[s];
        struct stands stands = stands_of(maker, &choice->taken[s * zones]);

        row->trees = stands.trees;
        row->clones = stands.clones;
        see_living(maker, row);
        if (row->placed < maker->question.wishes[s].wanted)
            row->cause =
                cause_of(maker, &maker->question.gain[s * zones], &choice->taken[s * zones], left);
    }
}

/* As a lift goes: site, block, row, position, tree, from the top down. */
static int order_graft(const void *left, const void *right)
{
    const struct placed_graft *a = left, *b = right;
    int order = order_text(a->tree->site_name, b->tree->site_name);

    if (order == 0)
        order = order_text(a->tree->block, b->tree->block);
    if (order == 0)
        order = order_whole(a->tree->row, b->tree->row);
    if (order == 0)
        order = order_whole(a->tree->position, b->tree->position);
    if (order == 0)
        order = order_text(a->tree->name, b->tree->name);
    if (order == 0)
        order = (int)a->crown - (int)b->crown;
    return order != 0 ? order : order_text(a->selection->name, b->selection->name);
}

/* Scions in store alone: no more than there are. */
static int64_t wished(const struct placement_maker *maker, const struct placed_selection *row)
{
    int64_t ready = 0;

    if (!maker->inputs->options.in_store)
        return row->wanted;
    for (size_t i = 0; i < maker->placement->batches.count; i++) {
        const struct placed_batch *batch = &maker->placement->batches.list[i];

        if (batch->cause == PLACEMENT_NONE &&
            selection_same(batch->batch->selection, row->selection))
            ready += batch->left;
    }
    return row->wanted < ready ? row->wanted : ready;
}

static void place(struct placement_maker *maker)
{
    struct placement_question *question = &maker->question;
    int64_t *gain = ARENA_ARRAY(maker->arena, question->selections * question->zones, int64_t);
    struct spread spread = {
        .maker = maker,
        .wishes = ARENA_ARRAY(maker->arena, question->selections, struct placement_wish),
        .gain = gain,
    };
    struct placement_choice choice;

    question->gain = gain;
    question->wishes = spread.wishes;
    for (size_t s = 0; s < question->selections; s++) {
        set_gains(maker, s, &gain[s * question->zones]);
        spread.wishes[s].wanted = wished(maker, &maker->placement->selections.list[s]);
        set_limits(&spread, s, spread.wishes[s].wanted);
    }
    choice = choose(maker, &spread);
    take_choice(maker, &choice);
}

struct placement placement_of(const struct placement_inputs *inputs)
{
    const struct orchard *orchard = inputs->state->orchard;
    struct placement placement = {.ahead = inputs->demand->ahead};
    struct placement_maker maker = {
        .inputs = inputs,
        .orchard = orchard,
        .arena = inputs->arena,
        .placement = &placement,
    };

    placement.season =
        placement_season(&maker, orchard->sites.count > 0 ? &orchard->sites.list[0] : NULL);
    placement_add_trees(&maker);
    placement_add_wanted(&maker);
    place(&maker);
    if (placement.grafts.count > 1)
        qsort(placement.grafts.list, placement.grafts.count, sizeof *placement.grafts.list,
              order_graft);
    placement_give_scions(&maker);
    placement_name_grafts(&maker);
    return placement;
}
