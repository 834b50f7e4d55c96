#include "solving/flow.h"

#include <assert.h>
#include <string.h>

static const int64_t unreached = INT64_MAX;
static const int64_t sum_most = (int64_t)1 << 61;

/* Step 2 i uses arc i, step 2 i + 1 takes back what it carries. */
struct search {
    const struct flow_network *network;
    int64_t *flow, *potential;
    int64_t *distance; /* [nodes], in reduced costs */
    size_t *first;     /* [nodes + 1]: where the steps of a node begin in `steps` */
    size_t *steps;     /* [2 arcs] */
    size_t *arrived;   /* [nodes]: the step that the shortest path takes into a node */
    int32_t *heap;     /* [nodes] */
    int32_t *place;    /* [nodes]: in the heap; -1: not in it */
    int32_t heaped;
};

size_t flow_workspace_bytes(int32_t nodes, size_t arc_count)
{
    size_t n = (size_t)nodes;

    return n * sizeof(int64_t) + (2 * n + 1 + 2 * arc_count) * sizeof(size_t) +
           2 * n * sizeof(int32_t);
}

static void lay_out(struct search *search, void *workspace)
{
    size_t n = (size_t)search->network->nodes;

    search->distance = workspace;
    search->first = (size_t *)(void *)(search->distance + n);
    search->steps = search->first + n + 1;
    search->arrived = search->steps + 2 * search->network->arc_count;
    search->heap = (int32_t *)(void *)(search->arrived + n);
    search->place = search->heap + n;
}

static int32_t step_from(const struct search *search, size_t step)
{
    const struct flow_arc *arc = &search->network->arcs[step / 2];

    return step % 2 == 0 ? arc->from : arc->to;
}

static int32_t step_to(const struct search *search, size_t step)
{
    return step_from(search, step ^ 1);
}

static int64_t step_room(const struct search *search, size_t step)
{
    int64_t used = search->flow[step / 2];

    return step % 2 == 0 ? search->network->arcs[step / 2].capacity - used : used;
}

static int64_t step_cost(const struct search *search, size_t step)
{
    int64_t cost = search->network->arcs[step / 2].cost;

    cost = step % 2 == 0 ? cost : -cost;
    return cost + search->potential[step_from(search, step)] -
           search->potential[step_to(search, step)];
}

/* Steps by the node they leave, in the order of arcs. */
static void sort_steps(struct search *search)
{
    size_t n = (size_t)search->network->nodes, count = 2 * search->network->arc_count;

    memset(search->first, 0, (n + 1) * sizeof *search->first);
    for (size_t step = 0; step < count; step++)
        search->first[step_from(search, step) + 1]++;
    for (size_t node = 0; node < n; node++)
        search->first[node + 1] += search->first[node];
    for (size_t node = 0; node < n; node++)
        search->arrived[node] = search->first[node]; /* the next free place */
    for (size_t step = 0; step < count; step++)
        search->steps[search->arrived[step_from(search, step)]++] = step;
}

/* Potentials that leave no arc with room a negative cost (Bellman and Ford, from every node at
 * once); false: a circle goes on getting cheaper. */
static bool begin_potentials(struct search *search)
{
    const struct flow_network *network = search->network;
    bool moved = true;

    memset(search->potential, 0, (size_t)network->nodes * sizeof *search->potential);
    for (int32_t round = 0; moved && round <= network->nodes; round++) {
        moved = false;
        for (size_t i = 0; i < network->arc_count; i++) {
            const struct flow_arc *arc = &network->arcs[i];
            int64_t cost = search->potential[arc->from] + arc->cost;

            if (arc->capacity > 0 && cost < search->potential[arc->to]) {
                search->potential[arc->to] = cost;
                moved = true;
            }
        }
    }
    return !moved;
}

static bool sooner(const struct search *search, int32_t a, int32_t b)
{
    if (search->distance[a] != search->distance[b])
        return search->distance[a] < search->distance[b];
    return a < b;
}

static void put(struct search *search, int32_t place, int32_t node)
{
    search->heap[place] = node;
    search->place[node] = place;
}

static void rise(struct search *search, int32_t node)
{
    int32_t place = search->place[node];

    while (place > 0 && sooner(search, node, search->heap[(place - 1) / 2])) {
        put(search, place, search->heap[(place - 1) / 2]);
        place = (place - 1) / 2;
    }
    put(search, place, node);
}

static int32_t take_nearest(struct search *search)
{
    int32_t nearest = search->heap[0], last = search->heap[--search->heaped], place = 0;

    search->place[nearest] = -1;
    if (search->heaped == 0)
        return nearest;
    for (;;) {
        int32_t child = 2 * place + 1;

        if (child >= search->heaped)
            break;
        if (child + 1 < search->heaped &&
            sooner(search, search->heap[child + 1], search->heap[child]))
            child++;
        if (sooner(search, last, search->heap[child]))
            break;
        put(search, place, search->heap[child]);
        place = child;
    }
    put(search, place, last);
    return nearest;
}

static void reach(struct search *search, int32_t node, int64_t distance, size_t step)
{
    if (distance >= search->distance[node])
        return;
    if (search->distance[node] == unreached) {
        search->heap[search->heaped] = node;
        search->place[node] = search->heaped++;
    }
    search->distance[node] = distance;
    search->arrived[node] = step;
    rise(search, node);
}

