#include "writing/words.h"

#include "base/test.h"

struct world {
    struct arena arena;
    struct text out;
};

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    text_init(&world.out, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static struct text *fresh(void **state)
{
    struct world *world = *state;
    text_clear(&world->out);
    return &world->out;
}

static void days_are_told_with_what_is_needed_to_find_them(void **state)
{
    struct text *out = fresh(state);
    daynum day = day_from_civil(2027, 3, 2);
    words_add_day(out, day);
    text_add(out, "|");
    words_add_day_short(out, day);
    text_add(out, "|");
    words_add_day(out, DAY_NONE);
    text_add(out, "|");
    words_add_day_short(out, DAY_NEVER);
    assert_string_equal(out->bytes, "Tue 2 Mar 2027|2 Mar|-|not reached");
}

static void ranges_say_a_month_once(void **state)
{
    daynum day = day_from_civil(2027, 2, 27);
    static const struct {
        int from, to; /* days after 27 February; -1 none, -2 never */
        const char *words;
    } cases[] = {
        {0, 10, "27 Feb-9 Mar"}, {3, 10, "2-9 Mar"}, {3, 3, "2 Mar"},
        {-1, 3, "2 Mar"},        {3, -1, "2 Mar"},   {3, -2, "from 2 Mar"},
        {-2, -2, "not reached"}, {-1, -1, "-"},      {0, 366, "27 Feb-28 Feb"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct text *out = fresh(state);
        const int given[] = {cases[i].from, cases[i].to};
        daynum days[2];
        for (int k = 0; k < 2; k++)
            days[k] = given[k] == -1 ? DAY_NONE : given[k] == -2 ? DAY_NEVER : day + given[k];
        words_add_range(out, days[0], days[1]);
        assert_string_equal(out->bytes, cases[i].words);
    }
}

static void a_chance_is_certain_only_when_it_is(void **state)
{
    static const struct {
        double chance;
        const char *words;
    } cases[] = {{0, "0 %"},        {1e-9, "<1 %"},  {0.0099, "<1 %"},
                 {0.01, "1 %"},     {0.874, "87 %"}, {0.99, "99 %"},
                 {0.9999, ">99 %"}, {1, "100 %"},    {(double)NAN, "-"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct text *out = fresh(state);
        words_add_chance(out, cases[i].chance);
        assert_string_equal(out->bytes, cases[i].words);
    }
}

static void amounts_have_no_idle_digits(void **state)
{
    struct text *out = fresh(state);
    static const double amounts[] = {12, 0.5, 12.25, 100, 0};
    for (size_t i = 0; i < COUNT(amounts); i++) {
        words_add_amount(out, amounts[i]);
        text_add(out, " ");
    }
    assert_string_equal(out->bytes, "12 0.5 12.25 100 0 ");
}

static void one_of_a_kind_is_singular(void **state)
{
    struct text *out = fresh(state);
    for (size_t count = 0; count < 3; count++) {
        words_add_count(out, count, "day", "days");
        text_add(out, " ");
    }
    assert_string_equal(out->bytes, "0 days 1 day 2 days ");
}

int main(void)
{
#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(days_are_told_with_what_is_needed_to_find_them),
        TEST(ranges_say_a_month_once),
        TEST(a_chance_is_certain_only_when_it_is),
        TEST(amounts_have_no_idle_digits),
        TEST(one_of_a_kind_is_singular),
    };
    return cmocka_run_group_tests_name("words", tests, NULL, NULL) != 0;
}
