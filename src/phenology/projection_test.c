/*
 * projection_test.c - heat sums of members, and shifts.
 */
#include "conetide/projection.h"

#include "conetide/normal.h"

#include "base/test.h"

enum { DAYS = 6, MEMBERS = 3 };

static const struct conetide_heat_rule over_ten = {&conetide_average, CONETIDE_CUTOFF_NONE, 10, 0};
static const struct conetide_heat_rule over_ten_twice = {&conetide_double_triangle,
                                                         CONETIDE_CUTOFF_NONE, 10, 0};
static const double known_tmin[] = {NAN, 10, 11}, known_tmax[] = {NAN, 12, 13};
static const double member_tmin[MEMBERS * DAYS] = {1,  1,  1,  12, 13, 14, 1,   1,   1,
                                                   20, 20, 20, 1,  1,  1,  NAN, NAN, 15};
static const double member_tmax[MEMBERS * DAYS] = {1,  1,  1,  14, 15, 16, 1,  1,  1,
                                                   20, 20, 20, 1,  1,  1,  16, 16, 17};

static void members_start_from_the_days_known(void **state)
{
    static const double expected[MEMBERS][DAYS] = {
        {0, 1, 3, 6, 10, 15},
        {0, 1, 3, 13, 23, 33},
        {0, 1, 3, NAN, NAN, NAN},
    };
    const struct conetide_season season = {DAYS, 3, 1, known_tmin, known_tmax};
    const struct conetide_members members = {MEMBERS, member_tmin, member_tmax};
    double workspace[3 * DAYS], sums[MEMBERS * DAYS];

    (void)state;
    assert_int_equal(conetide_member_sums(&over_ten, &season, &members, workspace, sums),
                     CONETIDE_MISSING);
    for (int m = 0; m < MEMBERS; m++) {
        for (int i = 0; i < DAYS; i++) {
            if (isnan(expected[m][i]))
                assert_true(isnan(sums[m * DAYS + i]));
            else
                assert_near(sums[m * DAYS + i], expected[m][i], 1e-12);
        }
    }
}

static void a_start_after_the_days_known_reads_members_alone(void **state)
{
    const struct conetide_season season = {DAYS, 3, 4, known_tmin, known_tmax};
    const struct conetide_members members = {2, member_tmin, member_tmax};
    double workspace[3 * DAYS], sums[2 * DAYS];

    (void)state;
    assert_int_equal(conetide_member_sums(&over_ten, &season, &members, workspace, sums),
                     CONETIDE_OK);
    for (int i = 0; i < 4; i++)
        assert_near(sums[i], 0, 0);
    assert_near(sums[4], 4, 1e-12);
    assert_near(sums[5], 9, 1e-12);
    assert_near(sums[DAYS + 5], 20, 1e-12);
}

static void the_last_day_known_looks_into_the_member(void **state)
{
    const struct conetide_season season = {DAYS, 3, 2, known_tmin, known_tmax};
    const struct conetide_members members = {2, member_tmin, member_tmax};
    double workspace[3 * DAYS], sums[2 * DAYS];

    (void)state;
    assert_int_equal(conetide_member_sums(&over_ten_twice, &season, &members, workspace, sums),
                     CONETIDE_OK);
    /* 11 up to 13, then down to 12 or up to 20 */
    assert_near(sums[2], (2 + 2.5) / 2, 1e-12);
    assert_near(sums[DAYS + 2], (2 + 6.5) / 2, 1e-12);
    /* the last day ends at its own minimum: 14, 16, 14 */
    assert_near(sums[5] - sums[4], 5, 1e-12);
}

static void a_season_all_known_makes_members_equal(void **state)
{
    static const double tmin[DAYS] = {1, 2, 3, 12, 13, 14}, tmax[DAYS] = {2, 3, 4, 14, 15, 16};
    const struct conetide_season season = {DAYS, DAYS, 0, tmin, tmax};
    const struct conetide_members members = {MEMBERS, member_tmin, member_tmax};
    double workspace[3 * DAYS], sums[MEMBERS * DAYS];

    (void)state;
    assert_int_equal(conetide_member_sums(&over_ten, &season, &members, workspace, sums),
                     CONETIDE_OK);
    assert_near(sums[5], 12, 1e-12);
    assert_memory_equal(sums, sums + DAYS, DAYS * sizeof *sums);
    assert_memory_equal(sums, sums + 2 * DAYS, DAYS * sizeof *sums);
}

