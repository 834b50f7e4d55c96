/*
 * Flows reckoned by hand, and the proof that each comes with.
 */
#include "solving/flow.h"

#include "base/test.h"

#include <stdlib.h>

enum { ARCS_MOST = 16, NODES_MOST = 8 };

struct solved {
    enum flow_status status;
    int64_t flow[ARCS_MOST], potential[NODES_MOST];
    struct flow_answer answer;
};

static struct solved solve(const struct flow_network *network)
{
    struct solved solved = {FLOW_DONE, {0}, {0}, {0, 0}};
    size_t bytes = flow_workspace_bytes(network->nodes, network->arc_count);
    void *workspace = malloc(bytes); /* just as large as told, for the sanitizer */

    assert_non_null(workspace);
    solved.status = flow_solve(network, workspace, solved.flow, solved.potential, &solved.answer);
    free(workspace);
    return solved;
}

#define NETWORK(n, list)                                                                           \
    {                                                                                              \
        .nodes = (n), .arc_count = sizeof(list) / sizeof *(list), .arcs = (list), .source = 0,     \
        .sink = (n)-1, .most = 1000                                                                \
    }

static void the_cheaper_way_is_filled_first(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 5, 1}, {0, 2, 5, 2}, {1, 3, 3, 1}, {2, 3, 4, 1}};
    struct flow_network network = NETWORK(4, arcs);
    struct solved solved = solve(&network);

    /* 3 at 2, then 4 at 3 */
    assert_int_equal(solved.status, FLOW_DONE);
    assert_int_equal(solved.answer.amount, 7);
    assert_int_equal(solved.answer.cost, 18);
    assert_int_equal(solved.flow[0], 3);
    assert_int_equal(solved.flow[1], 4);
    assert_true(flow_is_cheapest(&network, solved.flow, solved.potential));
}

static void no_more_than_asked_for_is_sent(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 5, 1}, {0, 2, 5, 2}, {1, 3, 3, 1}, {2, 3, 4, 1}};
    struct flow_network network = NETWORK(4, arcs);
    network.most = 4;
    struct solved solved = solve(&network);

    assert_int_equal(solved.answer.amount, 4);
    assert_int_equal(solved.answer.cost, 9);
    network.most = 0;
    solved = solve(&network);
    assert_int_equal(solved.answer.amount, 0);
}

/* The first path takes the middle arc; the second has to take it back. */
static void an_early_choice_is_taken_back(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {
        {0, 1, 1, 1}, {0, 2, 1, 4}, {1, 2, 1, 1}, {1, 3, 1, 5}, {2, 3, 1, 1}};
    struct flow_network network = NETWORK(4, arcs);
    struct solved solved = solve(&network);

    assert_int_equal(solved.answer.amount, 2);
    assert_int_equal(solved.answer.cost, 11);
    assert_int_equal(solved.flow[2], 0);
    assert_true(flow_is_cheapest(&network, solved.flow, solved.potential));
}

/* Two grafts that bring 7 and 5 and one that would cost 1. */
static void it_stops_where_nothing_is_gained(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 3, 0}, {1, 2, 1, -7}, {1, 2, 1, -5}, {1, 2, 1, 1}};
    struct flow_network network = NETWORK(3, arcs);
    struct solved solved = solve(&network);

    assert_int_equal(solved.answer.amount, 3);
    assert_int_equal(solved.answer.cost, -11);
    network.while_gaining = true;
    solved = solve(&network);
    assert_int_equal(solved.answer.amount, 2);
    assert_int_equal(solved.answer.cost, -12);
    assert_int_equal(solved.flow[3], 0);
    assert_true(flow_is_cheapest(&network, solved.flow, solved.potential));
}

static void a_full_network_is_proved_as_well(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 2, 0}, {1, 2, 9, -7}, {3, 2, 1, -50}};
    struct flow_network network = NETWORK(4, arcs);
    network.sink = 2;
    network.while_gaining = true;
    struct solved solved = solve(&network);

    assert_int_equal(solved.answer.amount, 2);
    assert_int_equal(solved.answer.cost, -14);
    assert_true(flow_is_cheapest(&network, solved.flow, solved.potential));
}

