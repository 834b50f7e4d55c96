#include "orchard/orchard.h"

#include "orchard/fixture.h"

static void rows_dated_after_the_day_are_forgotten(void **state)
{
    struct fixture *fixture = *state;
    struct orchard *orchard = &fixture->orchard;
    add_graft(fixture, "A1", "S1", "T1")->grafted_on = fixture_day("2027-02-01");
    add_graft(fixture, "A2", "S1", "T1")->grafted_on = fixture_day("2027-02-02");
    add_batch(fixture, "B1", "S1", "2027-02-02");
    note_on_tag(fixture, "2027-02-01", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2027-02-03", NOTE_SURVIVAL, "A1", "dead");
    add_lot(fixture, "L1", "S1")->ready_on = fixture_day("2027-04-01");
    add_crew(fixture, "north", "2027-03-01", "2027-04-01");
    orchard_as_of(orchard, fixture_day("2027-02-01"));
    assert_int_equal(orchard->as_of, fixture_day("2027-02-01"));
    assert_int_equal(orchard->grafts.count, 1);
    assert_string_equal(orchard->grafts.list[0].tag, "A1");
    assert_int_equal(orchard->batches.count, 0);
    assert_int_equal(orchard->notes.count, 1);
    assert_string_equal(orchard->notes.list[0].value, "alive");
    assert_int_equal(orchard->lots.count, 1); /* planned pollen lots stay */
    assert_int_equal(orchard->crews.count, 1);
}

static void cells_are_forgotten_by_their_own_date_and_undated_ones_stay(void **state)
{
    struct fixture *fixture = *state;
    daynum before = fixture_day("2027-01-31"), after = fixture_day("2027-02-02");
    for (int i = 0; i < 3; i++) {
        daynum day = i == 0 ? before : i == 1 ? after : DAY_NONE;
        struct tree *tree = add_tree(fixture, "T", "Nordhang");
        tree->health = HEALTH_DEAD;
        tree->health_on = day;
        tree->label_checked_on = day;
        tree->label_checked_how = "read";
        struct graft *graft = add_graft(fixture, "A", "S", "T");
        graft->condition = CONDITION_DEAD;
        graft->condition_on = day;
        graft->identity = IDENTITY_WRONG;
        graft->identity_on = day;
        graft->identity_how = "markers";
        struct lot *lot = add_lot(fixture, "L", "S");
        lot->volume_ml = 10;
        lot->measured_on = day;
        lot->germination_pct = 80;
        lot->tested_on = day;
        add_batch(fixture, "B", "S", "2026-01-01")->discarded_on = day;
    }
    orchard_as_of(&fixture->orchard, fixture_day("2027-02-01"));
    for (size_t i = 0; i < 3; i++) {
        bool known = i != 1;
        const struct tree *tree = &fixture->orchard.trees.list[i];
        assert_int_equal(tree->health, known ? HEALTH_DEAD : HEALTH_UNKNOWN);
        assert_true((tree->label_checked_how != NULL) == known);
        const struct graft *graft = &fixture->orchard.grafts.list[i];
        assert_int_equal(graft->condition, known ? CONDITION_DEAD : CONDITION_UNKNOWN);
        assert_int_equal(graft->identity, known ? IDENTITY_WRONG : IDENTITY_UNCHECKED);
        assert_true((graft->identity_how != NULL) == known);
        const struct lot *lot = &fixture->orchard.lots.list[i];
        assert_int_equal(isnan(lot->volume_ml), !known);
        assert_int_equal(isnan(lot->germination_pct), !known);
        daynum discarded_on = fixture->orchard.batches.list[i].discarded_on;
        assert_int_equal(discarded_on, i == 0 ? before : DAY_NONE);
    }
}

static void weather_ends_with_the_last_day_observed_by_then(void **state)
{
    struct fixture *fixture = *state;
    add_record(fixture, "HOLM", "2027-01-01", 60);
    add_record(fixture, "LATE", "2027-02-02", 10);
    add_record(fixture, "OLD", "2026-01-01", 10);
    struct record *gap = add_record(fixture, "GAP", "2027-01-30", 10);
    gap->tmin_c[1] = gap->tmax_c[1] = gap->tmin_c[2] = gap->tmax_c[2] = NAN;
    orchard_as_of(&fixture->orchard, fixture_day("2027-02-01"));
    assert_int_equal(fixture->orchard.records.count, 3);
    assert_int_equal(fixture->orchard.records.list[0].count, 32);
    assert_string_equal(fixture->orchard.records.list[1].station, "OLD");
    assert_int_equal(fixture->orchard.records.list[1].count, 10);
    assert_int_equal(fixture->orchard.records.list[2].count, 1);
}

static void forecasts_are_forgotten_by_their_issue_and_stand_newest_first(void **state)
{
    struct fixture *fixture = *state;
    static const struct {
        const char *station, *issued;
    } rows[] = {{"TARN", "2027-01-30"},
                {"HOLM", "2027-01-30"},
                {"HOLM", "2027-02-02"},
                {"HOLM", "2027-02-01"}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct forecast *row = FIXTURE_PUSH(fixture, forecasts);
        *row = (struct forecast){.station = rows[i].station,
                                 .issued = fixture_day(rows[i].issued),
                                 .issued_minute = 1440 * (int64_t)fixture_day(rows[i].issued)};
    }
    orchard_as_of(&fixture->orchard, fixture_day("2027-02-01"));
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(fixture->orchard.forecasts.count, 3);
    assert_int_equal(fixture->orchard.forecasts.list[0].issued, fixture_day("2027-02-01"));
    assert_int_equal(fixture->orchard.forecasts.list[1].issued, fixture_day("2027-01-30"));
    assert_string_equal(fixture->orchard.forecasts.list[2].station, "TARN");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(rows_dated_after_the_day_are_forgotten),
        FIXTURE_TEST(cells_are_forgotten_by_their_own_date_and_undated_ones_stay),
        FIXTURE_TEST(weather_ends_with_the_last_day_observed_by_then),
        FIXTURE_TEST(forecasts_are_forgotten_by_their_issue_and_stand_newest_first),
    };
    return cmocka_run_group_tests_name("as of", tests, NULL, NULL) != 0;
}
