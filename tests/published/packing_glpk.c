/*
 * packing_glpk.c - plans and bounds of packings against GLPK (GNU Linear Programming Kit).
 *
 * A case is its number.  OPTIMUM=full in the environment runs every instance, else a sample of
 * them.  The solver was tuned on the numbers below 1000; those told of here start at 1000.
 * OPTIMUM_FIRST names another first number.
 */
#include "packing_glpk.h"
#include "packing_maker.h"
#include "solving/flow.h"

#include "base/test.h"

static bool full(void)
{
    const char *asked = getenv("OPTIMUM");

    return asked != NULL && strcmp(asked, "full") == 0;
}

/* Sanitizers look for other faults than a poor plan: a few instances show them. */
#ifdef __SANITIZE_ADDRESS__
#define SHARE 10
#else
#define SHARE 1
#endif

#define FIRST_TOLD 1000

/* So many of all, spread evenly over them. */
struct numbers {
    int first, count, step;
};

static struct numbers numbers_of(int usual, int all)
{
    const char *asked = getenv("OPTIMUM_FIRST");
    int count = (full() ? all : usual) / SHARE;

    count = count > 1 ? count : 2;
    int step = all / count;
    step -= step % 3 == 0; /* every third is not tight */
    return (struct numbers){asked != NULL ? atoi(asked) : FIRST_TOLD, count, step};
}

struct solved {
    struct made_packing made;
    struct pack_plan plan;
    void *workspace;
};

static struct solved solve(struct maker_size size, int number)
{
    struct solved solved = {.made = make_packing(size, number)};

    solved.made.packing.iterations = 800;
    solved.workspace = malloc(packing_workspace(&solved.made.packing));
    solved.plan = packing_solve(&solved.made.packing, solved.workspace);
    return solved;
}

static void let_go(struct solved *solved)
{
    free(solved->workspace);
    free_packing(&solved->made);
}

/* Two of three are tight. */
static double share_of(int index)
{
    return index % 3 != 0 ? 0.3 + 0.4 * (index % 8) / 7.0 : 1.1;
}

struct tally {
    int count, tight, off, open;
    double worst, gap; /* most that a plan may lie below the optimum; of its own bound; percent */
};

/* The plan is at most so many percent below what no plan can pass; both bounds hold. */
static void see(struct tally *tally, const struct pack_plan *plan, struct glpk_answer best,
                double most_off)
{
    const double off = best.bound > 0 ? 100 * (1 - plan->value / best.bound) : 0;

    tally->worst = off > tally->worst ? off : tally->worst;
    tally->gap = fmax(tally->gap, plan->bound > 0 ? 100 * (1 - plan->value / plan->bound) : 0);
    tally->open += !best.proved;
    if (off > most_off) {
        print_message("instance %d: %.6f planned; GLPK found %.6f, at most %.6f; our bound %.6f\n",
                      tally->count, plan->value, best.value, best.bound, plan->bound);
        tally->off++;
    }
    assert_true(plan->value <= best.bound * (1 + 1e-7) + 1e-6);
    assert_true(plan->bound >= best.value - 1e-6);
    assert_true(plan->bound_free >= best.value - 1e-6);
    assert_true(plan->value <= plan->bound + 1e-6);
    tally->count++;
}

static void tell(const char *what, struct tally tally)
{
    print_message("seen: %s: %d instances, %d tight; plans at most %.3f %% below the optimum (%.3f "
                  "%% below their own bound); %d not closed by GLPK\n",
                  what, tally.count, tally.tight, tally.worst, tally.gap, tally.open);
    assert_true(2 * tally.tight >= tally.count);
    assert_int_equal(tally.off, 0);
}

