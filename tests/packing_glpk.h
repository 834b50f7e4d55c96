/*
 * packing_glpk.h - the same packing given to GLPK, a general solver with no part in ours.
 *
 * Columns: jobs of a group by way; its early steps by day; its late steps by first day and day.
 * That early steps can be matched to ways asks only that up to each day there are enough of them,
 * since the windows of a group all start on one day (Hall).
 */
#ifndef TESTS_PACKING_GLPK_H
#define TESTS_PACKING_GLPK_H

#include "solving/packing.h"

#include <glpk.h>
#include <math.h>
#include <stdlib.h>
#include <time.h>

#define GLPK_ENTRIES 4000000
#define GLPK_DAYS 512

struct packing_lp {
    const struct packing *packing;
    glp_prob *problem;
    int *row, *column;
    double *factor;
    int entries, cell_rows, limit_rows;
    bool whole;
};

/* The best whole plan is looked for, for so long at most or until no plan can be worth more than
 * `enough`; not whole: bags may be split. */
struct glpk_search {
    bool whole;
    int seconds;   /* by either of two ways to branch */
    double enough; /* 0: until it is proved best */
};

struct glpk_answer {
    double value; /* of the best whole plan found; 0 where none was looked for */
    double bound; /* no plan is worth more */
    bool proved;  /* the plan found is the best */
};

static inline void lp_set(struct packing_lp *lp, int row, int column, double factor)
{
    if (lp->entries + 1 >= GLPK_ENTRIES)
        abort();
    lp->entries++;
    lp->row[lp->entries] = row;
    lp->column[lp->entries] = column;
    lp->factor[lp->entries] = factor;
}

static inline int lp_column(struct packing_lp *lp, double value)
{
    int column = glp_add_cols(lp->problem, 1);

    glp_set_obj_coef(lp->problem, column, value);
    glp_set_col_bnds(lp->problem, column, GLP_LO, 0, 0);
    glp_set_col_kind(lp->problem, column, lp->whole ? GLP_IV : GLP_CV);
    return column;
}

static inline int lp_row(struct packing_lp *lp, int type, double bound)
{
    int row = glp_add_rows(lp->problem, 1);

    glp_set_row_bnds(lp->problem, row, type, bound, bound);
    return row;
}

/* The column takes the minutes of one step on a day. */
static inline void lp_minutes(struct packing_lp *lp, const struct pack_group *group,
                              enum pack_step step, int day, int column)
{
    const struct packing *packing = lp->packing;
    const struct pack_lane *lane = &packing->lanes[group->lane[step]];
    int cells = packing->site_count * packing->day_count;
    int cell = lane->site * packing->day_count + day;

    for (int set = (int)lane->work; set != PACK_NONE; set = pack_wider(set))
        lp_set(lp, lp->cell_rows + set * cells + cell, column, group->minutes[step]);
}

static inline bool lp_open(const struct packing_lp *lp, const struct pack_group *group,
                           enum pack_step step, int day)
{
    return day < lp->packing->day_count && lp->packing->lanes[group->lane[step]].open[day];
}

/* Early steps up to each day of the window are at least the ways that end there. */
static inline void lp_early(struct packing_lp *lp, const struct pack_group *group, int first_way)
{
    int last = group->early_from, columns[64], days = 0;

    for (int w = 0; w < group->way_count; w++)
        last = group->ways[w].early_until > last ? group->ways[w].early_until : last;
    for (int day = group->early_from; day <= last; day++) {
        columns[days] = 0;
        if (lp_open(lp, group, PACK_EARLY, day)) {
            columns[days] = lp_column(lp, 0);
            lp_minutes(lp, group, PACK_EARLY, day, columns[days]);
        }
        days++;
    }
    for (int d = 0; d < days; d++) {
        bool any = d == days - 1;

        for (int w = 0; w < group->way_count; w++)
            any = any || group->ways[w].early_until == group->early_from + d;
        if (!any)
            continue;
        int row = lp_row(lp, GLP_UP, 0);
        for (int w = 0; w < group->way_count; w++)
            if (group->ways[w].early_until <= group->early_from + d)
                lp_set(lp, row, first_way + w, 1);
        for (int e = 0; e <= d; e++)
            if (columns[e] > 0)
                lp_set(lp, row, columns[e], -1);
    }
}

