/*
 * roster.c - half-days of crews and what is left of them.
 */
#include "planning/roster.h"

#include "planning/crews.h"
#include "planning/jobs.h"

#include <stdlib.h>
#include <string.h>

enum { HALVES_OF_DAY = 2, NOON = 12 * 60, HUNDREDTHS = 100 };

struct shift {
    const struct site *site; /* NULL: nobody was sent anywhere */
    int64_t set_up;          /* 1/100 minute paid for coming there; 0 when it was there before */
    int64_t used, used_lift; /* set-up in neither */
};

struct roster {
    const struct orchard *orchard;
    daynum first_day;
    size_t days, crew_count;
    const char *const *names;
    size_t *order;          /* [crew_count] those without a lift first, then by name */
    struct crew_day *crews; /* [days][crew_count] */
    struct shift *shifts;   /* [days][crew_count][2] */

    /* The tree at which the crew at hand stands, and what the way there has cost it. */
    const struct tree *tree;
    int64_t tree_paid;
};

struct spot_of_day {
    size_t day, crew;
    int half;
};

static struct shift *shift_at(const struct roster *roster, struct spot_of_day spot)
{
    return &roster->shifts[(spot.day * roster->crew_count + spot.crew) * HALVES_OF_DAY +
                           (size_t)spot.half];
}

static const struct crew_day *crew_at(const struct roster *roster, struct spot_of_day spot)
{
    return &roster->crews[spot.day * roster->crew_count + spot.crew];
}

static bool ever_has_lift(const struct roster *roster, size_t crew)
{
    for (size_t day = 0; day < roster->days; day++) {
        const struct crew_day *of = crew_at(roster, (struct spot_of_day){day, crew, 0});

        if (of->time != NULL && (of->time->lift_name != NULL || of->half_lift_minutes > 0))
            return true;
    }
    return false;
}

static void order_crews(struct roster *roster)
{
    size_t count = 0;

    for (int with_lift = 0; with_lift <= 1; with_lift++)
        for (size_t crew = 0; crew < roster->crew_count; crew++)
            if (ever_has_lift(roster, crew) == (with_lift == 1))
                roster->order[count++] = crew;
}

struct roster *roster_of(const struct orchard *orchard, daynum first_day, daynum last_day)
{
    struct roster *roster = ARENA_NEW(orchard->arena, struct roster);

    roster->orchard = orchard;
    roster->first_day = first_day;
    roster->days = last_day < first_day ? 0 : (size_t)(last_day - first_day + 1);
    roster->crew_count = crew_names(orchard, orchard->arena, &roster->names);
    roster->order = ARENA_ARRAY(orchard->arena, roster->crew_count, size_t);
    roster->crews = ARENA_ARRAY(orchard->arena, roster->days * roster->crew_count, struct crew_day);
    roster->shifts = ARENA_ARRAY(orchard->arena, roster->days * roster->crew_count * HALVES_OF_DAY,
                                 struct shift);
    for (size_t day = 0; day < roster->days; day++)
        for (size_t crew = 0; crew < roster->crew_count; crew++)
            roster->crews[day * roster->crew_count + crew] =
                crew_day_of(orchard, roster->names[crew], first_day + (daynum)day);
    order_crews(roster);
    return roster;
}

static bool find_spot(const struct roster *roster, const struct planned_task *task,
                      struct spot_of_day *spot)
{
    if (task->day == DAY_NONE || task->crew == NULL || task->day < roster->first_day ||
        task->day - roster->first_day >= (daynum)roster->days)
        return false;
    for (size_t crew = 0; crew < roster->crew_count; crew++)
        if (strcmp(roster->names[crew], task->crew) == 0) {
            *spot =
                (struct spot_of_day){(size_t)(task->day - roster->first_day), crew, task->half_day};
            return true;
        }
    return false;
}

/* Set-up at `site`, less what the crew paid there in the morning. */
static int64_t set_up_there(const struct roster *roster, struct spot_of_day spot,
                            const struct site *site, int64_t per_site)
{
    const struct shift *morning = shift_at(roster, (struct spot_of_day){spot.day, spot.crew, 0});

    if (spot.half == 1 && morning->site == site)
        return 0;
    return per_site;
}

