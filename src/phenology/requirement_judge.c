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

#include <stdbool.h>

struct conetide_fit conetide_fit_in(const struct conetide_fit_task *task, double *workspace)
{
    struct conetide_fit fit = {
        .task = task, .n = task->past.seasons, .cells = conetide_grid_cells(&task->grid)};
    double **const arrays[] = {&fit.known, &fit.observed, &fit.needs, &fit.sorted, &fit.without,
                               &fit.error, &fit.above,    &fit.up_to, &fit.order,  &fit.total};

    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++, workspace += fit.n)
        *arrays[i] = workspace;
    fit.sum = workspace;
    fit.squares = fit.sum + fit.n * (task->past.days + 1);
    fit.left_out = fit.squares + (fit.n + 1) * fit.cells;
    for (size_t s = 0; s < fit.n; s++)
        fit.observed[s] = conetide_observed_day(&task->past.events[s]);
    for (size_t s = 0; s < fit.n; s++)
        fit.order[s] = (double)s;
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

/* Within a day a season's error is a straight line of the units, as a moment of that day, in
 * proportion to its heat, less the middle of the event's. */
struct line {
    double above, up_to; /* units for which it holds */
    double moment, slope;
    double day;
};

static struct line line_of(const struct conetide_fit *fit, size_t season,
                           struct conetide_cell_span span)
{
    double width = span.up_to - span.above, slope = width > 0 ? 1 / width : 0;
    double middle = span.day - fit->observed[season] - 0.5;

    return (struct line){span.above, span.up_to,
                         width > 0 ? middle - span.above * slope : middle + 0.5, slope, span.day};
}

/* Of the day that a season has by all seasons. */
static struct line first_line(const struct conetide_fit *fit, size_t season)
{
    return line_of(fit, season,
                   (struct conetide_cell_span){fit->error[season] + fit->observed[season],
                                               fit->above[season], fit->up_to[season]});
}

static bool holds(const struct line *line, double units)
{
    return units > line->above && units <= line->up_to;
}

static double error_at(const struct conetide_fit *fit, const struct conetide_cell_view *view,
                       size_t season, double units, struct line *line)
{
    if (!holds(line, units))
        *line = line_of(fit, season, conetide_cell_meets(view, season, units, line->day));
    return line->moment + line->slope * units;
}

/* Seasons in the order of the requirement without each; nearly so from the cell before. */
static void order_by_units(struct conetide_fit *fit)
{
    for (size_t i = 1; i < fit->n; i++) {
        double moved = fit->order[i], units = fit->without[(size_t)moved];
        size_t at = i;

        for (; at > 0 && fit->without[(size_t)fit->order[at - 1]] > units; at--)
            fit->order[at] = fit->order[at - 1];
        fit->order[at] = moved;
    }
}

/* Sum of squared errors as a quadratic of the units. */
struct parabola {
    double constant, linear, square;
};

/* What a season whose day depends on which one is left out adds to the squares without each. */
static void add_turning(struct conetide_fit *fit, const struct conetide_cell_view *view,
                        size_t season, struct line line)
{
    for (size_t i = 0; i < fit->n; i++) {
        size_t left = (size_t)fit->order[i];
        double error;

        if (left == season)
            continue;
        error = error_at(fit, view, season, fit->without[left], &line);
        fit->total[left] += error * error;
    }
}

/* Sums of squared errors without each season, the requirement being that of the others. */
static void judge_without(struct conetide_fit *fit, const struct conetide_cell_view *view)
{
    struct parabola steady = {0, 0, 0};
    double least, most;

    order_by_units(fit);
    least = fit->without[(size_t)fit->order[0]];
    most = fit->without[(size_t)fit->order[fit->n - 1]];
    for (size_t s = 0; s < fit->n; s++)
        fit->total[s] = 0;
    for (size_t s = 0; s < fit->n; s++) {
        struct line line = first_line(fit, s);
        double units = fit->without[s], error = line.moment + line.slope * units;

        if (!holds(&line, least) || !holds(&line, most)) {
            add_turning(fit, view, s, line);
            continue;
        }
        steady.constant += line.moment * line.moment;
        steady.linear += 2 * line.moment * line.slope;
        steady.square += line.slope * line.slope;
        fit->total[s] -= error * error; /* is no part of the sum without itself */
    }
    for (size_t s = 0; s < fit->n; s++) {
        double units = fit->without[s];

        fit->total[s] += steady.constant + units * (steady.linear + units * steady.square);
    }
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

    for (size_t s = 0; s < fit->n; s++) {
        struct line line = first_line(fit, s);
        double error = error_at(fit, &view, s, units, &line);

        squares += error * error;
    }
    fit->squares[fit->n * fit->cells + number] = squares;
    judge_without(fit, &view);
    for (size_t left = 0; left < fit->n; left++) {
        /* where two seasons have no error, rounding may leave less than nothing */
        fit->squares[left * fit->cells + number] = fit->total[left] > 0 ? fit->total[left] : 0;
        fit->left_out[left * fit->cells + number] =
            day_of(fit, &view, left, fit->without[left]) - fit->observed[left];
    }
}