static inline void lp_late(struct packing_lp *lp, const struct pack_group *group, int first_way)
{
    for (int from = 0; from < lp->packing->day_count; from++) {
        int row = 0;

        for (int w = 0; w < group->way_count; w++)
            if (group->ways[w].late_from == from) {
                row = row > 0 ? row : lp_row(lp, GLP_UP, 0);
                lp_set(lp, row, first_way + w, 1);
            }
        for (int day = from; row > 0 && day < from + lp->packing->late_days; day++)
            if (lp_open(lp, group, PACK_LATE, day)) {
                int column = lp_column(lp, 0);

                lp_set(lp, row, column, -1);
                lp_minutes(lp, group, PACK_LATE, day, column);
            }
    }
}

static inline void lp_group(struct packing_lp *lp, const struct pack_group *group)
{
    int row = lp_row(lp, group->must ? GLP_FX : GLP_UP, group->most), first_way = 0;

    for (int w = 0; w < group->way_count; w++) {
        const struct pack_way *way = &group->ways[w];
        int column = lp_column(lp, group->worth * way->share), mains = 0;

        first_way = w == 0 ? column : first_way;
        lp_set(lp, row, column, 1);
        for (int v = 0; v < 2 && way->main[v] >= 0; v++, mains++) {
            if (lp_open(lp, group, PACK_MAIN, way->main[v]))
                lp_minutes(lp, group, PACK_MAIN, way->main[v], column);
            else
                glp_set_col_bnds(lp->problem, column, GLP_FX, 0, 0);
        }
        for (int l = 0; l < 3; l++)
            if (group->limit[l] != PACK_NONE)
                lp_set(lp, lp->limit_rows + group->limit[l], column, l == 2 ? mains : 1);
    }
    if (group->early_from != PACK_NONE)
        lp_early(lp, group, first_way);
    lp_late(lp, group, first_way);
}

static inline int lp_half(const struct pack_stand *stand, int half, int site, int set, bool there)
{
    int minutes = stand->minutes[half][site * PACK_SETS + set] - (there ? 0 : stand->set_up[half]);

    return minutes > 0 ? minutes : 0;
}

/* One column a pair of sites. */
static inline void lp_stand(struct packing_lp *lp, const struct pack_stand *stand,
                            const int32_t place[2])
{
    const struct packing *packing = lp->packing;
    int cells = packing->site_count * packing->day_count, row = lp_row(lp, GLP_UP, 1);

    for (int a = 0; a < packing->site_count; a++)
        for (int b = 0; b < packing->site_count; b++) {
            if ((place[0] != PACK_NONE && place[0] != a) ||
                (place[1] != PACK_NONE && place[1] != b))
                continue;
            int column = lp_column(lp, 0);

            lp_set(lp, row, column, 1);
            for (int set = 0; set < PACK_SETS; set++) {
                int cell = lp->cell_rows + set * cells + stand->day;
                int first = lp_half(stand, 0, a, set, false);
                int second = lp_half(stand, 1, b, set, a == b);

                lp_set(lp, cell + a * packing->day_count, column, -first - (a == b ? second : 0));
                if (a != b)
                    lp_set(lp, cell + b * packing->day_count, column, -second);
            }
        }
}