static void take_task(struct roster *roster, const struct planned_bag *bag, enum bag_task task,
                      int half)
{
    struct spot_of_day spot;

    if (bag->done[task] || !find_spot(roster, &bag->tasks[task], &spot) || spot.half != half)
        return;
    struct shift *shift = shift_at(roster, spot);
    int64_t minutes = job_minutes(roster->orchard, job_of_task[task], bag->group->graft,
                                  bag->group->season_number);

    shift->site = bag->group->site;
    shift->set_up = set_up_there(roster, spot, shift->site, jobs_set_up(roster->orchard));
    shift->used += minutes;
    if (job_work(roster->orchard, job_of_task[task]) == WORK_LIFT)
        shift->used_lift += minutes;
}

void roster_take_plan(struct roster *roster, const struct crossing_plan *plan)
{
    for (int half = 0; half < HALVES_OF_DAY; half++)
        for (size_t i = 0; i < plan->bag_count; i++)
            for (int task = 0; task < BAG_TASKS; task++)
                take_task(roster, &plan->bags[i], (enum bag_task)task, half);
}

/* Does another crew have the same lift in this half-day? */
static bool lift_is_out(const struct roster *roster, struct spot_of_day spot)
{
    const struct crew_day *own = crew_at(roster, spot);

    for (size_t crew = 0; own->lift != NULL && crew < roster->crew_count; crew++) {
        struct spot_of_day other = {spot.day, crew, spot.half};

        if (crew != spot.crew && crew_at(roster, other)->lift == own->lift &&
            shift_at(roster, other)->used_lift > 0)
            return true;
    }
    return false;
}

/* Minutes of the half-day, in 1/100, that lie in the hours of the duty. */
static int64_t minutes_in_hours(const struct crew_day *crew, int half, const struct duty *duty)
{
    int length = (int)(crew->half_minutes / HUNDREDTHS);
    int from = half == 0 ? NOON - length : NOON, to = half == 0 ? NOON : NOON + length;

    from = from > duty->hours_from ? from : duty->hours_from;
    to = to < duty->hours_to ? to : duty->hours_to;
    return to > from ? (int64_t)(to - from) * HUNDREDTHS : 0;
}

/* What it costs the crew at hand: the way to the tree is paid once. */
static int64_t cost_of(const struct roster *roster, const struct duty *duty)
{
    int64_t way = duty->minutes.per_tree;

    if (duty->tree != NULL && duty->tree == roster->tree)
        way = way > roster->tree_paid ? way - roster->tree_paid : 0;
    return duty->minutes.each + way;
}

static int64_t set_up_with(const struct roster *roster, struct spot_of_day spot,
                           const struct duty *duty)
{
    int64_t set_up = set_up_there(roster, spot, duty->site, duty->minutes.per_site);
    const struct shift *shift = shift_at(roster, spot);

    return set_up > shift->set_up ? set_up : shift->set_up;
}

/* Minutes of a half-day that the duty may use at most. */
static int64_t capacity_at(const struct roster *roster, struct spot_of_day spot,
                           const struct duty *duty)
{
    return crew_half_minutes(crew_at(roster, spot), duty->site, duty->instance->kind->work);
}

static bool is_free_for(const struct roster *roster, struct spot_of_day spot,
                        const struct duty *duty)
{
    const struct shift *shift = shift_at(roster, spot);

    return shift->used == 0 && (shift->site == NULL || shift->site == duty->site) &&
           (duty->instance->kind->work != WORK_LIFT || !lift_is_out(roster, spot));
}

/* Does it take more than the half-day, and goes on after noon? */
static bool spans_day(const struct roster *roster, struct spot_of_day spot, const struct duty *duty)
{
    int64_t cost = cost_of(roster, duty) + set_up_with(roster, spot, duty);
    int64_t capacity = capacity_at(roster, spot, duty);

    return spot.half == 0 && cost > capacity && cost <= HALVES_OF_DAY * capacity &&
           is_free_for(roster, spot, duty) &&
           is_free_for(roster, (struct spot_of_day){spot.day, spot.crew, 1}, duty);
}

