/*
 * The demand of a small orchard, reckoned by hand.  A strobilus is a cone with chance 1/2 and a
 * cone holds 30 seeds: for one cone with 95 % five strobili are needed, two bags of three.
 */
#include "planning/demand_plan.h"

#include "planning/crossing_fixture.h"

static struct demand_plan demand_on(struct fixture *fixture, const char *as_of)
{
    struct crossing_inputs inputs = crossing_inputs_on(fixture, as_of);

    return demand_plan_of(&inputs);
}

static const struct demand_cross *cross_of(const struct demand_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->crosses.count; i++)
        if (strcmp(plan->crosses.list[i].cross->name, name) == 0)
            return &plan->crosses.list[i];
    fail_msg("cross %s is not in the demand", name);
    return NULL;
}

static const struct demand_selection *selection_of(const struct demand_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->selections.count; i++)
        if (strcmp(plan->selections.list[i].selection->name, name) == 0)
            return &plan->selections.list[i];
    return NULL;
}

static void assert_covered(const struct demand_cross *row, int64_t now, int64_t next, int64_t after)
{
    assert_int_equal(row->covered[0], now);
    assert_int_equal(row->covered[1], next);
    assert_int_equal(row->covered[2], after);
}

static void bags_are_told_by_expectation_and_by_assurance(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_cross *row = cross_of(&plan, "C1");
    assert_int_equal(row->outstanding, 30);
    assert_int_equal(row->chain.cones, 1);
    assert_int_equal(row->chain.conelets, 1);
    assert_int_equal(row->chain.strobili, 2);
    assert_int_equal(row->chain.bags, 1);
    assert_near(row->chance_expected, 1 - 1. / 8, 1e-12);
    assert_int_equal(row->strobili_assured, 5);
    assert_int_equal(row->bags_assured, 2);
    assert_covered(row, 2, 0, 0); /* on A1, which has places for three */
    assert_near(row->chance_covered, 1 - 1. / 64, 1e-12);
    assert_int_equal(row->later, 0);
    assert_int_equal(row->obstacle, DEMAND_FREE);
}

static void what_is_in_store_or_expected_is_not_wanted_again(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_cross(fixture, "C2", "S1", "S2")->seeds_in_store = 300;
    struct cross *third = add_cross(fixture, "C3", "S1", "S2");
    third->seeds_wanted = 100;
    third->seeds_in_store = 20;
    note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "4")->cross = "C3";
    note_on_bag(fixture, "2027-03-05", NOTE_POLLINATED, "A1-27-1", NULL)->lot = "P2";
    struct demand_plan plan = demand_on(fixture, "2027-03-06");
    assert_int_equal(cross_of(&plan, "C2")->outstanding, 0);
    assert_int_equal(cross_of(&plan, "C2")->bags, 0);
    assert_true(isnan(cross_of(&plan, "C2")->chance_covered));
    assert_near(cross_of(&plan, "C3")->seeds_expected, 60, 1e-9); /* 4 x 0.5 x 30 */
    assert_int_equal(cross_of(&plan, "C3")->outstanding, 20);
    assert_int_equal(cross_of(&plan, "C3")->hanging, 0);
}

static void a_bag_that_hangs_unpollinated_covers_one(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "4")->cross = "C1";
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_cross *row = cross_of(&plan, "C1");
    assert_int_equal(row->outstanding, 30);
    assert_int_equal(row->hanging, 1);
    assert_covered(row, 1, 0, 0);
}

static void bags_whose_days_are_over_cover_nothing(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    note_on_bag(fixture, "2027-02-20", NOTE_BAGGED, "A1-27-1", "4")->cross = "C1";
    struct demand_plan plan = demand_on(fixture, "2027-04-20");
    const struct demand_cross *row = cross_of(&plan, "C1");
    assert_int_equal(row->hanging, 0);
    assert_int_equal(row->covered[0], 0);
}

static void relatives_are_warned_of_or_refused(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_selection(fixture, "F", NULL, NULL);
    add_selection(fixture, "M", NULL, NULL);
    add_selection(fixture, "FS1", "F", "M");
    add_selection(fixture, "FS2", "F", "M");
    add_selection(fixture, "HS", "F", "S2");
    add_selection(fixture, "OLD", NULL, NULL)->same_as_name = "FS1";
    add_cross(fixture, "full", "FS1", "FS2");
    add_cross(fixture, "half", "FS1", "HS");
    add_cross(fixture, "self", "FS1", "OLD");
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(cross_of(&plan, "full")->obstacle, DEMAND_RELATED);
    assert_int_equal(cross_of(&plan, "full")->bags, 0);
    assert_near(cross_of(&plan, "full")->coancestry, 0.25, 0);
    assert_int_equal(cross_of(&plan, "self")->obstacle, DEMAND_SELF);
    assert_true(cross_of(&plan, "half")->warned);
    assert_false(cross_of(&plan, "full")->warned);
    assert_true(cross_of(&plan, "half")->bags > 0);
    assert_false(cross_of(&plan, "C1")->warned);
}

