/*
 * demand_work.c - crew-days and lift-days by kind of work.
 */
#include "planning/demand_parts.h"

#include "orchard/task_rules.h"

#include <math.h>
#include <string.h>

/* Where no crew or lift is in the tables: common practice, no source. */
#define DAY_HOURS 8.0
#define HUNDREDTHS_AN_HOUR 6000.0
#define SHARE_UNITS 1000000.0

/* Kinds of work that stand for themselves where tasks.csv has no row that such a note closes
 * (NOTES: no row of that name). */
struct own_kind {
    const char *task;
    const char *per;
    enum note_kind closed_by;
    int64_t each; /* 1/100 crew-minutes */
    enum work work;
    const char *source;
};
static const struct own_kind cut_scions = {
    "cut scions", NULL,
    NOTES,        600,
    WORK_LIFT,    "common practice, no source: 60 to 120 in a crew-day of 8 h, 80 taken"};
static const struct own_kind make_grafts = {
    "graft", "graft",   NOTE_GRAFTED,
    960,     WORK_LIFT, "common practice, no source: 40 to 80 in a crew-day of 8 h, 50 taken"};

int64_t demand_days(int64_t minutes, int64_t minutes_a_day)
{
    return number_divide_up(minutes, (struct decimal){minutes_a_day, 0});
}

static int64_t hundredths_of(double hours)
{
    return llround(hours * HUNDREDTHS_AN_HOUR);
}

/* The longest day of any crew from as-of on. */
static double crew_day(const struct orchard *orchard)
{
    double hours = 0;

    for (size_t i = 0; i < orchard->crews.count; i++)
        if (orchard->crews.list[i].to >= orchard->as_of &&
            orchard->crews.list[i].hours_per_day > hours)
            hours = orchard->crews.list[i].hours_per_day;
    return hours > 0 ? hours : DAY_HOURS;
}

static double lift_day(const struct orchard *orchard, double crew_hours)
{
    double hours = 0;

    for (size_t i = 0; i < orchard->lifts.count; i++)
        if (orchard->lifts.list[i].to >= orchard->as_of &&
            orchard->lifts.list[i].hours_per_day > hours)
            hours = orchard->lifts.list[i].hours_per_day;
    return hours > 0 && hours < crew_hours ? hours : crew_hours;
}

static double workable_share(const struct orchard *orchard)
{
    double sum = 0;

    for (size_t i = 0; i < orchard->sites.count; i++)
        sum += orchard->sites.list[i].workable_share;
    return orchard->sites.count > 0 ? sum / (double)orchard->sites.count : 1;
}

/* Days that are fit for work come at `share`: minutes / (a day x share), exact. */
static int64_t days_with_share(int64_t minutes, int64_t a_day, double share)
{
    return number_divide_up(minutes, (struct decimal){a_day * llround(share * SHARE_UNITS), 6});
}

static void add_kind(const struct demand_maker *maker, struct demand_plan *plan,
                     const struct own_kind *own, int64_t times)
{
    const struct task_kind *kind = own->closed_by == NOTES
                                       ? orchard_task(maker->orchard, own->task)
                                       : task_closed_by(maker->orchard, own->per, own->closed_by);
    struct task_minutes minutes = {.each = own->each};
    enum work work = own->work;

    if (times <= 0)
        return;
    if (kind != NULL) {
        minutes = task_minutes_of(maker->orchard, kind, (struct rate_subject){0});
        work = kind->work;
    }
    int64_t each = minutes.each + minutes.per_tree, all = times * each;
    int64_t crew = hundredths_of(plan->crew_day_h) - minutes.per_site;
    int64_t lift = hundredths_of(plan->lift_day_h) - minutes.per_site;
    struct demand_work *row =
        ARENA_PUSH(maker->arena, plan->work.list, plan->work.count, plan->work.capacity);

    *row = (struct demand_work){
        .task = own->task,
        .times = times,
        .minutes_each = (double)each / 100,
        .hours = (double)all / HUNDREDTHS_AN_HOUR,
        .on_lift = work == WORK_LIFT,
        .crew_days = demand_days(all, crew),
        .lift_days = work == WORK_LIFT ? demand_days(all, lift) : 0,
        .days = days_with_share(all, work == WORK_LIFT ? lift : crew, plan->workable_share),
        .source = kind != NULL ? kind->source : own->source,
    };
}

void demand_add_work(const struct demand_maker *maker, struct demand_plan *plan)
{
    static const struct own_kind bag = {"bag", "bag", NOTE_BAGGED, 0, WORK_LIFT, NULL};
    static const struct own_kind pollinate = {"pollinate", "bag",     NOTE_POLLINATED,
                                              0,           WORK_LIFT, NULL};
    static const struct own_kind unbag = {"unbag", "bag", NOTE_UNBAGGED, 0, WORK_LIFT, NULL};
    int64_t scions = 0, grafts = 0, bags = 0, hanging = 0;

    for (size_t i = 0; i < plan->selections.count; i++) {
        const struct demand_selection *row = &plan->selections.list[i];

        scions += row->scions_to_cut;
        grafts += row->grafts > 0 ? row->grafts : 0;
    }
    for (size_t i = 0; i < plan->crosses.count; i++) {
        bags += plan->crosses.list[i].bags;
        hanging += plan->crosses.list[i].hanging;
    }
    plan->crew_day_h = crew_day(maker->orchard);
    plan->lift_day_h = lift_day(maker->orchard, plan->crew_day_h);
    plan->workable_share = workable_share(maker->orchard);
    add_kind(maker, plan, &cut_scions, scions);
    add_kind(maker, plan, &make_grafts, grafts);
    add_kind(maker, plan, &bag, bags - hanging);
    add_kind(maker, plan, &pollinate, bags * VISITS_MOST);
    add_kind(maker, plan, &unbag, bags);
}