static bool has_minutes(const struct roster *roster, struct spot_of_day spot,
                        const struct duty *duty)
{
    const struct crew_day *crew = crew_at(roster, spot);
    const struct shift *shift = shift_at(roster, spot);
    const struct shift *morning = shift_at(roster, (struct spot_of_day){spot.day, spot.crew, 0});
    int64_t cost = cost_of(roster, duty) + set_up_with(roster, spot, duty);

    if (shift->site != NULL && shift->site != duty->site)
        return false;
    if (spans_day(roster, spot, duty))
        return true;
    if (duty->early && spot.half == 1 && morning->site != NULL && morning->site != duty->site)
        return false;
    if (shift->used + cost > crew_half_minutes(crew, duty->site, WORK_ANY))
        return false;
    return duty->instance->kind->work != WORK_LIFT ||
           (shift->used_lift + cost <= crew_half_minutes(crew, duty->site, WORK_LIFT) &&
            !lift_is_out(roster, spot));
}

/* What keeps the crew from it in this half-day. */
static enum obstacle obstacle_at(const struct roster *roster, struct spot_of_day spot,
                                 const struct duty *duty)
{
    const struct crew_day *crew = crew_at(roster, spot);
    enum work work = duty->instance->kind->work;

    if (crew_half_minutes(crew, duty->site, WORK_ANY) == 0)
        return OBSTACLE_NOBODY;
    if (crew_half_minutes(crew, duty->site, work) == 0)
        return OBSTACLE_WORK;
    if (work == WORK_LIFT && duty->tree != NULL && !crew_reaches(crew, duty->tree))
        return OBSTACLE_REACH;
    if (duty->shut_until != DAY_NONE && roster->first_day + (daynum)spot.day <= duty->shut_until)
        return OBSTACLE_SPRAYED;
    if (minutes_in_hours(crew, spot.half, duty) <
        (duty->minutes.each < crew->half_minutes ? duty->minutes.each : crew->half_minutes))
        return OBSTACLE_HOURS;
    return has_minutes(roster, spot, duty) ? OBSTACLE_NONE : OBSTACLE_MINUTES;
}

static void take_duty(struct roster *roster, struct spot_of_day spot, struct duty *duty)
{
    struct shift *shift = shift_at(roster, spot);
    int64_t cost = cost_of(roster, duty);
    bool by_lift = duty->instance->kind->work == WORK_LIFT;

    duty->paid = cost + set_up_with(roster, spot, duty) - shift->set_up;
    if (spans_day(roster, spot, duty)) {
        struct shift *after = shift_at(roster, (struct spot_of_day){spot.day, spot.crew, 1});
        int64_t before_noon = capacity_at(roster, spot, duty) - set_up_with(roster, spot, duty);

        after->site = duty->site;
        after->used = cost - before_noon;
        after->used_lift = by_lift ? after->used : 0;
        cost = before_noon;
    }
    shift->set_up = set_up_with(roster, spot, duty);
    shift->site = duty->site;
    shift->used += cost;
    shift->used_lift += by_lift ? cost : 0;
    if (duty->tree != roster->tree)
        roster->tree_paid = 0;
    roster->tree = duty->tree;
    if (duty->minutes.per_tree > roster->tree_paid)
        roster->tree_paid = duty->minutes.per_tree;
    duty->day = roster->first_day + (daynum)spot.day;
    duty->crew = roster->names[spot.crew];
    duty->lift = by_lift ? crew_at(roster, spot)->time->lift_name : NULL;
    duty->half_day = spot.half;
}

/* Duties that lie at one tree, each naming the next in the order of duties. */
struct giving {
    struct duties *duties;
    size_t *next; /* [duties->count]; == count: none */
    size_t *head; /* [trees] */
    bool early;
};

static void chain_trees(struct giving *giving, const struct orchard *orchard)
{
    size_t count = giving->duties->count;

    giving->next = ARENA_ARRAY(orchard->arena, count, size_t);
    giving->head = ARENA_ARRAY(orchard->arena, orchard->trees.count, size_t);
    for (size_t tree = 0; tree < orchard->trees.count; tree++)
        giving->head[tree] = count;
    for (size_t i = count; i-- > 0;) {
        const struct duty *duty = &giving->duties->list[i];

        giving->next[i] = count;
        if (duty->tree == NULL)
            continue;
        size_t tree = (size_t)(duty->tree - orchard->trees.list);
        giving->next[i] = giving->head[tree];
        giving->head[tree] = i;
    }
}

