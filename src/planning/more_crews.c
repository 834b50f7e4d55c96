/*
 * more_crews.c - the season planned again with one more crew.
 *
 * On each of the dearest days the bags of the plan stay and what still fits is added; on the three
 * dearest of all the season is also planned anew, and the better of both is told.  A crew that is
 * there every day tells which days are needed where no single one helps.
 */
#include "planning/more_crews.h"

#include "planning/crossing_parts.h"

#include <math.h>
#include <string.h>

#define DEAR_DAYS 8      /* of a site, that are tried */
#define DEAR_DAYS_ANEW 3 /* of all sites, with the season planned anew */
#define HOURS 8          /* of a crew-day where no crew tells any */
#define WEEKDAYS 0x3eU   /* Monday to Friday */
#define ALL_DAYS 0xfeU

/* Sorts after names of crews: it gets what the others leave. */
static const char extra_name[] = "\xff one more";

struct trial {
    const struct crossing_inputs *inputs;
    const struct crossing_plan *plan;
    const struct site *site;
    daynum from, to;
    unsigned weekdays;
    bool anew;
};

static bool needs_lift(const struct orchard *orchard)
{
    for (int job = 0; job < JOBS; job++)
        if (job_work(orchard, (enum job)job) == WORK_LIFT)
            return true;
    return false;
}

static double most_hours(const struct orchard *orchard)
{
    double hours = 0;

    for (size_t i = 0; i < orchard->crews.count; i++)
        if (orchard->crews.list[i].hours_per_day > hours)
            hours = orchard->crews.list[i].hours_per_day;
    return hours > 0 ? hours : HOURS;
}

/* Lists of the orchard with one row more; those of the orchard stay as they are. */
static void add_crew(struct orchard *changed, const struct trial *trial, struct arena *arena)
{
    const struct orchard *orchard = trial->inputs->state->orchard;
    struct crew_time *crews = ARENA_ARRAY(arena, orchard->crews.count + 1, struct crew_time);
    struct crew_time crew = {
        .crew = extra_name,
        .site_name = trial->site->name,
        .site = trial->site,
        .from = trial->from,
        .to = trial->to,
        .weekdays = trial->weekdays,
        .hours_per_day = most_hours(orchard),
        .lift_name = needs_lift(orchard) ? extra_name : NULL,
    };

    for (size_t i = 0; i < orchard->crews.count; i++)
        crews[i] = orchard->crews.list[i];
    crews[orchard->crews.count] = crew;
    changed->crews.list = crews;
    changed->crews.count = orchard->crews.count + 1;
}

/* It works as long as the best of the others, and reaches everything. */
static void add_lift(struct orchard *changed, const struct trial *trial, struct arena *arena)
{
    const struct orchard *orchard = trial->inputs->state->orchard;
    struct lift_time *lifts = ARENA_ARRAY(arena, orchard->lifts.count + 1, struct lift_time);
    double hours = 0;

    for (size_t i = 0; i < orchard->lifts.count; i++) {
        lifts[i] = orchard->lifts.list[i];
        if (lifts[i].hours_per_day > hours)
            hours = lifts[i].hours_per_day;
    }
    lifts[orchard->lifts.count] = (struct lift_time){
        .lift = extra_name,
        .from = trial->from,
        .to = trial->to,
        .hours_per_day = hours > 0 ? hours : HOURS,
        .reach_m = NAN,
    };
    changed->lifts.list = lifts;
    changed->lifts.count = orchard->lifts.count + 1;
}

static struct crossing_plan plan_with(const struct trial *trial)
{
    struct arena *arena = trial->inputs->arena;
    struct orchard *orchard = ARENA_NEW(arena, struct orchard);
    struct state *state = ARENA_NEW(arena, struct state);
    struct crossing_inputs inputs = *trial->inputs;
    const struct wish wish = {.optimised = trial->anew, .kept = trial->anew ? NULL : trial->plan};

    *orchard = *trial->inputs->state->orchard;
    add_crew(orchard, trial, arena);
    if (orchard->lifts.count > 0)
        add_lift(orchard, trial, arena);
    *state = *trial->inputs->state;
    state->orchard = orchard;
    inputs.state = state;
    if (wish.kept != NULL)
        inputs.issued = NULL; /* what stands of it is kept */
    return crossing_plan_by(&inputs, &wish);
}

static void count_bags(const struct crossing_plan *plan, const struct orchard *orchard,
                       int64_t sign, struct more_crew *crew)
{
    for (size_t i = 0; i < plan->bag_count; i++) {
        if (plan->bags[i].pencilled)
            continue;
        crew->bags += sign;
        crew->of[plan->bags[i].group->cross - orchard->crosses.list].bags += sign;
    }
}

/* The days on which the crew has work on bags of one cross. */
static void count_days(const struct crossing_plan *plan, const struct trial *trial,
                       const struct cross *cross, struct more_bags *of)
{
    bool *busy = ARENA_ARRAY(trial->inputs->arena, (size_t)(trial->to - trial->from) + 1, bool);

    for (size_t i = 0; i < plan->bag_count; i++)
        for (int task = 0; task < BAG_TASKS && plan->bags[i].group->cross == cross; task++) {
            const struct planned_task *own = &plan->bags[i].tasks[task];

            if (own->crew != NULL && strcmp(own->crew, extra_name) == 0)
                busy[own->day - trial->from] = true;
        }
    of->first = of->last = DAY_NONE;
    for (daynum day = trial->from; day <= trial->to; day++)
        if (busy[day - trial->from]) {
            of->first = of->first == DAY_NONE ? day : of->first;
            of->last = day;
            of->days++;
        }
}