static void of_ways_that_cost_the_same_the_first_is_taken(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 1, 3}, {0, 2, 1, 3}, {1, 3, 1, 0}, {2, 3, 1, 0}};
    struct flow_network network = NETWORK(4, arcs);
    network.most = 1;
    struct solved solved = solve(&network);

    assert_int_equal(solved.flow[0], 1);
    assert_int_equal(solved.flow[1], 0);
}

static void where_no_way_leads_nothing_is_sent(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 0, -1}, {2, 1, 5, 1}};
    struct flow_network network = NETWORK(3, arcs);
    struct solved solved = solve(&network);

    assert_int_equal(solved.status, FLOW_DONE);
    assert_int_equal(solved.answer.amount, 0);
    network.arc_count = 0;
    solved = solve(&network);
    assert_int_equal(solved.answer.amount, 0);
}

static void a_circle_that_gains_for_ever_is_refused(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 1, 1}, {1, 2, 1, -3}, {2, 1, 1, 2}, {2, 3, 1, 1}};
    struct flow_network network = NETWORK(4, arcs);

    assert_int_equal(solve(&network).status, FLOW_CIRCLE);
}

static void costs_that_might_not_fit_are_refused(void **state)
{
    (void)state;
    struct flow_arc arcs[] = {{0, 1, 1, INT64_MIN}, {1, 2, 1, 1}};
    struct flow_network network = NETWORK(3, arcs);

    assert_int_equal(solve(&network).status, FLOW_TOO_LARGE);
    arcs[0].cost = (int64_t)1 << 60;
    assert_int_equal(solve(&network).status, FLOW_TOO_LARGE);
    arcs[0].cost = (int64_t)1 << 58;
    assert_int_equal(solve(&network).status, FLOW_DONE);
    arcs[0].capacity = 1000;
    assert_int_equal(solve(&network).status, FLOW_TOO_LARGE);
}

static void a_worse_flow_is_not_proved(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 5, 1}, {0, 2, 5, 2}, {1, 3, 3, 1}, {2, 3, 4, 1}};
    struct flow_network network = NETWORK(4, arcs);
    network.most = 1;
    struct solved solved = solve(&network);
    const int64_t dearer[] = {0, 1, 0, 1}, lost[] = {1, 0, 0, 0}, over[] = {6, 0, 6, 0},
                  negative[] = {-1, 0, -1, 0};

    assert_true(flow_is_cheapest(&network, solved.flow, solved.potential));
    assert_false(flow_is_cheapest(&network, dearer, solved.potential));
    assert_false(flow_is_cheapest(&network, lost, solved.potential));
    assert_false(flow_is_cheapest(&network, over, solved.potential));
    assert_false(flow_is_cheapest(&network, negative, solved.potential));
}

static void stopping_early_is_not_proved(void **state)
{
    (void)state;
    const struct flow_arc arcs[] = {{0, 1, 2, -4}};
    struct flow_network network = NETWORK(2, arcs);
    network.while_gaining = true;
    const int64_t none[] = {0}, flat[] = {0, 0}, steep[] = {0, -4};

    assert_false(flow_is_cheapest(&network, none, flat));
    assert_false(flow_is_cheapest(&network, none, steep));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_cheaper_way_is_filled_first),
        cmocka_unit_test(no_more_than_asked_for_is_sent),
        cmocka_unit_test(an_early_choice_is_taken_back),
        cmocka_unit_test(it_stops_where_nothing_is_gained),
        cmocka_unit_test(a_full_network_is_proved_as_well),
        cmocka_unit_test(of_ways_that_cost_the_same_the_first_is_taken),
        cmocka_unit_test(where_no_way_leads_nothing_is_sent),
        cmocka_unit_test(a_circle_that_gains_for_ever_is_refused),
        cmocka_unit_test(costs_that_might_not_fit_are_refused),
        cmocka_unit_test(a_worse_flow_is_not_proved),
        cmocka_unit_test(stopping_early_is_not_proved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
