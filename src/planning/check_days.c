/*
 * check_days.c - the windows of one planned bag and who may work on its days.
 */
#include "planning/check_parts.h"
#include "planning/crews.h"

#include <assert.h>
#include <string.h>

#define NEAR 1e-9
#define BAG_DAYS_BEFORE 7 /* a bag is hung in the week up to the last safe day */
#define UNBAG_WAIT 10     /* days after the last visit */
#define UNBAG_WINDOW 14   /* days in which a bag should come off */
#define UNBAG_CHANCE 0.95
#define VISIT_LEAST_SHARE 0.05 /* of the best day's chance */

static daynum option_day(const struct option *option, enum bag_task task)
{
    const daynum days[BAG_TASKS] = {option->bag, option->visit[0], option->visit[1], option->unbag};

    return days[task];
}

static void check_task_days(struct check *check, const struct planned_bag *bag)
{
    for (int task = 0; task < BAG_TASKS; task++) {
        const struct planned_task *planned = &bag->tasks[task];
        daynum day = option_day(&bag->option, (enum bag_task)task);

        if (planned->day != day)
            check_fault(check, bag, "task %s is on another day than its option says",
                        bag_task_words[task]);
        if (day == DAY_NONE || bag->done[task])
            continue;
        if (day < check->plan->as_of)
            check_fault(check, bag, "task %s lies before the as-of day", bag_task_words[task]);
        if (crew_kept_out(check->orchard, bag->group->graft->graft->tree, day))
            check_fault(check, bag, "task %s lies within a re-entry time", bag_task_words[task]);
    }
}

/* What notes say is done stands in the option as it happened, and nothing else does. */
static void check_done(struct check *check, const struct planned_bag *bag)
{
    const struct bag *hangs = bag->group->hangs;
    size_t kept = 0, first = 0;

    if (hangs != NULL) {
        const size_t told = sizeof hangs->visit_on / sizeof *hangs->visit_on;
        size_t visits = hangs->visits < told ? hangs->visits : told;

        kept = visits < VISITS_MOST ? visits : VISITS_MOST;
        first = visits - kept;
    }
    if (bag->done[TASK_BAG] != (hangs != NULL) ||
        (hangs != NULL && bag->option.bag != hangs->bagged_on))
        check_fault(check, bag, "is not hung as the notes say");
    for (size_t v = 0; v < VISITS_MOST; v++) {
        bool done = v < kept;

        if (bag->done[TASK_POLLINATE_1 + v] != done ||
            (done && bag->option.visit[v] != hangs->visit_on[first + v]))
            check_fault(check, bag, "is not pollinated as the notes say");
    }
    if (bag->done[TASK_UNBAG])
        check_fault(check, bag, "is off already, so nothing can be planned of it");
}

static void check_bag_window(struct check *check, const struct planned_bag *bag)
{
    const struct bloom *bloom = bag->group->bloom;
    const double least = check->orchard->program.clean_chance;
    daynum day = bag->option.bag;

    if (clean_by_futures(bloom, day) < least - NEAR)
        check_fault(check, bag, "is hung too late to be clean");
    if (clean_by_futures(bloom, day + BAG_DAYS_BEFORE + 1) >= least + NEAR)
        check_fault(check, bag, "is hung more than %d days before its last safe day",
                    BAG_DAYS_BEFORE);
    if (clean_by_futures(bloom, bag->latest[TASK_BAG]) < least - NEAR ||
        clean_by_futures(bloom, bag->latest[TASK_BAG] + 1) >= least + NEAR)
        check_fault(check, bag, "tells a wrong last safe day to hang it");
}

/* Is every day from as-of on worth less than a twentieth of the best? */
static bool no_day_for_a_visit(const struct check *check, const struct bloom *bloom)
{
    double best = 0, best_left = 0;
    daynum first = DAY_NEVER, last = DAY_NONE;

    for (size_t m = 0; m < bloom->members; m++) {
        const struct conetide_window *window = &bloom->windows[m];

        if (window->first == CONETIDE_NEVER)
            continue;
        first = window->first < first ? window->first : first;
        last = window->last == CONETIDE_NEVER ? DAY_NEVER
               : window->last > last          ? window->last
                                              : last;
    }
    if (first == DAY_NEVER || last == DAY_NEVER)
        return false;
    for (daynum day = first - bloom->shifts->reach; day <= last + bloom->shifts->reach; day++) {
        double chance = receptive_by_futures(bloom, day);

        best = chance > best ? chance : best;
        if (day >= check->plan->as_of)
            best_left = chance > best_left ? chance : best_left;
    }
    return best_left < VISIT_LEAST_SHARE * best + NEAR;
}

