/*
 * demand_worked - numbers of grafts, bags, supplies and days against worked examples.
 *
 * Sources: survival and flowering of top grafts, Gooding, Bridgwater, Bramlett and Lowe 1999,
 * abstract; everything else is arithmetic on stated rates (exact rationals and binomial sums made
 * outside this repository), with crew-day rates that are common practice without a source.
 */
#include "base/test.h"

#include "conetide/binomial.h"
#include "orchard/demand.h"
#include "planning/demand_plan.h"
#include "planning/places.h"

static int64_t tries(int64_t k, double p)
{
    int64_t n;
    assert_int_equal(conetide_tries_needed(k, p, 0.95, &n), CONETIDE_OK);
    return n;
}

static const struct {
    int64_t live;
    double p;
    int64_t made;
    double chance; /* NaN: not given */
} graft_rows[] = {
    {1, .58 * .94, 4, NAN}, {1, .25 * .43, 27, NAN}, {1, .58, 4, NAN},    {1, .25, 11, NAN},
    {3, .58, 9, .96662},    {3, .25, 23, .95080},    {5, .5, 16, .96159}, {2, .6, 6, .95904},
};

/* By the binomial, and by the distribution of bag places, one a graft. */
static void grafts_to_make_for_so_many_live_ones(void **state)
{
    struct arena arena;
    (void)state;
    arena_init(&arena, NULL);
    for (size_t i = 0; i < COUNT(graft_rows); i++) {
        int64_t live = graft_rows[i].live, made = graft_rows[i].made;
        double p = graft_rows[i].p;
        const struct bearer graft = {{p, 0}, {1, 0}};
        struct places none = places_none(&arena, (size_t)live);
        assert_int_equal(tries(live, p), made);
        assert_int_equal(places_grafts_needed(&none, &graft, 0.95, &arena), made);
        assert_near(places_enough_with(&none, &graft, made, &arena),
                    conetide_binomial_at_least(made, live, p), 1e-12);
        if (!isnan(graft_rows[i].chance))
            assert_near(conetide_binomial_at_least(made, live, p), graft_rows[i].chance, 5e-6);
    }
    assert_near(conetide_binomial_at_least(8, 3, .58), .93663, 5e-6);
    arena_release(&arena);
}

/* Chance of 7 places or more on n grafts with one place in the first spring and three in the
 * second: x live in both, y in the first alone. */
static double seven_places(int n, double first, double second)
{
    double sum = 0, choose_x = 1;
    for (int x = 0; x <= n; choose_x = choose_x * (n - x) / (x + 1), x++) {
        double choose_y = 1;
        for (int y = 0; x + y <= n; choose_y = choose_y * (n - x - y) / (y + 1), y++)
            if (4 * x + y >= 7)
                sum += choose_x * choose_y * pow(second, x) * pow(first - second, y) *
                       pow(1 - first, n - x - y);
    }
    return sum;
}

/* The pages of docs/handbook.md on demand. */
static void the_pages_of_the_handbook(void **state)
{
    const struct demand_chain chain =
        demand_chain_of(60, (struct demand_rates){{30, 0}, {80, 2}, {50, 2}, {3, 0}});
    const struct bearer graft = {{.636, .514}, {1, 3}};
    struct arena arena;
    (void)state;
    assert_int_equal(chain.cones, 2);
    assert_int_equal(chain.conelets, 3);
    assert_int_equal(chain.strobili, 6);
    assert_int_equal(chain.bags, 2);
    assert_near(conetide_binomial_at_least(6, 2, .4), .77, .005);
    assert_near(conetide_binomial_at_least(9, 2, .4), .93, .005);
    assert_near(conetide_binomial_at_least(10, 2, .4), .954, .0005);
    assert_near(conetide_binomial_at_least(12, 2, .4), .98, .005);
    assert_int_equal(demand_assured_strobili(2, .4, .95), 10);

    arena_init(&arena, NULL);
    struct places none = places_none(&arena, 7);
    assert_int_equal(places_grafts_needed(&none, &graft, .95, &arena), 7);
    for (int n = 0; n <= 12; n++)
        assert_near(places_enough_with(&none, &graft, n, &arena), seven_places(n, .636, .514),
                    1e-12);
    assert_near(seven_places(6, .636, .514), .912, .0005);
    assert_near(seven_places(7, .636, .514), .954, .0005);
    assert_int_equal(demand_with_spares(7, (struct decimal){1, 0}, (struct decimal){125, 2}), 9);
    arena_release(&arena);
}

static void flowering_grafts_and_strobili_of_a_hundred_made(void **state)
{
    (void)state;
    /* Grafts that live with .58 and flower with .94: the mean of the counts from 1 on. */
    double slash = 0, loblolly = 0;
    for (int64_t k = 1; k <= 100; k++) {
        slash += conetide_binomial_at_least(100, k, .58 * .94);
        loblolly += conetide_binomial_at_least(100, k, .25 * .43);
    }
    assert_near(slash, 54.52, 1e-9);
    assert_near(loblolly, 10.75, 1e-9);
    assert_near(slash / 100 * 14.4, 7.85, .005);
    assert_near(.58 * 14.4, 8.35, .005);
    assert_near(loblolly / 100 * 4.8, .516, .0005);
    assert_near(.25 * 4.8, 1.20, .005);
}

