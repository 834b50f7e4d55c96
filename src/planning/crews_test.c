#include "planning/crews.h"

#include "orchard/fixture.h"

enum { HALF = 8 * 3000 }; /* of eight hours, 1/100 minute */

static struct crew_day day_of(struct fixture *fixture, const char *crew, const char *day)
{
    return crew_day_of(&fixture->orchard, crew, fixture_day(day));
}

static void link_sites(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
}

static void crews_are_named_once_in_order(void **state)
{
    struct fixture *fixture = *state;
    const char *const *names;

    add_crew(fixture, "Birch", "2027-01-01", "2027-02-01");
    add_crew(fixture, "Aspen", "2027-01-01", "2027-02-01");
    add_crew(fixture, "Birch", "2028-01-01", "2028-02-01");
    assert_int_equal(crew_names(&fixture->orchard, &fixture->arena, &names), 2);
    assert_string_equal(names[0], "Aspen");
    assert_string_equal(names[1], "Birch");
}

static void a_crew_works_on_its_weekdays_within_its_row(void **state)
{
    struct fixture *fixture = *state;
    static const struct {
        const char *day;
        int64_t half;
    } cases[] = {{"2027-02-26", 0}, {"2027-03-01", HALF}, {"2027-03-05", HALF}, {"2027-03-06", 0},
                 {"2027-03-07", 0}, {"2027-03-12", HALF}, {"2027-03-15", 0}};

    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-12");
    for (size_t i = 0; i < COUNT(cases); i++)
        assert_int_equal(day_of(fixture, "Aspen", cases[i].day).half_minutes, cases[i].half);
    assert_null(day_of(fixture, "Birch", "2027-03-01").time);
}

static void a_shorter_row_replaces_a_longer_one_on_its_days(void **state)
{
    struct fixture *fixture = *state;

    add_crew(fixture, "Aspen", "2027-01-01", "2027-06-30");
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-05")->hours_per_day = 4;
    struct crew_time *off = add_crew(fixture, "Aspen", "2027-03-02", "2027-03-02");
    off->hours_per_day = 0;
    struct crew_time *saturday = add_crew(fixture, "Aspen", "2027-03-06", "2027-03-08");
    saturday->weekdays = 1U << 6;
    assert_int_equal(day_of(fixture, "Aspen", "2027-02-26").half_minutes, HALF);
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-01").half_minutes, HALF / 2);
    assert_null(day_of(fixture, "Aspen", "2027-03-02").time);
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-06").half_minutes, HALF);
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-08").half_minutes, HALF);
}

static void kinds_of_work_and_sites_limit_a_crew(void **state)
{
    struct fixture *fixture = *state;
    static const struct {
        enum work crew, task;
        bool allowed;
    } cases[] = {{WORK_ANY, WORK_LIFT, true},     {WORK_ANY, WORK_GROUND, true},
                 {WORK_LIFT, WORK_LIFT, true},    {WORK_LIFT, WORK_GROUND, false},
                 {WORK_GROUND, WORK_LIFT, false}, {WORK_GROUND, WORK_GROUND, true},
                 {WORK_LIFT, WORK_ANY, true},     {WORK_GROUND, WORK_ANY, true}};

    add_basis(fixture);
    add_site(fixture, "Tal");
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-12")->site_name = "Nordhang";
    link_sites(fixture);
    const struct site *here = orchard_site(&fixture->orchard, "Nordhang");
    const struct site *there = orchard_site(&fixture->orchard, "Tal");
    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture->orchard.crews.list[0].work = cases[i].crew;
        struct crew_day day = day_of(fixture, "Aspen", "2027-03-01");

        assert_int_equal(crew_half_minutes(&day, here, cases[i].task), cases[i].allowed ? HALF : 0);
        assert_int_equal(crew_half_minutes(&day, there, cases[i].task), 0);
    }
}

static void a_lift_gives_its_own_hours_where_it_stands(void **state)
{
    struct fixture *fixture = *state;

    add_basis(fixture);
    add_site(fixture, "Tal");
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-31")->lift_name = "L1";
    add_lift(fixture, "L1", "2027-03-01", "2027-03-20")->hours_per_day = 4;
    add_lift(fixture, "L1", "2027-03-04", "2027-03-04")->hours_per_day = 0;
    add_lift(fixture, "L1", "2027-03-08", "2027-03-08")->site_name = "Tal";
    add_lift(fixture, "L1", "2027-03-09", "2027-03-09")->hours_per_day = 10;
    link_sites(fixture);
    const struct site *here = orchard_site(&fixture->orchard, "Nordhang");
    static const struct {
        const char *day;
        int64_t lift;
    } cases[] = {{"2027-03-01", HALF / 2},
                 {"2027-03-04", 0},
                 {"2027-03-08", 0},
                 {"2027-03-09", HALF},
                 {"2027-03-22", 0}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct crew_day day = day_of(fixture, "Aspen", cases[i].day);

        assert_int_equal(crew_half_minutes(&day, here, WORK_LIFT), cases[i].lift);
        assert_int_equal(crew_half_minutes(&day, here, WORK_GROUND), HALF);
    }
}

