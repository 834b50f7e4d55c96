/*
 * check_plan_test.c - the checker refuses every plan that was spoilt in one way, and says how.
 */
#include "planning/check_plan.h"

#include "planning/crossing_fixture.h"

/* A plan with a bag on A1 at Nord, one on A2 at Nord 2 and one that hangs on A3 and was visited. */
struct spoilt {
    struct fixture *fixture;
    struct crossing_inputs *inputs;
    struct crossing_plan *plan;
    struct planned_bag *bag, *other, *hung;
};

static void add_checked_world(struct fixture *fixture)
{
    add_crossing_world(fixture);
    struct site *site = add_site(fixture, "Nord 2");
    site->station_name = "NORD";
    site->latitude = 32.2;
    site->elevation_m = 60.96;
    add_tree(fixture, "T2", "Nord 2");
    add_tree(fixture, "T3", "Nord");
    add_selection(fixture, "S3", NULL, NULL);
    add_graft(fixture, "A2", "S1", "T2");
    add_graft(fixture, "A3", "S3", "T3");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A2", "3");
    add_lot(fixture, "P3", "S3")->volume_ml = 5;
    add_lot(fixture, "P4", "S2")->volume_ml = 0.1;
    fixture->orchard.crosses.list[0].seeds_wanted = 90;
    add_cross(fixture, "C3", "S3", "S2")->seeds_wanted = 30;
    note_on_bag(fixture, "2027-02-19", NOTE_BAGGED, "A3-27-1", "3")->cross = "C3";
    note_on_bag(fixture, "2027-02-20", NOTE_POLLINATED, "A3-27-1", NULL)->lot = "P2";
}

static struct orchard *orchard_of(struct spoilt *spoilt)
{
    return &spoilt->fixture->orchard;
}

/* Move a task, in the option too. */
static void move(struct planned_bag *bag, enum bag_task task, daynum day)
{
    daynum *days[BAG_TASKS] = {&bag->option.bag, &bag->option.visit[0], &bag->option.visit[1],
                               &bag->option.unbag};

    *days[task] = day;
    bag->tasks[task].day = day;
}

#define SPOIL(name) static void name(struct spoilt *spoilt)

