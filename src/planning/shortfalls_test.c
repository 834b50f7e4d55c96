/*
 * shortfalls_test.c - each cause, by an orchard in which it is the first that holds.
 */
#include "planning/crossing_fixture.h"

typedef void change(struct fixture *fixture);

static void no_change(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].seeds_wanted = 120; /* 3 bags of 3 places */
}

static void self(struct fixture *fixture)
{
    add_selection(fixture, "S1b", NULL, NULL)->same_as_name = "S1";
    fixture->orchard.crosses.list[0].pollen_parent_name = "S1b";
}

static void relatives(struct fixture *fixture)
{
    add_selection(fixture, "S3", "S1", NULL);
    fixture->orchard.crosses.list[0].pollen_parent_name = "S3";
}

static void no_graft(struct fixture *fixture)
{
    fixture->orchard.grafts.list[0].condition = CONDITION_DEAD;
    fixture->orchard.grafts.list[0].condition_on = fixture_day("2027-01-25");
}

static void none_counted(struct fixture *fixture)
{
    fixture->orchard.notes.list[0].value = "1";
    fixture->orchard.notes.list[0].number = 1;
}

static void too_few_places(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].seeds_wanted = 180;
}

static void one_place(struct fixture *fixture)
{
    fixture->orchard.notes.list[0].value = "3";
    fixture->orchard.notes.list[0].number = 3;
}

/* One hangs and two more are taken: three places, and still one graft. */
static void one_hangs(struct fixture *fixture)
{
    too_few_places(fixture);
    note_on_bag(fixture, "2027-01-30", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
}

static void two_grafts(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].seeds_wanted = 180;
    one_place(fixture);
    add_graft(fixture, "A2", "S1", "T1");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A2", "3");
}

static void never_closed(struct fixture *fixture)
{
    fixture->orchard.thresholds.count--; /* of closing, the last one added */
    add_sum(fixture, EVENT_CLOSED, "flat", 99999);
}

static void other_lot(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].selection_name = "S1";
}

static void lot_discarded(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].state = LOT_DISCARDED;
}

static void lot_dead(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].germination_pct = 6;
    fixture->orchard.lots.list[0].tested_on = fixture_day("2027-01-10");
}

static void lot_empty(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].volume_ml = 0.4;
}

static void lot_late(struct fixture *fixture)
{
    fixture->orchard.lots.list[0].state = LOT_DRYING;
    fixture->orchard.lots.list[0].ready_on = fixture_day("2027-03-11");
}

static void bag_lost(struct fixture *fixture)
{
    note_on_bag(fixture, "2027-02-22", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-03-01", NOTE_BAG_LOST, "A1-27-1", "wind");
}

static void no_crew(struct fixture *fixture)
{
    fixture->orchard.crews.count = 0;
}

static void crew_elsewhere(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].site_name = "Syd";
}

static void crew_on_the_ground(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].work = WORK_GROUND;
}

static void little_time(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].hours_per_day = 78.0 / 60;    /* 39 minutes: a bag lacks 0.2 */
    fixture->orchard.crews.list[0].weekdays = 1U << 4 | 1U << 1; /* Mondays and Thursdays */
    fixture->orchard.crews.list[0].from = fixture_day("2027-02-25");
}

static void little_lift(struct fixture *fixture)
{
    fixture->orchard.crews.list[0].lift_name = "L1";
    add_lift(fixture, "L1", "2027-01-01", "2027-06-30")->hours_per_day = 1;
}

static void season_past(struct fixture *fixture)
{
    fixture->orchard.crosses.list[0].season = 2026;
}

