/*
 * requirement_valley.h - the cells of a grid that are about as good as the best, and their middle.
 */
#ifndef PHENOLOGY_REQUIREMENT_VALLEY_H
#define PHENOLOGY_REQUIREMENT_VALLEY_H

#include "conetide/requirement_fit.h"

size_t conetide_grid_cells(const struct conetide_grid *grid);

/* Cells are numbered in order of curve, threshold, decline, start. */
size_t conetide_cell_number(const struct conetide_grid *grid, struct conetide_cell cell);
struct conetide_cell conetide_cell_at(const struct conetide_grid *grid, size_t number);

struct conetide_valley {
    size_t best, chosen; /* numbers of cells */
    size_t cells;        /* how many belong to it */
    struct conetide_cell least, most;
    double best_rmse_days;
};

/*
 * conetide_valley_of - the valley, and the cell chosen in it (requirement_fit.h, Note 3).
 *
 * Given:
 *   grid, rule
 *   squares   [cells] sum of squared errors of each
 *   seasons   over which it was summed
 */
struct conetide_valley conetide_valley_of(const struct conetide_grid *grid,
                                          const struct conetide_fit_rule *rule,
                                          const double *squares, double seasons);

#endif