SPOIL(two_bags_of_one_name)
{
    spoilt->other->name = spoilt->bag->name;
}
SPOIL(a_name_of_the_notes)
{
    spoilt->bag->name = "A3-27-1";
}
SPOIL(a_name_of_another_season)
{
    spoilt->bag->name = "A1-28-1";
}
SPOIL(a_name_without_a_number)
{
    spoilt->bag->name = "A1-27-";
}
SPOIL(hung_when_strobili_open)
{
    move(spoilt->bag, TASK_BAG, fixture_day("2027-03-01"));
}
SPOIL(hung_too_early)
{
    move(spoilt->bag, TASK_BAG, fixture_day("2027-02-19") + 1);
}
SPOIL(visited_on_the_day_of_bagging)
{
    move(spoilt->bag, TASK_POLLINATE_1, spoilt->bag->option.bag);
}
SPOIL(visited_again_after_four_days)
{
    move(spoilt->bag, TASK_POLLINATE_2, spoilt->bag->option.visit[0] + 4);
}
SPOIL(never_visited)
{
    move(spoilt->bag, TASK_POLLINATE_1, DAY_NONE);
    move(spoilt->bag, TASK_POLLINATE_2, DAY_NONE);
}
SPOIL(taken_off_after_nine_days)
{
    move(spoilt->bag, TASK_UNBAG, spoilt->bag->option.visit[1] + 9);
}
SPOIL(taken_off_while_open)
{
    move(spoilt->bag, TASK_POLLINATE_1, fixture_day("2027-03-02"));
    move(spoilt->bag, TASK_POLLINATE_2, fixture_day("2027-03-04"));
    move(spoilt->bag, TASK_UNBAG, fixture_day("2027-03-15"));
}
SPOIL(taken_off_too_late)
{
    move(spoilt->bag, TASK_UNBAG, fixture_day("2027-04-02"));
}
SPOIL(never_taken_off)
{
    move(spoilt->bag, TASK_UNBAG, DAY_NONE);
}
SPOIL(worked_on_a_saturday)
{
    move(spoilt->bag, TASK_BAG, fixture_day("2027-02-27"));
}
SPOIL(worked_before_today)
{
    spoilt->plan->as_of = fixture_day("2027-02-27");
}
SPOIL(a_task_off_its_option)
{
    spoilt->bag->tasks[TASK_BAG].day++;
}
SPOIL(nobody_works)
{
    spoilt->bag->tasks[TASK_UNBAG].crew = NULL;
}
SPOIL(a_third_half_day)
{
    spoilt->bag->tasks[TASK_UNBAG].half_day = 2;
}
SPOIL(a_crew_of_fewer_hours)
{
    orchard_of(spoilt)->crews.list[0].hours_per_day = 1;
}
SPOIL(a_crew_without_its_lift)
{
    orchard_of(spoilt)->crews.list[0].work = WORK_GROUND;
}
SPOIL(a_crew_at_two_sites)
{
    for (int task = 0; task < BAG_TASKS; task++) {
        move(spoilt->other, (enum bag_task)task, spoilt->bag->tasks[task].day);
        spoilt->other->tasks[task].half_day = spoilt->bag->tasks[task].half_day;
    }
}
SPOIL(within_a_re_entry_time)
{
    struct note *note = &orchard_of(spoilt)->notes.list[0];

    note->kind = NOTE_SPRAYED;
    note->date = spoilt->bag->option.bag;
    note->site = "Nord";
    note->number = 4;
}
SPOIL(pollen_of_another)
{
    spoilt->bag->lot = orchard_lot(orchard_of(spoilt), "P3");
}
SPOIL(an_empty_lot)
{
    spoilt->bag->lot = orchard_lot(orchard_of(spoilt), "P4");
}
SPOIL(a_lot_that_is_discarded)
{
    spoilt->inputs->state->lots[0].usable = false;
}
SPOIL(a_lot_that_is_dead)
{
    spoilt->inputs->state->lots[0].germination_pct = 9;
}
SPOIL(a_lot_that_is_not_ready)
{
    spoilt->inputs->state->lots[0].ready_on = spoilt->bag->option.visit[0];
}
SPOIL(a_lot_that_is_overdrawn)
{
    spoilt->inputs->state->lots[0].balance_ml = 1.4;
}
SPOIL(too_many_bags_on_a_graft)
{
    for (size_t i = 0; i < spoilt->inputs->flowering.count; i++)
        spoilt->inputs->flowering.list[i].strobili = 1;
}
SPOIL(too_many_bags_of_a_cross)
{
    orchard_of(spoilt)->crosses.list[0].seeds_in_store = 60;
}
SPOIL(seed_noted_of_the_cross)
{
    struct note *note = &orchard_of(spoilt)->notes.list[0];

    note->kind = NOTE_SEEDS;
    note->cross = "C1";
    note->bag = NULL;
    note->number = 60;
}
SPOIL(a_cross_on_hold)
{
    orchard_of(spoilt)->crosses.list[0].state = CROSS_HOLD;
}
SPOIL(a_cross_of_another_season)
{
    orchard_of(spoilt)->crosses.list[0].season = 2028;
}
SPOIL(a_self)
{
    struct cross *cross = &orchard_of(spoilt)->crosses.list[0];

    cross->pollen_parent = cross->seed_parent;
}
SPOIL(relatives_above_the_limit)
{
    orchard_of(spoilt)->program.coancestry_refuse = -1;
}
SPOIL(a_cross_turned_round)
{
    ((struct group *)spoilt->bag->group)->turned_round = true;
}
SPOIL(a_graft_of_another_selection)
{
    spoilt->inputs->state->grafts[0].selection = orchard_selection(orchard_of(spoilt), "S3");
}
SPOIL(the_flowering_of_another_graft)
{
    ((struct group *)spoilt->bag->group)->flowering = spoilt->other->group->flowering;
}
SPOIL(pencilled_in_this_season)
{
    spoilt->bag->pencilled = true;
}
SPOIL(done_without_a_note)
{
    spoilt->bag->done[TASK_BAG] = true;
}
SPOIL(a_hung_bag_under_another_name)
{
    spoilt->hung->name = "A3-27-2";
}
SPOIL(a_hung_bag_on_another_day)
{
    move(spoilt->hung, TASK_BAG, fixture_day("2027-02-18"));
}
SPOIL(a_visit_on_another_day)
{
    move(spoilt->hung, TASK_POLLINATE_1, fixture_day("2027-02-21"));
}
SPOIL(another_lot_for_the_second_visit)
{
    spoilt->hung->lot = orchard_lot(orchard_of(spoilt), "P3");
}
SPOIL(a_bag_that_was_lost)
{
    spoilt->inputs->state->bags[0].lost_on = fixture_day("2027-02-20");
}
SPOIL(a_bag_that_was_not_clean)
{
    spoilt->inputs->state->bags[0].clean = false;
}
SPOIL(neither_visit_nor_lot)
{
    never_visited(spoilt);
    spoilt->bag->lot = NULL;
}
SPOIL(only_taken_off_while_days_are_left)
{
    struct bag *hangs = &spoilt->inputs->state->bags[0];

    hangs->visits = 0;
    spoilt->hung->done[TASK_POLLINATE_1] = false;
    spoilt->hung->lot = NULL;
    move(spoilt->hung, TASK_POLLINATE_1, DAY_NONE);
    move(spoilt->hung, TASK_POLLINATE_2, DAY_NONE);
}
SPOIL(a_better_chance)
{
    spoilt->bag->chance[TASK_POLLINATE_1] -= 2e-9;
}
SPOIL(a_better_chance_of_any)
{
    spoilt->bag->chance_any += 2e-9;
}
SPOIL(a_better_chance_of_both)
{
    spoilt->bag->chance_both -= 2e-9;
}
SPOIL(a_better_chance_of_clean)
{
    spoilt->hung->chance[TASK_BAG] = 0;
}
SPOIL(more_seed)
{
    spoilt->bag->seeds_expected += 1e-6;
}
SPOIL(more_value)
{
    spoilt->bag->value += 1e-6;
}
SPOIL(more_value_in_all)
{
    spoilt->plan->value += 1e-6;
}
SPOIL(a_later_last_day)
{
    spoilt->bag->latest[TASK_BAG]++;
}
SPOIL(no_lot)
{
    spoilt->bag->lot = NULL;
}

