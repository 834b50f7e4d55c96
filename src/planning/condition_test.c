/*
 * condition_test.c - dates after looks against a plain enumeration of members and both shifts.
 *
 * The enumeration shares no code with condition.c: it draws every future with its weight from the
 * normal distribution, throws away what a look contradicts and counts the rest.
 */
#include "planning/condition.h"

#include "conetide/normal.h"
#include "orchard/fixture.h"

#include <math.h>

enum { MEMBERS = 5, BASE = 20000 };

struct world {
    struct arena arena;
    struct spreads spreads;
    struct bloom plain;
    int32_t days[EVENTS][MEMBERS];
    struct looks looks;
};

static uint32_t seed = 20270315;

static int below(int limit)
{
    seed = seed * 1664525u + 1013904223u;
    return (int)((seed >> 8) % (uint32_t)limit);
}

static int setup(void **state)
{
    static struct world world;

    world = (struct world){0};
    arena_init(&world.arena, NULL);
    spreads_init(&world.spreads, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    arena_release(&((struct world *)*state)->arena);
    return 0;
}

static void make_plain(struct world *world, double sigma_days)
{
    const struct spread spread = spread_of_days(&world->spreads, sigma_days);

    world->plain = (struct bloom){.members = MEMBERS,
                                  .sigma_days = spread.sigma_days,
                                  .shifts = spread.shifts,
                                  .shed_shifts = spread.shifts};
    for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++)
        world->plain.days[e] = world->days[e];
    bloom_take_windows(&world->plain, &world->arena);
}

static void random_members(struct world *world)
{
    for (int m = 0; m < MEMBERS; m++) {
        int32_t day = BASE + below(7);

        for (int e = EVENT_OPENING; e <= EVENT_CLOSED; e++) {
            world->days[e][m] = day;
            day += below(5);
        }
        world->days[EVENT_BAG_BY][m] = world->days[EVENT_OPENING][m] - 1;
        if (below(9) == 0)
            world->days[EVENT_LAST][m] = world->days[EVENT_CLOSED][m] = CONETIDE_NEVER;
    }
}

/* A season of looks a few days apart at a graft that opens some day. */
static void random_looks(struct world *world)
{
    int32_t came[LOOKED_EVENTS], look = BASE - 6 + below(8);
    int count = 1 + below(4);

    came[0] = BASE - 2 + below(10);
    for (int i = 1; i < LOOKED_EVENTS; i++)
        came[i] = came[i - 1] + below(6);
    world->looks = (struct looks){0};
    for (int i = 0; i < LOOKED_EVENTS; i++)
        world->looks.after[i] = world->looks.by[i] = DAY_NONE;
    for (int k = 0; k < count; k++, look += 1 + below(5)) {
        world->looks.count++;
        for (int i = 0; i < LOOKED_EVENTS; i++) {
            if (world->looks.by[i] != DAY_NONE)
                continue;
            if (came[i] > look) {
                world->looks.after[i] = look;
            } else {
                world->looks.by[i] = look;
                world->looks.come = i + 1;
            }
        }
    }
}

/* ---- every future ---------------------------------------------------------------------------- */

static double share(double mean, double sd_days, int j)
{
    if (sd_days <= 0)
        return j == (int)lround(mean) ? 1 : 0;
    return conetide_normal_cumulative((j + 0.5 - mean) / sd_days) -
           conetide_normal_cumulative((j - 0.5 - mean) / sd_days);
}

struct counted {
    double weight;
    double by[EVENTS];
    double receptive, both, clean, clean_both;
};

static int32_t moved(int32_t day, int shift)
{
    return day == CONETIDE_NEVER ? day : day + shift;
}

static bool agrees(const struct looks *looks, const int32_t *day)
{
    for (int i = 0; i < LOOKED_EVENTS; i++) {
        int32_t came = day[looked_events[i]];

        if (i < looks->come && (came == CONETIDE_NEVER || came > looks->by[i]))
            return false;
        if (looks->after[i] != DAY_NONE && came <= looks->after[i])
            return false;
    }
    return true;
}

static bool holds(const int32_t *day, int32_t on)
{
    return day[EVENT_FIRST] <= on && on <= day[EVENT_LAST];
}

static void count_future(struct counted *counted, const int32_t *day, const int32_t asked[3],
                         double weight)
{
    bool both = holds(day, asked[1]) && holds(day, asked[2]);
    bool clean = day[EVENT_OPENING] > asked[0];

    counted->weight += weight;
    for (int e = EVENT_OPENING; e <= EVENT_CLOSED; e++)
        counted->by[e] += day[e] <= asked[1] ? weight : 0;
    counted->receptive += holds(day, asked[1]) ? weight : 0;
    counted->both += both ? weight : 0;
    counted->clean += clean ? weight : 0;
    counted->clean_both += clean && both ? weight : 0;
}