/* The packing as a problem; `places` as in struct pack_plan, or NULL: as the stands are. */
static inline struct packing_lp packing_lp_of(const struct packing *packing, const int32_t *places,
                                              bool whole)
{
    struct packing_lp lp = {.packing = packing, .problem = glp_create_prob(), .whole = whole};
    int cells = PACK_SETS * packing->site_count * packing->day_count;

    glp_term_out(GLP_OFF);
    lp.row = malloc(GLPK_ENTRIES * sizeof *lp.row);
    lp.column = malloc(GLPK_ENTRIES * sizeof *lp.column);
    lp.factor = malloc(GLPK_ENTRIES * sizeof *lp.factor);
    glp_set_obj_dir(lp.problem, GLP_MAX);
    lp.cell_rows = glp_add_rows(lp.problem, cells);
    for (int r = 0; r < cells; r++)
        glp_set_row_bnds(lp.problem, lp.cell_rows + r, GLP_UP, 0, 0);
    if (packing->limit_count > 0)
        lp.limit_rows = glp_add_rows(lp.problem, packing->limit_count);
    for (int l = 0; l < packing->limit_count; l++)
        glp_set_row_bnds(lp.problem, lp.limit_rows + l, GLP_UP, 0, packing->limits[l]);
    for (int g = 0; g < packing->group_count; g++)
        if (packing->groups[g].way_count > 0)
            lp_group(&lp, &packing->groups[g]);
    for (int k = 0; k < packing->stand_count; k++)
        lp_stand(&lp, &packing->stands[k],
                 places != NULL ? &places[2 * k] : packing->stands[k].fixed);
    glp_load_matrix(lp.problem, lp.entries, lp.row, lp.column, lp.factor);
    return lp;
}

struct glpk_watch {
    double enough, bound;
    clock_t until;
};

/* Called now and then by the search: keeps its bound, ends it where that is low enough. */
static inline void glpk_look(glp_tree *tree, void *info)
{
    struct glpk_watch *watch = (struct glpk_watch *)info;
    int best = glp_ios_best_node(tree);

    if (best != 0) {
        const double bound = glp_ios_node_bound(tree, best);

        watch->bound = bound < watch->bound ? bound : watch->bound;
    }
    if (watch->bound <= watch->enough || clock() >= watch->until)
        glp_ios_terminate(tree);
}

static inline void glpk_whole(glp_prob *problem, struct glpk_search asked, int branching,
                              struct glpk_answer *answer)
{
    struct glpk_watch watch = {asked.enough, answer->bound,
                               clock() + (clock_t)asked.seconds * CLOCKS_PER_SEC};
    glp_iocp search;

    glp_init_iocp(&search);
    search.presolve = GLP_ON;
    search.msg_lev = GLP_MSG_OFF;
    search.br_tech = branching;
    search.gmi_cuts = search.mir_cuts = search.cov_cuts = GLP_ON;
    search.cb_func = glpk_look;
    search.cb_info = &watch;
    int failed = glp_intopt(problem, &search);
    if (failed == GLP_ENOPFS || failed == GLP_ENODFS)
        abort();
    int status = glp_mip_status(problem);
    const bool found = status == GLP_OPT || status == GLP_FEAS;
    answer->proved = failed == 0 && status == GLP_OPT;
    if (found && glp_mip_obj_val(problem) > answer->value)
        answer->value = glp_mip_obj_val(problem);
    answer->bound = answer->proved ? answer->value : fmax(watch.bound, answer->value);
}

static inline struct glpk_answer glpk_solve(const struct packing *packing, const int32_t *places,
                                            struct glpk_search search)
{
    struct packing_lp lp = packing_lp_of(packing, places, search.whole);
    struct glpk_answer answer = {0};
    glp_smcp simplex;

    glp_init_smcp(&simplex);
    simplex.presolve = GLP_ON;
    simplex.msg_lev = GLP_MSG_OFF;
    if (glp_simplex(lp.problem, &simplex) != 0 || glp_get_status(lp.problem) != GLP_OPT)
        abort();
    answer.bound = glp_get_obj_val(lp.problem);
    if (search.whole)
        glpk_whole(lp.problem, search, GLP_BR_DTH, &answer);
    if (search.whole && !answer.proved && answer.bound > search.enough)
        glpk_whole(lp.problem, search, GLP_BR_PCH, &answer);
    glp_delete_prob(lp.problem);
    free(lp.row);
    free(lp.column);
    free(lp.factor);
    return answer;
}

#endif