struct mutation {
    const char *name;
    void (*spoil)(struct spoilt *spoilt);
    const char *told;
};

#define MUTATION(name, told)                                                                       \
    {                                                                                              \
#name, name, told                                                                          \
    }
static const struct mutation mutations[] = {
    MUTATION(two_bags_of_one_name, "is planned twice"),
    MUTATION(a_name_of_the_notes, "is not named after its graft"),
    MUTATION(a_name_of_another_season, "is not named after its graft"),
    MUTATION(a_name_without_a_number, "is not named after its graft"),
    MUTATION(hung_when_strobili_open, "too late to be clean"),
    MUTATION(hung_too_early, "more than 7 days before its last safe day"),
    MUTATION(visited_on_the_day_of_bagging, "before the day after bagging"),
    MUTATION(visited_again_after_four_days, "not 2 or 3 days after the first"),
    MUTATION(never_visited, "has no visit"),
    MUTATION(taken_off_after_nine_days, "less than 10 days after the last visit"),
    MUTATION(taken_off_while_open, "before it is safe"),
    MUTATION(taken_off_too_late, "more than 14 days after it is safe"),
    MUTATION(never_taken_off, "is never taken off"),
    MUTATION(worked_on_a_saturday, "does no such work there"),
    MUTATION(worked_before_today, "lies before the as-of day"),
    MUTATION(a_task_off_its_option, "on another day than its option"),
    MUTATION(nobody_works, "or none where one is"),
    MUTATION(a_third_half_day, "is in no half-day"),
    MUTATION(a_crew_of_fewer_hours, "minutes planned in a half-day"),
    MUTATION(a_crew_without_its_lift, "does no such work there"),
    MUTATION(a_crew_at_two_sites, "at two sites in one half-day"),
    MUTATION(within_a_re_entry_time, "within a re-entry time"),
    MUTATION(pollen_of_another, "which is not its pollen parent's"),
    MUTATION(an_empty_lot, "lot P4 gives"),
    MUTATION(a_lot_that_is_discarded, "which may not be used"),
    MUTATION(a_lot_that_is_dead, "which germinates"),
    MUTATION(a_lot_that_is_not_ready, "before lot P2 is ready"),
    MUTATION(a_lot_that_is_overdrawn, "lot P2 gives"),
    MUTATION(too_many_bags_on_a_graft, "is one more than"),
    MUTATION(too_many_bags_of_a_cross, "cross C1 has 2 bags planned"),
    MUTATION(seed_noted_of_the_cross, "cross C1 has 2 bags planned and wants 1"),
    MUTATION(a_cross_on_hold, "which is not wanted"),
    MUTATION(a_cross_of_another_season, "and its cross of 2028"),
    MUTATION(a_self, "selfs its seed parent"),
    MUTATION(relatives_above_the_limit, "has parents of coancestry"),
    MUTATION(a_cross_turned_round, "turns cross C1 round"),
    MUTATION(a_graft_of_another_selection, "not its seed parent"),
    MUTATION(the_flowering_of_another_graft, "the flowering of another graft"),
    MUTATION(pencilled_in_this_season, "is pencilled in this season"),
    MUTATION(done_without_a_note, "is not hung as the notes say"),
    MUTATION(a_hung_bag_under_another_name, "is bag A3-27-1 of the notes"),
    MUTATION(a_hung_bag_on_another_day, "is not hung as the notes say"),
    MUTATION(a_visit_on_another_day, "is not pollinated as the notes say"),
    MUTATION(another_lot_for_the_second_visit, "changes its lot between two visits"),
    MUTATION(a_bag_that_was_lost, "does not hang as the notes say"),
    MUTATION(a_bag_that_was_not_clean, "the chance of a clean bag is 1.0"),
    MUTATION(neither_visit_nor_lot, "has no visit"),
    MUTATION(only_taken_off_while_days_are_left, "has no visit"),
    MUTATION(a_better_chance, "the first visit's is"),
    MUTATION(a_better_chance_of_any, "the chance of any visit is"),
    MUTATION(a_better_chance_of_both, "the chance of both visits is"),
    MUTATION(a_better_chance_of_clean, "the chance of a clean bag is"),
    MUTATION(more_seed, "seeds, and"),
    MUTATION(more_value, "is worth"),
    MUTATION(more_value_in_all, "and its bags"),
    MUTATION(a_later_last_day, "a wrong last safe day"),
    MUTATION(no_lot, "lacks a name, a lot or a group"),
};

