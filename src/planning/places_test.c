/*
 * The distribution of bag places against going through every fate of every graft one by one.
 */
#include "planning/places.h"

#include "base/test.h"

static struct arena arena;

static int begin(void **state)
{
    (void)state;
    arena_init(&arena, NULL);
    return 0;
}

static int end(void **state)
{
    (void)state;
    arena_release(&arena);
    return 0;
}

static unsigned long long next_word(unsigned long long *seed)
{
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return *seed >> 33;
}

/* Chance of `wanted` places or more, over all fates of the grafts from `i` on. */
static double enough_by_enumeration(const struct bearer *grafts, size_t count, int64_t wanted)
{
    if (count == 0)
        return wanted <= 0 ? 1 : 0;
    double a = grafts->chance[0], b = grafts->chance[1], both = fmin(a, b), sum = 0;
    const double chances[2][2] = {{1 - fmax(a, b), b - both}, {a - both, both}};
    for (int first = 0; first < 2; first++)
        for (int second = 0; second < 2; second++)
            sum +=
                chances[first][second] * enough_by_enumeration(grafts + 1, count - 1,
                                                               wanted - first * grafts->places[0] -
                                                                   second * grafts->places[1]);
    return sum;
}

static void every_fate_of_every_graft_is_counted(void **state)
{
    unsigned long long seed = 20270302;
    size_t interesting = 0;
    (void)state;
    for (int round = 0; round < 300; round++) {
        struct bearer grafts[6];
        size_t count = next_word(&seed) % 7, wanted = next_word(&seed) % 12;
        struct places places = places_none(&arena, wanted);
        for (size_t i = 0; i < count; i++) {
            for (int spring = 0; spring < 2; spring++) {
                grafts[i].chance[spring] = (double)(next_word(&seed) % 101) / 100;
                grafts[i].places[spring] = (int)(next_word(&seed) % 4);
            }
            places_add(&places, &grafts[i]);
        }
        double expected = enough_by_enumeration(grafts, count, (int64_t)wanted);
        interesting += expected > 0.001 && expected < 0.999;
        assert_near(places_enough(&places), expected, 1e-12);
    }
    print_message("neither sure nor impossible in %zu of 300\n", interesting);
    assert_true(interesting >= 90);
}

static void nothing_wanted_is_always_there(void **state)
{
    (void)state;
    struct places places = places_none(&arena, 0);
    const struct bearer graft = {{0.3, 0.2}, {1, 3}};
    assert_near(places_enough(&places), 1, 0);
    assert_int_equal(places_grafts_needed(&places, &graft, 0.95, &arena), 0);
}

static void a_place_less_than_none_counts_as_none(void **state)
{
    (void)state;
    struct places places = places_none(&arena, 1);
    const struct bearer graft = {{1, 1}, {-2, 0}};
    places_add(&places, &graft);
    assert_near(places_enough(&places), 0, 0);
}

static void one_graft_fewer_than_needed_is_too_few(void **state)
{
    (void)state;
    const struct bearer old = {{0, 0.9}, {0, 3}}, fresh = {{0.6, 0.5}, {1, 3}};
    struct places standing = places_none(&arena, 12);
    places_add(&standing, &old);
    places_add(&standing, &old);
    int64_t grafts = places_grafts_needed(&standing, &fresh, 0.95, &arena);
    assert_int_equal(grafts, 8);
    assert_true(places_enough_with(&standing, &fresh, grafts, &arena) >= 0.95);
    assert_true(places_enough_with(&standing, &fresh, grafts - 1, &arena) < 0.95);
}

static void grafts_that_never_bear_are_never_enough(void **state)
{
    (void)state;
    struct places standing = places_none(&arena, 1);
    const struct bearer barren = {{1, 1}, {0, 0}}, dead = {{0, 0}, {1, 3}};
    assert_int_equal(places_grafts_needed(&standing, &barren, 0.95, &arena), -1);
    assert_int_equal(places_grafts_needed(&standing, &dead, 0.95, &arena), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(every_fate_of_every_graft_is_counted, begin, end),
        cmocka_unit_test_setup_teardown(nothing_wanted_is_always_there, begin, end),
        cmocka_unit_test_setup_teardown(a_place_less_than_none_counts_as_none, begin, end),
        cmocka_unit_test_setup_teardown(one_graft_fewer_than_needed_is_too_few, begin, end),
        cmocka_unit_test_setup_teardown(grafts_that_never_bear_are_never_enough, begin, end),
    };
    return cmocka_run_group_tests_name("places", tests, NULL, NULL) != 0;
}
