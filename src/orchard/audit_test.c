/*
 * Every fault is planted alone into an orchard without one, and must be told alone.
 */
#include "orchard/orchard.h"

#include "orchard/fixture.h"

static void audit_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    orchard_audit(&fixture->orchard, fixture_day("2027-06-01"), &fixture->diags);
}

static struct graft *graft_row(struct fixture *fixture)
{
    return &fixture->orchard.grafts.list[0]; /* A1 of S1 on T1, 2026-02-10 */
}

static struct tree *tree_row(struct fixture *fixture)
{
    return &fixture->orchard.trees.list[0];
}

/* A batch of the graft's selection, cut a week before. */
static struct batch *batch_row(struct fixture *fixture)
{
    graft_row(fixture)->batch_name = "B1";
    return add_batch(fixture, "B1", "S1", "2026-02-03");
}

static void plant_graft_on_dead_tree(struct fixture *fixture)
{
    tree_row(fixture)->health = HEALTH_DEAD;
    tree_row(fixture)->health_on = fixture_day("2025-10-01");
}

static void plant_undated_dead_tree(struct fixture *fixture)
{
    tree_row(fixture)->health = HEALTH_DEAD;
}

static void plant_tree_full(struct fixture *fixture)
{
    tree_row(fixture)->places[CROWN_TOP] = 0;
    graft_row(fixture)->crown = CROWN_TOP;
}

static void plant_tree_not_for_grafts(struct fixture *fixture)
{
    tree_row(fixture)->uses = USE_POLLEN;
}

static void plant_unsuited_clone(struct fixture *fixture)
{
    fixture->orchard.selections.list[0].unsuited_clones = "K1;K2";
    tree_row(fixture)->clone = "K2";
}

static void plant_graft_before_scions(struct fixture *fixture)
{
    batch_row(fixture)->cut_on = fixture_day("2026-02-11");
}

static void plant_scions_old(struct fixture *fixture)
{
    batch_row(fixture)->cut_on = fixture_day("2026-01-12"); /* 29 days */
}

static void plant_scions_too_old(struct fixture *fixture)
{
    batch_row(fixture)->cut_on = fixture_day("2025-12-29"); /* 43 days */
}

static void plant_batch_discarded(struct fixture *fixture)
{
    batch_row(fixture)->discarded_on = fixture_day("2026-02-09");
}

static void plant_batch_overdrawn(struct fixture *fixture)
{
    batch_row(fixture)->count = 0;
}

static void plant_other_selection_than_batch(struct fixture *fixture)
{
    batch_row(fixture)->selection_name = "S2";
}

static void plant_batch_of_other_tree(struct fixture *fixture)
{
    batch_row(fixture)->source_tree_name = "T2";
    fixture->orchard.trees.list[1].selection_name = "S2";
}

static void plant_condition_before_grafting(struct fixture *fixture)
{
    graft_row(fixture)->condition = CONDITION_ALIVE;
    graft_row(fixture)->condition_on = fixture_day("2026-02-09");
}

static void plant_no_latitude(struct fixture *fixture)
{
    fixture->orchard.sites.list[0].latitude = NAN;
}

static void plant_no_weather(struct fixture *fixture)
{
    fixture->orchard.sites.list[0].station_name = "HOLN";
}

static struct station *station_row(struct fixture *fixture, const char *name)
{
    struct station *row = FIXTURE_PUSH(fixture, stations);
    *row = (struct station){.name = name, .latitude = 48};
    return row;
}

static void plant_unknown_station(struct fixture *fixture)
{
    station_row(fixture, "HOLM");
    fixture->orchard.sites.list[0].station_name = "HOLN";
}

static void plant_own_neighbour(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->neighbour = "HOLM";
}

static void plant_neighbour_without_weather(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->neighbour = "BERG";
    station_row(fixture, "BERG");
}

static void plant_no_weather_but_a_neighbour(struct fixture *fixture)
{
    station_row(fixture, "BERG")->neighbour = "HOLM";
    station_row(fixture, "HOLM");
    fixture->orchard.sites.list[0].station_name = "BERG";
}

static void plant_station_without_elevation(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->elevation_m = NAN;
}

static void plant_site_without_elevation(struct fixture *fixture)
{
    station_row(fixture, "HOLM");
    fixture->orchard.sites.list[0].elevation_m = NAN;
}

static void plant_rates_without_elevations(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->elevation_m = NAN;
    fixture->orchard.sites.list[0].elevation_m = NAN;
}

static void plant_steep_lapse(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->tmin_lapse_c_per_km = -12;
}