static void few_bags_are_planned_best(void **state)
{
    const struct numbers numbers = numbers_of(150, 150);
    struct tally tally = {0};

    (void)state;
    for (int i = 0; i < numbers.count; i++) {
        int index = i * numbers.step, bags = 5 + index % 11;
        struct solved solved = solve((struct maker_size){.bags = bags,
                                                         .groups = bags / 2 + 1,
                                                         .sites = 1,
                                                         .days = 56,
                                                         .crews = 1 + index % 3,
                                                         .crosses = (bags / 2 + 1) / 3 + 1,
                                                         .lots = 3,
                                                         .first_spread = 4,
                                                         .bag_days = 4,
                                                         .unbag_days = 4,
                                                         .week = 0x0a,
                                                         .share_available = share_of(index)},
                                     numbers.first + index);
        struct glpk_search search = {true, full() ? 120 : 20, 0};
        struct glpk_answer best = glpk_solve(&solved.made.packing, solved.plan.places, search);

        tally.tight += share_of(index) < 0.71;
        see(&tally, &solved.plan, best, 1e-5);
        let_go(&solved);
    }
    tell("5 to 15 bags", tally);
}

static void more_bags_are_planned_within_a_percent(void **state)
{
    const struct numbers numbers = numbers_of(15, 150);
    struct tally tally = {0};
    int capped = 0;

    (void)state;
    for (int i = 0; i < numbers.count; i++) {
        int index = i * numbers.step, bags = 16 + index % 45;
        struct solved solved = solve((struct maker_size){.bags = bags,
                                                         .groups = bags / 3,
                                                         .sites = 1,
                                                         .days = 56,
                                                         .crews = 1 + index % 3,
                                                         .crosses = bags / 9 + 1,
                                                         .lots = 3,
                                                         .first_spread = 4,
                                                         .bag_days = 4,
                                                         .unbag_days = 4,
                                                         .week = 0x15,
                                                         .share_available = share_of(index)},
                                     numbers.first + index);
        struct glpk_search search = {true, full() ? 60 : 6, solved.plan.value / 0.99};
        struct glpk_answer best = glpk_solve(&solved.made.packing, solved.plan.places, search);

        tally.tight += share_of(index) < 0.71;
        capped += solved.plan.capped;
        see(&tally, &solved.plan, best, 1.0);
        let_go(&solved);
    }
    print_message("exact search stopped by its count of nodes: %d\n", capped);
    tell("16 to 60 bags", tally);
}

static void places_are_chosen_and_both_bounds_hold(void **state)
{
    const struct numbers numbers = numbers_of(5, 60);
    struct tally tally = {0};

    (void)state;
    for (int i = 0; i < numbers.count; i++) {
        int index = i * numbers.step, bags = 200 + index * 199 / 60;
        struct solved solved = solve((struct maker_size){.bags = bags,
                                                         .groups = bags / 5,
                                                         .sites = 2,
                                                         .days = 56,
                                                         .crews = 1,
                                                         .crosses = bags / 15,
                                                         .lots = 3,
                                                         .first_spread = 20,
                                                         .free = true,
                                                         .bag_days = 8,
                                                         .unbag_days = 15,
                                                         .week = 0x0a,
                                                         .share_available = share_of(index)},
                                     numbers.first + index);
        const struct packing *packing = &solved.made.packing;
        struct glpk_search split = {false, 0, 0};
        struct glpk_answer here = glpk_solve(packing, solved.plan.places, split);
        struct glpk_answer anywhere = glpk_solve(packing, NULL, split);

        tally.tight += share_of(index) < 0.71;
        /* Where the bound of split bags does not tell, that of whole ones is looked for. */
        if (solved.plan.value < 0.99 * here.bound) {
            struct glpk_search search = {true, full() ? 120 : 5, solved.plan.value / 0.99};

            here = glpk_solve(packing, solved.plan.places, search);
        }
        see(&tally, &solved.plan, here, 1.0);
        /* Whole cells are rounded only at given places. */
        assert_true(solved.plan.bound_free >= anywhere.bound * (1 - 1e-7));
        let_go(&solved);
    }
    tell("200 to 400 bags, places free", tally);
}

