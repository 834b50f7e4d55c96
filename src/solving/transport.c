#include "solving/transport.h"

#include <assert.h>
#include <stdbool.h>
#include <string.h>

#define FAR INT64_MAX
#define NO_ARC (-1)

/* Arc a forward is 2a, backward 2a + 1. */
struct search {
    const struct transport *network;
    int64_t *distance; /* [nodes] */
    int32_t *arrival;  /* [nodes] the arc of the shortest path into it */
    int32_t *first;    /* [nodes] its arcs are a list: first, then next */
    int32_t *next;     /* [2 * arcs] */
    int32_t *queue;    /* [nodes] round */
    bool *queued;      /* [nodes] */
};

size_t transport_workspace(const struct transport *transport)
{
    const size_t nodes = (size_t)transport->node_count, arcs = (size_t)transport->arc_count;

    return nodes * (sizeof(int64_t) + 3 * sizeof(int32_t) + sizeof(bool)) +
           2 * arcs * sizeof(int32_t);
}

static struct search lay_out(const struct transport *network, void *workspace)
{
    const size_t nodes = (size_t)network->node_count, arcs = (size_t)network->arc_count;
    struct search search = {.network = network};

    search.distance = workspace;
    search.arrival = (int32_t *)(search.distance + nodes);
    search.first = search.arrival + nodes;
    search.queue = search.first + nodes;
    search.next = search.queue + nodes;
    search.queued = (bool *)(search.next + 2 * arcs);
    return search;
}

static int32_t tail_of(const struct search *search, int32_t way)
{
    const struct transport_arc *arc = &search->network->arcs[way / 2];

    return way % 2 == 0 ? arc->from : arc->to;
}

static int32_t head_of(const struct search *search, int32_t way)
{
    return tail_of(search, way ^ 1);
}

static int32_t room_of(const struct search *search, int32_t way)
{
    const struct transport_arc *arc = &search->network->arcs[way / 2];

    return way % 2 == 0 ? arc->most - arc->flow : arc->flow;
}

static int64_t cost_of(const struct search *search, int32_t way)
{
    const struct transport_arc *arc = &search->network->arcs[way / 2];

    return way % 2 == 0 ? arc->cost : -arc->cost;
}

/* Each node's arcs in the order of the network. */
static void list_arcs(struct search *search)
{
    for (int32_t n = 0; n < search->network->node_count; n++)
        search->first[n] = NO_ARC;
    for (int32_t way = 2 * search->network->arc_count; way-- > 0;) {
        int32_t tail = tail_of(search, way);

        assert(tail >= 0 && tail < search->network->node_count);
        search->next[way] = search->first[tail];
        search->first[tail] = way;
    }
}

/* Shortest distances from the source (Bellman and Ford, by a queue). */
static bool find_path(struct search *search)
{
    const struct transport *network = search->network;
    const int32_t nodes = network->node_count;
    int32_t head = 0, count = 1;

    for (int32_t n = 0; n < nodes; n++) {
        search->distance[n] = FAR;
        search->queued[n] = false;
    }
    search->distance[network->source] = 0;
    search->queue[0] = network->source;
    while (count > 0) {
        int32_t node = search->queue[head];

        head = (head + 1) % nodes;
        count--;
        search->queued[node] = false;
        for (int32_t way = search->first[node]; way != NO_ARC; way = search->next[way]) {
            int32_t to = head_of(search, way);
            int64_t distance = search->distance[node] + cost_of(search, way);

            if (room_of(search, way) <= 0 || distance >= search->distance[to])
                continue;
            search->distance[to] = distance;
            search->arrival[to] = way;
            if (!search->queued[to]) {
                search->queued[to] = true;
                search->queue[(head + count++) % nodes] = to;
            }
        }
    }
    return search->distance[network->sink] != FAR;
}

static void send(struct search *search, int32_t way, int32_t units)
{
    search->network->arcs[way / 2].flow += way % 2 == 0 ? units : -units;
}

struct transport_flow transport_solve(const struct transport *transport, void *workspace)
{
    struct search search = lay_out(transport, workspace);
    struct transport_flow flow = {0, 0};

    assert(transport->source != transport->sink);
    for (int32_t a = 0; a < transport->arc_count; a++)
        transport->arcs[a].flow = 0;
    list_arcs(&search);
    while (flow.units < transport->most && find_path(&search) &&
           search.distance[transport->sink] < transport->cost_below) {
        int64_t units = transport->most - flow.units;

        for (int32_t node = transport->sink; node != transport->source;
             node = tail_of(&search, search.arrival[node])) {
            int32_t room = room_of(&search, search.arrival[node]);

            units = room < units ? room : units;
        }
        for (int32_t node = transport->sink; node != transport->source;
             node = tail_of(&search, search.arrival[node]))
            send(&search, search.arrival[node], (int32_t)units);
        flow.units += units;
        flow.cost += units * search.distance[transport->sink];
    }
    return flow;
}
