#include "planning/scion_chilling.h"

#include "planning/weather_fixture.h"

/* 4 degrees, 3 either side: by Linvill's curve every hour is within 0 to 8. */
static double cold_c(int season, daynum day)
{
    (void)season;
    return day < day_from_civil(2026, 12, 12) ? 30 : 4;
}

static struct batch *add_cut(struct fixture *fixture, const char *name, double store_c)
{
    struct batch *batch = FIXTURE_PUSH(fixture, batches);

    *batch = (struct batch){.place = fixture_place(fixture, "scions.csv"),
                            .name = name,
                            .selection_name = "S1",
                            .cut_on = fixture_day("2027-01-11"),
                            .source_tree_name = "T1",
                            .count = -1,
                            .store_c = store_c,
                            .discarded_on = DAY_NONE};
    return batch;
}

static struct scion_chillings chilling_on(struct fixture *fixture, const char *as_of)
{
    struct season_heat *heat = ARENA_NEW(&fixture->arena, struct season_heat);

    (void)dates_on(fixture, as_of);
    season_heat_init(heat, &fixture->orchard, &fixture->arena);
    return scion_chilling(heat, &fixture->arena);
}

static void set_up_bank(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2026, 2027, cold_c);
    add_selection(fixture, "S1", NULL, NULL);
    add_tree(fixture, "T1", "Nord");
}

/* 30 days of 24 hours on the tree and 21 days in store: as Carlson 1985 adds 734 and 500. */
static void hours_in_a_cold_store_count_as_those_on_the_tree(void **state)
{
    struct fixture *fixture = *state;
    struct scion_chillings made;

    set_up_bank(fixture);
    add_cut(fixture, "A", 3);
    add_cut(fixture, "B", 9)->discarded_on = fixture_day("2027-01-20");
    add_cut(fixture, "C", NAN);
    made = chilling_on(fixture, "2027-02-01");
    assert_int_equal(made.count, 3);
    assert_near(made.list[0].field_hours, 30 * 24 - 1, 0); /* the first midnight is still warm */
    assert_near(made.list[0].store_hours, 21 * 24, 0);
    assert_near(made.list[0].hours, 719 + 504, 0);
    assert_int_equal(made.list[0].missing_days, 0);
    assert_false(made.list[0].grafted);
    assert_null(made.list[0].reason);
    assert_day(made.list[0].from, "2026-07-01");
    assert_near(made.list[1].store_hours, 0, 0); /* 9 deg C is no chilling */
    assert_day(made.list[1].store_end, "2027-01-20");
    assert_true(isnan(made.list[2].hours));
    assert_string_equal(made.list[2].reason, "the temperature of the store is not told");
}

static void the_first_graft_of_a_batch_ends_its_store(void **state)
{
    struct fixture *fixture = *state;
    struct scion_chillings made;

    set_up_bank(fixture);
    add_cut(fixture, "A", 3);
    add_graft(fixture, "G1", "S1", "T1")->grafted_on = fixture_day("2027-01-25");
    fixture->orchard.grafts.list[0].batch_name = "A";
    add_graft(fixture, "G2", "S1", "T1")->grafted_on = fixture_day("2027-01-16");
    fixture->orchard.grafts.list[1].batch_name = "A";
    made = chilling_on(fixture, "2027-02-01");
    assert_true(made.list[0].grafted);
    assert_near(made.list[0].store_hours, 5 * 24, 0);
}

static void what_is_not_known_is_said(void **state)
{
    struct fixture *fixture = *state;
    struct scion_chillings made;
    struct record *record;

    set_up_bank(fixture);
    record = &fixture->orchard.records.list[0];
    for (size_t i = 0; i < record->count; i++) /* three weeks of December are missing */
        if (record->first_day + (daynum)i >= fixture_day("2026-12-12") &&
            record->first_day + (daynum)i < fixture_day("2027-01-01"))
            record->tmin_c[i] = record->tmax_c[i] = NAN;
    add_cut(fixture, "A", 3);
    add_cut(fixture, "B", 3)->source_tree_name = NULL;
    add_cut(fixture, "C", 3)->cut_on = DAY_NONE;
    made = chilling_on(fixture, "2027-02-01");
    assert_int_equal(made.count, 2);
    assert_true(made.list[0].missing_days >= 20);
    assert_true(made.list[0].field_hours <= 10 * 24 && made.list[0].field_hours >= 8 * 24);
    assert_string_equal(made.list[0].reason, "days without weather are left out");
    assert_null(made.list[1].site);
    assert_true(isnan(made.list[1].hours));
    assert_string_equal(made.list[1].reason, "where it was cut is not told");
}

static void trees_of_the_selection_on_one_site_tell_the_site(void **state)
{
    struct fixture *fixture = *state;
    struct scion_chillings made;

    set_up_bank(fixture);
    fixture->orchard.trees.list[0].selection_name = "S1";
    fixture->orchard.sites.list[0].latitude = NAN;
    add_cut(fixture, "A", 3)->source_tree_name = NULL;
    made = chilling_on(fixture, "2027-02-01");
    assert_string_equal(made.list[0].site->name, "Nord");
    assert_true(isnan(made.list[0].field_hours));
    assert_string_equal(made.list[0].reason, "no latitude of the site or its station");
}

static void scions_of_a_site_without_weather_have_no_hours(void **state)
{
    struct fixture *fixture = *state;
    struct scion_chillings made;

    set_up_bank(fixture);
    add_tree(fixture, "T2", "Syd");
    add_cut(fixture, "A", 3)->source_tree_name = "T2";
    made = chilling_on(fixture, "2027-02-01");
    assert_true(isnan(made.list[0].hours));
    assert_string_equal(made.list[0].reason, "no weather of these days");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(hours_in_a_cold_store_count_as_those_on_the_tree),
        FIXTURE_TEST(the_first_graft_of_a_batch_ends_its_store),
        FIXTURE_TEST(what_is_not_known_is_said),
        FIXTURE_TEST(trees_of_the_selection_on_one_site_tell_the_site),
        FIXTURE_TEST(scions_of_a_site_without_weather_have_no_hours),
    };

    return cmocka_run_group_tests_name("chilling of scions", tests, NULL, NULL) != 0;
}
