/*
 * attention_test.c - what a run wants a person to look at, on a plan written by hand.
 */
#include "planning/attention.h"

#include "base/test.h"

#define AS_OF day_from_civil(2027, 3, 2)

struct folder {
    struct arena arena;
    struct orchard orchard;
    struct crossing_plan plan;
};

static int setup(void **state)
{
    static struct folder folder;

    arena_init(&folder.arena, NULL);
    orchard_init(&folder.orchard, &folder.arena);
    folder.plan = (struct crossing_plan){.as_of = AS_OF};
    *state = &folder;
    return 0;
}

static int teardown(void **state)
{
    arena_release(&((struct folder *)*state)->arena);
    return 0;
}

static void expect(struct folder *folder, size_t count, const char *const *words)
{
    struct attention attention = attention_of(&folder->plan, &folder->orchard, &folder->arena);

    assert_int_equal(attention.count, count);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(attention.list[i], words[i]);
}

static void add_site(struct folder *folder, const char *station)
{
    *ARENA_PUSH(&folder->arena, folder->orchard.sites.list, folder->orchard.sites.count,
                folder->orchard.sites.capacity) =
        (struct site){.name = "Nord", .station_name = station};
}

/* Two days, the second so many days before the as-of day and, if not whole, without its maximum. */
static void add_record(struct folder *folder, const char *station, int days_ago, bool whole)
{
    struct record record = {.station = station,
                            .first_day = AS_OF - days_ago - 1,
                            .count = 2,
                            .tmin_c = ARENA_ARRAY(&folder->arena, 2, double),
                            .tmax_c = ARENA_ARRAY(&folder->arena, 2, double)};

    if (!whole)
        record.tmax_c[1] = NAN;
    *ARENA_PUSH(&folder->arena, folder->orchard.records.list, folder->orchard.records.count,
                folder->orchard.records.capacity) = record;
}

static void add_forecast(struct folder *folder, const char *station, int days_ago)
{
    *ARENA_PUSH(&folder->arena, folder->orchard.forecasts.list, folder->orchard.forecasts.count,
                folder->orchard.forecasts.capacity) =
        (struct forecast){.station = station, .issued = AS_OF - days_ago};
}

static void nothing_is_wanted_of_a_quiet_night(void **state)
{
    struct folder *folder = *state;
    static struct move later[1] = {{.firm = false}};
    static struct shortfall far[] = {
        {.remedy_by = DAY_NONE}, {.remedy_by = DAY_NEVER}, {.remedy_by = 0 /* long past */}};

    add_site(folder, "HOLM");
    add_record(folder, "HOLM", ATTENTION_WEATHER_DAYS, true);
    add_record(folder, "UNUSED", 90, true);
    add_forecast(folder, "HOLM", ATTENTION_FORECAST_DAYS);
    add_forecast(folder, "HOLM", 9); /* an older one of the same station */
    folder->plan.moves = later;
    folder->plan.move_count = 1;
    folder->plan.shortfalls = far;
    folder->plan.shortfall_count = COUNT(far);
    expect(folder, 0, NULL);
}

static void all_that_is_wanted_is_told_in_order(void **state)
{
    struct folder *folder = *state;
    struct move moves[] = {{.firm = true}, {.firm = false}, {.firm = true}};
    struct shortfall shortfalls[] = {{.remedy_by = AS_OF + ATTENTION_HELP_DAYS - 1},
                                     {.remedy_by = AS_OF + ATTENTION_HELP_DAYS},
                                     {.remedy_by = AS_OF}};
    static const char *const words[] = {
        "2 visits inside the firm days moved or dropped: tell those who hold the earlier plan",
        "2 shortfalls can be helped only within a week, the first until 2027-03-02: see shortfalls",
        "no weather of HOLM after 2027-02-26, 4 days ago: add it",
        "the newest forecast of HOLM is of 2027-02-27: get a new one"};

    add_site(folder, NULL);
    add_site(folder, "HOLM");
    add_record(folder, "HOLM", 3, false);
    add_forecast(folder, "HOLM", 3);
    folder->plan.moves = moves;
    folder->plan.move_count = COUNT(moves);
    folder->plan.shortfalls = shortfalls;
    folder->plan.shortfall_count = COUNT(shortfalls);
    expect(folder, COUNT(words), words);
}

static void one_of_a_kind_is_told_as_one(void **state)
{
    struct folder *folder = *state;
    struct move moves[] = {{.firm = true}};
    struct shortfall shortfalls[] = {{.remedy_by = AS_OF + 1}};
    static const char *const words[] = {
        "1 visit inside the firm days moved or dropped: tell those who hold the earlier plan",
        "1 shortfall can be helped only within a week, the first until 2027-03-03: see shortfalls"};

    add_record(folder, "EMPTY", 3, true);
    folder->orchard.records.list[0].count = 0;
    folder->plan.moves = moves;
    folder->plan.move_count = COUNT(moves);
    folder->plan.shortfalls = shortfalls;
    folder->plan.shortfall_count = COUNT(shortfalls);
    expect(folder, COUNT(words), words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(nothing_is_wanted_of_a_quiet_night, setup, teardown),
        cmocka_unit_test_setup_teardown(all_that_is_wanted_is_told_in_order, setup, teardown),
        cmocka_unit_test_setup_teardown(one_of_a_kind_is_told_as_one, setup, teardown),
    };
    return cmocka_run_group_tests_name("planning: attention", tests, NULL, NULL) != 0;
}
