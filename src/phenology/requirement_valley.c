/*
 * requirement_valley.c - the cells of a grid that are about as good as the best.
 *
 * Distances are counted in whole steps of the grid, which sum exactly, so equally near cells are
 * equally near whatever the rounding.
 */
#include "phenology/requirement_valley.h"

#include <math.h>

size_t conetide_grid_cells(const struct conetide_grid *grid)
{
    return grid->curves * grid->lowers * grid->declines * grid->starts;
}

size_t conetide_cell_number(const struct conetide_grid *grid, struct conetide_cell cell)
{
    return ((cell.curve * grid->lowers + cell.lower) * grid->declines + cell.decline) *
               grid->starts +
           cell.start;
}

struct conetide_cell conetide_cell_at(const struct conetide_grid *grid, size_t number)
{
    struct conetide_cell cell;

    cell.start = number % grid->starts;
    number /= grid->starts;
    cell.decline = number % grid->declines;
    number /= grid->declines;
    cell.lower = number % grid->lowers;
    cell.curve = number / grid->lowers;
    return cell;
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static size_t most(size_t a, size_t b)
{
    return a > b ? a : b;
}

/* Sums over the cells of the valley's simplest curve and decline. */
struct middle {
    size_t curve, decline;
    double cells, lower, start;
};

static void widen(struct conetide_valley *valley, struct middle *middle, struct conetide_cell cell)
{
    if (valley->cells++ == 0)
        valley->least = valley->most = cell;
    valley->least = (struct conetide_cell){
        least(valley->least.curve, cell.curve), least(valley->least.lower, cell.lower),
        least(valley->least.start, cell.start), least(valley->least.decline, cell.decline)};
    valley->most = (struct conetide_cell){
        most(valley->most.curve, cell.curve), most(valley->most.lower, cell.lower),
        most(valley->most.start, cell.start), most(valley->most.decline, cell.decline)};
    if (valley->cells == 1 || cell.curve < middle->curve ||
        (cell.curve == middle->curve && cell.decline < middle->decline))
        *middle = (struct middle){cell.curve, cell.decline, 0, 0, 0};
    if (cell.curve == middle->curve && cell.decline == middle->decline) {
        middle->cells++;
        middle->lower += (double)cell.lower;
        middle->start += (double)cell.start;
    }
}

/* Squared distance from the middle, times the square of its cells: whole numbers, so ties are ties.
 */
static double distance_from(const struct middle *middle, struct conetide_cell cell)
{
    double lower = middle->cells * (double)cell.lower - middle->lower;
    double start = middle->cells * (double)cell.start - middle->start;

    return lower * lower + start * start;
}

struct conetide_valley conetide_valley_of(const struct conetide_grid *grid,
                                          const struct conetide_fit_rule *rule,
                                          const double *squares, double seasons)
{
    struct conetide_valley valley = {0, 0, 0, {0, 0, 0, 0}, {0, 0, 0, 0}, 0};
    struct middle middle = {0, 0, 0, 0, 0};
    size_t cells = conetide_grid_cells(grid);
    double rim_days, rim, nearest = INFINITY;

    for (size_t i = 1; i < cells; i++)
        valley.best = squares[i] < squares[valley.best] ? i : valley.best;
    valley.best_rmse_days = sqrt(squares[valley.best] / seasons);
    rim_days = rule->valley_days +
               valley.best_rmse_days * (1 + rule->valley_standard_errors / sqrt(2 * seasons));
    rim = fmax(squares[valley.best], rim_days * rim_days * seasons);
    for (size_t i = 0; i < cells; i++) {
        if (squares[i] <= rim)
            widen(&valley, &middle, conetide_cell_at(grid, i));
    }
    for (size_t i = 0; i < cells; i++) {
        struct conetide_cell cell = conetide_cell_at(grid, i);
        double distance = distance_from(&middle, cell);

        if (squares[i] > rim || cell.curve != middle.curve || cell.decline != middle.decline)
            continue;
        if (distance < nearest || (distance <= nearest && squares[i] < squares[valley.chosen])) {
            nearest = distance;
            valley.chosen = i;
        }
    }
    if (rule->valley_days <= 0 && rule->valley_standard_errors <= 0)
        valley.chosen = valley.best;
    return valley;
}
