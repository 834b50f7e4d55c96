/*
 * staff.c - the crews' half-days: where each stands and how many minutes are left.
 *
 * A half-day is spent at one site.  Set-up is taken off it unless the crew was at the same site in
 * the morning.  A lift that two crews name is in one place and has its minutes once.
 */
#include "planning/staff.h"

#include "planning/crossing_parts.h"

#include <assert.h>
#include <string.h>

static bool any_lift_shared(const struct orchard *orchard)
{
    for (size_t i = 0; i < orchard->crews.count; i++)
        for (size_t j = 0; j < i; j++) {
            const struct crew_time *a = &orchard->crews.list[i], *b = &orchard->crews.list[j];

            if (a->lift_name != NULL && b->lift_name != NULL &&
                strcmp(a->lift_name, b->lift_name) == 0 && strcmp(a->crew, b->crew) != 0)
                return true;
        }
    return false;
}

struct staff *staff_of(const struct orchard *orchard, daynum first_day, struct arena *arena)
{
    struct staff *staff = ARENA_NEW(arena, struct staff);

    staff->orchard = orchard;
    staff->count = crew_names(orchard, arena, &staff->names);
    staff->first_day = first_day;
    staff->days = ARENA_ARRAY(arena, staff->count * STAFF_DAYS, struct crew_day);
    staff->halves = ARENA_ARRAY(arena, staff->count * STAFF_DAYS * HALVES, struct half_day);
    for (size_t c = 0; c < staff->count; c++)
        for (int day = 0; day < STAFF_DAYS; day++)
            staff->days[c * STAFF_DAYS + (size_t)day] =
                crew_day_of(orchard, staff->names[c], first_day + day);
    staff->set_up = jobs_set_up(orchard);
    staff->lifts_shared = any_lift_shared(orchard);
    for (size_t i = 0; i < orchard->notes.count; i++)
        staff->sprayed = staff->sprayed || orchard->notes.list[i].kind == NOTE_SPRAYED;
    return staff;
}

/* Is the lift that others share elsewhere, or are its minutes gone? */
static bool shared_lift_taken(const struct staff *staff, struct spot spot, const struct site *site,
                              int64_t minutes)
{
    const struct crew_day *own = day_at(staff, spot);

    if (!staff->lifts_shared || own->lift == NULL)
        return false;
    for (size_t c = 0; c < staff->count; c++) {
        struct spot other = {c, spot.day, spot.half};
        const struct half_day *half = half_at(staff, other);

        if (day_at(staff, other)->lift != own->lift || half->used_lift == 0)
            continue;
        if (half->site != site)
            return true;
        minutes += half->used_lift;
    }
    return minutes > lift_half_minutes(own->lift);
}

static bool was_there(const struct staff *staff, struct spot spot, const struct site *site)
{
    return spot.half == 1 && half_at(staff, (struct spot){spot.crew, spot.day, 0})->site == site;
}

static int64_t set_up_at(const struct staff *staff, struct spot spot, const struct site *site)
{
    return was_there(staff, spot, site) ? 0 : staff->set_up;
}

static bool fits_minutes(const struct staff *staff, struct spot spot, struct errand errand,
                         bool without_lift)
{
    const struct candidate *candidate = errand.candidate;
    const struct site *site = candidate->group->site;
    const struct crew_day *day = day_at(staff, spot);
    const struct half_day *half = half_at(staff, spot);
    int64_t minutes = candidate->minutes[errand.job];
    int64_t set_up = half->site != NULL ? half->set_up : set_up_at(staff, spot, site);

    if (set_up + half->used + minutes > crew_half_minutes(day, site, WORK_ANY))
        return false;
    if (candidate->work[errand.job] != WORK_LIFT || without_lift)
        return true;
    return set_up + half->used_lift + minutes <= crew_half_minutes(day, site, WORK_LIFT) &&
           !shared_lift_taken(staff, spot, site, minutes);
}

/* May the crew do this job there that day at all? */
static bool may_work(const struct staff *staff, struct spot spot, struct errand errand,
                     bool without_lift)
{
    const struct candidate *candidate = errand.candidate;
    const struct crew_day *day = day_at(staff, spot);
    enum work work = candidate->work[errand.job];

    if (day->time == NULL)
        return false;
    if (without_lift)
        return crew_half_minutes(day, candidate->group->site, WORK_ANY) > 0 &&
               (work == WORK_ANY || day->time->work == WORK_ANY || day->time->work == work);
    return crew_half_minutes(day, candidate->group->site, work) > 0 &&
           (work != WORK_LIFT || crew_reaches(day, candidate->group->graft->graft->tree));
}

/*
 * How welcome a half-day is, 0 not at all: open at the site or meant for it; free after a morning
 * there; free of a crew that belongs there; free.
 */