/* Jobs of one step of one minute: a transport problem, whose optimum is whole. */
static void unit_steps_are_a_transport_problem(void **state)
{
    enum { JOBS = 24, DAYS = 6 };
    static const int32_t no_minutes[PACK_SETS];

    (void)state;
    for (int number = 0; number < 60; number++) {
        struct pack_way ways[JOBS][DAYS];
        struct pack_group groups[JOBS];
        struct flow_arc arcs[JOBS + JOBS * DAYS + DAYS];
        struct pack_stand stands[DAYS];
        int32_t minutes[DAYS][PACK_SETS];
        size_t arc = 0;
        bool open[DAYS] = {true, true, true, true, true, true};
        struct pack_lane lane = {0, PACK_LIFT, open};

        maker_dice = (uint64_t)number + 99;
        for (int day = 0; day < DAYS; day++) {
            int32_t room = maker_below(5);

            for (int set = 0; set < PACK_SETS; set++)
                minutes[day][set] = room;
            stands[day] =
                (struct pack_stand){day, {minutes[day], minutes[day]}, {0, room}, {0, PACK_NONE}};
            stands[day].fixed[1] = 0;
            stands[day].minutes[1] = no_minutes;
            arcs[arc++] = (struct flow_arc){1 + JOBS + day, 1 + JOBS + DAYS, room, 0};
        }
        for (int job = 0; job < JOBS; job++) {
            arcs[arc++] = (struct flow_arc){0, 1 + job, 1, 0};
            for (int day = 0; day < DAYS; day++) {
                int worth = 1 + maker_below(1000);

                ways[job][day] = (struct pack_way){
                    worth / 1000.0, PACK_NONE, {(int16_t)day, PACK_NONE}, PACK_NONE};
                arcs[arc++] = (struct flow_arc){1 + job, 1 + JOBS + day, 1, -worth};
            }
            qsort(ways[job], DAYS, sizeof ways[job][0], maker_by_share);
            groups[job] = (struct pack_group){.worth = 1,
                                              .ways = ways[job],
                                              .way_count = DAYS,
                                              .most = 1,
                                              .early_from = PACK_NONE,
                                              .minutes = {0, 1, 0},
                                              .limit = {PACK_NONE, PACK_NONE, PACK_NONE}};
        }
        struct packing packing = {.site_count = 1,
                                  .day_count = DAYS,
                                  .late_days = 1,
                                  .lanes = &lane,
                                  .lane_count = 1,
                                  .groups = groups,
                                  .group_count = JOBS,
                                  .stands = stands,
                                  .stand_count = DAYS};
        struct flow_network network = {2 + JOBS + DAYS, arc, arcs, 0, 1 + JOBS + DAYS, JOBS, true};
        int64_t on_arc[COUNT(arcs)], potential[2 + JOBS + DAYS];
        struct flow_answer flow;
        void *workspace = malloc(packing_workspace(&packing));
        void *workspace_of_flow = malloc(flow_workspace_bytes(network.nodes, arc));
        struct pack_plan plan = packing_solve(&packing, workspace);

        assert_int_equal(flow_solve(&network, workspace_of_flow, on_arc, potential, &flow),
                         FLOW_DONE);
        assert_near(plan.value, (double)-flow.cost / 1000.0, 5e-3 * plan.value);
        assert_true(plan.bound >= (double)-flow.cost / 1000.0 - 1e-9);
        free(workspace);
        free(workspace_of_flow);
    }
}

int main(int count, char **names)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(few_bags_are_planned_best),
        cmocka_unit_test(more_bags_are_planned_within_a_percent),
        cmocka_unit_test(places_are_chosen_and_both_bounds_hold),
        cmocka_unit_test(unit_steps_are_a_transport_problem),
    };

    if (count > 1) /* only those whose name matches */
        cmocka_set_test_filter(names[1]);
    return cmocka_run_group_tests_name("packings against GLPK", tests, NULL, NULL);
}
