/*
 * requirement_judge.c - errors of one cell of a fit.
 *
 * Cells are compared by moments, not by whole days: within the projected day the need is taken to
 * be met in proportion to the day's heat.  Whole days would add the same rounding to every cell and
 * let chance decide between neighbours.  What is reported of a cell are whole days, as they are
 * used.
 *
 * What a season's absence changes is the requirement, by little: each season keeps the range of
 * requirements that give it the same day, and is searched again only outside it.  Seasons that no
 * absence moves to another day are added up once, as a quadratic of the requirement.
 */
#include "phenology/requirement_judge.h"

#include "conetide/sum.h"
#include "phenology/requirement_valley.h"

struct conetide_fit conetide_fit_in(const struct conetide_fit_task *task, double *workspace)
{
    struct conetide_fit fit = {
        .task = task, .n = task->past.seasons, .cells = conetide_grid_cells(&task->grid)};
    double **const arrays[] = {&fit.known,   &fit.observed, &fit.needs,   &fit.sorted,
                               &fit.without, &fit.error,    &fit.above,   &fit.up_to,
                               &fit.moment,  &fit.slope,    &fit.turning, &fit.is_turning};

    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++, workspace += fit.n)
        *arrays[i] = workspace;
    fit.sum = workspace;
    fit.squares = fit.sum + fit.n * (task->past.days + 1);
    fit.left_out = fit.squares + (fit.n + 1) * fit.cells;
    for (size_t s = 0; s < fit.n; s++)
        fit.observed[s] = conetide_observed_day(&task->past.events[s]);
    return fit;
}

enum conetide_status conetide_fit_sum_heat(struct conetide_fit *fit, struct conetide_cell cell,
                                           size_t *bad_season)
{
    const struct conetide_past *past = &fit->task->past;
    const struct conetide_grid *grid = &fit->task->grid;
    const struct conetide_heat_rule rule = {grid->curve[cell.curve], grid->cutoff,
                                            grid->lower[cell.lower], grid->upper};
    size_t from = (size_t)grid->start[0];

    for (size_t s = 0; s < fit->n; s++) {
        double *sum = fit->sum + s * (past->days + 1);
        size_t offset = s * past->days + from, bad_day;
        enum conetide_status status =
            conetide_heat_days(&rule, past->days - from, past->tmin + offset, past->tmax + offset,
                               sum + from + 1, &bad_day);

        *bad_season = s;
        if (status == CONETIDE_BAD_THRESHOLDS || status == CONETIDE_BAD_ARGUMENT)
            return status;
        if (status != CONETIDE_OK && from + bad_day <= (size_t)past->events[s].by)
            return status;
        fit->known[s] = (double)(from + bad_day);
        for (size_t i = 0; i <= from; i++)
            sum[i] = 0;
        conetide_heat_sum(past->days - from, sum + from + 1, sum + from + 1);
    }
    *bad_season = fit->n;
    return CONETIDE_OK;
}

static struct conetide_cell_view view_of(const struct conetide_fit *fit, struct conetide_cell cell)
{
    const struct conetide_grid *grid = &fit->task->grid;

    return (struct conetide_cell_view){&fit->task->past, fit->sum, fit->known,
                                       (size_t)grid->start[cell.start],
                                       grid->per_day[cell.decline]};
}

static double judge_view(struct conetide_fit *fit, const struct conetide_cell_view *view)
{
    double units;

    for (size_t s = 0; s < fit->n; s++)
        fit->needs[s] = conetide_cell_need(view, s);
    units =
        conetide_middle_of(fit->task->rule.middle, fit->n, fit->needs, fit->sorted, fit->without);
    for (size_t s = 0; s < fit->n; s++) {
        struct conetide_cell_span span = conetide_cell_meets(view, s, units, fit->observed[s]);

        fit->error[s] = span.day - fit->observed[s];
        fit->above[s] = span.above;
        fit->up_to[s] = span.up_to;
    }
    return units;
}

