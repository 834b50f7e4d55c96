#include "planning/observed_days.h"

#include "planning/record_fixture.h"

static struct record days_of(struct fixture *fixture, bool morning, const char *as_of)
{
    struct station *station = add_station(fixture, "HOLM");

    station->reads_morning = morning;
    return observed_days_of(&fixture->orchard.records.list[0], station, fixture_day(as_of),
                            &fixture->arena);
}

static void without_a_day_there_is_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct record days = observed_days_of(NULL, NULL, fixture_day("2027-02-01"), &fixture->arena);

    assert_int_equal(days.count, 0);
    assert_int_equal(observed_days_newest(&days), DAY_NONE);
    add_steps(fixture, "HOLM", "2027-02-02", "2027-02-05", 1);
    days = days_of(fixture, false, "2027-02-01");
    assert_int_equal(days.count, 0);
}

static void days_after_as_of_are_cut_off(void **state)
{
    struct fixture *fixture = *state;
    struct record days;

    add_steps(fixture, "HOLM", "2027-02-01", "2027-02-10", 1);
    days = days_of(fixture, false, "2027-02-04");
    assert_int_equal(days.count, 4);
    assert_int_equal(observed_days_newest(&days), fixture_day("2027-02-04"));
    assert_near(days.tmin_c[3], 1.34, 1e-12);
    assert_near(days.tmax_c[3], 11.34, 1e-12);
}

static void a_morning_maximum_belongs_to_the_day_before(void **state)
{
    struct fixture *fixture = *state;
    struct record days;

    add_steps(fixture, "HOLM", "2027-02-01", "2027-02-10", 1);
    days = days_of(fixture, true, "2027-02-04");
    assert_int_equal(days.first_day, fixture_day("2027-01-31"));
    assert_int_equal(days.count, 5);
    assert_true(isnan(days.tmin_c[0]));
    assert_near(days.tmax_c[0], 11.31, 1e-12); /* of the row of 1 February */
    assert_near(days.tmin_c[3], 1.33, 1e-12);  /* 3 February, its own row */
    assert_near(days.tmax_c[3], 11.34, 1e-12); /* and that of the 4th */
    assert_near(days.tmin_c[4], 1.34, 1e-12);
    assert_true(isnan(days.tmax_c[4])); /* read on the 5th */
    assert_int_equal(observed_days_newest(&days), fixture_day("2027-02-03"));
}

static void a_day_that_stands_on_its_head_was_not_observed(void **state)
{
    struct fixture *fixture = *state;
    struct record *record = add_steps(fixture, "HOLM", "2027-02-01", "2027-02-03", 1), days;

    record->tmin_c[0] = 30;
    record->tmax_c[2] = record->tmin_c[2] = NAN;
    days = days_of(fixture, false, "2027-02-10");
    assert_int_equal(days.first_day, fixture_day("2027-02-02"));
    assert_int_equal(days.count, 1);
    assert_near(record->tmin_c[0], 30, 0); /* the record itself stays */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(without_a_day_there_is_nothing),
        FIXTURE_TEST(days_after_as_of_are_cut_off),
        FIXTURE_TEST(a_morning_maximum_belongs_to_the_day_before),
        FIXTURE_TEST(a_day_that_stands_on_its_head_was_not_observed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
