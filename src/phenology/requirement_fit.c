/*
 * requirement_fit.c - the search of a grid, and the choice in its valley, with and without each
 * season.
 *
 * Heat is summed once for each curve and threshold; every start and decline reads the same sums.
 * Every cell is judged without each season while its sums are at hand, so leaving seasons out costs
 * no second search: only a choice in other columns of the same table.
 */
#include "conetide/requirement_fit.h"

#include "phenology/requirement_judge.h"
#include "phenology/requirement_valley.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

const struct conetide_fit_rule conetide_usual_fit = {CONETIDE_MIDDLE_MEAN, 0, 1};

size_t conetide_fit_workspace(const struct conetide_fit_task *task)
{
    size_t n = task->past.seasons, cells = conetide_grid_cells(&task->grid);

    return n * (task->past.days + 1) + 10 * n + (n + 1) * cells + n * cells;
}

static struct conetide_valley valley_without(const struct conetide_fit *fit, size_t season)
{
    return conetide_valley_of(&fit->task->grid, &fit->task->rule,
                              fit->squares + season * fit->cells,
                              (double)(season < fit->n ? fit->n - 1 : fit->n));
}

static struct conetide_errors errors_of(size_t n, const double *error)
{
    struct conetide_errors errors = {0, 0, 0, 0};

    for (size_t i = 0; i < n; i++) {
        errors.rmse_days += error[i] * error[i];
        errors.mae_days += fabs(error[i]);
        errors.bias_days += error[i];
        errors.worst_days = fmax(errors.worst_days, fabs(error[i]));
    }
    errors.rmse_days = sqrt(errors.rmse_days / (double)n);
    errors.mae_days /= (double)n;
    errors.bias_days /= (double)n;
    return errors;
}

static double sd_of(size_t n, const double *values)
{
    double mean = 0, squares = 0;

    for (size_t i = 0; i < n; i++)
        mean += values[i] / (double)n;
    for (size_t i = 0; i < n; i++)
        squares += (values[i] - mean) * (values[i] - mean);
    return sqrt(squares / (double)(n - 1));
}

static unsigned edges_of(const struct conetide_grid *grid, struct conetide_cell cell)
{
    unsigned edges = 0;

    if (grid->lowers > 1)
        edges |= (cell.lower == 0 ? CONETIDE_EDGE_LOWER_LEAST : 0u) |
                 (cell.lower == grid->lowers - 1 ? CONETIDE_EDGE_LOWER_MOST : 0u);
    if (grid->starts > 1)
        edges |= (cell.start == 0 ? CONETIDE_EDGE_START_FIRST : 0u) |
                 (cell.start == grid->starts - 1 ? CONETIDE_EDGE_START_LAST : 0u);
    if (grid->declines > 1 && cell.decline == grid->declines - 1)
        edges |= CONETIDE_EDGE_DECLINE;
    return edges;
}

/* All that is told of the chosen cell; its heat was summed before, so nothing can be missing now.
 */
static void tell(struct conetide_fit *fit, struct conetide_requirement *found)
{
    const struct conetide_grid *grid = &fit->task->grid;
    const struct conetide_valley valley = valley_without(fit, fit->n);
    size_t bad_season;
    enum conetide_status status;

    found->best = conetide_cell_at(grid, valley.best);
    found->chosen = conetide_cell_at(grid, valley.chosen);
    found->best_rmse_days = valley.best_rmse_days;
    found->valley_cells = valley.cells;
    found->valley_least = valley.least;
    found->valley_most = valley.most;
    found->edges = edges_of(grid, found->chosen);

    status = conetide_fit_sum_heat(fit, found->chosen, &bad_season);
    assert(status == CONETIDE_OK);
    (void)status;
    found->units = conetide_fit_judge_all(fit, found->chosen);
    found->units_sd = sd_of(fit->n, fit->needs);
    found->fitted = errors_of(fit->n, fit->error);
    for (size_t s = 0; s < fit->n; s++)
        fit->error[s] = fit->left_out[s * fit->cells + valley.chosen];
    found->left_out = errors_of(fit->n, fit->error);
    conetide_middle_of(CONETIDE_MIDDLE_MEAN, fit->n, fit->observed, fit->sorted, fit->without);
    for (size_t s = 0; s < fit->n; s++)
        fit->error[s] = fit->without[s] - fit->observed[s];
    found->calendar = errors_of(fit->n, fit->error);
}