static void weak_pollen_asks_for_more_bags_and_dead_pollen_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct lot *weak = add_lot(fixture, "W", "S3");
    weak->volume_ml = 2;
    weak->germination_pct = 25;
    weak->tested_on = fixture_day("2027-01-10");
    struct lot *dead = add_lot(fixture, "D", "S4");
    dead->volume_ml = 2;
    dead->germination_pct = 5;
    dead->tested_on = fixture_day("2027-01-10");
    add_selection(fixture, "S3", NULL, NULL);
    add_selection(fixture, "S4", NULL, NULL);
    add_selection(fixture, "S5", NULL, NULL);
    add_cross(fixture, "weak", "S1", "S3")->seeds_wanted = 45;
    add_cross(fixture, "dead", "S1", "S4")->seeds_wanted = 30;
    add_cross(fixture, "none", "S1", "S5")->seeds_wanted = 30;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_near(cross_of(&plan, "weak")->pollen_share, 0.5, 1e-12);
    assert_int_equal(cross_of(&plan, "weak")->outstanding, 45);
    assert_int_equal(cross_of(&plan, "weak")->chain.seeds, 90);
    assert_int_equal(cross_of(&plan, "weak")->chain.cones, 3);
    assert_int_equal(cross_of(&plan, "dead")->obstacle, DEMAND_LOT_DEAD);
    assert_int_equal(cross_of(&plan, "none")->obstacle, DEMAND_NO_LOT);
    assert_int_equal(cross_of(&plan, "none")->bags, 2); /* all but the pollen is counted */
}

static void a_chain_without_a_rate_has_no_bags(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_rate(fixture, "cones_kept", 0, 0)->selection_name = "S1";
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_cross *row = cross_of(&plan, "C1");
    assert_int_equal(row->obstacle, DEMAND_NO_RATE);
    assert_int_equal(row->bags_assured, -1);
    assert_int_equal(row->bags, 0);
    assert_true(isnan(row->chance_expected));
}

static void crosses_stand_by_priority_and_the_urgent_take_places_first(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_cross(fixture, "A0", "S1", "S2")->seeds_wanted = 30; /* priority 3 too, earlier name */
    struct cross *urgent = add_cross(fixture, "Z9", "S1", "S2");
    urgent->seeds_wanted = 30;
    urgent->priority = 1;
    add_cross(fixture, "held", "S1", "S2")->state = CROSS_HOLD;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(plan.crosses.count, 3);
    assert_string_equal(plan.crosses.list[0].cross->name, "Z9");
    assert_string_equal(plan.crosses.list[1].cross->name, "A0");
    assert_covered(&plan.crosses.list[0], 2, 0, 0);
    assert_covered(&plan.crosses.list[1], 1, 1, 0); /* of two places in 2028 one is expected */
    assert_int_equal(plan.crosses.list[1].later, 0);
    assert_int_equal(plan.crosses.list[2].later, 2);
}

static void a_cross_of_one_season_moves_those_that_can_wait(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_graft(fixture, "A2", "S1", "T1")->grafted_on = fixture_day("2027-02-10");
    struct cross *urgent = add_cross(fixture, "U1", "S1", "S2");
    urgent->seeds_wanted = 30;
    urgent->priority = 1;
    struct cross *now = add_cross(fixture, "N27", "S1", "S2");
    now->seeds_wanted = 60; /* 2 cones: 8 strobili, 3 bags */
    now->season = 2027;
    now->priority = 2;
    struct cross *past = add_cross(fixture, "P26", "S1", "S2");
    past->season = 2026;
    past->priority = 5;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    /* A1 has three places in 2027, one expected in 2028; A2 one in 2028 and one in 2029. */
    assert_covered(cross_of(&plan, "U1"), 1, 0, 1);
    assert_covered(cross_of(&plan, "C1"), 0, 2, 0);
    assert_covered(cross_of(&plan, "N27"), 2, 0, 0);
    assert_int_equal(cross_of(&plan, "N27")->lost, 1);
    assert_int_equal(cross_of(&plan, "N27")->later, 0);
    assert_covered(cross_of(&plan, "P26"), 0, 0, 0);
    assert_int_equal(cross_of(&plan, "P26")->lost, cross_of(&plan, "P26")->bags);
    assert_int_equal(selection_of(&plan, "S1")->bags_early, 3);
}

