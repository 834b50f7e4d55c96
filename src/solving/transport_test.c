#include "solving/transport.h"

#include "base/test.h"

#include <stdlib.h>

static struct transport_flow solve(struct transport *transport)
{
    void *workspace = malloc(transport_workspace(transport));
    struct transport_flow flow = transport_solve(transport, workspace);

    free(workspace);
    return flow;
}

/* Two scions, two trees: the better tree of both holds one. */
static void a_dear_second_best_makes_the_cheapest_whole(void **state)
{
    struct transport_arc arcs[] = {
        {0, 1, 1, 0, 0},  {0, 2, 1, 0, 0},  {1, 3, 1, -9, 0}, {1, 4, 1, -8, 0},
        {2, 3, 1, -7, 0}, {2, 4, 1, -2, 0}, {3, 5, 1, 0, 0},  {4, 5, 1, 0, 0},
    };
    struct transport transport = {6, (int32_t)COUNT(arcs), arcs, 0, 5, INT64_MAX, INT64_MAX};
    struct transport_flow flow = solve(&transport);

    (void)state;
    assert_int_equal(flow.units, 2);
    assert_int_equal(flow.cost, -15); /* 8 and 7, not 9 and 2 */
    assert_int_equal(arcs[3].flow, 1);
    assert_int_equal(arcs[4].flow, 1);
    assert_int_equal(arcs[2].flow, 0);
}

static void no_path_is_used_that_costs_too_much(void **state)
{
    struct transport_arc arcs[] = {{0, 1, 5, -3, 0}, {0, 1, 5, 2, 0}};
    struct transport transport = {2, (int32_t)COUNT(arcs), arcs, 0, 1, INT64_MAX, 0};
    struct transport_flow flow = solve(&transport);

    (void)state;
    assert_int_equal(flow.units, 5);
    assert_int_equal(flow.cost, -15);
    transport.cost_below = INT64_MAX;
    flow = solve(&transport);
    assert_int_equal(flow.units, 10);
    assert_int_equal(flow.cost, -5);
}

static void no_more_goes_than_is_asked_for(void **state)
{
    struct transport_arc arcs[] = {{0, 1, 5, 1, 0}, {1, 2, 9, 1, 0}};
    struct transport transport = {3, (int32_t)COUNT(arcs), arcs, 0, 2, 3, INT64_MAX};
    struct transport_flow flow = solve(&transport);

    (void)state;
    assert_int_equal(flow.units, 3);
    assert_int_equal(flow.cost, 6);
    transport.sink = 2;
    arcs[1].most = 0;
    assert_int_equal(solve(&transport).units, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_dear_second_best_makes_the_cheapest_whole),
        cmocka_unit_test(no_path_is_used_that_costs_too_much),
        cmocka_unit_test(no_more_goes_than_is_asked_for),
    };

    return cmocka_run_group_tests_name("transport", tests, NULL, NULL);
}
