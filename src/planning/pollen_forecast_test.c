#include "planning/pollen_forecast.h"

#include "planning/crossing_fixture.h"

/* Every day of 2027 has a mean of 5 degrees: shed begins on 20 February, peaks on 25 February and
 * is over on 7 March; S1 is receptive from 5 to 11 March. */
static struct tree *add_source_tree(struct fixture *fixture)
{
    struct tree *tree = add_tree(fixture, "M1", "Nord");

    tree->uses = USE_POLLEN;
    tree->selection_name = "S2";
    without_spread(add_sum(fixture, EVENT_SHED_FIRST, "flat", 255));
    without_spread(add_after(fixture, EVENT_SHED_PEAK, EVENT_SHED_FIRST, 5));
    without_spread(add_after(fixture, EVENT_SHED_LAST, EVENT_SHED_PEAK, 10));
    return tree;
}

static struct pollen_forecast forecast_on(struct fixture *fixture, const char *day)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, day);

    return pollen_forecast_of(inputs.state, inputs.dates, &inputs.flowering, &fixture->arena);
}

static struct note *count_catkins(struct fixture *fixture, const char *day, const char *value)
{
    struct note *note = add_note(fixture, day, NOTE_CATKINS, value);

    note->tree = "M1";
    return note;
}

static void pollen_is_ready_when_gathered_dried_and_tested(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_int_equal(forecast.source_count, 1);
    const struct pollen_source *source = &forecast.sources[0];
    assert_int_equal(source->shed[0][1], fixture_day("2027-02-20"));
    assert_int_equal(source->shed[2][1], fixture_day("2027-03-07"));
    assert_int_equal(source->ready[1], fixture_day("2027-02-25"));
    assert_false(source->over);
    assert_int_equal(source->catkins, -1);
    assert_true(isnan(source->ml));
    assert_int_equal(forecast.use_count, 1);
    assert_near(forecast.uses[0].ready_by_first, 1, 1e-12);
    assert_int_equal(forecast.uses[0].first, fixture_day("2027-03-05"));
}

/* Shed from 5 March: ready on the 10th, too late for the first day and in time for the last. */
static void late_pollen_is_in_time_for_the_end_alone(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    for (size_t i = 0; i < fixture->orchard.thresholds.count; i++)
        if (fixture->orchard.thresholds.list[i].event == EVENT_SHED_FIRST)
            fixture->orchard.thresholds.list[i].heat_units_c = 320;
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_near(forecast.uses[0].ready_by_first, 0, 1e-12);
    assert_near(forecast.uses[0].ready_by_last, 1, 1e-12);
}

static void millilitres_follow_what_catkins_gave_before(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    count_catkins(fixture, "2026-02-01", "60");
    count_catkins(fixture, "2026-02-20", "80");
    struct note *collected = add_note(fixture, "2026-03-02", NOTE_COLLECTED, "20");
    collected->tree = "M1";
    collected->lot = "P2";
    count_catkins(fixture, "2027-02-01", "50");
    count_catkins(fixture, "2027-02-05", "40");
    fixture->orchard.lots.list[0].measured_on = fixture_day("2026-06-01");
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_near(forecast.ml_per_catkin, 0.25, 1e-12);
    assert_int_equal(forecast.ml_seasons, 1);
    assert_int_equal(forecast.sources[0].catkins, 40);
    assert_near(forecast.sources[0].ml, 10, 1e-12);
}

static void no_catkins_give_no_pollen_whatever_one_gives(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    count_catkins(fixture, "2027-02-05", "0");
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_near(forecast.sources[0].ml, 0, 0);
}

static void a_graft_is_a_source_once_catkins_are_counted_on_it(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    add_graft(fixture, "A2", "S2", "T1");
    note_on_tag(fixture, "2027-02-05", NOTE_CATKINS, "A2", "3");
    assert_int_equal(forecast_on(fixture, "2027-02-04").source_count, 1);
    fixture_teardown(state);
    fixture_setup(state);
    fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    add_graft(fixture, "A2", "S2", "T1");
    note_on_tag(fixture, "2027-02-05", NOTE_CATKINS, "A2", "3");
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_int_equal(forecast.source_count, 2);
    assert_int_equal(forecast.sources[1].catkins, 3);
    assert_string_equal(forecast.sources[1].graft->graft->tag, "A2");
}

static void dead_trees_and_unknown_ones_are_no_source(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture)->health = HEALTH_DEAD;
    struct tree *unknown = add_tree(fixture, "M2", "Nord");
    unknown->uses = USE_POLLEN;
    unknown->selection_name = "S2";
    add_note(fixture, "2027-01-05", NOTE_RELABELLED, "unknown")->tree = "M2";
    assert_int_equal(forecast_on(fixture, "2027-02-10").source_count, 0);
}

static void shed_that_is_past_is_over(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture);
    assert_true(forecast_on(fixture, "2027-03-20").sources[0].over);
}

static void an_either_way_cross_can_use_the_pollen_of_its_seed_parent(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture)->selection_name = "S1";
    fixture->orchard.crosses.list[0].either_way = true;
    add_graft(fixture, "A2", "S2", "T1");
    struct pollen_forecast forecast = forecast_on(fixture, "2027-02-10");
    assert_int_equal(forecast.use_count, 1);
    fixture_teardown(state);
    fixture_setup(state);
    fixture = *state;
    add_crossing_world(fixture);
    add_source_tree(fixture)->selection_name = "S1";
    add_graft(fixture, "A2", "S2", "T1");
    assert_int_equal(forecast_on(fixture, "2027-02-10").use_count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(pollen_is_ready_when_gathered_dried_and_tested),
        FIXTURE_TEST(late_pollen_is_in_time_for_the_end_alone),
        FIXTURE_TEST(millilitres_follow_what_catkins_gave_before),
        FIXTURE_TEST(no_catkins_give_no_pollen_whatever_one_gives),
        FIXTURE_TEST(a_graft_is_a_source_once_catkins_are_counted_on_it),
        FIXTURE_TEST(dead_trees_and_unknown_ones_are_no_source),
        FIXTURE_TEST(shed_that_is_past_is_over),
        FIXTURE_TEST(an_either_way_cross_can_use_the_pollen_of_its_seed_parent),
    };

    return cmocka_run_group_tests_name("planning/pollen_forecast", tests, NULL, NULL) != 0;
}