static void a_season_out_of_range_or_a_bad_rule_leaves_no_sum(void **state)
{
    static const struct conetide_heat_rule bad = {&conetide_average, CONETIDE_CUTOFF_HORIZONTAL, 10,
                                                  9};
    const struct conetide_season seasons[] = {
        {DAYS, DAYS + 1, 0, known_tmin, known_tmax},
        {DAYS, 3, DAYS + 1, known_tmin, known_tmax},
        {DAYS, 3, 0, known_tmin, known_tmax},
    };
    const struct conetide_members members = {2, member_tmin, member_tmax};
    double workspace[3 * DAYS], sums[2 * DAYS];

    (void)state;
    for (size_t s = 0; s < COUNT(seasons); s++) {
        for (size_t i = 0; i < COUNT(sums); i++)
            sums[i] = -1;
        assert_int_equal(conetide_member_sums(&bad, &seasons[s], &members, workspace, sums),
                         s < 2 ? CONETIDE_BAD_ARGUMENT : CONETIDE_BAD_THRESHOLDS);
        for (size_t i = 0; i < COUNT(sums); i++)
            assert_true(isnan(sums[i]));
    }
}

static void no_spread_means_no_shift(void **state)
{
    struct conetide_shifts shifts;

    (void)state;
    assert_int_equal(conetide_shifts_of(0, &shifts), CONETIDE_OK);
    assert_int_equal(shifts.reach, 0);
    assert_near(conetide_shift_cumulative(&shifts, -1), 0, 0);
    assert_near(conetide_shift_cumulative(&shifts, 0), 1, 0);
    assert_near(conetide_shift_cumulative(&shifts, INT64_MAX), 1, 0);
    assert_near(conetide_shift_cumulative(&shifts, INT64_MIN), 0, 0);
}

static void shifts_are_the_renormalised_normal_of_whole_days(void **state)
{
    static const double sigmas_days[] = {1e-9, 0.1, 0.25, 1, 2.4, 3.99, 17, 100};

    (void)state;
    for (size_t i = 0; i < COUNT(sigmas_days); i++) {
        double sigma = sigmas_days[i], total = 0, before = 0;
        struct conetide_shifts shifts;

        assert_int_equal(conetide_shifts_of(sigma, &shifts), CONETIDE_OK);
        assert_int_equal(shifts.reach, (int)ceil(4 * sigma));
        for (int j = -shifts.reach; j <= shifts.reach; j++)
            total += conetide_normal_cumulative((j + 0.5) / sigma) -
                     conetide_normal_cumulative((j - 0.5) / sigma);
        for (int j = -shifts.reach; j <= shifts.reach; j++) {
            double weight = (conetide_normal_cumulative((j + 0.5) / sigma) -
                             conetide_normal_cumulative((j - 0.5) / sigma)) /
                            total;
            double cumulative = conetide_shift_cumulative(&shifts, j);

            assert_near(cumulative - before, weight, 1e-14);
            assert_true(cumulative >= before && cumulative <= 1);
            before = cumulative;
        }
        assert_near(before, 1, 0);
    }
}

static void a_spread_out_of_range_is_refused(void **state)
{
    static const double sigmas_days[] = {-0.1, 100.001, NAN, INFINITY};
    struct conetide_shifts shifts;

    (void)state;
    for (size_t i = 0; i < COUNT(sigmas_days); i++) {
        assert_int_equal(conetide_shifts_of(sigmas_days[i], &shifts), CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(shifts.cumulative[0]));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(members_start_from_the_days_known),
        cmocka_unit_test(a_start_after_the_days_known_reads_members_alone),
        cmocka_unit_test(the_last_day_known_looks_into_the_member),
        cmocka_unit_test(a_season_all_known_makes_members_equal),
        cmocka_unit_test(a_season_out_of_range_or_a_bad_rule_leaves_no_sum),
        cmocka_unit_test(no_spread_means_no_shift),
        cmocka_unit_test(shifts_are_the_renormalised_normal_of_whole_days),
        cmocka_unit_test(a_spread_out_of_range_is_refused),
    };

    return cmocka_run_group_tests_name("projection", tests, NULL, NULL) != 0;
}