/* A lift whose hours nobody wrote is down, and a crew without hours does not work. */
static void hours_that_are_not_told_are_none(void **state)
{
    struct fixture *fixture = *state;

    add_basis(fixture);
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-31")->lift_name = "L1";
    struct lift_time *lift = add_lift(fixture, "L1", "2027-03-01", "2027-03-20");
    static const struct {
        double hours;
        int64_t half;
    } cases[] = {{NAN, 0}, {0, 0}, {-1, 0}, {8, HALF}, {0.5, HALF / 16}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        lift->hours_per_day = cases[i].hours;
        assert_int_equal(lift_half_minutes(lift), cases[i].half);
        struct crew_day day = day_of(fixture, "Aspen", "2027-03-01");
        assert_int_equal(day.half_lift_minutes, cases[i].half);
        assert_int_equal(day.half_minutes, HALF);
    }
    fixture->orchard.crews.list[0].hours_per_day = NAN;
    assert_null(day_of(fixture, "Aspen", "2027-03-01").time);
}

/* With a table of lifts a crew that names none has none, unless it is there for the crowns. */
static void a_crew_without_a_lift_climbs_only_if_it_says_so(void **state)
{
    struct fixture *fixture = *state;

    add_basis(fixture);
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-31");
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-01").half_lift_minutes, HALF);
    add_lift(fixture, "L1", "2027-03-01", "2027-03-20");
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-01").half_lift_minutes, 0);
    fixture->orchard.crews.list[0].work = WORK_LIFT;
    assert_int_equal(day_of(fixture, "Aspen", "2027-03-01").half_lift_minutes, HALF);
}

static void reach_is_asked_where_both_lengths_are_told(void **state)
{
    struct fixture *fixture = *state;

    add_basis(fixture);
    add_crew(fixture, "Aspen", "2027-03-01", "2027-03-31")->lift_name = "L1";
    struct lift_time *lift = add_lift(fixture, "L1", "2027-03-01", "2027-03-20");
    struct tree *tree = &fixture->orchard.trees.list[0];
    static const struct {
        double reach_m, needed_m;
        bool reaches;
    } cases[] = {
        {NAN, NAN, true}, {12, NAN, true}, {NAN, 12, true}, {12, 12, true}, {12, 12.5, false}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        lift->reach_m = cases[i].reach_m;
        tree->reach_needed_m = cases[i].needed_m;
        struct crew_day day = day_of(fixture, "Aspen", "2027-03-01");
        assert_int_equal(crew_reaches(&day, tree), cases[i].reaches);
    }
}

static void a_re_entry_time_keeps_crews_out(void **state)
{
    struct fixture *fixture = *state;

    add_basis(fixture);
    fixture->orchard.trees.list[0].block = "B";
    struct note *block = add_note(fixture, "2027-03-01", NOTE_SPRAYED, "12");
    block->site = "Nordhang";
    block->block = "B";
    add_note(fixture, "2027-03-10", NOTE_SPRAYED, "48")->site = "Nordhang";
    add_note(fixture, "2027-03-11", NOTE_SPRAYED, "4")->site = "Nordhang";
    add_note(fixture, "2027-03-20", NOTE_SPRAYED, NULL)->site = "Nordhang";
    add_note(fixture, "2027-03-25", NOTE_SPRAYED, "48")->site = "Tal";
    static const struct {
        const char *day;
        bool out, out_of_other_block;
    } cases[] = {{"2027-02-28", false, false}, {"2027-03-01", true, false},
                 {"2027-03-02", true, false},  {"2027-03-03", false, false},
                 {"2027-03-10", true, true},   {"2027-03-12", true, true},
                 {"2027-03-13", false, false}, {"2027-03-20", true, true},
                 {"2027-03-21", false, false}, {"2027-03-25", false, false}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        daynum day = fixture_day(cases[i].day);
        const struct tree *trees = fixture->orchard.trees.list;

        assert_int_equal(crew_kept_out(&fixture->orchard, &trees[0], day), cases[i].out);
        assert_int_equal(crew_kept_out(&fixture->orchard, &trees[1], day),
                         cases[i].out_of_other_block);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(crews_are_named_once_in_order),
        FIXTURE_TEST(a_crew_works_on_its_weekdays_within_its_row),
        FIXTURE_TEST(a_shorter_row_replaces_a_longer_one_on_its_days),
        FIXTURE_TEST(kinds_of_work_and_sites_limit_a_crew),
        FIXTURE_TEST(a_lift_gives_its_own_hours_where_it_stands),
        FIXTURE_TEST(hours_that_are_not_told_are_none),
        FIXTURE_TEST(a_crew_without_a_lift_climbs_only_if_it_says_so),
        FIXTURE_TEST(reach_is_asked_where_both_lengths_are_told),
        FIXTURE_TEST(a_re_entry_time_keeps_crews_out),
    };

    return cmocka_run_group_tests_name("crews and lifts", tests, NULL, NULL) != 0;
}