static void either_way_round_takes_the_other_parents_places_too(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_tree(fixture, "T2", "Nord");
    add_graft(fixture, "B1", "S2", "T2");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "B1", "6");
    struct cross *both = add_cross(fixture, "E", "S1", "S2");
    both->seeds_wanted = 90; /* 3 cones: 11 strobili, 4 bags */
    both->either_way = true;
    both->priority = 1;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(cross_of(&plan, "E")->bags, 4);
    assert_covered(cross_of(&plan, "E"), 4, 0, 0); /* three on A1, one on B1 */
    assert_int_equal(selection_of(&plan, "S2")->bags, 1);
    assert_covered(cross_of(&plan, "C1"), 0, 1, 0);
}

/* Chance of k places or more on n grafts that live with 1/2, two places in each of two springs. */
static double enough(int n, int k)
{
    double sum = 0, term = pow(0.5, n);
    for (int live = 0; live <= n; live++) {
        sum += 4 * live >= k ? term : 0;
        term = term * (n - live) / (live + 1);
    }
    return sum;
}

static void grafts_to_make_are_the_fewest_with_the_assurance(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct cross *big = add_cross(fixture, "big", "S3", "S2");
    add_selection(fixture, "S3", NULL, NULL);
    big->seeds_wanted = 300; /* 10 cones: 28 strobili, 10 bags */
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_selection *row = selection_of(&plan, "S3");
    assert_int_equal(cross_of(&plan, "big")->later, row->bags_left);
    assert_int_equal(row->bags_left, 10);
    assert_int_equal(row->bags_early, 0);
    assert_int_equal(row->graft.places[0], 2); /* 6 x 0.8 strobili, three a bag */
    int n = 0;
    while (enough(n, 10) < 0.95)
        n++;
    assert_int_equal(row->grafts, n);
    assert_near(row->chance, enough(n, 10), 1e-12);
    assert_near(row->chance_standing, 0, 0);
    assert_true(row->grafts_first > row->grafts);
    assert_int_equal(row->grafts_first, row->grafts_second);
    assert_int_equal(row->scions, (row->grafts * 5 + 3) / 4);
    assert_int_equal(row->scions_to_cut, row->scions);
}

static void a_freeze_winter_takes_the_low_of_survival(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.rates.list[0].low = 0.25;
    add_rate(fixture, "survival", 6, 1)->selection_name = "S3"; /* has no low of its own */
    add_rate(fixture, "conelets_kept", 5, 1)->selection_name = "S3";
    fixture->orchard.rates.list[fixture->orchard.rates.count - 1].low = 0.25;
    add_selection(fixture, "S3", NULL, NULL);
    add_cross(fixture, "C3", "S3", "S2");
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_selection *row = selection_of(&plan, "S3");
    assert_near(row->graft.survival[0], 0.6, 1e-12);
    assert_near(row->graft.survival_freeze[0], 0.25, 1e-12);
    assert_true(row->grafts_freeze > row->grafts);
    assert_true(row->chance_freeze < row->chance);
    assert_true(cross_of(&plan, "C3")->bags_freeze > cross_of(&plan, "C3")->bags_assured);
}

static void new_grafts_are_reckoned_by_the_free_places_of_suited_trees(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct tree *tree = add_tree(fixture, "G1", "Nord");
    tree->uses = USE_GRAFT;
    tree->species = "slash";
    tree->places[CROWN_TOP] = 3;
    tree = add_tree(fixture, "G2", "Nord");
    tree->uses = USE_GRAFT;
    tree->species = "loblolly";
    tree->places[CROWN_TOP] = 1;
    tree = add_tree(fixture, "G3", "Nord");
    tree->uses = USE_GRAFT;
    tree->clone = "K9";
    tree->species = "loblolly";
    tree->places[CROWN_TOP] = 50;
    tree = add_tree(fixture, "G4", "Nord");
    tree->uses = USE_GRAFT;
    tree->health = HEALTH_WEAK;
    tree->places[CROWN_TOP] = 50;
    add_rate(fixture, "survival", 8, 1)->host_species = "slash";
    add_rate(fixture, "survival", 4, 1)->host_species = "loblolly";
    struct selection *third = add_selection(fixture, "S3", NULL, NULL);
    third->unsuited_clones = "K8";
    struct selection *other = add_selection(fixture, "S3-OLD", NULL, NULL);
    other->same_as_name = "S3";
    other->unsuited_clones = "K9";
    add_cross(fixture, "C3", "S3", "S2");
    struct demand_plan plan = demand_on(fixture, "2027-01-22");
    assert_near(selection_of(&plan, "S3")->graft.survival[0], (3 * 0.8 + 0.4) / 4, 1e-12);
}