static struct crossing_plan try_crew(struct more_crews *crews, const struct trial *trial)
{
    const struct orchard *orchard = trial->inputs->state->orchard;
    const struct crossing_plan with = plan_with(trial);
    struct more_crew crew = {
        .site = trial->site,
        .lift = needs_lift(orchard),
        .whole_day = trial->from == trial->to,
        .of = ARENA_ARRAY(trial->inputs->arena, orchard->crosses.count, struct more_bags),
    };

    count_bags(&with, orchard, 1, &crew);
    count_bags(trial->plan, orchard, -1, &crew);
    for (size_t c = 0; c < orchard->crosses.count; c++) {
        struct more_bags *of = &crew.of[c];

        if (crew.whole_day) /* what it does may be work on other bags, that makes room for these */
            *of = (struct more_bags){of->bags, 1, trial->from, trial->from};
        else if (of->bags > 0)
            count_days(&with, trial, &orchard->crosses.list[c], of);
    }
    if (crew.bags > 0)
        crews->list[crews->count++] = crew;
    return with;
}

/* A weekday, or one on which some crew works at times. */
static bool is_weekday(const struct orchard *orchard, daynum day)
{
    unsigned worked = WEEKDAYS;

    for (size_t i = 0; i < orchard->crews.count; i++)
        worked |= orchard->crews.list[i].weekdays;
    return (worked & 1U << (unsigned)day_weekday(day)) != 0;
}

static void try_dear_days(struct more_crews *crews, struct trial trial, const bool *sites)
{
    const struct orchard *orchard = trial.inputs->state->orchard;
    int *tried = ARENA_ARRAY(trial.inputs->arena, orchard->sites.count, int);
    int anew = 0;

    trial.weekdays = ALL_DAYS;
    for (size_t i = 0; i < trial.plan->dear_count; i++) {
        const struct dear_day *dear = &trial.plan->dear[i];
        const size_t site = (size_t)(dear->site - orchard->sites.list);

        if (!sites[site] || tried[site] >= DEAR_DAYS || !is_weekday(orchard, dear->day))
            continue;
        tried[site]++;
        trial.site = dear->site;
        trial.from = trial.to = dear->day;
        trial.anew = false;
        (void)try_crew(crews, &trial);
        trial.anew = anew++ < DEAR_DAYS_ANEW;
        if (trial.anew)
            (void)try_crew(crews, &trial);
    }
}

static daynum next_busy_day(const struct crossing_plan *plan, daynum after)
{
    daynum next = DAY_NEVER;

    for (size_t i = 0; i < plan->bag_count; i++)
        for (int task = 0; task < BAG_TASKS; task++) {
            const struct planned_task *own = &plan->bags[i].tasks[task];

            if (own->crew != NULL && strcmp(own->crew, extra_name) == 0 && own->day > after &&
                own->day < next)
                next = own->day;
        }
    return next;
}

/* A crew on every weekday, then on each of the first days that it had work, alone. */
static void try_every_day(struct more_crews *crews, struct trial trial)
{
    trial.from = trial.plan->as_of;
    trial.to = trial.plan->as_of + STAFF_DAYS / 2;
    trial.weekdays = WEEKDAYS;
    const struct crossing_plan with = try_crew(crews, &trial);
    daynum day = next_busy_day(&with, trial.from - 1);
    for (int tried = 0; tried < DEAR_DAYS && day != DAY_NEVER; tried++) {
        trial.from = trial.to = day;
        (void)try_crew(crews, &trial);
        day = next_busy_day(&with, day);
    }
}

struct more_crews more_crews_of(const struct crossing_inputs *inputs,
                                const struct crossing_plan *plan, const bool *sites)
{
    const struct orchard *orchard = inputs->state->orchard;
    const size_t trials = orchard->sites.count * (2 * DEAR_DAYS + 1) + DEAR_DAYS_ANEW;
    struct more_crews crews = {ARENA_ARRAY(inputs->arena, trials, struct more_crew), 0};
    struct trial trial = {.inputs = inputs, .plan = plan};

    try_dear_days(&crews, trial, sites);
    for (size_t s = 0; s < orchard->sites.count; s++)
        if (sites[s]) {
            trial.site = &orchard->sites.list[s];
            try_every_day(&crews, trial);
        }
    return crews;
}

static bool is_better(const struct more_crew *a, const struct more_crew *b, size_t cross)
{
    const struct more_bags *x = &a->of[cross], *y = &b->of[cross];

    if (x->days != y->days)
        return x->days < y->days;
    if (x->bags != y->bags)
        return x->bags > y->bags;
    return a->bags != b->bags ? a->bags > b->bags : x->first < y->first;
}

const struct more_crew *more_crews_best(const struct more_crews *crews, size_t cross)
{
    const struct more_crew *best = NULL;

    for (size_t i = 0; i < crews->count; i++)
        if (crews->list[i].of[cross].bags > 0 && crews->list[i].of[cross].days > 0 &&
            (best == NULL || is_better(&crews->list[i], best, cross)))
            best = &crews->list[i];
    return best;
}
