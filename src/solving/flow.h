/*
 * flow.h - least-cost flow through a network: exact, integral, deterministic, without allocation.
 *
 * Successive shortest paths with potentials: Ahuja, Magnanti and Orlin 1993, Network Flows, section
 * 9.7, after Edmonds and Karp 1972, J. ACM 19(2):248-264 (both from memory).  Each path is found by
 * Dijkstra's method on costs that the potentials have made non-negative; among paths of one cost
 * the order of nodes and arcs decides, so that the same network gives the same flow.
 */
#ifndef SOLVING_FLOW_H
#define SOLVING_FLOW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* capacity >= 0; `cost` of one unit, of either sign. */
struct flow_arc {
    int32_t from, to;
    int64_t capacity, cost;
};

struct flow_network {
    int32_t nodes; /* 0 to nodes - 1 */
    size_t arc_count;
    const struct flow_arc *arcs;
    int32_t source, sink; /* not the same */
    int64_t most;         /* send no more than this */
    bool while_gaining;   /* stop where one more unit would not lower the cost */
};

struct flow_answer {
    int64_t amount, cost; /* sent from source to sink, and what it costs */
};

enum flow_status {
    FLOW_TOO_LARGE = -2, /* sums of costs might not fit: see flow_solve */
    FLOW_CIRCLE = -1,    /* a circle of arcs with room and a negative cost: no least cost */
    FLOW_DONE = 0
};

/* Bytes of the workspace, which is aligned as for int64_t. */
size_t flow_workspace_bytes(int32_t nodes, size_t arc_count);

/*
 * The cheapest of all flows of its amount; the amount is the greatest there is, but for `most` and
 * `while_gaining`.  flow[arc_count]: units on each arc; potential[nodes]: the proof, for
 * flow_is_cheapest.  Needs (nodes + 1) x largest cost x units sent below 2^61, else FLOW_TOO_LARGE;
 * with a negative status flow is all 0.  Time: units or paths sent x arcs x log nodes.
 */
enum flow_status flow_solve(const struct flow_network *network, void *workspace, int64_t *flow,
                            int64_t *potential, struct flow_answer *answer);

/*
 * Does `potential` prove `flow`?  Every arc within its capacity, nothing lost or made on the way,
 * and no arc whose use could be changed with gain (reduced cost negative on an arc with room,
 * positive on one in use); `while_gaining`, and less than `most` sent: one more unit costs 0 or
 * more.
 */
bool flow_is_cheapest(const struct flow_network *network, const int64_t *flow,
                      const int64_t *potential);

#endif