static void plant_lapse_of_100_m(struct fixture *fixture)
{
    station_row(fixture, "HOLM")->tmax_lapse_c_per_km = 0.65;
}

static void plant_forecast_ahead(struct fixture *fixture)
{
    struct forecast *row = FIXTURE_PUSH(fixture, forecasts);
    *row = (struct forecast){.place = fixture_place(fixture, "weather/HOLM.forecast.json"),
                             .station = "HOLM",
                             .issued = fixture_day("2027-06-02")};
}

static void plant_same_position(struct fixture *fixture)
{
    for (size_t i = 0; i < 2; i++) {
        fixture->orchard.trees.list[i].row = 3;
        fixture->orchard.trees.list[i].position = 7;
    }
}

static void plant_date_too_early(struct fixture *fixture)
{
    graft_row(fixture)->grafted_on = fixture_day("1926-02-10");
}

static void plant_crew_far_ahead(struct fixture *fixture)
{
    add_crew(fixture, "north", "2027-03-01", "2072-04-01");
}

static void plant_date_ahead(struct fixture *fixture)
{
    note_on_tag(fixture, "2027-06-02", NOTE_SURVIVAL, "A1", "alive");
}

static void plant_weather_ahead(struct fixture *fixture)
{
    add_record(fixture, "BERG", "2027-05-01", 33);
}

static struct record *year_of(struct fixture *fixture, double low_c, double high_c)
{
    struct record *row = add_record(fixture, "BERG", "2026-01-01", 365);
    for (size_t i = 0; i < row->count; i++) {
        double share = 0.5 - 0.5 * cos(2 * 3.14159265358979 * (double)i / 365);
        row->tmax_c[i] = low_c + share * (high_c - low_c);
        row->tmin_c[i] = row->tmax_c[i] - 8;
    }
    return row;
}

static void plant_fahrenheit_as_celsius(struct fixture *fixture)
{
    year_of(fixture, 40, 92);
}

static void plant_celsius_as_fahrenheit(struct fixture *fixture)
{
    year_of(fixture, (2.0 - 32) / 1.8, (33.0 - 32) / 1.8);
}

static void plant_impossible_temperature(struct fixture *fixture)
{
    year_of(fixture, 4, 33)->tmax_c[200] = 330;
}

static void plant_minimum_above_maximum(struct fixture *fixture)
{
    year_of(fixture, 4, 33)->tmin_c[200] = 40;
}

static void plant_weather_gap(struct fixture *fixture)
{
    struct record *row = year_of(fixture, 4, 33);
    row->tmin_c[10] = row->tmin_c[11] = row->tmax_c[12] = row->tmax_c[100] = NAN;
}

static void plant_weather_stands_still(struct fixture *fixture)
{
    year_of(fixture, 14, 16.9);
}

static void plant_self_cross(struct fixture *fixture)
{
    add_selection(fixture, "old", NULL, NULL)->same_as_name = "S1";
    add_cross(fixture, "C1", "S1", "old");
}

static struct lot *mix_row(struct fixture *fixture, const char *one, const char *other)
{
    struct lot *mix = add_lot(fixture, "MIX", NULL);
    mix->parts = ARENA_ARRAY(&fixture->arena, 2, struct mix_part);
    mix->part_count = 2;
    mix->parts[0] = (struct mix_part){.selection_name = one, .share = 0.5};
    mix->parts[1] = (struct mix_part){.selection_name = other, .share = 0.5};
    return mix;
}

static void plant_self_in_mix(struct fixture *fixture)
{
    mix_row(fixture, "S1", "S2");
    add_cross(fixture, "C1", "S1", "MIX");
}

static void plant_mix_part_twice(struct fixture *fixture)
{
    add_selection(fixture, "old", NULL, NULL)->same_as_name = "S1";
    mix_row(fixture, "S1", "old");
}

static void plant_name_of_two(struct fixture *fixture)
{
    mix_row(fixture, "S1", "S2")->name = "S2";
}

static void plant_reciprocal(struct fixture *fixture)
{
    add_cross(fixture, "C1", "S1", "S2")->either_way = true;
    add_cross(fixture, "C2", "S2", "S1")->season = 2028;
}

static void plant_cross_twice(struct fixture *fixture)
{
    add_cross(fixture, "C1", "S1", "S2");
    add_cross(fixture, "C2", "S1", "S2");
}

static void plant_least_above_wanted(struct fixture *fixture)
{
    add_cross(fixture, "C1", "S1", "S2")->seeds_least = 301;
}

static void plant_lot_of_other_tree(struct fixture *fixture)
{
    fixture->orchard.trees.list[1].selection_name = "S2";
    add_lot(fixture, "L1", "S1")->source_tree_name = "T2";
}

