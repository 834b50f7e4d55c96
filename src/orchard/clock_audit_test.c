#include "orchard/fixture.h"
#include "orchard/lookup.h"

static struct threshold *add_counted(struct fixture *fixture, struct clock clock)
{
    struct program *program = &fixture->orchard.program;
    struct clock *clocks = ARENA_ARRAY(&fixture->arena, program->clock_count + 1, struct clock);
    struct threshold *row = add_threshold(fixture, EVENT_PEAK, NULL, NULL, NULL);

    memcpy(clocks, program->clocks, program->clock_count * sizeof *clocks);
    clock.name = "own";
    clock.place.file = "program.json";
    clocks[program->clock_count++] = clock;
    program->clocks = clocks;
    row->clock_name = "own";
    row->heat_units_c = NAN;
    row->clock_units = 500;
    row->clock_place = (struct place){"thresholds.csv", row->place.line, 5};
    row->units_place = (struct place){"thresholds.csv", row->place.line, 8};
    return row;
}

static void audit(struct fixture *fixture)
{
    orchard_as_of(&fixture->orchard, fixture_day("2026-10-01"));
    orchard_link(&fixture->orchard, &fixture->diags);
    clock_audit(&fixture->orchard, &fixture->diags);
}

static struct clock counting(const char *name)
{
    return (struct clock){.start = {10, 1}, .end_days = 240, .counts = conetide_count_named(name)};
}

static void units_of_the_wrong_clock_are_told_at_their_cell(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *row = add_counted(fixture, counting("utah-units"));

    row->heat_units_c = 300;
    row->clock_units = NAN;
    audit(fixture);
    assert_only_told(fixture, "other-units");
    assert_int_equal(fixture->diags.list[0].place.cell, 8);
    assert_non_null(strstr(fixture->diags.list[0].message, "'clock_units'"));
}

static void counted_units_on_a_clock_of_heat_are_told(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *row = add_threshold(fixture, EVENT_PEAK, NULL, NULL, NULL);

    row->heat_units_c = NAN;
    row->clock_units = 300;
    audit(fixture);
    assert_only_told(fixture, "other-units");
    assert_non_null(strstr(fixture->diags.list[0].message, "'heat_units_c'"));
}

static void a_clock_of_hours_needs_a_latitude_where_there_is_weather(void **state)
{
    struct fixture *fixture = *state;
    struct site *site = add_site(fixture, "Tal");

    site->station_name = "TAL";
    site->latitude = NAN;
    add_site(fixture, "Dry")->latitude = NAN; /* without weather: the calendar tells there */
    add_record(fixture, "TAL", "2026-01-01", 3);
    add_counted(fixture, counting("chilling-hours-0-8"))->site_name = NULL;
    audit(fixture);
    assert_only_told(fixture, "no-latitude");
    assert_int_equal(fixture->diags.list[0].place.cell, 5);
}

static void days_by_their_means_need_no_latitude(void **state)
{
    struct fixture *fixture = *state;
    struct site *site = add_site(fixture, "Tal");

    site->station_name = "TAL";
    site->latitude = NAN;
    add_record(fixture, "TAL", "2026-01-01", 3);
    add_counted(fixture, counting("triangular-chilling"));
    audit(fixture);
    assert_nothing_told(fixture);
}

static void chilling_that_starts_when_all_is_over_is_told(void **state)
{
    struct fixture *fixture = *state;
    struct clock clock = counting("sigmoid-forcing");

    clock.after_chilling =
        (struct chilling_need){conetide_count_named("triangular-chilling"), 40, {6, 20}};
    add_site(fixture, "Tal")->latitude = 33;
    add_counted(fixture, clock)->site_name = "Tal";
    audit(fixture);
    assert_only_told(fixture, "chilling-too-late");
}

static void chilling_that_starts_before_heat_is_in_order(void **state)
{
    struct fixture *fixture = *state;
    struct clock clock = counting("sigmoid-forcing");

    clock.after_chilling =
        (struct chilling_need){conetide_count_named("triangular-chilling"), 40, {9, 1}};
    add_counted(fixture, clock);
    audit(fixture);
    assert_nothing_told(fixture);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(units_of_the_wrong_clock_are_told_at_their_cell),
        FIXTURE_TEST(counted_units_on_a_clock_of_heat_are_told),
        FIXTURE_TEST(a_clock_of_hours_needs_a_latitude_where_there_is_weather),
        FIXTURE_TEST(days_by_their_means_need_no_latitude),
        FIXTURE_TEST(chilling_that_starts_when_all_is_over_is_told),
        FIXTURE_TEST(chilling_that_starts_before_heat_is_in_order),
    };

    return cmocka_run_group_tests_name("clocks and thresholds", tests, NULL, NULL) != 0;
}
