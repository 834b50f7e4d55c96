/*
 * sum_test.c - sums, and the day on which constant, falling and rising requirements are met.
 */
#include "conetide/sum.h"

#include "base/test.h"

static void a_sum_holds_the_end_of_each_day(void **state)
{
    static const double heat_units[] = {14, 7, 2, 21, 18};
    static const double expected[] = {14, 21, 23, 44, 62};
    double sum[COUNT(heat_units)];

    (void)state;
    conetide_heat_sum(COUNT(heat_units), heat_units, sum);
    for (size_t i = 0; i < COUNT(sum); i++)
        assert_near(sum[i], expected[i], 0);
}

static void a_missing_day_hides_all_later_sums(void **state)
{
    static const double heat_units[] = {1, 2, NAN, 4, 5};
    double sum[COUNT(heat_units)];
    size_t index;

    (void)state;
    conetide_heat_sum(COUNT(heat_units), heat_units, sum);
    assert_near(sum[1], 3, 0);
    for (size_t i = 2; i < COUNT(sum); i++)
        assert_true(isnan(sum[i]));
    assert_int_equal(conetide_need_reached(5, sum, (struct conetide_need){3, 0, 0}, &index),
                     CONETIDE_OK);
    assert_int_equal(index, 1);
    assert_int_equal(conetide_need_reached(5, sum, (struct conetide_need){4, 0, 0}, &index),
                     CONETIDE_MISSING);
    assert_int_equal(index, 5);
}

static void a_requirement_is_met_at_the_end_of_its_day(void **state)
{
    static const double sum[] = {0, 0, 5, 5, 9, 12};
    static const struct {
        double units;
        size_t index;
    } rows[] = {{1e-3, 2}, {5, 2}, {5 + 9e-7, 2}, {5 + 2e-6, 4}, {9, 4}, {12, 5}, {12.1, 6}};
    size_t index;

    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct conetide_need need = {rows[i].units, 0, 0};

        assert_int_equal(conetide_need_reached(COUNT(sum), sum, need, &index),
                         rows[i].index < 6 ? CONETIDE_OK : CONETIDE_NOT_REACHED);
        assert_int_equal(index, rows[i].index);
    }
    assert_int_equal(conetide_need_reached(0, sum, (struct conetide_need){1, 0, 0}, &index),
                     CONETIDE_NOT_REACHED);
    assert_int_equal(index, 0);
}

static void no_requirement_is_never_met(void **state)
{
    static const double sum[] = {1, 2, 3};
    static const struct conetide_need needs[] = {{0, 0, 0}, {-1, 0, 0}, {3, -2, 2}, {-9, 1, 0}};
    size_t index;

    (void)state;
    for (size_t i = 0; i < COUNT(needs); i++) {
        assert_int_equal(conetide_need_reached(3, sum, needs[i], &index), CONETIDE_NOT_REACHED);
        assert_int_equal(index, 3);
    }
}

static void a_requirement_that_is_no_number_is_refused(void **state)
{
    static const double sum[] = {1, 2, 3};
    static const struct conetide_need needs[] = {{NAN, 0, 0}, {1, NAN, 0}, {1, 0, INFINITY}};
    size_t index;

    (void)state;
    for (size_t i = 0; i < COUNT(needs); i++) {
        assert_int_equal(conetide_need_reached(3, sum, needs[i], &index), CONETIDE_BAD_ARGUMENT);
        assert_int_equal(index, 3);
    }
}

/* Numbers of a fixed sequence, so that the same cases come every time. */
static uint32_t next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u;
    return *state >> 8;
}

static void the_search_finds_what_a_walk_finds(void **state)
{
    uint32_t seed = 1972;
    size_t met = 0, unmet = 0;

    (void)state;
    for (int round = 0; round < 20000; round++) {
        double sum[40], total = 0;
        size_t n = next_random(&seed) % COUNT(sum), walk, index;
        struct conetide_need need = {next_random(&seed) % 120, (double)(next_random(&seed) % 9) - 6,
                                     (double)(next_random(&seed) % 30) - 10};

        for (size_t i = 0; i < n; i++) {
            uint32_t heat = next_random(&seed) % 12;

            total += heat > 5 ? heat - 5 : 0;
            sum[i] = total;
        }
        for (walk = 0; walk < n; walk++) {
            double units = need.units + need.per_day * (need.x_of_first + (double)walk);

            if (units > 0 && sum[walk] >= units - 1e-6)
                break;
        }
        assert_int_equal(conetide_need_reached(n, sum, need, &index),
                         walk < n ? CONETIDE_OK : CONETIDE_NOT_REACHED);
        assert_int_equal(index, walk);
        *(walk < n ? &met : &unmet) += 1;
    }
    assert_true(met > 4000 && unmet > 4000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sum_holds_the_end_of_each_day),
        cmocka_unit_test(a_missing_day_hides_all_later_sums),
        cmocka_unit_test(a_requirement_is_met_at_the_end_of_its_day),
        cmocka_unit_test(no_requirement_is_never_met),
        cmocka_unit_test(a_requirement_that_is_no_number_is_refused),
        cmocka_unit_test(the_search_finds_what_a_walk_finds),
    };

    return cmocka_run_group_tests_name("sum", tests, NULL, NULL) != 0;
}
