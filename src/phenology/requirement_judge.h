/*
 * requirement_judge.h - errors of one cell of a fit, with and without each season.
 */
#ifndef PHENOLOGY_REQUIREMENT_JUDGE_H
#define PHENOLOGY_REQUIREMENT_JUDGE_H

#include "conetide/requirement_fit.h"
#include "phenology/requirement_cell.h"

/* A fit's workspace, cut up. */
struct conetide_fit {
    const struct conetide_fit_task *task;
    size_t n, cells;
    double *observed;                 /* [n] the event's day in each season */
    double *sum, *known;              /* heat of a curve and threshold, as a cell's view wants it */
    double *needs, *sorted, *without; /* [n] of a cell */
    double *error, *above, *up_to;    /* [n] of a cell, requirement of all seasons */
    double *order, *total;            /* [n] seasons by requirement without each; its squares */
    double *squares;                  /* [(n + 1) * cells] summed over seasons without each; n: over
                                         all */
    double *left_out;                 /* [n * cells] error of the season left out, whole days */
};

/* Cut up the workspace and fill in the observed days. */
struct conetide_fit conetide_fit_in(const struct conetide_fit_task *task, double *workspace);

/* Heat sums of every season with a cell's curve and threshold, from the grid's first start on. */
enum conetide_status conetide_fit_sum_heat(struct conetide_fit *fit, struct conetide_cell cell,
                                           size_t *bad_season);

/* Needs, requirement (returned) and whole-day errors of a cell, heat being summed. */
double conetide_fit_judge_all(struct conetide_fit *fit, struct conetide_cell cell);

/* The same, and the cell's squares and errors of seasons left out. */
void conetide_fit_judge(struct conetide_fit *fit, struct conetide_cell cell);

#endif