/* Is it taken by the crew in this half-day? */
static bool try_duty(struct roster *roster, struct spot_of_day spot, struct duty *duty, bool early)
{
    if (duty->obstacle == OBSTACLE_NONE || duty->early != early ||
        duty->instance->first_day > roster->first_day + (daynum)spot.day)
        return false;
    enum obstacle obstacle = obstacle_at(roster, spot, duty);
    duty->obstacle = obstacle > duty->obstacle ? obstacle : duty->obstacle;
    if (obstacle != OBSTACLE_NONE)
        return false;
    take_duty(roster, spot, duty);
    return true;
}

/* Duties in their order, each with what else is open on its tree; `only`: at this site. */
static bool fill_shift(struct roster *roster, struct spot_of_day spot, struct giving *giving,
                       const struct site *only)
{
    bool any = false;

    for (size_t i = 0; i < giving->duties->count; i++) {
        struct duty *duty = &giving->duties->list[i];

        if ((only != NULL && duty->site != only) || !try_duty(roster, spot, duty, giving->early))
            continue;
        any = true;
        if (duty->tree == NULL)
            continue;
        for (size_t k = giving->head[duty->tree - roster->orchard->trees.list];
             k < giving->duties->count; k = giving->next[k])
            try_duty(roster, spot, &giving->duties->list[k], giving->early);
    }
    return any;
}

static void give_shift(struct roster *roster, struct spot_of_day spot, struct giving *giving)
{
    const struct site *morning =
        shift_at(roster, (struct spot_of_day){spot.day, spot.crew, 0})->site;

    roster->tree = NULL;
    roster->tree_paid = 0;
    if (crew_at(roster, spot)->time == NULL)
        return;
    if (spot.half == 1 && shift_at(roster, spot)->site == NULL && morning != NULL &&
        fill_shift(roster, spot, giving, morning)) /* stay where the morning was */
        return;
    fill_shift(roster, spot, giving, NULL);
}

void roster_give(struct roster *roster, struct duties *duties, bool early)
{
    struct giving giving = {.duties = duties, .early = early};

    chain_trees(&giving, roster->orchard);
    for (size_t i = 0; i < duties->count; i++) {
        struct duty *duty = &duties->list[i];

        if (duty->early == early)
            duty->shut_until = crew_shut_until(roster->orchard, duty->site,
                                               duty->tree != NULL ? duty->tree->block : NULL);
    }
    for (size_t day = 0; day < roster->days; day++)
        for (int half = 0; half < HALVES_OF_DAY; half++)
            for (size_t c = 0; c < roster->crew_count; c++)
                give_shift(roster, (struct spot_of_day){day, roster->order[c], half}, &giving);
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* Crews that name a lift which is out with another crew are left without it that day. */
static bool loses_lift(const struct roster *roster, struct spot_of_day spot)
{
    return lift_is_out(roster, spot) ||
           lift_is_out(roster, (struct spot_of_day){spot.day, spot.crew, 1});
}

void roster_tell_taken(const struct roster *roster, struct orchard *orchard)
{
    for (size_t crew = 0; crew < roster->crew_count; crew++)
        for (size_t day = 0; day < roster->days; day++) {
            struct spot_of_day spot = {day, crew, 0};
            const struct shift *halves = shift_at(roster, spot);
            struct taken_time taken = {
                .crew = roster->names[crew],
                .day = roster->first_day + (daynum)day,
                .site = halves[0].site != NULL ? halves[0].site : halves[1].site,
                .minutes =
                    larger(halves[0].set_up + halves[0].used, halves[1].set_up + halves[1].used),
                .no_lift = loses_lift(roster, spot),
            };

            if (taken.site != NULL || taken.no_lift)
                *ARENA_PUSH(orchard->arena, orchard->taken.list, orchard->taken.count,
                            orchard->taken.capacity) = taken;
        }
}

struct duties roster_early(struct orchard *orchard, const struct task_instances *tasks,
                           const struct placement *placement)
{
    daynum last_day = orchard->as_of + EARLY_DAYS;
    struct duties duties = duties_of(orchard, tasks, placement, last_day);
    struct roster *roster = roster_of(orchard, orchard->as_of, last_day);

    roster_give(roster, &duties, true);
    roster_tell_taken(roster, orchard);
    return duties;
}
