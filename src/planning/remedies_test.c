/*
 * remedies_test.c - what would help, by an orchard reckoned by hand.
 */
#include "planning/remedies.h"

#include "planning/crossing_fixture.h"

typedef void change(struct fixture *fixture);

static struct crossing_plan remedied_on(struct fixture *fixture, const char *as_of)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, as_of);
    struct crossing_plan plan = plan_of(fixture, &inputs);

    remedies_fill(&inputs, &plan);
    return plan;
}

static struct cross *only_cross(struct fixture *fixture)
{
    return &fixture->orchard.crosses.list[0];
}

static void self(struct fixture *fixture)
{
    add_selection(fixture, "S1b", NULL, NULL)->same_as_name = "S1";
    only_cross(fixture)->pollen_parent_name = "S1b";
}

static void too_few_places(struct fixture *fixture)
{
    only_cross(fixture)->seeds_wanted = 180;
}

static void of_this_season(struct fixture *fixture)
{
    too_few_places(fixture);
    only_cross(fixture)->season = 2027;
}

static void no_rate(struct fixture *fixture)
{
    add_rate(fixture, "cones_kept", 0, 0)->selection_name = "S1";
}

static void nothing_survives(struct fixture *fixture)
{
    too_few_places(fixture);
    add_rate(fixture, "survival", 0, 0)->selection_name = "S1";
}

static void other_lot(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].selection_name = "S1";
}

static void dead_for_2027(struct fixture *fixture)
{
    other_lot(fixture);
    only_cross(fixture)->season = 2027;
}

static void lot_empty(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].volume_ml = 0.4;
}

static void mix(struct fixture *fixture)
{
    struct lot *lot = add_lot(fixture, "MX", NULL);

    lot->parts = ARENA_ARRAY(&fixture->arena, 1, struct mix_part);
    lot->parts[0] = (struct mix_part){.selection_name = "S2", .share = 1};
    lot->part_count = 1;
    lot->volume_ml = 0.1;
    only_cross(fixture)->pollen_parent_name = "MX";
}

static void none(struct fixture *fixture)
{
    (void)fixture;
}

/* Visits from 5 to 11 March: pollen must be ready on the 10th, gathered five days before. */
static void each_cause_has_its_remedy(void **state)
{
    static const struct {
        const char *as_of;
        change *change;
        const char *remedy, *by;
    } cases[] = {
        {"2027-02-01", self, "another parent, of less near kin", NULL},
        {"2027-02-01", of_this_season, "none in time: ask for a later season in crosses.csv", NULL},
        {"2027-02-01", no_rate, "correct the rate of 0 in rates.csv", NULL},
        {"2027-02-01", nothing_survives, "better rates: no number of grafts of S1 is enough", NULL},
        {"2027-02-01", other_lot, "gather 1 ml of S2 by 2027-03-05", "2027-03-05"},
        {"2027-02-01", lot_empty, "gather 1 ml of S2 by 2027-03-05", "2027-03-05"},
        {"2027-02-01", mix, "mix 1 ml of MX by 2027-03-05", "2027-03-05"},
        {"2027-03-02", none, "none this season: 1 bag is pencilled into 2028", NULL},
        {"2027-03-12", of_this_season, "none: ask for a later season in crosses.csv", NULL},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        char day[DAY_TEXT];

        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_crossing_world(fixture);
        cases[i].change(fixture);
        struct crossing_plan plan = remedied_on(fixture, cases[i].as_of);
        assert_true(plan.shortfall_count >= 1);
        assert_string_equal(plan.shortfalls[0].remedy, cases[i].remedy);
        assert_string_equal(day_text(plan.shortfalls[0].remedy_by, day),
                            cases[i].by != NULL ? cases[i].by : "");
    }
}