static struct counted count_all(const struct world *world, const int32_t asked[3])
{
    double sigma = world->plain.sigma_days, rest = sigma * sqrt(1 - 0.7 * 0.7), total = 0;
    int reach = (int)ceil(4 * sigma), come = world->looks.come;
    struct counted counted = {0};

    for (int j = -reach; j <= reach; j++)
        total += share(0, sigma, j);
    for (int m = 0; m < MEMBERS; m++) {
        for (int j = -reach; j <= reach; j++) {
            bool one_shift = come == 0 || come == LOOKED_EVENTS;
            double within = 0;

            for (int i = -reach; i <= reach && !one_shift; i++)
                within += share(0.7 * j, rest, i);
            for (int i = one_shift ? j : -reach; i <= (one_shift ? j : reach); i++) {
                double weight = share(0, sigma, j) / total / MEMBERS;
                int32_t day[EVENTS];

                for (int e = EVENT_OPENING; e <= EVENT_CLOSED; e++)
                    day[e] = moved(world->days[e][m], e < EVENT_OPENING + come ? j : i);
                if (!one_shift)
                    weight *= share(0.7 * j, rest, i) / within;
                if (agrees(&world->looks, day))
                    count_future(&counted, day, asked, weight);
            }
        }
    }
    return counted;
}

static void check_against(const struct bloom *bloom, const struct counted *all,
                          const int32_t asked[3])
{
    const struct conetide_futures futures = bloom_futures(bloom);
    const double within = 1e-6, w = all->weight;

    for (int e = EVENT_OPENING; e <= EVENT_CLOSED; e++)
        assert_near(bloom_by(bloom, (enum event)e, asked[1]), all->by[e] / w, within);
    assert_near(bloom_by(bloom, EVENT_BAG_BY, asked[1] - 1), all->by[EVENT_OPENING] / w, within);
    assert_near(conetide_chance(&futures, asked[1]), all->receptive / w, within);
    assert_near(conetide_chance_both(&futures, asked[1], asked[2]), all->both / w, within);
    assert_near(conetide_chance_clean(&futures, asked[0]), all->clean / w, within);
    assert_near(conetide_chance_clean_both(&futures, asked[0], asked[1], asked[2]),
                all->clean_both / w, within);
    assert_near(bloom_safe_to_unbag(bloom, NULL, asked[1] + 1), all->by[EVENT_CLOSED] / w, within);
}

static void dates_after_looks_are_those_of_the_futures_that_are_left(void **state)
{
    static const double sigmas_days[] = {0, 0.6, 1.7, 3};
    struct world *world = *state;
    int shrunk = 0, alone = 0, rigid = 0, both = 0;

    for (int round = 0; round < 1500; round++) {
        int32_t asked[3];
        struct counted all;
        const struct bloom *bloom;

        random_members(world);
        make_plain(world, sigmas_days[below(COUNT(sigmas_days))]);
        random_looks(world);
        asked[1] = BASE - 4 + below(24);
        asked[0] = asked[1] - below(8);
        asked[2] = asked[1] + 2 + below(2);
        all = count_all(world, asked);
        bloom = condition_bloom(&world->plain, &world->looks, &world->spreads, &world->arena);
        assert_ptr_equal(bloom->plain, &world->plain);
        assert_near(bloom->left, all.weight, 1e-6);
        if (fabs(all.weight - FUTURES_LEFT_LEAST) < 1e-6)
            continue;
        assert_int_equal(bloom->looks_alone, all.weight < FUTURES_LEFT_LEAST);
        if (bloom->looks_alone) {
            alone++;
            continue;
        }
        check_against(bloom, &all, asked);
        *(world->looks.come % LOOKED_EVENTS > 0 ? &shrunk : &rigid) += 1;
        both += all.both > 0.01 * all.weight && all.both + 0.01 * all.weight < all.receptive;
    }
    print_message("shrunk %d, of one shift %d, looks alone %d, two days tell %d of 1500\n", shrunk,
                  rigid, alone, both);
    assert_true(shrunk > 200 && rigid > 150 && alone > 150 && both > 50);
}

/* ---- looks alone ----------------------------------------------------------------------------- */

/* Every member alike: opening on BASE, first 3 days on, peak 5, last 8, closed 12. */
static void like_members(struct world *world)
{
    static const int after[] = {-1, 0, 3, 5, 8, 12};

    for (int m = 0; m < MEMBERS; m++)
        for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++)
            world->days[e][m] = BASE + after[e];
}

