/*
 * check_crews.c - one place a half-day, and minutes, of every crew and every lift.
 */
#include "planning/check_parts.h"
#include "planning/crews.h"

#include <stdlib.h>
#include <string.h>

/* One task of one bag, as it weighs on a crew's half-day. */
struct stint {
    const char *who; /* a crew, or a lift that several crews may share */
    daynum day;
    int half_day;
    const struct site *site;
    int64_t minutes;
    bool by_lift;
    const struct planned_bag *bag;
};

static int by_who_and_time(const void *a, const void *b)
{
    const struct stint *x = a, *y = b;
    int order = strcmp(x->who, y->who);

    if (order == 0)
        order = (x->day > y->day) - (x->day < y->day);
    if (order == 0)
        order = x->half_day - y->half_day;
    return order != 0 ? order : strcmp(x->bag->name, y->bag->name);
}

static bool same_half_day(const struct stint *a, const struct stint *b)
{
    return strcmp(a->who, b->who) == 0 && a->day == b->day && a->half_day == b->half_day;
}

static bool is_crew_task(const struct planned_bag *bag, int task)
{
    return !bag->done[task] && bag->tasks[task].day != DAY_NONE && bag->tasks[task].crew != NULL;
}

static size_t stints_of(struct check *check, bool of_lifts, struct stint *stints)
{
    const struct crossing_plan *plan = check->plan;
    size_t count = 0;

    for (size_t i = 0; i < plan->bag_count; i++)
        for (int task = 0; task < BAG_TASKS; task++) {
            const struct planned_bag *bag = &plan->bags[i];
            const struct planned_task *planned = &bag->tasks[task];
            const struct task_kind *kind = check_task_kind(check, (enum bag_task)task);
            bool by_lift = kind != NULL && kind->work == WORK_LIFT;

            if (!is_crew_task(bag, task) || (of_lifts && (planned->lift == NULL || !by_lift)))
                continue;
            stints[count++] = (struct stint){
                .who = of_lifts ? planned->lift : planned->crew,
                .day = planned->day,
                .half_day = planned->half_day,
                .site = bag->group->site,
                .minutes = check_task_minutes(check, bag, (enum bag_task)task),
                .by_lift = by_lift,
                .bag = bag,
            };
        }
    qsort(stints, count, sizeof *stints, by_who_and_time);
    return count;
}

/* Was the crew at this site in the morning of the same day? */
static bool came_in_the_morning(const struct stint *stints, size_t at)
{
    for (size_t i = at; i-- > 0;) {
        if (strcmp(stints[i].who, stints[at].who) != 0 || stints[i].day != stints[at].day)
            return false;
        if (stints[i].half_day == 0)
            return stints[i].site == stints[at].site;
    }
    return false;
}

static int64_t set_up_minutes(const struct check *check)
{
    int64_t most = 0;

    for (int task = 0; task < BAG_TASKS; task++) {
        const struct task_kind *kind = check_task_kind(check, (enum bag_task)task);
        int64_t minutes =
            kind != NULL ? task_minutes_of(check->orchard, kind, (struct rate_subject){0}).per_site
                         : 0;

        if (minutes > most)
            most = minutes;
    }
    return most;
}

/* Stints [first, end) are one crew's half-day. */
static void check_half_day(struct check *check, const struct stint *stints, size_t first,
                           size_t end)
{
    const struct stint *stint = &stints[first];
    const struct crew_day day = crew_day_of(check->orchard, stint->who, stint->day);
    int64_t minutes = 0, lift_minutes = 0;
    bool set_up = stint->half_day == 0 || !came_in_the_morning(stints, first);

    for (size_t i = first; i < end; i++) {
        if (stints[i].site != stint->site)
            check_fault(check, stints[i].bag, "crew %s is at two sites in one half-day",
                        stint->who);
        minutes += stints[i].minutes;
        lift_minutes += stints[i].by_lift ? stints[i].minutes : 0;
    }
    int64_t extra = set_up ? set_up_minutes(check) : 0;
    int64_t given = crew_half_minutes(&day, stint->site, WORK_ANY);
    int64_t given_lift = crew_half_minutes(&day, stint->site, WORK_LIFT);
    if (minutes + extra > given)
        check_fault(check, stint->bag, "crew %s has %lld/100 minutes planned in a half-day of %lld",
                    stint->who, (long long)(minutes + extra), (long long)given);
    if (lift_minutes > 0 && lift_minutes + extra > given_lift)
        check_fault(check, stint->bag,
                    "crew %s has %lld/100 lift minutes planned in a half-day of "
                    "%lld",
                    stint->who, (long long)(lift_minutes + extra), (long long)given_lift);
}

/* A lift that two crews name is still one lift: one place, and its own minutes. */
static void check_lift_half_day(struct check *check, const struct stint *stints, size_t first,
                                size_t end)
{
    int64_t minutes = 0, given = -1;

    for (size_t i = first; i < end; i++) {
        if (stints[i].site != stints[first].site)
            check_fault(check, stints[i].bag, "lift %s is at two sites in one half-day",
                        stints[first].who);
        minutes += stints[i].minutes;
    }
    for (size_t i = 0; i < check->orchard->crews.count; i++) {
        const struct crew_time *time = &check->orchard->crews.list[i];

        if (time->lift_name == NULL || strcmp(time->lift_name, stints[first].who) != 0)
            continue;
        const struct crew_day day = crew_day_of(check->orchard, time->crew, stints[first].day);
        if (day.lift != NULL && strcmp(day.lift->lift, stints[first].who) == 0)
            given = lift_half_minutes(day.lift);
    }
    if (given >= 0 && minutes > given)
        check_fault(check, stints[first].bag,
                    "lift %s has %lld/100 minutes planned in a half-day "
                    "of %lld",
                    stints[first].who, (long long)minutes, (long long)given);
}

void check_crews(struct check *check)
{
    size_t most = check->plan->bag_count * BAG_TASKS;
    struct stint *stints = ARENA_ARRAY(check->inputs->arena, most, struct stint);

    for (int of_lifts = 0; of_lifts < 2; of_lifts++) {
        size_t count = stints_of(check, of_lifts == 1, stints);

        for (size_t first = 0, end; first < count; first = end) {
            for (end = first + 1; end < count && same_half_day(&stints[first], &stints[end]);)
                end++;
            if (of_lifts == 1)
                check_lift_half_day(check, stints, first, end);
            else
                check_half_day(check, stints, first, end);
        }
    }
}