static void plant_equal_times(struct fixture *fixture)
{
    add_crew(fixture, "north", "2027-03-01", "2027-03-31");
    add_crew(fixture, "north", "2027-03-01", "2027-03-31")->hours_per_day = 4;
}

static void plant_equal_lift_times(struct fixture *fixture)
{
    add_lift(fixture, "long", "2027-03-01", "2027-03-31");
    add_lift(fixture, "long", "2027-03-31", "2027-04-30");
}

static void plant_overlapping_times(struct fixture *fixture)
{
    add_crew(fixture, "north", "2027-03-01", "2027-03-31");
    add_crew(fixture, "north", "2027-03-29", "2027-04-10");
}

static void plant_lift_without_hours(struct fixture *fixture)
{
    add_lift(fixture, "long", "2027-03-01", "2027-03-31")->hours_per_day = NAN;
}

static void plant_from_after_to(struct fixture *fixture)
{
    add_crew(fixture, "north", "2027-03-31", "2027-03-01");
}

static void plant_threshold_tie(struct fixture *fixture)
{
    add_threshold(fixture, EVENT_PEAK, NULL, NULL, NULL);
    add_threshold(fixture, EVENT_PEAK, NULL, NULL, NULL)->heat_units_c = 400;
}

static void plant_rate_tie(struct fixture *fixture)
{
    add_rate(fixture, "survival", 5, 1);
    add_rate(fixture, "survival", 6, 1);
}

static const struct {
    const char *code;
    void (*plant)(struct fixture *fixture);
    bool warning;
} plants[] = {
    {"graft-on-dead-tree", plant_graft_on_dead_tree, false},
    {"graft-on-dead-tree", plant_undated_dead_tree, false},
    {"tree-full", plant_tree_full, false},
    {"tree-not-for-grafts", plant_tree_not_for_grafts, true},
    {"unsuited-clone", plant_unsuited_clone, true},
    {"graft-before-scions", plant_graft_before_scions, false},
    {"scions-old", plant_scions_old, true},
    {"scions-too-old", plant_scions_too_old, true},
    {"batch-discarded", plant_batch_discarded, false},
    {"batch-overdrawn", plant_batch_overdrawn, false},
    {"other-selection-than-batch", plant_other_selection_than_batch, false},
    {"other-selection-than-tree", plant_batch_of_other_tree, false},
    {"seen-before-grafted", plant_condition_before_grafting, false},
    {"no-latitude", plant_no_latitude, true},
    {"no-weather", plant_no_weather, true},
    {"no-weather", plant_no_weather_but_a_neighbour, true},
    {"no-elevation", plant_station_without_elevation, true},
    {"no-elevation", plant_site_without_elevation, true},
    {"no-elevation", plant_rates_without_elevations, true},
    {"unusual-lapse", plant_steep_lapse, true},
    {"unusual-lapse", plant_lapse_of_100_m, true},
    {"unknown-station", plant_unknown_station, false},
    {"own-neighbour", plant_own_neighbour, false},
    {"neighbour-without-weather", plant_neighbour_without_weather, true},
    {"same-position", plant_same_position, true},
    {"date-out-of-range", plant_date_too_early, false},
    {"date-out-of-range", plant_crew_far_ahead, false},
    {"date-ahead", plant_date_ahead, true},
    {"date-ahead", plant_weather_ahead, true},
    {"date-ahead", plant_forecast_ahead, true},
    {"other-unit", plant_fahrenheit_as_celsius, false},
    {"other-unit", plant_celsius_as_fahrenheit, false},
    {"impossible-temperature", plant_impossible_temperature, false},
    {"minimum-above-maximum", plant_minimum_above_maximum, true},
    {"weather-gap", plant_weather_gap, true},
    {"weather-stands-still", plant_weather_stands_still, true},
    {"self-cross", plant_self_cross, false},
    {"self-in-mix", plant_self_in_mix, false},
    {"mix-part-twice", plant_mix_part_twice, false},
    {"name-of-two", plant_name_of_two, false},
    {"cross-twice", plant_reciprocal, true},
    {"cross-twice", plant_cross_twice, true},
    {"least-above-wanted", plant_least_above_wanted, true},
    {"other-selection-than-tree", plant_lot_of_other_tree, false},
    {"equal-times", plant_equal_times, false},
    {"equal-times", plant_equal_lift_times, false},
    {"overlapping-times", plant_overlapping_times, true},
    {"hours-missing", plant_lift_without_hours, true},
    {"from-after-to", plant_from_after_to, false},
    {"equal-thresholds", plant_threshold_tie, false},
    {"equal-rates", plant_rate_tie, false},
};