/* Between 5 March and the last day that leaves time to dry and test, pollen is too late. */
static void pollen_that_comes_too_late_is_for_the_next_season(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    other_lot(fixture);
    note_on_bag(fixture, "2027-02-26", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    struct crossing_plan plan = remedied_on(fixture, "2027-03-08");
    assert_string_equal(plan.shortfalls[0].remedy,
                        "gather 1 ml of S2 for 2028: too late this season");
    assert_int_equal(plan.shortfalls[0].remedy_by, DAY_NONE);
}

static void pollen_too_late_for_the_only_season_asks_for_another(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    dead_for_2027(fixture);
    note_on_bag(fixture, "2027-02-26", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    struct crossing_plan plan = remedied_on(fixture, "2027-03-08");
    assert_string_equal(plan.shortfalls[0].remedy,
                        "none in time: ask for a later season in crosses.csv");
}

/* Three bags want 9.2 minutes each on one day; each Thursday and Monday hold 39 less 30. */
static void a_crew_day_more_gives_bags(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    only_cross(fixture)->seeds_wanted = 120;
    fixture->orchard.crews.list[0].hours_per_day = 78.0 / 60;
    fixture->orchard.crews.list[0].weekdays = 1U << 4 | 1U << 1;
    fixture->orchard.crews.list[0].from = fixture_day("2027-02-25");
    add_crew(fixture, "Birch", "2027-03-01", "2027-06-30"); /* visits and unbags all */
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_int_equal(plan.shortfalls[0].cause, CAUSE_CREW_MINUTES);
    assert_string_equal(plan.shortfalls[0].remedy,
                        "one more crew-day with a lift at Nord on 2027-02-26 gives 3 bags");
    assert_day(plan.shortfalls[0].remedy_by, "2027-02-26");
}

/* Nobody there at all: a bag wants three days at least. */
static void several_crew_days_are_told_where_one_does_not_help(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.count = 0;
    add_lift(fixture, "L1", "2027-01-01", "2027-06-30")->hours_per_day = 8;
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_string_equal(plan.shortfalls[0].remedy,
                        "4 more crew-days with a lift at Nord from 2027-02-26 to 2027-03-18 give 1 "
                        "bag of this cross");
    assert_int_equal(plan.shortfalls[0].remedy_by, fixture_day("2027-02-26"));
}

static void where_even_a_crew_does_not_help_it_is_said(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crews.count = 0;
    for (size_t i = 0; i < fixture->orchard.tasks.count; i++)
        fixture->orchard.tasks.list[i].minutes_each = (struct decimal){9999, 0};
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_string_equal(plan.shortfalls[0].remedy, "none: one more crew gives this cross no bag");
}

static void grafts_are_those_of_the_demand(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    too_few_places(fixture);
    only_cross(fixture)->seeds_wanted = 1800;
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_non_null(strstr(plan.shortfalls[0].remedy, "make "));
    assert_non_null(strstr(plan.shortfalls[0].remedy, " grafts of S1 "));
}

static void standing_grafts_may_do_later(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.notes.list[0].value = "1"; /* strobili of this spring */
    fixture->orchard.notes.list[0].number = 1;
    add_rate(fixture, "survival", 1, 0)->selection_name = "S1";
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_string_equal(plan.shortfalls[0].remedy,
                        "wait: standing grafts of S1 carry it in a later spring");
}

static void nothing_short_wants_no_remedy(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct crossing_plan plan = remedied_on(fixture, "2027-02-01");
    assert_int_equal(plan.shortfall_count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(each_cause_has_its_remedy),
        FIXTURE_TEST(pollen_that_comes_too_late_is_for_the_next_season),
        FIXTURE_TEST(pollen_too_late_for_the_only_season_asks_for_another),
        FIXTURE_TEST(a_crew_day_more_gives_bags),
        FIXTURE_TEST(several_crew_days_are_told_where_one_does_not_help),
        FIXTURE_TEST(where_even_a_crew_does_not_help_it_is_said),
        FIXTURE_TEST(grafts_are_those_of_the_demand),
        FIXTURE_TEST(standing_grafts_may_do_later),
        FIXTURE_TEST(nothing_short_wants_no_remedy),
    };

    return cmocka_run_group_tests_name("planning/remedies", tests, NULL, NULL) != 0;
}
