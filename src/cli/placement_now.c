#include "cli/placement_now.h"

struct placement session_placement(struct session *session, const struct opened *opened)
{
    const struct options *options = &session->options;
    struct crossing_inputs crossing = {
        .state = opened->state,
        .pedigree = opened->pedigree,
        .dates = opened->dates,
        .flowering = flowering_of(opened->state, opened->dates, session->arena),
        .arena = session->arena,
    };
    struct demand_plan demand = demand_plan_of(&crossing);
    struct hosts hosts = hosts_of(opened->state, session->arena);
    struct placement_inputs inputs = {
        .state = opened->state,
        .demand = &demand,
        .hosts = &hosts,
        .dates = opened->dates,
        .options = {.trees_least = options->trees ? options->trees : PLACEMENT_TREES_LEAST,
                    .clones_least = options->clones ? options->clones : PLACEMENT_CLONES_LEAST,
                    .weak = options->weak,
                    .in_store = options->in_store},
        .arena = session->arena,
    };

    return placement_of(&inputs);
}