static void every_planted_fault_is_told_alone(void **state)
{
    for (size_t i = 0; i < COUNT(plants); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_basis(fixture);
        plants[i].plant(fixture);
        audit_now(fixture);
        assert_only_told(fixture, plants[i].code);
        assert_int_equal(fixture->diags.warnings, plants[i].warning);
    }
}

static void an_orchard_without_a_fault_is_passed(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_batch(fixture, "B1", "S1", "2026-02-10")->count = 1;
    graft_row(fixture)->batch_name = "B1";
    graft_row(fixture)->crown = CROWN_TOP;
    tree_row(fixture)->places[CROWN_TOP] = 1;
    tree_row(fixture)->uses = USE_GRAFT | USE_POLLEN;
    add_cross(fixture, "C1", "S1", "S2");
    add_cross(fixture, "C2", "S2", "S1"); /* the other way round is another cross */
    add_crew(fixture, "north", "2027-03-01", "2027-04-30");
    add_crew(fixture, "north", "2027-03-08", "2027-03-12"); /* inside: replaces it */
    add_crew(fixture, "north", "2027-05-01", "2027-05-08")->weekdays = 0x06;
    add_crew(fixture, "north", "2027-05-01", "2027-05-08")->weekdays = 0x38;
    add_crew(fixture, "south", "2031-03-01", "2031-04-30");
    audit_now(fixture);
    assert_nothing_told(fixture);
}

static void working_times_of_now_do_not_hinder_the_replay_of_an_old_season(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_crew(fixture, "north", "2034-03-01", "2034-04-30");
    add_lift(fixture, "long", "2036-03-01", "2036-04-30");
    audit_now(fixture);
    assert_nothing_told(fixture);
}

static void a_tree_that_died_with_its_grafts_is_no_fault(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    plant_undated_dead_tree(fixture);
    graft_row(fixture)->condition = CONDITION_DEAD;
    fixture->orchard.trees.list[1].health = HEALTH_DEAD;
    fixture->orchard.trees.list[1].health_on = fixture_day("2026-10-01");
    audit_now(fixture);
    assert_nothing_told(fixture);
}

static void the_gap_tells_how_many_and_the_longest(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    plant_weather_gap(fixture);
    audit_now(fixture);
    assert_non_null(strstr(fixture->diags.list[0].message,
                           "4 of 365 days lack an extreme, in 2 gaps, the longest of 3 days from "
                           "2026-01-11 to 2026-01-13"));
}

static void rows_that_name_nothing_known_do_no_harm(void **state)
{
    struct fixture *fixture = *state;
    add_tree(fixture, "T1", "nowhere")->selection_name = "S9";
    add_selection(fixture, "S1", "S8", "S9")->same_as_name = "S7";
    add_batch(fixture, "B1", "S9", "2026-02-01")->source_tree_name = "T9";
    add_graft(fixture, "A1", "S9", "T9")->batch_name = "B9";
    add_graft(fixture, "A2", "S1", "T1")->batch_name = "B1";
    add_cross(fixture, "C1", "S9", "S8");
    add_lot(fixture, "L1", "S9")->source_tree_name = "T9";
    mix_row(fixture, "S9", "S8");
    add_crew(fixture, "north", "2027-03-01", "2027-03-31")->site_name = "nowhere";
    add_rate(fixture, "survival", 5, 1)->selection_name = "S9";
    for (int kind = 0; kind < NOTES; kind++) {
        struct note *note = add_note(fixture, "2027-01-01", (enum note_kind)kind, NULL);
        note->tag = "A9";
        note->bag = "A9-27-1";
        note->tree = "T9";
        note->lot = "L9";
        note->cross = "C9";
        note->batch = "B9";
        note->site = "nowhere";
        note->block = "N";
        note->task = "dance";
        note->selection = "S9";
    }
    audit_now(fixture);
    assert_true(fixture->diags.errors > 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(every_planted_fault_is_told_alone),
        FIXTURE_TEST(an_orchard_without_a_fault_is_passed),
        FIXTURE_TEST(working_times_of_now_do_not_hinder_the_replay_of_an_old_season),
        FIXTURE_TEST(a_tree_that_died_with_its_grafts_is_no_fault),
        FIXTURE_TEST(the_gap_tells_how_many_and_the_longest),
        FIXTURE_TEST(rows_that_name_nothing_known_do_no_harm),
    };
    return cmocka_run_group_tests_name("audit", tests, NULL, NULL) != 0;
}
