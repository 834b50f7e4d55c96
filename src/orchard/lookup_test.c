#include "orchard/lookup.h"

#include "orchard/fixture.h"

static struct threshold_found find(struct fixture *fixture, const char *species, const char *site,
                                   const char *selection)
{
    return threshold_find(&fixture->orchard, EVENT_OPENING,
                          (struct threshold_subject){species, site, selection});
}

static void of_fitted_rows_the_most_specific_wins(void **state)
{
    /* Marks in heat_units_c: selection 4 + site 2 + species 1. */
    struct fixture *fixture = *state;
    add_basis(fixture);
    for (int cells = 0; cells < 8; cells++)
        add_threshold(fixture, EVENT_OPENING, cells & 1 ? "pinus" : NULL,
                      cells & 2 ? "Nordhang" : NULL, cells & 4 ? "S1" : NULL)
            ->heat_units_c = cells;
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    for (int cells = 0; cells < 8; cells++) {
        struct threshold_found found =
            find(fixture, cells & 1 ? "pinus" : "picea", cells & 2 ? "Nordhang" : "Tal",
                 cells & 4 ? "S1" : "S2");
        assert_near(found.threshold->heat_units_c, cells, 0);
        assert_int_equal(found.basis, BASIS_FITTED_HERE);
        assert_int_equal(found.own_selection, cells >= 4);
    }
    assert_near(find(fixture, NULL, NULL, NULL).threshold->heat_units_c, 0, 0);
}

static void basis_falls_from_here_to_other_site_to_borrowed_to_calendar(void **state)
{
    struct fixture *fixture = *state;
    struct orchard *orchard = &fixture->orchard;
    add_threshold(fixture, EVENT_OPENING, "pinus", "Tal", NULL)->heat_units_c = 1;
    add_threshold(fixture, EVENT_OPENING, NULL, "Tal", "S1")->heat_units_c = 2;
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, "S2")->basis = BASIS_BORROWED;
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL)->basis = BASIS_CALENDAR;
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    orchard_link(orchard, &fixture->diags);

    struct threshold_found found = find(fixture, "pinus", "Nordhang", "S1");
    assert_int_equal(found.basis, BASIS_OTHER_SITE); /* selection before species */
    assert_near(found.threshold->heat_units_c, 2, 0);
    assert_true(found.own_selection);
    found = find(fixture, "pinus", "Nordhang", "S2");
    assert_int_equal(found.basis, BASIS_OTHER_SITE);
    assert_near(found.threshold->heat_units_c, 1, 0);
    assert_int_equal(find(fixture, "picea", "Nordhang", "S2").basis, BASIS_BORROWED);
    assert_int_equal(find(fixture, "picea", "Nordhang", "S3").basis, BASIS_CALENDAR);
    assert_null(threshold_find(orchard, EVENT_PEAK, (struct threshold_subject){0}).threshold);
}

static void the_folder_s_row_comes_before_a_shipped_one_of_equal_score(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *shipped = add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL);
    shipped->shipped = true;
    shipped->heat_units_c = 1;
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL)->heat_units_c = 2;
    struct rate *rate = add_rate(fixture, "survival", 58, 2);
    rate->shipped = true;
    add_rate(fixture, "survival", 50, 2);
    orchard_link(&fixture->orchard, &fixture->diags);
    threshold_audit(&fixture->orchard, &fixture->diags);
    rate_audit(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    assert_near(find(fixture, NULL, NULL, NULL).threshold->heat_units_c, 2, 0);
    assert_int_equal(
        rate_find(&fixture->orchard, "survival", (struct rate_subject){0})->value.units, 50);
}

static void a_row_of_another_name_of_the_clone_serves(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "Old-12", NULL, NULL)->same_as_name = "S1";
    add_threshold(fixture, EVENT_OPENING, NULL, NULL, "Old-12");
    add_rate(fixture, "seeds_per_cone", 42, 0)->selection_name = "S1";
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_true(find(fixture, NULL, NULL, "S1").own_selection);
    assert_non_null(rate_find(&fixture->orchard, "seeds_per_cone",
                              (struct rate_subject){.selection = "Old-12"}));
}

