/*
 * heat_mcmaster1997 - the two averages against a published table.
 *
 * Source: G.S. McMaster, W.W. Wilhelm (1997) Growing degree-days: one equation, two
 * interpretations. Agric. For. Meteorol. 87:291-300 (pages from memory),
 * doi 10.1016/S0168-1923(97)00027-0, Table 1. Read from: the copy in the tests of the R package
 * degday 0.4.0. Base 0 deg C, no cut-off; method 1 floors the mean, method 2 both extremes. Printed
 * exactly.
 */
#include "conetide/heat.h"

#include "base/test.h"

struct row {
    const char *name;
    double tmax_c, tmin_c, method1, method2;
};

static const struct row table1[] = {
    {"20 and 10", 20, 10, 15, 15}, {"10 and 1", 10, 1, 5.5, 5.5}, {"8 and -2", 8, -2, 3, 4},
    {"6 and 0", 6, 0, 3, 3},       {"10 and 5", 10, 5, 7.5, 7.5}, {"5 and -5", 5, -5, 0, 2.5},
    {"-2 and -7", -2, -7, 0, 0},   {"-5 and -10", -5, -10, 0, 0}, {"10 and -2", 10, -2, 4, 5},
    {"15 and 2", 15, 2, 8.5, 8.5},
};

static void row_agrees(void **state)
{
    const struct row *row = *state;
    const struct conetide_day day = {row->tmin_c, row->tmax_c, NAN};
    const struct conetide_heat_rule method1 = {&conetide_average, CONETIDE_CUTOFF_NONE, 0, NAN};
    const struct conetide_heat_rule method2 = {&conetide_clipped_average, CONETIDE_CUTOFF_NONE, 0,
                                               NAN};
    double heat_units;

    assert_int_equal(conetide_heat_day(&method1, &day, &heat_units), CONETIDE_OK);
    assert_near(heat_units, row->method1, 1e-12);
    assert_int_equal(conetide_heat_day(&method2, &day, &heat_units), CONETIDE_OK);
    assert_near(heat_units, row->method2, 1e-12);
}

int main(void)
{
    struct CMUnitTest tests[COUNT(table1)];

    for (size_t i = 0; i < COUNT(table1); i++)
        tests[i] = (struct CMUnitTest){.name = table1[i].name,
                                       .test_func = row_agrees,
                                       .initial_state = (void *)(uintptr_t)&table1[i]};
    return cmocka_run_group_tests_name("McMaster & Wilhelm 1997, Table 1", tests, NULL, NULL) != 0;
}