static bool is_rising(size_t n, const double *values)
{
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(values[i]) || (i > 0 && values[i] <= values[i - 1]))
            return false;
    }
    return n > 0;
}

static bool is_grid(const struct conetide_grid *grid, size_t days)
{
    for (size_t i = 0; i < grid->starts; i++) {
        if (grid->start[i] < 0 || (size_t)grid->start[i] >= days ||
            (i > 0 && grid->start[i] <= grid->start[i - 1]))
            return false;
    }
    for (size_t i = 0; i < grid->declines; i++) {
        if (!(grid->per_day[i] <= 0) || !isfinite(grid->per_day[i]))
            return false;
    }
    return grid->curves > 0 && grid->starts > 0 && grid->declines > 0 &&
           is_rising(grid->lowers, grid->lower);
}

/* First season whose event is none; how many seasons there are when all are. */
static size_t bad_event(const struct conetide_past *past)
{
    for (size_t s = 0; s < past->seasons; s++) {
        const struct conetide_visits *visits = &past->events[s];

        if (visits->after < -1 || visits->by <= visits->after || (size_t)visits->by >= past->days)
            return s;
    }
    return past->seasons;
}

static bool is_rule(const struct conetide_fit_rule *rule)
{
    return (rule->middle == CONETIDE_MIDDLE_MEAN || rule->middle == CONETIDE_MIDDLE_MEDIAN) &&
           rule->valley_days >= 0 && isfinite(rule->valley_days) &&
           rule->valley_standard_errors >= 0 && isfinite(rule->valley_standard_errors);
}

static enum conetide_status search(struct conetide_fit *fit, size_t *bad_season)
{
    const struct conetide_grid *grid = &fit->task->grid;
    struct conetide_cell cell = {0, 0, 0, 0};

    for (cell.curve = 0; cell.curve < grid->curves; cell.curve++) {
        for (cell.lower = 0; cell.lower < grid->lowers; cell.lower++) {
            enum conetide_status status = conetide_fit_sum_heat(fit, cell, bad_season);

            if (status != CONETIDE_OK)
                return status;
            for (cell.decline = 0; cell.decline < grid->declines; cell.decline++) {
                for (cell.start = 0; cell.start < grid->starts; cell.start++)
                    conetide_fit_judge(fit, cell);
            }
        }
    }
    return CONETIDE_OK;
}

static const struct conetide_errors no_errors = {NAN, NAN, NAN, NAN};

enum conetide_status conetide_fit_requirement(const struct conetide_fit_task *task,
                                              double *workspace, struct conetide_left_out *nested,
                                              struct conetide_requirement *found)
{
    struct conetide_fit fit;
    struct conetide_requirement told = {.bad_season = task->past.seasons};
    enum conetide_status status;

    *found = (struct conetide_requirement){.best_rmse_days = NAN,
                                           .units = NAN,
                                           .units_sd = NAN,
                                           .fitted = no_errors,
                                           .left_out = no_errors,
                                           .nested = no_errors,
                                           .calendar = no_errors};
    found->bad_season = bad_event(&task->past);
    if (task->past.seasons < 3 || found->bad_season < task->past.seasons ||
        !is_grid(&task->grid, task->past.days) || !is_rule(&task->rule))
        return CONETIDE_BAD_ARGUMENT;
    fit = conetide_fit_in(task, workspace);
    status = search(&fit, &found->bad_season);
    if (status != CONETIDE_OK)
        return status;
    tell(&fit, &told);
    for (size_t s = 0; s < fit.n; s++) {
        size_t chosen = valley_without(&fit, s).chosen;

        fit.error[s] = fit.left_out[s * fit.cells + chosen];
        if (nested != NULL)
            nested[s] =
                (struct conetide_left_out){conetide_cell_at(&task->grid, chosen), fit.error[s]};
    }
    told.nested = errors_of(fit.n, fit.error);
    *found = told;
    return CONETIDE_OK;
}
