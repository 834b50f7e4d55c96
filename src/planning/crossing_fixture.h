/*
 * crossing_fixture.h - a small orchard in which a crossing plan can be reckoned by hand.
 *
 * At Nord every day of every season has a mean of 5 degrees, so that in 2027 strobili open on
 * Monday 1 March, are receptive from 5 to 11 March and closed on 15 March, in every future and
 * without a shift.  A bag takes 3 strobili and gives 45 seeds; 30 seeds need one bag, 60 to 90 two,
 * 120 three. The last clean day is 28 February; U is the 10th day after the last visit.
 */
#ifndef PLANNING_CROSSING_FIXTURE_H
#define PLANNING_CROSSING_FIXTURE_H

#include "planning/check_plan.h"
#include "planning/crossing.h"
#include "planning/weather_fixture.h"

static inline double five_c(int season, daynum day)
{
    (void)season;
    (void)day;
    return 5;
}

static inline struct threshold *without_spread(struct threshold *row)
{
    row->residual_days = 0;
    row->spread_days = 0;
    row->clone_spread_days = 0;
    return row;
}

/* Known by the note that closes it. */
static inline void add_job(struct fixture *fixture, const char *closed_by, int64_t tenths_each,
                           int64_t minutes_per_tree)
{
    struct task_kind *kind =
        add_task(fixture, arena_printf(&fixture->arena, "work %s", closed_by), "bag");

    kind->closed_by = closed_by;
    kind->minutes_each = (struct decimal){tenths_each, 1};
    kind->minutes_per_tree = (struct decimal){minutes_per_tree, 0};
    kind->minutes_per_site = (struct decimal){30, 0};
    kind->work = WORK_LIFT;
}

static inline void add_jobs_and_rates(struct fixture *fixture)
{
    add_job(fixture, "bagged", 32, 6);     /* 9.2 minutes a bag */
    add_job(fixture, "pollinated", 12, 4); /* 5.2 */
    add_job(fixture, "unbagged", 12, 4);
    add_rate(fixture, "survival", 50, 2);
    add_rate(fixture, "strobili_per_live_graft", 6, 0);
    add_rate(fixture, "bags_per_graft", 3, 0);
    add_rate(fixture, "strobili_per_bag", 3, 0);
    add_rate(fixture, "conelets_kept", 5, 1);
    add_rate(fixture, "cones_kept", 1, 0);
    add_rate(fixture, "seeds_per_cone", 30, 0);
}

/* Nord and Syd with their weather and thresholds, the three tasks and the rates. */
static inline void add_crossing_sites(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2005, 2027, five_c);
    without_spread(add_sum(fixture, EVENT_OPENING, "flat", 300));
    without_spread(add_after(fixture, EVENT_FIRST, EVENT_OPENING, 4));
    without_spread(add_after(fixture, EVENT_PEAK, EVENT_FIRST, 3));
    without_spread(add_after(fixture, EVENT_LAST, EVENT_FIRST, 6));
    without_spread(add_after(fixture, EVENT_CLOSED, EVENT_LAST, 4));
    add_jobs_and_rates(fixture);
}

/* Graft A1 of S1 on T1 with 9 strobili counted, pollen P2 of S2, 10 ml, cross C1 of both that wants
 * one bag, and crew Aspen from Monday to Friday. */
static inline void add_crossing_world(struct fixture *fixture)
{
    add_crossing_sites(fixture);
    add_tree(fixture, "T1", "Nord");
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A1", "9");
    add_lot(fixture, "P2", "S2")->volume_ml = 10;
    add_cross(fixture, "C1", "S1", "S2")->seeds_wanted = 30;
    add_crew(fixture, "Aspen", "2027-01-01", "2027-06-30");
}

static inline struct crossing_inputs crossing_inputs_on(struct fixture *fixture, const char *as_of)
{
    struct dates *dates = dates_on(fixture, as_of);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);

    assert_nothing_told(fixture);
    return (struct crossing_inputs){
        .state = state,
        .pedigree = pedigree_of(&fixture->orchard, &fixture->arena, &fixture->diags),
        .dates = dates,
        .flowering = flowering_of(state, dates, &fixture->arena),
        .arena = &fixture->arena,
    };
}

/* The plan, which its checker has passed. */
static inline struct crossing_plan plan_of(struct fixture *fixture,
                                           const struct crossing_inputs *inputs)
{
    struct crossing_plan plan = crossing_plan_of(inputs);
    struct text faults;

    text_init(&faults, &fixture->arena);
    if (!plan_check(&plan, inputs, &faults))
        fail_msg("the checker refused the plan:\n%s", faults.bytes);
    return plan;
}

static inline struct crossing_plan plan_on(struct fixture *fixture, const char *as_of)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, as_of);

    return plan_of(fixture, &inputs);
}

/* "2027-02-22 2027-03-05 2027-03-08 2027-03-18": the days of one bag, "-" for none. */
static inline const char *option_text(struct fixture *fixture, const struct planned_bag *bag)
{
    char text[BAG_TASKS][DAY_TEXT];

    for (int task = 0; task < BAG_TASKS; task++)
        if (*day_text(bag->tasks[task].day, text[task]) == '\0')
            strcpy(text[task], "-");
    return arena_printf(&fixture->arena, "%s %s %s %s", text[0], text[1], text[2], text[3]);
}

#endif