/* It hangs, was never pollinated, and never will be. */
static bool only_comes_off(const struct planned_bag *bag)
{
    return bag->group->hangs != NULL && bag->group->hangs->visits == 0 && bag->lot == NULL;
}

static void check_visit_window(struct check *check, const struct planned_bag *bag)
{
    const struct option *option = &bag->option;

    if (option->visit[0] == DAY_NONE) {
        if (!only_comes_off(bag) || option->visit[1] != DAY_NONE ||
            !no_day_for_a_visit(check, bag->group->bloom))
            check_fault(check, bag, "has no visit");
        return;
    }
    if (option->visit[0] <= option->bag)
        check_fault(check, bag, "is pollinated before the day after bagging");
    if (option->visit[1] != DAY_NONE && !bag->done[TASK_POLLINATE_2] &&
        (option->visit[1] < option->visit[0] + 2 || option->visit[1] > option->visit[0] + 3))
        check_fault(check, bag, "has its second visit not 2 or 3 days after the first");
}

static void check_unbag_window(struct check *check, const struct planned_bag *bag)
{
    const struct group *group = bag->group;
    const struct bloom *bloom = group->bloom;
    daynum unbag = bag->option.unbag;
    daynum last = bag->option.visit[1] != DAY_NONE ? bag->option.visit[1] : bag->option.visit[0];
    bool promised = group->stage == BAG_VISITED || group->stage == BAG_VISITED_ONCE;

    if (unbag != DAY_NONE && last == DAY_NONE && only_comes_off(bag)) {
        if (unbag > check->plan->as_of + UNBAG_WINDOW)
            check_fault(check, bag, "is empty and hangs for more than %d days", UNBAG_WINDOW);
        return;
    }
    if (unbag == DAY_NONE || last == DAY_NONE) {
        check_fault(check, bag, "is never taken off");
        return;
    }
    if (unbag < last + UNBAG_WAIT)
        check_fault(check, bag, "is taken off less than %d days after the last visit", UNBAG_WAIT);
    /* A bag that has been pollinated must come off, however late or never the safe day is. */
    if (!promised && safe_by_futures(bloom, group->shed, unbag) < UNBAG_CHANCE - NEAR)
        check_fault(check, bag, "is taken off before it is safe");
    bool in_time =
        unbag - UNBAG_WINDOW <= last + UNBAG_WAIT ||
        safe_by_futures(bloom, group->shed, unbag - UNBAG_WINDOW - 1) < UNBAG_CHANCE + NEAR;
    bool late = promised && unbag - UNBAG_WINDOW <= check->plan->as_of;
    if (!in_time && !late)
        check_fault(check, bag, "is taken off more than %d days after it is safe", UNBAG_WINDOW);
}

/* Some crew that does the work at the site works that day (its minutes are counted elsewhere). */
static bool is_working_day(const struct check *check, const struct planned_bag *bag,
                           enum bag_task task)
{
    const struct task_kind *kind = check_task_kind(check, task);
    const struct crew_day day =
        crew_day_of(check->orchard, bag->tasks[task].crew, bag->tasks[task].day);
    enum work work = kind != NULL ? kind->work : WORK_ANY;

    return crew_half_minutes(&day, bag->group->site, work) > 0 &&
           (work != WORK_LIFT || crew_reaches(&day, bag->group->graft->graft->tree));
}

static void check_working_days(struct check *check, const struct planned_bag *bag)
{
    for (int task = 0; task < BAG_TASKS; task++) {
        const struct planned_task *planned = &bag->tasks[task];
        bool wants_crew = planned->day != DAY_NONE && !bag->done[task] && !bag->pencilled;

        if (wants_crew != (planned->crew != NULL))
            check_fault(check, bag, "task %s has a crew where none is due, or none where one is",
                        bag_task_words[task]);
        else if (wants_crew && !is_working_day(check, bag, (enum bag_task)task))
            check_fault(check, bag, "task %s is on a day on which crew %s does no such work there",
                        bag_task_words[task], planned->crew);
        if (wants_crew && planned->half_day != 0 && planned->half_day != 1)
            check_fault(check, bag, "task %s is in no half-day", bag_task_words[task]);
    }
}

void check_days(struct check *check, const struct planned_bag *bag)
{
    assert(bag->group->bloom->windows != NULL);
    check_task_days(check, bag);
    check_done(check, bag);
    if (!bag->done[TASK_BAG])
        check_bag_window(check, bag);
    check_visit_window(check, bag);
    check_unbag_window(check, bag);
    check_working_days(check, bag);
}