static void when_grafting_is_closed_the_next_winter_is_planned(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct tree *tree = add_tree(fixture, "G1", "Nord");
    tree->uses = USE_GRAFT;
    tree->places[CROWN_TOP] = 3;
    fixture->orchard.crosses.list[0].seeds_wanted = 60; /* 2 cones: 8 strobili, 3 bags */
    struct graft *young = add_graft(fixture, "A2", "S1", "T1");
    young->grafted_on = fixture_day("2027-02-10");
    struct demand_plan plan = demand_on(fixture, "2027-05-10");
    assert_int_equal(plan.ahead, 1);
    /* One place each is expected on A1 and A2 in 2028, before the new grafts, on A2 in 2029. */
    assert_covered(cross_of(&plan, "C1"), 0, 2, 1);
    assert_int_equal(selection_of(&plan, "S1")->bags_early, 2);
    assert_int_equal(selection_of(&plan, "S1")->bags_left, 1);
    assert_int_equal(selection_of(&plan, "S1")->standing[0], 1);
    assert_int_equal(selection_of(&plan, "S1")->standing[1], 0);
}

static void scions_in_store_are_not_cut_again(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    add_cross(fixture, "C3", "S3", "S2")->seeds_wanted = 30;
    add_batch(fixture, "B1", "S3", "2027-02-01")->count = 3;
    add_batch(fixture, "B2", "S3", "2026-02-01")->count = 9; /* of another winter */
    struct batch *gone = add_batch(fixture, "B3", "S3", "2027-02-01");
    gone->count = 9;
    gone->discarded_on = fixture_day("2027-02-15");
    struct graft *made = add_graft(fixture, "A3", "S3", "T1");
    made->grafted_on = fixture_day("2027-02-12");
    made->batch_name = "B1";
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_selection *row = selection_of(&plan, "S3");
    assert_int_equal(row->scions_in_store, 2);
    assert_int_equal(row->scions_to_cut, row->scions > 2 ? row->scions - 2 : 0);
}

static void pollen_is_given_in_whole_doses_best_lot_first(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].volume_ml = 0.9; /* P2: one whole dose */
    struct lot *weak = add_lot(fixture, "P1", "S2");
    weak->volume_ml = 1.2;
    weak->germination_pct = 25;
    weak->tested_on = fixture_day("2027-01-10");
    add_cross(fixture, "C2", "S1", "S2")->seeds_wanted = 30;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(plan.pollen.count, 3);
    const struct demand_pollen *rows = plan.pollen.list;
    assert_string_equal(rows[0].lot->lot->name, "P2");
    assert_int_equal(rows[0].bags, 4);
    assert_int_equal(rows[0].doses_wanted, 8);
    assert_int_equal(rows[0].doses_given, 1);
    assert_near(rows[0].ml_given, 0.5, 0);
    assert_string_equal(rows[1].lot->lot->name, "P1");
    assert_int_equal(rows[1].bags, 0);
    assert_int_equal(rows[1].doses_given, 2);
    assert_null(rows[2].lot);
    assert_int_equal(rows[2].doses_given, 5);
}

