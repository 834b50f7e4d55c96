/*
 * packing_bench.c - gap and time of a large crossing season: 20,000 bags in 4,000 unlike groups at
 * 8 sites, 60 working days, 12 crews.  Season 1 is the one on which the solver was tuned; those
 * measured are others.
 */
#include "packing_maker.h"

#include <stdio.h>
#include <time.h>

#define MOST_SECONDS 2 /* of one core */

struct goal {
    double tight, given, free; /* gaps in percent; below 0: none is set */
};

static double seconds(void)
{
    struct timespec now;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static bool same_plan(const struct pack_plan *a, const struct pack_plan *b)
{
    return a->item_count == b->item_count &&
           memcmp(a->items, b->items, (size_t)a->item_count * sizeof *a->items) == 0;
}

/* False when a goal is missed or two runs differ. */
static bool measure(int season, const struct goal *goal, bool places_free)
{
    struct maker_size size = {.bags = 20000,
                              .groups = 4000,
                              .sites = 8,
                              .days = 84,
                              .crews = 12,
                              .crosses = 500,
                              .lots = 60,
                              .first_spread = 30,
                              .free = places_free,
                              .bag_days = 8,
                              .unbag_days = 15,
                              .tight = goal->tight};
    struct made_packing made = make_packing(size, season);
    void *workspace[2];
    struct pack_plan plan[2];
    double took = 0;

    for (int i = 0; i < 2; i++) {
        workspace[i] = malloc(packing_workspace(&made.packing));
        took = seconds();
        plan[i] = packing_solve(&made.packing, workspace[i]);
        took = seconds() - took;
    }
    const double bound = places_free ? plan[0].bound_free : plan[0].bound;
    const double gap = 100 * (1 - plan[0].value / bound);
    const double most = places_free ? goal->free : goal->given;
    const bool same = same_plan(&plan[0], &plan[1]);

    printf("plan: season %d, minutes wanted by available %.1f, places %s: gap %.2f %%", season,
           goal->tight, places_free ? "free" : "given", gap);
    if (most >= 0)
        printf(" (goal %.0f %%)", most);
    if (places_free)
        printf(", of its own places %.2f %%", 100 * (1 - plan[0].value / plan[0].bound));
    printf("; %.2f s%s; %s\n", took, took < MOST_SECONDS ? "" : " (goal 2 s)",
           same ? "twice the same" : "TWO RUNS DIFFER");
    free(workspace[0]);
    free(workspace[1]);
    free_packing(&made);
    return same && (most < 0 || gap <= most);
}

static bool measure_season(int season)
{
    static const struct goal goals[] = {{0.7, 1, 1}, {1.0, 1, -1}, {1.6, 2, -1}};
    bool met = true;

    for (size_t i = 0; i < sizeof goals / sizeof *goals; i++) {
        met = measure(season, &goals[i], false) && met;
        met = measure(season, &goals[i], true) && met;
    }
    return met;
}

int main(int count, char **seasons)
{
    bool met = true;

    for (int s = 1; s < count; s++) /* those asked for */
        met = measure_season(atoi(seasons[s])) && met;
    for (int season = 1001; count < 2 && season <= 1003; season++)
        met = measure_season(season) && met;
    return met ? 0 : 1;
}