static void find_bags(struct spoilt *spoilt)
{
    for (size_t i = 0; i < spoilt->plan->bag_count; i++) {
        struct planned_bag *bag = &spoilt->plan->bags[i];

        if (bag->group->hangs != NULL)
            spoilt->hung = bag;
        else if (strcmp(bag->group->graft->graft->tag, "A1") == 0)
            spoilt->bag = bag;
        else
            spoilt->other = bag;
    }
    assert_non_null(spoilt->bag);
    assert_non_null(spoilt->other);
    assert_non_null(spoilt->hung);
}

static void a_spoilt_plan_is_refused(void **state)
{
    const struct mutation *mutation = *state;
    void *fresh;
    struct text faults;

    fixture_setup(&fresh);
    struct fixture *fixture = fresh;
    add_checked_world(fixture);
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-20");
    struct crossing_plan plan = plan_of(fixture, &inputs);
    struct spoilt spoilt = {.fixture = fixture, .inputs = &inputs, .plan = &plan};

    assert_int_equal(plan.bag_count, 3);
    find_bags(&spoilt);
    mutation->spoil(&spoilt);
    text_init(&faults, &fixture->arena);
    assert_false(plan_check(&plan, &inputs, &faults));
    if (strstr(faults.bytes, mutation->told) == NULL)
        fail_msg("expected \"%s\", told was:\n%s", mutation->told, faults.bytes);
    fixture_teardown(&fresh);
}

int main(void)
{
    struct CMUnitTest tests[COUNT(mutations)];

    for (size_t i = 0; i < COUNT(mutations); i++)
        tests[i] = (struct CMUnitTest){
            .name = mutations[i].name,
            .test_func = a_spoilt_plan_is_refused,
            .initial_state = (void *)(uintptr_t)&mutations[i],
        };
    return cmocka_run_group_tests_name("plans spoilt in one way", tests, NULL, NULL) != 0;
}