static struct looks looks_at(int come, daynum before, daynum on)
{
    struct looks looks = {.count = before == DAY_NONE ? 1 : 2, .come = come};

    for (int i = 0; i < LOOKED_EVENTS; i++) {
        looks.after[i] = i < come ? before : on;
        looks.by[i] = i < come ? on : DAY_NONE;
    }
    return looks;
}

static const struct bloom *seen(struct world *world, struct looks looks)
{
    world->looks = looks;
    return condition_bloom(&world->plain, &world->looks, &world->spreads, &world->arena);
}

static void an_event_far_from_its_date_lies_on_each_day_between_its_looks_alike(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;
    daynum after, by;

    like_members(world);
    make_plain(world, 1);
    bloom = seen(world, looks_at(4, BASE + 30, BASE + 34));
    assert_true(bloom->looks_alone);
    for (int day = 0; day <= 5; day++)
        assert_near(bloom_by(bloom, EVENT_LAST, BASE + 30 + day), day < 4 ? day / 4.0 : 1, 1e-12);
    /* opening lies 8 days before, but not before its own look */
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE + 31), 1, 1e-12);
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE + 30), 0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_CLOSED, BASE + 36), 0.5, 1e-12);
    assert_true(bloom_seen(bloom, EVENT_FIRST, &after, &by));
    assert_int_equal(after, BASE + 30);
    assert_int_equal(by, BASE + 34);
    assert_false(bloom_seen(bloom, EVENT_CLOSED, &after, &by));
}

/* Of those days the ones go that bring the next event before the last look. */
static void what_follows_an_event_far_from_its_date_is_after_the_last_look(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    like_members(world);
    make_plain(world, 0);
    bloom = seen(world, looks_at(2, BASE + 30, BASE + 34));
    assert_true(bloom->looks_alone);
    /* peak is 2 days after first, and not by the 34th: first on the 33rd or 34th */
    assert_near(bloom_by(bloom, EVENT_FIRST, BASE + 32), 0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_FIRST, BASE + 33), 0.5, 1e-12);
    assert_near(bloom_by(bloom, EVENT_PEAK, BASE + 35), 0.5, 1e-12);
    assert_near(bloom_by(bloom, EVENT_LAST, BASE + 39), 1, 1e-12);
}

static void the_first_look_finding_it_come_gives_it_a_week(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    like_members(world);
    make_plain(world, 1);
    bloom = seen(world, looks_at(4, DAY_NONE, BASE - 10));
    assert_true(bloom->looks_alone);
    assert_near(bloom_by(bloom, EVENT_LAST, BASE - 17), 0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_LAST, BASE - 16), 1 / 7.0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_LAST, BASE - 10), 1, 1e-12);
    assert_near(bloom_by(bloom, EVENT_CLOSED, BASE - 7), 6 / 7.0, 1e-12);
}

static void what_has_not_come_long_after_its_date_comes_within_a_week(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    like_members(world);
    make_plain(world, 1);
    bloom = seen(world, looks_at(0, DAY_NONE, BASE + 20));
    assert_true(bloom->looks_alone);
    assert_near(bloom->left, 0, 0);
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE + 20), 0, 0);
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE + 22), 2 / 7.0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_FIRST, BASE + 24), 1 / 7.0, 1e-12);
    assert_near(bloom_by(bloom, EVENT_LAST, BASE + 35), 1, 1e-12);
}

/* Opened in time, and still not receptive three weeks on. */
static void a_stage_that_lasts_too_long_ends_within_a_week(void **state)
{
    struct world *world = *state;
    struct looks looks = looks_at(1, BASE - 1, BASE + 1);
    const struct bloom *bloom;

    like_members(world);
    make_plain(world, 1);
    for (int i = 1; i < LOOKED_EVENTS; i++)
        looks.after[i] = BASE + 22;
    bloom = seen(world, looks);
    assert_true(bloom->looks_alone);
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE - 1), 0, 0);
    assert_near(bloom_by(bloom, EVENT_OPENING, BASE + 1), 1, 1e-12);
    assert_near(bloom_by(bloom, EVENT_FIRST, BASE + 22), 0, 0);
    assert_near(bloom_by(bloom, EVENT_FIRST, BASE + 29), 1, 1e-12);
    assert_near(bloom_by(bloom, EVENT_PEAK, BASE + 25), 1 / 7.0, 1e-12);
}