static void thresholds_that_tie_or_hang_in_the_air_are_told(void **state)
{
    static const struct {
        const char *code;
        enum event event, after;
        enum threshold_kind kind;
        const char *site, *selection, *clock;
    } rows[] = {
        {"equal-thresholds", EVENT_OPENING, 0, THRESHOLD_SUM, NULL, NULL, "sine-37f"},
        {"threshold-of-far-site", EVENT_PEAK, 0, THRESHOLD_SUM, "Fern", NULL, "sine-37f"},
        {"unknown-selection", EVENT_PEAK, 0, THRESHOLD_SUM, NULL, "S9", "sine-37f"},
        {"unknown-clone", EVENT_GRAFT_OPEN, 0, THRESHOLD_SUM, NULL, "K9", "sine-37f"},
        {"threshold-loop", EVENT_LAST, EVENT_LAST, THRESHOLD_AFTER, NULL, NULL, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_basis(fixture);
        add_threshold(fixture, EVENT_OPENING, NULL, NULL, NULL);
        struct threshold *row =
            add_threshold(fixture, rows[i].event, NULL, rows[i].site, rows[i].selection);
        row->kind = rows[i].kind;
        row->after = rows[i].after;
        row->clock_name = rows[i].clock;
        orchard_link(&fixture->orchard, &fixture->diags);
        threshold_audit(&fixture->orchard, &fixture->diags);
        assert_only_told(fixture, rows[i].code);
    }
}

static void rates_that_tie_or_cannot_be_are_told(void **state)
{
    static const struct {
        const char *code, *rate;
        int64_t units;
        double low;
        const char *site;
    } rows[] = {
        {"equal-rates", "survival", 40, NAN, NULL},
        {"unknown-rate", "survivol", 40, NAN, NULL},
        {"unknown-task", "minutes_each:dance", 40, NAN, NULL},
        {"unknown-site", "survival", 40, NAN, "Fern"},
        {"rate-outside-its-range", "cones_kept", 40, 0.5, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_basis(fixture);
        add_rate(fixture, "survival", 50, 2);
        struct rate *row = add_rate(fixture, rows[i].rate, rows[i].units, 2);
        row->low = rows[i].low;
        row->site_name = rows[i].site;
        orchard_link(&fixture->orchard, &fixture->diags);
        rate_audit(&fixture->orchard, &fixture->diags);
        assert_only_told(fixture, rows[i].code);
    }
}

static void of_rates_more_filled_cells_win_then_the_order_of_cells(void **state)
{
    struct fixture *fixture = *state;
    add_rate(fixture, "survival", 0, 0);
    add_rate(fixture, "survival", 1, 0)->season_number = 1;
    add_rate(fixture, "survival", 2, 0)->host_species = "pinus";
    add_rate(fixture, "survival", 3, 0)->clone = "K1";
    add_rate(fixture, "survival", 4, 0)->selection_name = "S1";
    struct rate *two = add_rate(fixture, "survival", 5, 0);
    two->host_species = "pinus";
    two->season_number = 1;
    orchard_link(&fixture->orchard, &fixture->diags);
    static const struct {
        struct rate_subject subject;
        int64_t value;
    } rows[] = {
        {{0}, 0},
        {{.season_number = 2}, 0},
        {{.season_number = 1}, 1},
        {{.host_species = "pinus"}, 2},
        {{.host_species = "pinus", .clone = "K1"}, 3},
        {{.host_species = "pinus", .clone = "K1", .selection = "S1"}, 4},
        {{.host_species = "pinus", .clone = "K1", .selection = "S1", .season_number = 1}, 5},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(rate_find(&fixture->orchard, "survival", rows[i].subject)->value.units,
                         rows[i].value);
    assert_null(rate_find(&fixture->orchard, "bags_lost", (struct rate_subject){0}));
}

static void a_bad_year_takes_the_lowest_low_of_rows_that_match(void **state)
{
    struct fixture *fixture = *state;
    add_rate(fixture, "survival", 5, 1)->low = 0.25; /* the general row */
    struct rate *slash = add_rate(fixture, "survival", 7, 1);
    slash->host_species = "slash";
    slash->low = 0.65;
    struct rate *other = add_rate(fixture, "survival", 7, 1);
    other->host_species = "loblolly";
    other->low = 0.1;
    add_rate(fixture, "cones_kept", 8, 1);
    add_rate(fixture, "conelets_kept", 2, 1)->selection_name = "S1";
    add_rate(fixture, "conelets_kept", 5, 1)->low = 0.4;
    orchard_link(&fixture->orchard, &fixture->diags);
    const struct orchard *orchard = &fixture->orchard;
    const struct rate_subject on_slash = {.host_species = "slash"}, of_s1 = {.selection = "S1"};
    assert_near(rate_of_bad_year(orchard, "survival", on_slash)->low, 0.25, 0);
    assert_null(rate_of_bad_year(orchard, "cones_kept", on_slash));     /* tells no low */
    assert_null(rate_of_bad_year(orchard, "conelets_kept", of_s1));     /* above what holds */
    assert_null(rate_of_bad_year(orchard, "seeds_per_cone", on_slash)); /* no row at all */
}

static void minutes_come_from_the_rate_before_the_task_and_are_rounded(void **state)
{
    struct fixture *fixture = *state;
    struct task_kind *task = add_task(fixture, "bag", "bag");
    task->minutes_each = (struct decimal){3205, 3};      /* 3.205 -> 321 */
    task->minutes_per_tree = (struct decimal){8, 0};     /* 800 */
    task->minutes_per_site = (struct decimal){12004, 3}; /* 12.004 -> 1200 */
    add_rate(fixture, "minutes_each:bag", 25, 1)->site_name = "Nordhang";
    add_rate(fixture, "minutes_each:bagging", 99, 0);
    orchard_link(&fixture->orchard, &fixture->diags);
    const struct task_kind *found = orchard_task(&fixture->orchard, "bag");
    struct task_minutes minutes =
        task_minutes_of(&fixture->orchard, found, (struct rate_subject){0});
    assert_int_equal(minutes.each, 321);
    assert_int_equal(minutes.per_tree, 800);
    assert_int_equal(minutes.per_site, 1200);
    minutes = task_minutes_of(&fixture->orchard, found, (struct rate_subject){.site = "Nordhang"});
    assert_int_equal(minutes.each, 250);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(of_fitted_rows_the_most_specific_wins),
        FIXTURE_TEST(basis_falls_from_here_to_other_site_to_borrowed_to_calendar),
        FIXTURE_TEST(the_folder_s_row_comes_before_a_shipped_one_of_equal_score),
        FIXTURE_TEST(a_row_of_another_name_of_the_clone_serves),
        FIXTURE_TEST(thresholds_that_tie_or_hang_in_the_air_are_told),
        FIXTURE_TEST(rates_that_tie_or_cannot_be_are_told),
        FIXTURE_TEST(of_rates_more_filled_cells_win_then_the_order_of_cells),
        FIXTURE_TEST(a_bad_year_takes_the_lowest_low_of_rows_that_match),
        FIXTURE_TEST(minutes_come_from_the_rate_before_the_task_and_are_rounded),
    };
    return cmocka_run_group_tests_name("lookup", tests, NULL, NULL) != 0;
}
