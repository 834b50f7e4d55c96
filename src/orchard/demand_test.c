/*
 * Chains are worked examples of an exact-rational calculation; traps are quotients that come out
 * one too high when divided in doubles.
 */
#include "orchard/demand.h"

#include "orchard/fixture.h"

static void chains_round_up_at_every_step(void **state)
{
    (void)state;
    static const struct {
        int64_t seeds;
        struct demand_rates rates;
        struct demand_chain chain;
    } rows[] = {
        {1112, {{30, 0}, {6, 1}, {7, 1}, {3, 0}}, {1112, 38, 64, 92, 31}},
        {1112, {{30, 0}, {6, 1}, {5, 1}, {3, 0}}, {1112, 38, 64, 128, 43}},
        {500, {{16, 0}, {6, 1}, {5, 1}, {2, 0}}, {500, 32, 54, 108, 54}},
        {0, {{30, 0}, {6, 1}, {5, 1}, {3, 0}}, {0, 0, 0, 0, 0}},
        /* 21 / 0.7 is 30, not 31; 21 / 0.35 is 60, not 61; 1 / 0.7 is 2 */
        {21, {{1, 0}, {7, 1}, {1, 0}, {1, 0}}, {21, 21, 30, 30, 30}},
        {21, {{1, 0}, {35, 2}, {1, 0}, {1, 0}}, {21, 21, 60, 60, 60}},
        {84, {{1, 0}, {1, 0}, {7, 1}, {1, 0}}, {84, 84, 84, 120, 120}},
        {1, {{1, 0}, {7, 1}, {1, 0}, {1, 0}}, {1, 1, 2, 2, 2}},
        {10, {{5, 0}, {0, 0}, {1, 0}, {1, 0}}, {10, 2, -1, -1, -1}},
        {-1, {{5, 0}, {1, 0}, {1, 0}, {1, 0}}, {-1, -1, -1, -1, -1}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct demand_chain chain = demand_chain_of(rows[i].seeds, rows[i].rates);
        assert_int_equal(chain.seeds, rows[i].chain.seeds);
        assert_int_equal(chain.cones, rows[i].chain.cones);
        assert_int_equal(chain.conelets, rows[i].chain.conelets);
        assert_int_equal(chain.strobili, rows[i].chain.strobili);
        assert_int_equal(chain.bags, rows[i].chain.bags);
    }
}

static void rates_of_a_cross_are_those_of_its_seed_parent(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    add_rate(fixture, "seeds_per_cone", 30, 0);
    add_rate(fixture, "seeds_per_cone", 45, 0)->selection_name = "S1";
    add_rate(fixture, "cones_kept", 8, 1);
    add_rate(fixture, "cones_kept", 9, 1)->site_name = "Nordhang"; /* a cross has no site */
    add_rate(fixture, "conelets_kept", 5, 1);
    add_rate(fixture, "conelets_kept", 6, 1)->season_number = 2;
    orchard_link(&fixture->orchard, &fixture->diags);
    struct demand_rates rates =
        demand_rates_of(&fixture->orchard, orchard_cross(&fixture->orchard, "C1"), 2);
    assert_int_equal(rates.seeds_per_cone.units, 45);
    assert_int_equal(rates.cones_kept.units, 8);
    assert_int_equal(rates.conelets_kept.units, 6);
    assert_int_equal(rates.strobili_per_bag.units, 0); /* none given: the chain ends in -1 */
    assert_int_equal(demand_chain_of(300, rates).strobili, 15);
    assert_int_equal(demand_chain_of(300, rates).bags, -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(chains_round_up_at_every_step),
        FIXTURE_TEST(rates_of_a_cross_are_those_of_its_seed_parent),
    };
    return cmocka_run_group_tests_name("demand", tests, NULL, NULL) != 0;
}
