/*
 * The network: source - selection - selection on clone - selection on tree - zone - sink.  Only
 * what is allowed has nodes.
 */
#include "planning/placement_choose.h"

#include "solving/flow.h"

struct builder {
    const struct placement_question *question;
    struct arena *arena;
    struct flow_network network;
    struct flow_arc *arcs;
    size_t arc_capacity;
    size_t *gains; /* [selections x zones]: arc of it + 1; 0: none */
    int32_t *on_clone;
};

static int32_t new_node(struct builder *builder)
{
    return builder->network.nodes++;
}

static void add_arc(struct builder *builder, struct flow_arc arc)
{
    *ARENA_PUSH(builder->arena, builder->arcs, builder->network.arc_count, builder->arc_capacity) =
        arc;
}

/* Source 0, sink 1, then zones. */
static int32_t zone_node(size_t zone)
{
    return (int32_t)zone + 2;
}

static void add_zones(struct builder *builder)
{
    for (size_t z = 0; z < builder->question->zones; z++) {
        int32_t node = new_node(builder);

        add_arc(builder, (struct flow_arc){node, 1, builder->question->places[z].free, 0});
    }
}

static int32_t clone_node(struct builder *builder, int32_t selection, size_t clone,
                          const struct placement_wish *wish)
{
    if (builder->on_clone[clone] == 0) {
        builder->on_clone[clone] = new_node(builder);
        add_arc(builder,
                (struct flow_arc){selection, builder->on_clone[clone], wish->most_on_clone, 0});
    }
    return builder->on_clone[clone];
}

static void add_selection(struct builder *builder, size_t s)
{
    const struct placement_question *question = builder->question;
    const struct placement_wish *wish = &question->wishes[s];
    int32_t selection = new_node(builder), on_tree = 0;
    size_t last = question->trees;

    add_arc(builder, (struct flow_arc){0, selection, wish->wanted, 0});
    for (size_t c = 0; c < question->clones; c++)
        builder->on_clone[c] = 0;
    for (size_t z = 0; z < question->zones; z++) {
        const struct placement_zone *zone = &question->places[z];
        int64_t gain = question->gain[s * question->zones + z];

        if (gain <= 0)
            continue;
        if (zone->tree != last) {
            int32_t on_clone = clone_node(builder, selection, zone->clone, wish);

            on_tree = new_node(builder);
            add_arc(builder, (struct flow_arc){on_clone, on_tree, wish->most_on_tree, 0});
            last = zone->tree;
        }
        add_arc(builder, (struct flow_arc){on_tree, zone_node(z), zone->free, -gain});
        builder->gains[s * question->zones + z] = builder->network.arc_count;
    }
}

static int64_t not_negative(int64_t wanted)
{
    return wanted > 0 ? wanted : 0;
}

bool placement_choose(const struct placement_question *question, struct arena *arena,
                      struct placement_choice *choice)
{
    size_t cells = question->selections * question->zones;
    struct builder builder = {
        .question = question,
        .arena = arena,
        .network = {.nodes = 2, .source = 0, .sink = 1, .while_gaining = true},
        .gains = ARENA_ARRAY(arena, cells, size_t),
        .on_clone = ARENA_ARRAY(arena, question->clones, int32_t),
    };
    struct flow_answer answer;
    int64_t *flow, *potential;
    size_t bytes;

    *choice = (struct placement_choice){.taken = ARENA_ARRAY(arena, cells, int64_t)};
    add_zones(&builder);
    for (size_t s = 0; s < question->selections; s++) {
        builder.network.most += not_negative(question->wishes[s].wanted);
        if (question->wishes[s].wanted > 0)
            add_selection(&builder, s);
    }
    builder.network.arcs = builder.arcs;
    flow = ARENA_ARRAY(arena, builder.network.arc_count, int64_t);
    potential = ARENA_ARRAY(arena, (size_t)builder.network.nodes, int64_t);
    bytes = flow_workspace_bytes(builder.network.nodes, builder.network.arc_count);
    if (flow_solve(&builder.network, arena_alloc(arena, bytes, 1), flow, potential, &answer) !=
        FLOW_DONE)
        return false;
    for (size_t i = 0; i < cells; i++)
        choice->taken[i] = builder.gains[i] > 0 ? flow[builder.gains[i] - 1] : 0;
    choice->placed = answer.amount;
    choice->gain = -answer.cost;
    return true;
}

int64_t placement_most_on_one(int64_t count, int64_t least, int64_t there)
{
    int64_t on = least < count ? least : count;

    on = there < on ? there : on;
    return on > 1 ? (count - 1) / (on - 1) : count;
}