/* Projected day with a requirement near that of all seasons. */
static double day_of(const struct conetide_fit *fit, const struct conetide_cell_view *view,
                     size_t season, double units)
{
    if (units > fit->above[season] && units <= fit->up_to[season])
        return fit->error[season] + fit->observed[season];
    return conetide_cell_meets(view, season, units, fit->error[season] + fit->observed[season]).day;
}

/* The same as a moment of that day, in proportion to its heat, less the middle of the event's. */
static double moment_error(const struct conetide_fit *fit, const struct conetide_cell_view *view,
                           size_t season, double units)
{
    struct conetide_cell_span span;

    if (units > fit->above[season] && units <= fit->up_to[season])
        return fit->moment[season] + fit->slope[season] * units;
    span = conetide_cell_meets(view, season, units, fit->error[season] + fit->observed[season]);
    return span.day - fit->observed[season] - 0.5 +
           (span.above < span.up_to ? (units - span.above) / (span.up_to - span.above) : 0.5);
}

/* Within the day that a season has by all seasons, its error is a straight line of the units. */
static void lay_moments(struct conetide_fit *fit)
{
    for (size_t s = 0; s < fit->n; s++) {
        double width = fit->up_to[s] - fit->above[s];

        fit->slope[s] = width > 0 ? 1 / width : 0;
        fit->moment[s] = fit->error[s] - 0.5 - fit->above[s] * fit->slope[s];
    }
}

/* Sum of squared errors as a quadratic of the units: of the seasons that keep their day whichever
 * season is left out.  The others stand in `turning`. */
struct parabola {
    double constant, linear, square;
    size_t turnings;
};

static struct parabola steady_squares(const struct conetide_fit *fit)
{
    struct parabola steady = {0, 0, 0, 0};
    double least = fit->without[0], most = fit->without[0];

    for (size_t s = 1; s < fit->n; s++) {
        least = fit->without[s] < least ? fit->without[s] : least;
        most = fit->without[s] > most ? fit->without[s] : most;
    }
    for (size_t s = 0; s < fit->n; s++) {
        double moment = fit->moment[s], slope = fit->slope[s];

        fit->is_turning[s] = !(least > fit->above[s] && most <= fit->up_to[s]);
        if (fit->is_turning[s] > 0) {
            fit->turning[steady.turnings++] = (double)s;
        } else {
            steady.constant += moment * moment;
            steady.linear += 2 * moment * slope;
            steady.square += slope * slope;
        }
    }
    return steady;
}

/* Squared errors of all seasons but `left`, with the requirement of the others. */
static double squares_without(const struct conetide_fit *fit, const struct conetide_cell_view *view,
                              const struct parabola *steady, size_t left)
{
    double units = fit->without[left];
    double squares = steady->constant + units * (steady->linear + units * steady->square);

    for (size_t i = 0; i < steady->turnings; i++) {
        size_t s = (size_t)fit->turning[i];
        double error = s == left ? 0 : moment_error(fit, view, s, units);

        squares += error * error;
    }
    if (!(fit->is_turning[left] > 0)) {
        double error = moment_error(fit, view, left, units);

        squares -= error * error;
    }
    return squares > 0 ? squares : 0; /* of two seasons without error rounding may leave less */
}

double conetide_fit_judge_all(struct conetide_fit *fit, struct conetide_cell cell)
{
    const struct conetide_cell_view view = view_of(fit, cell);

    return judge_view(fit, &view);
}

void conetide_fit_judge(struct conetide_fit *fit, struct conetide_cell cell)
{
    const struct conetide_cell_view view = view_of(fit, cell);
    size_t number = conetide_cell_number(&fit->task->grid, cell);
    double units = judge_view(fit, &view), squares = 0;
    struct parabola steady;

    lay_moments(fit);
    steady = steady_squares(fit);
    for (size_t s = 0; s < fit->n; s++) {
        double error = moment_error(fit, &view, s, units);

        squares += error * error;
    }
    fit->squares[fit->n * fit->cells + number] = squares;
    for (size_t left = 0; left < fit->n; left++) {
        fit->squares[left * fit->cells + number] = squares_without(fit, &view, &steady, left);
        fit->left_out[left * fit->cells + number] =
            day_of(fit, &view, left, fit->without[left]) - fit->observed[left];
    }
}
