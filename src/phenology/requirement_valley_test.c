/*
 * requirement_valley_test.c - choices in small grids by hand.
 */
#include "phenology/requirement_valley.h"

#include "base/test.h"

/* Two curves, five thresholds, one decline, five starts. */
static const struct conetide_grid grid = {
    .curves = 2, .lowers = 5, .declines = 1, .starts = 5, .cutoff = CONETIDE_CUTOFF_NONE};
enum { CELLS = 50 };

static size_t at(size_t curve, size_t lower, size_t start)
{
    return conetide_cell_number(&grid, (struct conetide_cell){curve, lower, start, 0});
}

static void all_bad(double *squares)
{
    for (size_t i = 0; i < CELLS; i++)
        squares[i] = 1000;
}

static void numbers_and_cells_are_one_to_one(void **state)
{
    const struct conetide_grid wide = {.curves = 3, .lowers = 4, .declines = 2, .starts = 5};

    (void)state;
    assert_int_equal(conetide_grid_cells(&wide), 120);
    for (size_t i = 0; i < 120; i++)
        assert_int_equal(conetide_cell_number(&wide, conetide_cell_at(&wide, i)), i);
}

static void the_middle_of_the_valley_is_chosen_not_its_best(void **state)
{
    static const struct conetide_fit_rule tenth = {CONETIDE_MIDDLE_MEAN, 0.1, 0};
    static const struct conetide_fit_rule best = {CONETIDE_MIDDLE_MEAN, 0, 0};
    double squares[CELLS];
    struct conetide_valley valley;

    (void)state;
    all_bad(squares);
    /* RMSE 2 to 2.1 over ten seasons are 40 to 44.1 */
    squares[at(0, 1, 1)] = 44;
    squares[at(0, 2, 2)] = 43;
    squares[at(0, 3, 3)] = 40;
    squares[at(0, 4, 4)] = 44.2;
    valley = conetide_valley_of(&grid, &tenth, squares, 10);
    assert_int_equal(valley.best, at(0, 3, 3));
    assert_int_equal(valley.chosen, at(0, 2, 2));
    assert_int_equal(valley.cells, 3);
    assert_near(valley.best_rmse_days, 2, 1e-15);
    assert_int_equal(valley.least.lower, 1);
    assert_int_equal(valley.most.lower, 3);
    assert_int_equal(valley.least.start, 1);
    assert_int_equal(valley.most.start, 3);
    valley = conetide_valley_of(&grid, &best, squares, 10);
    assert_int_equal(valley.chosen, at(0, 3, 3));
    assert_int_equal(valley.cells, 1);
}

static void a_standard_error_widens_with_few_seasons(void **state)
{
    double squares[CELLS];

    (void)state;
    all_bad(squares);
    squares[at(0, 0, 0)] = 40;
    squares[at(0, 0, 1)] = 40 * 1.2 * 1.2;
    /* 1 / sqrt(2 * 10) is 0.22, 1 / sqrt(2 * 40) is 0.11 */
    assert_int_equal(conetide_valley_of(&grid, &conetide_usual_fit, squares, 10).cells, 2);
    assert_int_equal(conetide_valley_of(&grid, &conetide_usual_fit, squares, 40).cells, 1);
}

static void the_first_curve_is_kept_while_it_is_in_the_valley(void **state)
{
    static const struct conetide_fit_rule tenth = {CONETIDE_MIDDLE_MEAN, 0.1, 0};
    double squares[CELLS];
    struct conetide_valley valley;

    (void)state;
    all_bad(squares);
    squares[at(1, 2, 2)] = 40;
    squares[at(1, 2, 3)] = 40;
    squares[at(0, 4, 0)] = 44;
    valley = conetide_valley_of(&grid, &tenth, squares, 10);
    assert_int_equal(valley.chosen, at(0, 4, 0));
    assert_int_equal(valley.cells, 3);
    assert_int_equal(valley.least.curve, 0);
    assert_int_equal(valley.most.curve, 1);
    squares[at(0, 4, 0)] = 45;
    valley = conetide_valley_of(&grid, &tenth, squares, 10);
    assert_int_equal(valley.chosen, at(1, 2, 2)); /* equally near and good: the earlier start */
}

static void of_equally_near_cells_the_better_is_chosen(void **state)
{
    static const struct conetide_fit_rule tenth = {CONETIDE_MIDDLE_MEAN, 0.1, 0};
    double squares[CELLS];

    (void)state;
    all_bad(squares);
    squares[at(0, 1, 2)] = 42;
    squares[at(0, 3, 2)] = 41;
    squares[at(0, 2, 1)] = 43;
    squares[at(0, 2, 3)] = 40;
    assert_int_equal(conetide_valley_of(&grid, &tenth, squares, 10).chosen, at(0, 2, 3));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_and_cells_are_one_to_one),
        cmocka_unit_test(the_middle_of_the_valley_is_chosen_not_its_best),
        cmocka_unit_test(a_standard_error_widens_with_few_seasons),
        cmocka_unit_test(the_first_curve_is_kept_while_it_is_in_the_valley),
        cmocka_unit_test(of_equally_near_cells_the_better_is_chosen),
    };

    return cmocka_run_group_tests_name("requirement valley", tests, NULL, NULL) != 0;
}