static void a_mix_is_one_pollen_and_an_unmeasured_lot_is_enough(void **state)
{
    struct fixture *fixture = *state;
    static struct mix_part parts[2] = {{"S2", NULL, 0.5}, {"S3", NULL, 0.5}};
    add_crossing_world(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    struct lot *mix = add_lot(fixture, "MIX", NULL);
    mix->parts = parts;
    mix->part_count = 2;
    add_cross(fixture, "CM", "S1", "MIX")->seeds_wanted = 30;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(plan.pollen.count, 2);
    const struct demand_pollen *row = &plan.pollen.list[1]; /* mixes come last */
    assert_string_equal(row->mix->name, "MIX");
    assert_int_equal(row->doses_there, -1);
    assert_int_equal(row->doses_given, 4);
    /* S1 gives half of all seed, S2 a quarter and an eighth, S3 an eighth. */
    assert_int_equal(plan.parents, 3);
    assert_near(plan.group_coancestry, 0.5 * (0.25 + 9. / 64 + 1. / 64), 1e-12);
    assert_near(plan.status_number, 1 / (2 * plan.group_coancestry), 1e-12);
    assert_true(isnan(plan.mean_value)); /* no breeding values */
}

static void work_is_told_in_crew_days_and_lift_days(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.lots.list[0].volume_ml = 100;
    fixture->orchard.crosses.list[0].seeds_wanted = 3000; /* 100 cones: 225 strobili, 75 bags */
    add_lift(fixture, "Heron", "2027-01-01", "2027-06-30")->hours_per_day = 4;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(cross_of(&plan, "C1")->bags, 75);
    const struct demand_work *row = &plan.work.list[2];
    assert_string_equal(plan.work.list[0].task, "cut scions");
    assert_string_equal(plan.work.list[1].task, "graft");
    assert_string_equal(row->task, "bag");
    assert_int_equal(row->times, 75);
    assert_near(row->hours, 75 * 9.2 / 60, 1e-9);
    assert_int_equal(row->crew_days, 2); /* 690 of 450 minutes a day */
    assert_int_equal(row->lift_days, 4); /* of 210 */
    assert_int_equal(row->days, 5);      /* 7 of 10 days are fit: 4.69 */
    assert_int_equal(plan.work.list[3].times, 150);
    assert_near(plan.lift_day_h, 4, 0);
}

static void a_row_of_tasks_replaces_the_minutes_of_grafting(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    struct task_kind *kind = add_task(fixture, "make grafts", "graft");

    kind->closed_by = "grafted";
    kind->minutes_each = (struct decimal){12, 0};
    add_selection(fixture, "S3", NULL, NULL);
    add_cross(fixture, "C3", "S3", "S2");
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_string_equal(plan.work.list[1].task, "graft");
    assert_near(plan.work.list[1].minutes_each, 12, 0);
    assert_false(plan.work.list[1].on_lift);
    assert_int_equal(plan.work.list[1].lift_days, 0);
    assert_near(plan.lift_day_h, 8, 0); /* no lift in the tables: as long as the crew's */
}

static void an_orchard_without_crosses_wants_nothing(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.crosses.count = 0;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    assert_int_equal(plan.crosses.count, 0);
    assert_int_equal(plan.selections.count, 0);
    assert_int_equal(plan.pollen.count, 0);
    assert_int_equal(plan.supplies.count, 0);
    assert_int_equal(plan.work.count, 0);
    assert_int_equal(plan.parents, 0);
    assert_true(isnan(plan.group_coancestry));
}

static void more_bags_than_any_orchard_hangs_get_no_number_of_grafts(void **state)
{
    struct fixture *fixture = *state;
    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 900000;
    struct demand_plan plan = demand_on(fixture, "2027-02-22");
    const struct demand_selection *row = selection_of(&plan, "S1");
    assert_true(row->bags_left > 5000);
    assert_int_equal(row->grafts, -1);
    assert_int_equal(row->scions, 0);
    assert_true(isnan(row->chance));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(bags_are_told_by_expectation_and_by_assurance),
        FIXTURE_TEST(what_is_in_store_or_expected_is_not_wanted_again),
        FIXTURE_TEST(a_bag_that_hangs_unpollinated_covers_one),
        FIXTURE_TEST(bags_whose_days_are_over_cover_nothing),
        FIXTURE_TEST(relatives_are_warned_of_or_refused),
        FIXTURE_TEST(weak_pollen_asks_for_more_bags_and_dead_pollen_is_told),
        FIXTURE_TEST(a_chain_without_a_rate_has_no_bags),
        FIXTURE_TEST(crosses_stand_by_priority_and_the_urgent_take_places_first),
        FIXTURE_TEST(a_cross_of_one_season_moves_those_that_can_wait),
        FIXTURE_TEST(either_way_round_takes_the_other_parents_places_too),
        FIXTURE_TEST(grafts_to_make_are_the_fewest_with_the_assurance),
        FIXTURE_TEST(a_freeze_winter_takes_the_low_of_survival),
        FIXTURE_TEST(new_grafts_are_reckoned_by_the_free_places_of_suited_trees),
        FIXTURE_TEST(when_grafting_is_closed_the_next_winter_is_planned),
        FIXTURE_TEST(scions_in_store_are_not_cut_again),
        FIXTURE_TEST(pollen_is_given_in_whole_doses_best_lot_first),
        FIXTURE_TEST(a_mix_is_one_pollen_and_an_unmeasured_lot_is_enough),
        FIXTURE_TEST(work_is_told_in_crew_days_and_lift_days),
        FIXTURE_TEST(a_row_of_tasks_replaces_the_minutes_of_grafting),
        FIXTURE_TEST(an_orchard_without_crosses_wants_nothing),
        FIXTURE_TEST(more_bags_than_any_orchard_hangs_get_no_number_of_grafts),
    };
    return cmocka_run_group_tests_name("demand_plan", tests, NULL, NULL) != 0;
}