/* Distances from the source, exact of all that are nearer than the sink; the greatest settled. */
static int64_t find_path(struct search *search)
{
    const struct flow_network *network = search->network;
    int64_t settled = 0;

    for (int32_t node = 0; node < network->nodes; node++)
        search->distance[node] = unreached;
    search->heaped = 0;
    reach(search, network->source, 0, 0);
    while (search->heaped > 0) {
        int32_t node = take_nearest(search);

        settled = search->distance[node];
        if (node == network->sink)
            break;
        for (size_t i = search->first[node]; i < search->first[node + 1]; i++) {
            size_t step = search->steps[i];

            if (step_room(search, step) > 0)
                reach(search, step_to(search, step), settled + step_cost(search, step), step);
        }
    }
    return settled;
}

/* Of one more unit, by the potentials. */
static int64_t marginal_cost(const struct search *search)
{
    return search->potential[search->network->sink] - search->potential[search->network->source];
}

/*
 * Keep reduced costs of steps with room at 0 or more: nodes no farther than `settled` move by
 * their distance, all others by `settled`.  Where the sink is out of reach, no step with room leads
 * out of what was reached, so the rest may move on until one more unit gains nothing.
 */
static void move_potentials(struct search *search, int64_t settled, bool found)
{
    int64_t far = settled;

    if (!found && marginal_cost(search) + far < 0)
        far = -marginal_cost(search);
    for (int32_t node = 0; node < search->network->nodes; node++) {
        int64_t distance = search->distance[node];

        if (distance == unreached)
            search->potential[node] += far;
        else
            search->potential[node] += distance < settled ? distance : settled;
    }
}

/* As much as the path carries, at most `most`. */
static int64_t send(struct search *search, int64_t most)
{
    const struct flow_network *network = search->network;
    int64_t amount = most;

    for (int32_t node = network->sink; node != network->source;) {
        size_t step = search->arrived[node];
        int64_t room = step_room(search, step);

        amount = room < amount ? room : amount;
        node = step_from(search, step);
    }
    for (int32_t node = network->sink; node != network->source;) {
        size_t step = search->arrived[node];

        search->flow[step / 2] += step % 2 == 0 ? amount : -amount;
        node = step_from(search, step);
    }
    return amount;
}

/* (nodes + 1) x largest cost x units sent. */
static bool may_overflow(const struct flow_network *network)
{
    int64_t cost = 1, units = 0, left;

    for (size_t i = 0; i < network->arc_count; i++) {
        const struct flow_arc *arc = &network->arcs[i];

        assert(arc->from >= 0 && arc->from < network->nodes);
        assert(arc->to >= 0 && arc->to < network->nodes && arc->capacity >= 0);
        if (arc->cost >= sum_most || arc->cost <= -sum_most)
            return true;
        cost = arc->cost > cost ? arc->cost : cost;
        cost = -arc->cost > cost ? -arc->cost : cost;
        if (arc->from == network->source) /* no more leaves it than `most` */
            units += arc->capacity < network->most - units ? arc->capacity : network->most - units;
    }
    left = sum_most / cost / ((int64_t)network->nodes + 1);
    return left == 0 || units > left;
}

enum flow_status flow_solve(const struct flow_network *network, void *workspace, int64_t *flow,
                            int64_t *potential, struct flow_answer *answer)
{
    struct search search = {.network = network, .flow = flow, .potential = potential};

    assert(network->source >= 0 && network->source < network->nodes);
    assert(network->sink >= 0 && network->sink < network->nodes);
    assert(network->source != network->sink && network->most >= 0);
    *answer = (struct flow_answer){0, 0};
    if (network->arc_count > 0)
        memset(flow, 0, network->arc_count * sizeof *flow);
    if (may_overflow(network))
        return FLOW_TOO_LARGE;
    lay_out(&search, workspace);
    sort_steps(&search);
    if (!begin_potentials(&search))
        return FLOW_CIRCLE;
    while (answer->amount < network->most) {
        int64_t settled = find_path(&search), amount;
        bool found = search.distance[network->sink] != unreached;

        move_potentials(&search, settled, found);
        if (!found || (network->while_gaining && marginal_cost(&search) >= 0))
            break;
        amount = send(&search, network->most - answer->amount);
        answer->amount += amount;
        answer->cost += amount * marginal_cost(&search);
    }
    return FLOW_DONE;
}

/* Of a node, in less out. */
static int64_t balance_of(const struct flow_network *network, const int64_t *flow, int32_t node)
{
    int64_t balance = 0;

    for (size_t i = 0; i < network->arc_count; i++) {
        balance += network->arcs[i].to == node ? flow[i] : 0;
        balance -= network->arcs[i].from == node ? flow[i] : 0;
    }
    return balance;
}

bool flow_is_cheapest(const struct flow_network *network, const int64_t *flow,
                      const int64_t *potential)
{
    int64_t sent = balance_of(network, flow, network->sink);

    for (size_t i = 0; i < network->arc_count; i++) {
        const struct flow_arc *arc = &network->arcs[i];
        int64_t cost = arc->cost + potential[arc->from] - potential[arc->to];

        if (flow[i] < 0 || flow[i] > arc->capacity || (flow[i] < arc->capacity && cost < 0) ||
            (flow[i] > 0 && cost > 0))
            return false;
    }
    for (int32_t node = 0; node < network->nodes; node++)
        if (node != network->source && node != network->sink &&
            balance_of(network, flow, node) != 0)
            return false;
    return !network->while_gaining || sent == network->most ||
           potential[network->sink] - potential[network->source] >= 0;
}
