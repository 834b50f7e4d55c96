/*
 * requirement_cell_test.c - needs by hand, days against the library's own search, middles without
 * each value.
 */
#include "phenology/requirement_cell.h"

#include "conetide/sum.h"

#include "base/test.h"

enum { DAYS = 12 };

/* sum[i]: heat before day index i. */
static void sum_of(const double *heat, double *sum)
{
    sum[0] = 0;
    for (int i = 0; i < DAYS; i++)
        sum[i + 1] = sum[i] + heat[i];
}

static void a_date_needs_the_sum_at_its_middle(void **state)
{
    static const double heat[DAYS] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    static const struct conetide_visits events[] = {{5, 6}, {3, 8}, {-1, 0}, {1, 2}};
    static const double known[] = {DAYS};
    const struct conetide_past past = {.seasons = 1, .days = DAYS, .events = events};
    struct conetide_cell_view view = {&past, NULL, known, 4, 0};
    double sum[DAYS + 1];

    (void)state;
    sum_of(heat, sum);
    view.sum = sum;
    assert_near(conetide_observed_day(&events[0]), 6, 0);
    assert_near(conetide_observed_day(&events[1]), 6, 0);
    assert_near(conetide_observed_day(&events[2]), 0, 0);
    /* from day 4: 5, 11, 18, 26, 35 at the ends of days 4 to 8 */
    assert_near(conetide_cell_need(&view, 0), (11 + 18) / 2.0, 0);
    view.per_day = -2; /* the line is 2 higher for each day that has passed */
    assert_near(conetide_cell_need(&view, 0), (11 + 2 * 5 + 18 + 2 * 6) / 2.0, 0);
    view.per_day = 0;
    for (int near = 0; near < 2 * DAYS; near++)
        assert_near(conetide_cell_meets(&view, 0, 14.5, near).day, 6, 0);
}

static void needs_between_visits_are_between_their_sums(void **state)
{
    static const double heat[DAYS] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12},
                        known[] = {DAYS, DAYS};
    static const struct conetide_visits events[] = {{3, 8}, {0, 2}};
    const struct conetide_past past = {.seasons = 2, .days = DAYS, .events = events};
    double sum[2 * (DAYS + 1)];
    const struct conetide_cell_view view = {&past, sum, known, 4, 0};

    (void)state;
    sum_of(heat, sum);
    sum_of(heat, sum + DAYS + 1);
    assert_near(conetide_cell_need(&view, 0), (0 + 35) / 2.0, 0);
    assert_near(conetide_cell_need(&view, 1), 0, 0); /* over before summing starts */
}

static uint32_t next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u;
    return *state >> 8;
}

static void days_are_those_of_the_search_for_dates(void **state)
{
    static const struct conetide_visits events[] = {{0, 1}};
    const struct conetide_past past = {.seasons = 1, .days = DAYS, .events = events};
    uint32_t seed = 7;
    int met = 0, unmet = 0;

    (void)state;
    for (int round = 0; round < 20000; round++) {
        double heat[DAYS], sum[DAYS + 1], known = 6 + next_random(&seed) % 7;
        struct conetide_cell_view view = {&past, sum, &known, next_random(&seed) % 6,
                                          -(double)(next_random(&seed) % 4)};
        double units = (double)(next_random(&seed) % 60) - 5, after[DAYS];
        double near = next_random(&seed) % (DAYS + 2);
        const struct conetide_need need = {units, view.per_day, (double)view.start};
        struct conetide_cell_span span;
        size_t n = (size_t)known - view.start, index;

        for (int i = 0; i < DAYS; i++)
            heat[i] = next_random(&seed) % 3 == 0 ? 0 : next_random(&seed) % 9;
        sum_of(heat, sum);
        for (size_t i = 0; i < n; i++)
            after[i] = sum[view.start + i + 1] - sum[view.start];
        span = conetide_cell_meets(&view, 0, units, near);
        if (conetide_need_reached(n, after, need, &index) == CONETIDE_OK) {
            assert_near(span.day, (double)(view.start + index), 0);
            assert_true(units > span.above && units <= span.up_to);
            /* the whole range has that day, and what is beside it has not */
            assert_near(conetide_cell_meets(&view, 0, span.up_to, near).day, span.day, 0);
            assert_near(conetide_cell_meets(&view, 0, span.above + 1e-9, near).day, span.day, 0);
            assert_true(conetide_cell_meets(&view, 0, span.up_to + 1e-9, near).day > span.day);
            met++;
        } else {
            assert_near(span.day, known, 0);
            unmet++;
        }
    }
    assert_true(met > 5000 && unmet > 2000);
}

static void a_middle_without_each_is_the_middle_of_the_others(void **state)
{
    uint32_t seed = 3;

    (void)state;
    for (int round = 0; round < 2000; round++) {
        double needs[9], others[8], sorted[9], without[9], unused[9];
        size_t n = 2 + next_random(&seed) % 8;

        for (size_t i = 0; i < n; i++)
            needs[i] = next_random(&seed) % 20;
        for (int middle = CONETIDE_MIDDLE_MEAN; middle <= CONETIDE_MIDDLE_MEDIAN; middle++) {
            conetide_middle_of((enum conetide_middle)middle, n, needs, sorted, without);
            for (size_t left = 0; left < n; left++) {
                size_t kept = 0;

                for (size_t i = 0; i < n; i++) {
                    if (i != left)
                        others[kept++] = needs[i];
                }
                assert_near(
                    without[left],
                    conetide_middle_of((enum conetide_middle)middle, kept, others, sorted, unused),
                    1e-12);
            }
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_date_needs_the_sum_at_its_middle),
        cmocka_unit_test(needs_between_visits_are_between_their_sums),
        cmocka_unit_test(days_are_those_of_the_search_for_dates),
        cmocka_unit_test(a_middle_without_each_is_the_middle_of_the_others),
    };

    return cmocka_run_group_tests_name("requirement cell", tests, NULL, NULL) != 0;
}