static void a_member_that_never_brings_what_was_seen_is_no_future(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    like_members(world);
    for (int e = EVENT_FIRST; e <= EVENT_CLOSED; e++)
        world->days[e][0] = CONETIDE_NEVER;
    make_plain(world, 2);
    bloom = seen(world, looks_at(2, BASE + 1, BASE + 5));
    assert_false(bloom->looks_alone);
    for (size_t n = 0; n < bloom->members; n++)
        assert_true(bloom->origin[n] > 0);
    for (int m = 1; m < MEMBERS; m++)
        world->days[EVENT_FIRST][m] = CONETIDE_NEVER;
    bloom = seen(world, looks_at(2, BASE + 1, BASE + 5));
    assert_true(bloom->looks_alone);
    assert_true(bloom_date(bloom, EVENT_PEAK, 0.1) > BASE + 5);
}

static void without_any_date_looks_move_nothing(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    make_plain(world, 2);
    for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++)
        world->plain.days[e] = NULL;
    world->plain.windows = NULL;
    bloom = seen(world, looks_at(2, BASE + 1, BASE + 5));
    assert_int_equal(bloom->members, MEMBERS);
    assert_null(bloom->given);
    assert_int_equal(bloom_date(bloom, EVENT_LAST, 0.5), DAY_NONE);
}

/* Four days early at opening: of sigma 4 the rest is 0.7 x 4 = 2.8 days early, and spreads less. */
static void the_rest_follows_what_was_seen_by_seven_tenths(void **state)
{
    struct world *world = *state;
    const struct bloom *bloom;

    like_members(world);
    for (int e = EVENT_FIRST; e <= EVENT_CLOSED; e++) /* so late that no look cuts them */
        for (int m = 0; m < MEMBERS; m++)
            world->days[e][m] += 20;
    make_plain(world, 4);
    bloom = seen(world, looks_at(1, BASE - 5, BASE - 4));
    assert_false(bloom->looks_alone);
    assert_int_equal(bloom_date(bloom, EVENT_OPENING, 0.1), BASE - 4);
    assert_int_equal(bloom_date(bloom, EVENT_OPENING, 0.9), BASE - 4);
    assert_int_equal(bloom_date(bloom, EVENT_LAST, 0.5), BASE + 28 - 3);
    assert_true(bloom_date(bloom, EVENT_LAST, 0.9) - bloom_date(bloom, EVENT_LAST, 0.1) <
                bloom_date(&world->plain, EVENT_LAST, 0.9) -
                    bloom_date(&world->plain, EVENT_LAST, 0.1));
}

/* The example of docs/handbook.md, "What was seen moves dates". */
static void the_example_of_the_handbook_stands(void **state)
{
    enum { MARCH = BASE }; /* the day before 1 March */
    static const int came[] = {9, 10, 14, 17, 24, 28};
    struct world *world = *state;
    const struct bloom *bloom;

    for (int m = 0; m < MEMBERS; m++)
        for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++)
            world->days[e][m] = MARCH + came[e];
    make_plain(world, 5.3);
    assert_int_equal(bloom_date(&world->plain, EVENT_FIRST, 0.1), MARCH + 7);
    assert_int_equal(bloom_date(&world->plain, EVENT_FIRST, 0.5), MARCH + 14);
    assert_int_equal(bloom_date(&world->plain, EVENT_FIRST, 0.9), MARCH + 21);
    bloom = seen(world, looks_at(1, MARCH + 4, MARCH + 6));
    assert_near(bloom->left, 0.092, 0.0005);
    assert_near(bloom_by(bloom, EVENT_OPENING, MARCH + 5), 0.45, 0.005);
    assert_near(bloom_by(bloom, EVENT_OPENING, MARCH + 6), 1, 1e-12);
    assert_int_equal(bloom_date(bloom, EVENT_FIRST, 0.1), MARCH + 8);
    assert_int_equal(bloom_date(bloom, EVENT_FIRST, 0.5), MARCH + 11);
    assert_int_equal(bloom_date(bloom, EVENT_FIRST, 0.9), MARCH + 16);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(dates_after_looks_are_those_of_the_futures_that_are_left),
        TEST(an_event_far_from_its_date_lies_on_each_day_between_its_looks_alike),
        TEST(what_follows_an_event_far_from_its_date_is_after_the_last_look),
        TEST(the_first_look_finding_it_come_gives_it_a_week),
        TEST(what_has_not_come_long_after_its_date_comes_within_a_week),
        TEST(a_stage_that_lasts_too_long_ends_within_a_week),
        TEST(a_member_that_never_brings_what_was_seen_is_no_future),
        TEST(without_any_date_looks_move_nothing),
        TEST(the_example_of_the_handbook_stands),
        TEST(the_rest_follows_what_was_seen_by_seven_tenths),
    };

    return cmocka_run_group_tests_name("dates after looks", tests, NULL, NULL) != 0;
}