static void each_cause_is_told_where_it_is_the_first(void **state)
{
    static const struct {
        const char *what, *as_of;
        change *change;
        enum cause cause;
        int bags_short;
        const char *detail;
    } cases[] = {
        {"nothing short", "2027-02-01", no_change, CAUSE_NONE, 0, NULL},
        {"self", "2027-02-01", self, CAUSE_COANCESTRY, 3, "S1 would be selfed"},
        {"relatives", "2027-02-01", relatives, CAUSE_COANCESTRY, 3,
         "coancestry 0.25 is above 0.125"},
        {"no graft", "2027-02-01", no_graft, CAUSE_NO_GRAFT, 3,
         "no live graft of S1 may flower in 2027"},
        {"one strobilus", "2027-02-01", none_counted, CAUSE_NO_STROBILI, 3,
         "1 graft, none with strobili for a bag more"},
        {"places", "2027-02-01", too_few_places, CAUSE_NO_STROBILI, 1,
         "all 3 bag places on 1 graft are taken"},
        {"one place", "2027-02-01", one_place, CAUSE_NO_STROBILI, 2,
         "the only bag place on 1 graft is taken"},
        {"one hangs", "2027-02-01", one_hangs, CAUSE_NO_STROBILI, 1,
         "all 3 bag places on 1 graft are taken"},
        {"two grafts", "2027-02-01", two_grafts, CAUSE_NO_STROBILI, 2,
         "all 2 bag places on 2 grafts are taken"},
        {"never closed", "2027-02-01", never_closed, CAUSE_WINDOW_PAST, 3,
         "no day is known to be safe for unbagging"},
        {"other lot", "2027-02-01", other_lot, CAUSE_NO_LOT, 3, "no pollen lot of S2"},
        {"discarded", "2027-02-01", lot_discarded, CAUSE_NO_LOT, 3, "lot P2 may not be used"},
        {"late", "2027-02-01", lot_late, CAUSE_NO_LOT, 3,
         "no lot is ready before the last receptive day"},
        {"dead", "2027-02-01", lot_dead, CAUSE_LOT_DEAD, 3, "lot P2 germinates 6 %"},
        {"empty", "2027-02-01", lot_empty, CAUSE_LOT_USED_UP, 3, "lot P2 has no whole dose left"},
        {"lost", "2027-03-02", bag_lost, CAUSE_ISOLATION_LOST, 3, "bag A1-27-1 was lost"},
        {"too late", "2027-03-02", no_change, CAUSE_ISOLATION_LOST, 3,
         "the last day to hang a clean bag was 2027-02-28"},
        {"still", "2027-03-11", no_change, CAUSE_ISOLATION_LOST, 3,
         "the last day to hang a clean bag was 2027-02-28"},
        {"over", "2027-03-12", no_change, CAUSE_WINDOW_PAST, 3,
         "the last day for a visit was 2027-03-11"},
        {"season", "2027-02-01", season_past, CAUSE_WINDOW_PAST, 3, "its season 2026 is past"},
        {"no crew", "2027-02-01", no_crew, CAUSE_NO_WORKING_DAY, 3,
         "no crew for this work at Nord on the days it needs"},
        {"elsewhere", "2027-02-01", crew_elsewhere, CAUSE_NO_WORKING_DAY, 3,
         "no crew for this work at Nord on the days it needs"},
        {"ground", "2027-02-01", crew_on_the_ground, CAUSE_NO_WORKING_DAY, 3,
         "no crew for this work at Nord on the days it needs"},
        {"hours", "2027-02-01", little_time, CAUSE_CREW_MINUTES, 3,
         "crews have no minutes left at Nord on the days it needs"},
        {"lift", "2027-02-01", little_lift, CAUSE_LIFT_MINUTES, 3,
         "crews have minutes left at Nord, their lifts have not"},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;

        fixture_teardown(state);
        fixture_setup(state);
        add_crossing_world(fixture);
        no_change(fixture);
        cases[i].change(fixture);
        struct crossing_plan plan = plan_on(fixture, cases[i].as_of);
        enum cause cause = plan.shortfall_count > 0 ? plan.shortfalls[0].cause : CAUSE_NONE;
        int64_t short_of = plan.shortfall_count > 0 ? plan.shortfalls[0].bags_short : 0;

        if (cause != cases[i].cause || short_of != cases[i].bags_short)
            fail_msg("%s: %d bags short by \"%s\"", cases[i].what, (int)short_of,
                     cause_words[cause]);
        if (cases[i].detail != NULL)
            assert_string_equal(plan.shortfalls[0].detail, cases[i].detail);
    }
}

static void a_season_that_is_asked_for_is_the_one_that_is_short(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].season = 2028;
    fixture->orchard.crosses.list[0].seeds_wanted = 300;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 2); /* 6 strobili of which 0.8 count: 1.6 bags */
    assert_true(plan.bags[0].pencilled);
    assert_int_equal(plan.shortfall_count, 1);
    assert_int_equal(plan.shortfalls[0].season, 2028);
    assert_int_equal(plan.shortfalls[0].bags_wanted, 7);
    assert_int_equal(plan.shortfalls[0].bags_planned, 2);
}

static void a_cross_on_hold_or_fulfilled_is_not_short(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].state = CROSS_HOLD;
    add_cross(fixture, "C2", "S1", "S2")->seeds_in_store = 300;
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 0);
    assert_int_equal(plan.shortfall_count, 0);
}

static void seed_that_no_bags_can_give_is_told(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct rate *rate = add_rate(fixture, "cones_kept", 0, 0);
    rate->selection_name = "S1";
    struct crossing_plan plan = plan_on(fixture, "2027-02-01");

    assert_int_equal(plan.bag_count, 0);
    assert_int_equal(plan.shortfall_count, 1);
    assert_string_equal(plan.shortfalls[0].detail, "a rate of 0: no number of bags is enough");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(each_cause_is_told_where_it_is_the_first),
        FIXTURE_TEST(a_season_that_is_asked_for_is_the_one_that_is_short),
        FIXTURE_TEST(a_cross_on_hold_or_fulfilled_is_not_short),
        FIXTURE_TEST(seed_that_no_bags_can_give_is_told),
    };

    return cmocka_run_group_tests_name("shortfalls of crossing plans", tests, NULL, NULL) != 0;
}