static void the_seed_chain_rounds_up_at_every_step(void **state)
{
    static const struct {
        int64_t seeds;
        struct demand_rates rates;
        int64_t cones, conelets, strobili, bags;
    } rows[] = {
        {1112, {{30, 0}, {6, 1}, {7, 1}, {3, 0}}, 38, 64, 92, 31},
        {1112, {{30, 0}, {6, 1}, {5, 1}, {3, 0}}, 38, 64, 128, 43},
        {500, {{16, 0}, {6, 1}, {5, 1}, {2, 0}}, 32, 54, 108, 54},
    };
    (void)state;
    assert_int_equal(number_divide_up(1000, (struct decimal){9, 1}), 1112); /* seedlings / 0.9 */
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct demand_chain chain = demand_chain_of(rows[i].seeds, rows[i].rates);
        assert_int_equal(chain.cones, rows[i].cones);
        assert_int_equal(chain.conelets, rows[i].conelets);
        assert_int_equal(chain.strobili, rows[i].strobili);
        assert_int_equal(chain.bags, rows[i].bags);
    }
}

/* 300 seeds at 34 a cone are 9 cones; four strobili a bag. */
static void bags_that_give_the_cones_with_assurance(void **state)
{
    static const struct {
        double assurance;
        int64_t strobili, bags;
        double chance;
    } rows[] = {
        {.61, 23, 6, .61},
        {.80, 27, 7, .82},
        {.95, 33, 9, .96},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(demand_assured_strobili(9, .4, rows[i].assurance), rows[i].strobili);
        assert_int_equal(number_divide_up(rows[i].strobili, (struct decimal){4, 0}), rows[i].bags);
        assert_near(conetide_binomial_at_least(rows[i].strobili, 9, .4), rows[i].chance, .005);
    }
    assert_near(1 - conetide_binomial_at_least(3, 1, .4), .22, .005); /* a bag without any cone */
    assert_int_equal(demand_assured_strobili(9, 1, .95), 9);
    assert_int_equal(demand_assured_strobili(0, .4, .95), 0);
    assert_int_equal(demand_assured_strobili(-1, .4, .95), -1);
    assert_int_equal(demand_assured_strobili(9, 0, .95), -1);
}

static void supplies_for_120_grafts(void **state)
{
    static const struct decimal one = {1, 0}, two = {2, 0}, three = {3, 0};
    static const struct decimal tenth_more = {110, 2}, twentieth_more = {105, 2},
                                quarter = {125, 2};
    (void)state;
    assert_int_equal(demand_with_spares(120, one, quarter), 150);        /* scions */
    assert_int_equal(demand_with_spares(120, three, tenth_more), 396);   /* rubbers */
    assert_int_equal(demand_with_spares(120, two, twentieth_more), 252); /* tags */
    assert_int_equal(demand_with_spares(120, (struct decimal){30, 0}, tenth_more), 3960); /* in */
    assert_int_equal(demand_with_spares(120, (struct decimal){25, 1}, tenth_more), 330);  /* ft */
}

static void days_of_grafting_and_of_a_bag_season(void **state)
{
    const int64_t day = 48000; /* 8 h in 1/100 minute */
    (void)state;
    assert_int_equal(demand_days(120 * (day / 50), day), 3);          /* 2.4 crew-days */
    assert_int_equal(demand_days(120 * (day / 50) * 10, day * 7), 4); /* 7 of 10 days are fit */
    assert_int_equal(demand_days(31 * (day / 150), day), 1);
    assert_int_equal(demand_days(62 * (day / 400), day), 1);
    assert_int_equal(demand_days(31 * (day / 400), day), 1);
    assert_int_equal(demand_days(31, 0), -1);
}

static void quotients_that_doubles_round_up_one_too_high(void **state)
{
    static const struct {
        int64_t count;
        struct decimal by;
        double naive_by;
        int64_t exact;
    } divided[] = {
        {21, {7, 1}, .7, 30}, {42, {7, 1}, .7, 60}, {84, {7, 1}, .7, 120}, {21, {35, 2}, .35, 60}};
    static const struct {
        int64_t count, exact;
    } multiplied[] = {{50, 55}, {100, 110}, {360, 396}};
    (void)state;
    for (size_t i = 0; i < COUNT(divided); i++) {
        volatile double by = divided[i].naive_by;
        assert_int_equal(number_divide_up(divided[i].count, divided[i].by), divided[i].exact);
        assert_near(ceil((double)divided[i].count / by), (double)divided[i].exact + 1, 0);
    }
    for (size_t i = 0; i < COUNT(multiplied); i++) {
        volatile double by = 1.1;
        assert_int_equal(number_multiply_up(multiplied[i].count, (struct decimal){110, 2}),
                         multiplied[i].exact);
        assert_near(ceil((double)multiplied[i].count * by), (double)multiplied[i].exact + 1, 0);
    }
    assert_int_equal(number_divide_up(1, (struct decimal){7, 1}), 2); /* no cure by subtracting */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grafts_to_make_for_so_many_live_ones),
        cmocka_unit_test(the_pages_of_the_handbook),
        cmocka_unit_test(flowering_grafts_and_strobili_of_a_hundred_made),
        cmocka_unit_test(the_seed_chain_rounds_up_at_every_step),
        cmocka_unit_test(bags_that_give_the_cones_with_assurance),
        cmocka_unit_test(supplies_for_120_grafts),
        cmocka_unit_test(days_of_grafting_and_of_a_bag_season),
        cmocka_unit_test(quotients_that_doubles_round_up_one_too_high),
    };
    return cmocka_run_group_tests_name("demand_worked", tests, NULL, NULL) != 0;
}
