/*
 * transport.h - flow of least cost through a network of whole capacities and costs.
 *
 * Successive shortest paths (Jewell 1958; Busacker & Gowen 1960), so flows are whole and least in
 * cost for every amount on the way.  Costs may be below 0, circles of them may not.  Nothing is
 * allocated; of equal paths the one found first, so the same network gives the same flow.
 */
#ifndef SOLVING_TRANSPORT_H
#define SOLVING_TRANSPORT_H

#include <stddef.h>
#include <stdint.h>

struct transport_arc {
    int32_t from, to; /* nodes from 0 on */
    int32_t most;     /* capacity, >= 0 */
    int64_t cost;     /* of one unit */
    int32_t flow;     /* the answer */
};

struct transport {
    int32_t node_count, arc_count;
    struct transport_arc *arcs;
    int32_t source, sink;
    int64_t most;       /* units asked for; INT64_MAX: as many as can go */
    int64_t cost_below; /* a path is used only if a unit costs less; INT64_MAX: whatever it costs */
};

struct transport_flow {
    int64_t units, cost;
};

/* Bytes of workspace that transport_solve wants; aligned as for int64_t. */
size_t transport_workspace(const struct transport *transport);

/* Fills the flows of the arcs. */
struct transport_flow transport_solve(const struct transport *transport, void *workspace);

#endif
