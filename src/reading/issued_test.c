#include "reading/issued.h"

#include "orchard/fixture.h"

static struct issued_plan read_text(struct fixture *fixture, const char *text)
{
    struct issued_plan plan = {NULL, 0, 0};
    struct memory_source memory;
    struct source source = source_of_memory("plan.csv", &memory, strlen(text), text);

    fixture->orchard.as_of = fixture_day("2027-03-05");
    assert_true(read_issued(&plan, &fixture->orchard, &source, &fixture->diags));
    return plan;
}

static const char *faults(struct fixture *fixture)
{
    struct text out;

    text_init(&out, &fixture->arena);
    diags_sort(&fixture->diags);
    diags_write(&fixture->diags, &out);
    return out.bytes;
}

#define HEADER "date,task,crew,lift,half_day,site,bag,cross,pollen_lot,state,as_of\n"

static void planned_visits_are_kept_and_pencilled_ones_passed_over(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan plan = read_text(
        fixture, HEADER "2027-03-08,pollinate again,Aspen,L1,afternoon,Nord,A1-27-1,C1,P2,planned,"
                        "2027-03-02\n"
                        "2028-03-08,bag,,,,Nord,A1-28-1,C1,P2,pencilled,2027-03-02\n");

    assert_string_equal(faults(fixture), "");
    assert_int_equal(plan.count, 1);
    assert_int_equal(plan.list[0].day, fixture_day("2027-03-08"));
    assert_int_equal(plan.list[0].task, 2);
    assert_string_equal(plan.list[0].crew, "Aspen");
    assert_string_equal(plan.list[0].lift, "L1");
    assert_int_equal(plan.list[0].half_day, 1);
    assert_string_equal(plan.list[0].bag, "A1-27-1");
    assert_string_equal(plan.list[0].cross, "C1");
    assert_int_equal(plan.list[0].as_of, fixture_day("2027-03-02"));
}

static void a_plan_of_today_or_of_two_days_is_refused(void **state)
{
    struct fixture *fixture = *state;
    struct issued_plan plan =
        read_text(fixture, HEADER "2027-03-08,bag,Aspen,,,Nord,A1-27-1,C1,,planned,2027-03-02\n"
                                  "2027-03-08,bag,Aspen,,,Nord,A1-27-2,C1,,planned,2027-03-03\n"
                                  "2027-03-08,bag,Aspen,,,Nord,A1-27-3,C1,,planned,2027-03-05\n");

    assert_int_equal(plan.count, 1);
    assert_string_equal(
        faults(fixture),
        "plan.csv:3:11: error: issued as of 2027-03-03, other rows as of 2027-03-02, expected one "
        "plan, remove the rest [issued-twice]\n"
        "plan.csv:4:11: error: issued as of 2027-03-05, expected a plan issued before 2027-03-05, "
        "give an earlier one [issued-too-late]\n");
}

static void a_file_that_is_no_plan_is_told(void **state)
{
    struct fixture *fixture = *state;

    assert_int_equal(read_text(fixture, "date,task,bag\n2027-03-08,dig,A1-27-1\n").count, 0);
    assert_non_null(strstr(faults(fixture), "as_of"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(planned_visits_are_kept_and_pencilled_ones_passed_over),
        FIXTURE_TEST(a_plan_of_today_or_of_two_days_is_refused),
        FIXTURE_TEST(a_file_that_is_no_plan_is_told),
    };

    return cmocka_run_group_tests_name("reading/issued", tests, NULL, NULL) != 0;
}