static int rank_of(const struct staff *staff, struct spot spot, const struct site *site)
{
    const struct half_day *half = half_at(staff, spot);

    if (half->site != NULL)
        return half->site == site ? 4 : 0;
    if (half->meant != NULL)
        return half->meant == site ? 4 : 0;
    if (was_there(staff, spot, site))
        return 3;
    return day_at(staff, spot)->time->site_name != NULL ? 2 : 1;
}

/* The most welcome half-day that fits; of equal ones the first crew by name, and the morning. */
static int best_spot(const struct staff *staff, struct errand errand, bool without_lift,
                     struct spot *best)
{
    int best_rank = 0;
    size_t day = (size_t)(errand.day - staff->first_day);

    for (size_t c = 0; c < staff->count; c++) {
        struct spot spot = {c, day, 0};

        if (!may_work(staff, spot, errand, without_lift))
            continue;
        for (spot.half = 0; spot.half < HALVES; spot.half++) {
            int rank = rank_of(staff, spot, errand.candidate->group->site);

            if (rank > best_rank && fits_minutes(staff, spot, errand, without_lift)) {
                best_rank = rank;
                *best = spot;
            }
        }
        if (best_rank == 4)
            break;
    }
    return best_rank;
}

static bool is_working_day(const struct staff *staff, struct errand errand)
{
    struct spot spot = {0, (size_t)(errand.day - staff->first_day), 0};

    for (; spot.crew < staff->count; spot.crew++)
        if (may_work(staff, spot, errand, false))
            return true;
    return false;
}

enum fit_level staff_fit(const struct staff *staff, struct errand errand, enum fit_mode mode)
{
    struct spot spot;

    if (mode == FIT_ANY_DAY)
        return FIT_OPEN_PLACE;
    if (errand.day < staff->first_day || errand.day >= staff->first_day + STAFF_DAYS)
        return FIT_NOT;
    if (staff->sprayed &&
        crew_kept_out(staff->orchard, errand.candidate->group->graft->graft->tree, errand.day))
        return FIT_NOT;
    if (mode == FIT_WORKING_DAY)
        return is_working_day(staff, errand) ? FIT_OPEN_PLACE : FIT_NOT;
    int rank = best_spot(staff, errand, mode == FIT_WITHOUT_LIFT, &spot);
    return rank == 4 ? FIT_OPEN_PLACE : (rank > 0 ? FIT_NEW_PLACE : FIT_NOT);
}

static bool find_crew(const struct staff *staff, const struct planned_task *task, struct spot *spot)
{
    if (task->crew == NULL || task->day < staff->first_day ||
        task->day >= staff->first_day + STAFF_DAYS)
        return false;
    for (size_t c = 0; c < staff->count; c++)
        if (strcmp(staff->names[c], task->crew) == 0) {
            *spot = (struct spot){c, (size_t)(task->day - staff->first_day), task->half_day};
            return true;
        }
    return false;
}

static void open_half(struct staff *staff, struct spot spot, const struct site *site)
{
    struct half_day *half = half_at(staff, spot);

    if (half->site == NULL) {
        half->set_up = set_up_at(staff, spot, site);
        half->site = site;
    }
}

void staff_open(struct staff *staff, const struct planned_bag *bag, int half)
{
    struct spot spot;

    for (int task = 0; task < BAG_TASKS; task++)
        if (!bag->done[task] && bag->tasks[task].day != DAY_NONE &&
            bag->tasks[task].half_day == half && find_crew(staff, &bag->tasks[task], &spot))
            open_half(staff, spot, bag->group->site);
}

/* Can the named crew do it in the named half-day? */
static bool fits_like(const struct staff *staff, struct errand errand,
                      const struct planned_task *like, struct spot *spot)
{
    return like != NULL && like->day == errand.day && find_crew(staff, like, spot) &&
           may_work(staff, *spot, errand, false) &&
           rank_of(staff, *spot, errand.candidate->group->site) > 0 &&
           fits_minutes(staff, *spot, errand, false);
}

struct planned_task staff_take(struct staff *staff, struct errand errand,
                               const struct planned_task *like)
{
    const struct candidate *candidate = errand.candidate;
    struct spot spot = {0, 0, 0};
    bool found =
        fits_like(staff, errand, like, &spot) || best_spot(staff, errand, false, &spot) > 0;
    struct half_day *half = half_at(staff, spot);

    assert(found);
    (void)found;
    open_half(staff, spot, candidate->group->site);
    if (like != NULL && spot.half == 0) { /* taken in no order of hours */
        struct half_day *after = half_at(staff, (struct spot){spot.crew, spot.day, 1});

        after->set_up = after->site == candidate->group->site ? 0 : after->set_up;
    }
    half->used += candidate->minutes[errand.job];
    if (candidate->work[errand.job] == WORK_LIFT)
        half->used_lift += candidate->minutes[errand.job];
    return (struct planned_task){
        .day = errand.day,
        .crew = staff->names[spot.crew],
        .lift = day_at(staff, spot)->time->lift_name,
        .half_day = spot.half,
    };
}
