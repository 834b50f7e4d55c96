/*
 * Small placements reckoned by hand.  A graft lives in its first spring with 1/2 and bears 10
 * strobili then, none later: 5 a graft made, unless a test says otherwise.
 */
#include "planning/placement.h"

#include "base/check_character.h"
#include "orchard/fixture.h"
#include "planning/placement_choose.h"

#include <math.h>

#define WORTH 5.0

struct wants {
    const char *selection;
    int64_t grafts;
    int priority;
};

static struct tree *add_host(struct fixture *fixture, const char *name, const char *clone, int top,
                             int middle, int low)
{
    struct tree *tree = add_tree(fixture, name, "Nordhang");

    tree->clone = clone;
    tree->species = "slash";
    tree->uses = USE_GRAFT;
    tree->places[CROWN_TOP] = top;
    tree->places[CROWN_MIDDLE] = middle;
    tree->places[CROWN_LOW] = low;
    return tree;
}

static struct rate *add_spring_rate(struct fixture *fixture, const char *name, int64_t units,
                                    int scale, int number)
{
    struct rate *rate = add_rate(fixture, name, units, scale);

    rate->season_number = number;
    return rate;
}

/* A site and the rates. */
static void add_world(struct fixture *fixture)
{
    add_site(fixture, "Nordhang");
    add_spring_rate(fixture, "survival", 5, 1, 1);
    add_spring_rate(fixture, "strobili_per_live_graft", 10, 0, 1);
    add_spring_rate(fixture, "survival", 5, 1, 2);
    add_spring_rate(fixture, "strobili_per_live_graft", 0, 0, 2);
}

static void want(struct fixture *fixture, struct demand_plan *demand, const struct wants *wants)
{
    const char *name = arena_printf(&fixture->arena, "X%s", wants->selection);

    *ARENA_PUSH(&fixture->arena, demand->crosses.list, demand->crosses.count,
                demand->crosses.capacity) =
        (struct demand_cross){.cross = orchard_cross(&fixture->orchard, name), .later = 1};
    *ARENA_PUSH(&fixture->arena, demand->selections.list, demand->selections.count,
                demand->selections.capacity) = (struct demand_selection){
        .selection = orchard_selection(&fixture->orchard, wants->selection),
        .grafts = wants->grafts};
}

static const struct placement_options loose = {1, 1, false, false};
static const struct placement_options usual = {PLACEMENT_TREES_LEAST, PLACEMENT_CLONES_LEAST, false,
                                               false};

static struct placement place_on(struct fixture *fixture, const char *as_of,
                                 const struct wants *wants, struct placement_options options)
{
    struct demand_plan demand = {.season = 2027};

    for (const struct wants *one = wants; one != NULL && one->selection != NULL; one++)
        add_cross(fixture, arena_printf(&fixture->arena, "X%s", one->selection), one->selection,
                  "S9")
            ->priority = one->priority;
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    for (const struct wants *one = wants; one != NULL && one->selection != NULL; one++)
        want(fixture, &demand, one);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, NULL);
    struct hosts *hosts = ARENA_NEW(&fixture->arena, struct hosts);
    *hosts = hosts_of(state, &fixture->arena);
    struct placement_inputs inputs = {.state = state,
                                      .demand = &demand,
                                      .hosts = hosts,
                                      .dates = dates_new(&fixture->orchard, &fixture->arena),
                                      .options = options,
                                      .arena = &fixture->arena};
    return placement_of(&inputs);
}

static struct placement place(struct fixture *fixture, const struct wants *wants,
                              struct placement_options options)
{
    return place_on(fixture, "2027-02-20", wants, options);
}

#define assert_graft(graft, on, at, expected)                                                      \
    do {                                                                                           \
        assert_string_equal((graft).tree->name, on);                                               \
        assert_int_equal((graft).crown, at);                                                       \
        assert_near((graft).strobili, expected, 1e-9);                                             \
    } while (0)

static void a_crown_fills_from_the_top(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 1, 1, 1);
    struct placement placement = place(fixture, (struct wants[]){{"S1", 3, 1}, {0}}, loose);

    assert_int_equal(placement.season, 2027);
    assert_int_equal(placement.places, 3);
    assert_int_equal(placement.grafts.count, 3);
    assert_graft(placement.grafts.list[0], "T1", CROWN_TOP, 1.3 * WORTH);
    assert_graft(placement.grafts.list[1], "T1", CROWN_MIDDLE, WORTH);
    assert_graft(placement.grafts.list[2], "T1", CROWN_LOW, 0.6 * WORTH);
    const struct placed_selection *row = &placement.selections.list[0];
    assert_int_equal(row->placed, 3);
    assert_int_equal(row->to_cut, 3);
    assert_int_equal(row->cause, PLACEMENT_NONE);
    assert_near(row->strobili, 2.9 * WORTH, 1e-9);
    assert_false(placement.reach_known);
}

static void the_clone_that_gave_more_is_taken(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 1, 0, 0);
    add_host(fixture, "T2", "K2", 0, 1, 0);
    add_spring_rate(fixture, "strobili_per_live_graft", 14, 0, 1)->clone = "K2";
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, usual);

    /* the middle of K2 gives 7, the top of K1 6.5 */
    assert_graft(placement.grafts.list[0], "T2", CROWN_MIDDLE, 7);
    assert_int_equal(placement.selections.list[0].clones, 1);
}

static void a_selection_stands_on_three_trees_and_two_clones(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 5, 0, 0);
    add_host(fixture, "T2", "K1", 5, 0, 0);
    add_host(fixture, "T3", "K1", 5, 0, 0);
    add_host(fixture, "T4", "K2", 0, 0, 5);
    struct placement placement = place(fixture, (struct wants[]){{"S1", 4, 1}, {0}}, usual);

    /* one on a tree, three on a clone: 3 x 6.5 + 3 */
    const struct placed_selection *row = &placement.selections.list[0];
    assert_int_equal(row->most_on_tree, 1);
    assert_int_equal(row->most_on_clone, 3);
    assert_int_equal(row->trees, 4);
    assert_int_equal(row->clones, 2);
    assert_near(row->strobili, 3 * 6.5 + 3, 1e-9);
}

static void where_less_stands_there_as_many_trees_as_there_are(void **state)
{
    (void)state;
    assert_int_equal(placement_most_on_one(1, 3, 9), 1);
    assert_int_equal(placement_most_on_one(2, 3, 9), 1);
    assert_int_equal(placement_most_on_one(3, 3, 9), 1);
    assert_int_equal(placement_most_on_one(4, 3, 9), 1);
    assert_int_equal(placement_most_on_one(5, 3, 9), 2);
    assert_int_equal(placement_most_on_one(8, 3, 9), 3);
    assert_int_equal(placement_most_on_one(8, 3, 2), 7);
    assert_int_equal(placement_most_on_one(8, 3, 1), 8);
    assert_int_equal(placement_most_on_one(8, 1, 9), 8);
    assert_int_equal(placement_most_on_one(0, 3, 9), 0);
    assert_int_equal(placement_most_on_one(3, 3, 0), 3);
}

/* S2 may stand on T2 alone, so that two of S1 are left on T1.  To spread them one would have to go
 * without. */
static void standing_close_is_better_than_not_at_all(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL)->unsuited_clones = "K1";
    add_host(fixture, "T1", "K1", 2, 0, 0);
    add_host(fixture, "T2", "K2", 0, 0, 1);
    struct placement placement =
        place(fixture, (struct wants[]){{"S1", 3, 5}, {"S2", 1, 1}, {0}}, usual);

    assert_int_equal(placement.grafts.count, 3);
    assert_int_equal(placement.selections.list[0].trees, 1);
    assert_int_equal(placement.selections.list[0].most_on_tree, 2);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_GIVEN_AWAY);
    assert_int_equal(placement.selections.list[1].placed, 1);
    assert_false(placement.spread_again);
}

static void places_go_where_they_bring_most_by_priority(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_host(fixture, "T1", "K1", 1, 0, 0);
    struct placement placement =
        place(fixture, (struct wants[]){{"S1", 1, 3}, {"S2", 2, 2}, {0}}, usual);

    assert_int_equal(placement.grafts.count, 1);
    assert_string_equal(placement.grafts.list[0].selection->name, "S2");
    assert_int_equal(placement.selections.list[1].cause, PLACEMENT_TAKEN);
    assert_int_equal(placement.selections.list[0].priority, 3);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_GIVEN_AWAY);
}

static void what_may_not_stand_together_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 9, 0, 0);
    add_host(fixture, "T2", "K2", 1, 0, 0);
    struct placement placement = place(fixture, (struct wants[]){{"S1", 5, 1}, {0}}, usual);

    /* of two trees and clones four may be on one, and one on the other: all five */
    assert_int_equal(placement.selections.list[0].placed, 5);
    fixture_teardown(state);
    fixture_setup(state);
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 9, 0, 0);
    add_host(fixture, "T2", "K2", 1, 0, 0);
    add_host(fixture, "T3", "K2", 1, 0, 0);
    placement = place(fixture, (struct wants[]){{"S1", 5, 1}, {0}}, usual);

    /* of three trees two may be on one */
    assert_int_equal(placement.selections.list[0].placed, 4);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_SPREAD);
}

static void trees_that_take_none_are_told_with_the_cause(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_lift(fixture, "BOOM", "2027-01-01", "2027-03-01")->reach_m = 12;
    add_lift(fixture, "OLD", "2026-01-01", "2026-03-01")->reach_m = 30;
    struct lift_time *down = add_lift(fixture, "DOWN", "2027-01-01", "2027-03-01");
    down->reach_m = 40;
    down->hours_per_day = 0;
    add_host(fixture, "T1", "K1", 1, 1, 1)->health = HEALTH_WEAK;
    add_host(fixture, "T2", "K1", 1, 1, 1)->health = HEALTH_DEAD;
    add_host(fixture, "T3", "K1", 1, 1, 1)->reach_needed_m = 12.5;
    add_host(fixture, "T4", "K1", -1, -1, -1);
    add_host(fixture, "T5", "K1", 0, 0, 0);
    add_host(fixture, "T6", "K1", 1, 1, 1)->uses = USE_POLLEN;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, usual);
    const enum placement_cause causes[] = {PLACEMENT_TREE_WEAK, PLACEMENT_TREE_DEAD,
                                           PLACEMENT_OUT_OF_REACH, PLACEMENT_NOT_COUNTED,
                                           PLACEMENT_FULL};

    assert_true(placement.reach_known);
    assert_int_equal(placement.trees.count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(placement.trees.list[i].cause, causes[i]);
        assert_true(placement_cause_words[causes[i]][0] != '\0');
    }
    assert_near(placement.trees.list[2].reach_m, 12, 1e-9);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_NO_PLACE);
}

static void a_weak_tree_serves_when_asked_for(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 1, 1, 1)->health = HEALTH_WEAK;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}},
                                       (struct placement_options){1, 1, true, false});

    assert_int_equal(placement.grafts.count, 1);
}

static void a_lift_of_the_past_tells_the_reach_where_none_is_booked(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_lift(fixture, "OLD", "2026-01-01", "2026-03-01")->reach_m = 12;
    add_host(fixture, "T1", "K1", 1, 1, 1)->reach_needed_m = 12.5;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, usual);

    assert_int_equal(placement.trees.list[0].cause, PLACEMENT_OUT_OF_REACH);
}

static void a_lift_of_untold_reach_reaches_everything(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_lift(fixture, "BOOM", "2027-01-01", "2027-03-01")->reach_m = 12;
    add_lift(fixture, "OTHER", "2027-01-01", "2027-03-01");
    add_host(fixture, "T1", "K1", 1, 1, 1)->reach_needed_m = 12.5;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, usual);

    assert_int_equal(placement.grafts.count, 1);
}

static void after_the_close_no_tree_of_the_site_takes_any(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 1, 1, 1);
    struct placement placement =
        place_on(fixture, "2027-06-20", (struct wants[]){{"S1", 1, 1}, {0}}, usual);

    assert_int_equal(placement.grafts.count, 0);
    assert_int_equal(placement.trees.list[0].cause, PLACEMENT_CLOSED);
}

static void a_clone_unsuited_under_any_name_is_passed_over(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    struct selection *other = add_selection(fixture, "S1old", NULL, NULL);
    other->same_as_name = "S1";
    other->unsuited_clones = "K1;K7";
    add_host(fixture, "T1", "K1", 5, 0, 0);
    add_host(fixture, "T2", "K2", 0, 0, 1);
    add_host(fixture, "T3", NULL, 0, 1, 0);
    struct placement placement = place(fixture, (struct wants[]){{"S1", 2, 1}, {0}}, usual);

    assert_int_equal(placement.grafts.count, 2);
    assert_string_equal(placement.grafts.list[0].tree->name, "T2");
    assert_string_equal(placement.grafts.list[1].tree->name, "T3");
}

static void the_oldest_fit_scions_go_first(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_host(fixture, "T1", "K1", 3, 0, 0);
    add_host(fixture, "T2", "K2", 3, 0, 0);
    add_batch(fixture, "B1", "S1", "2027-01-08")->count = 3; /* 43 days */
    add_batch(fixture, "B2", "S1", "2027-02-10")->count = 3;
    add_batch(fixture, "B3", "S1", "2027-01-09")->count = 2; /* 42 days; one is grafted */
    struct batch *thrown = add_batch(fixture, "B4", "S1", "2027-02-01");
    thrown->count = 3;
    thrown->discarded_on = fixture_day("2027-02-15");
    add_batch(fixture, "B5", "S1", "2027-02-01");
    add_batch(fixture, "B6", "S2", "2027-02-01")->count = 4;
    add_batch(fixture, "B7", "S1", "2026-02-01")->count = 4; /* of another winter */
    add_tree(fixture, "BANK", "Nordhang");
    struct batch *relabelled = add_batch(fixture, "B8", "S1", "2027-02-01");
    relabelled->source_tree_name = "BANK";
    relabelled->count = 4;
    add_note(fixture, "2027-02-03", NOTE_RELABELLED, "S2")->tree = "BANK";
    struct graft *graft = add_graft(fixture, "A1", "S1", "T1");
    graft->batch_name = "B3";
    graft->crown = CROWN_TOP;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 5, 1}, {0}}, loose);
    static const struct {
        const char *name;
        int64_t left, given;
        enum placement_cause cause;
    } rows[] = {
        {"B1", 3, 0, PLACEMENT_TOO_OLD},    {"B2", 3, 3, PLACEMENT_NONE},
        {"B3", 1, 1, PLACEMENT_NONE},       {"B4", 3, 0, PLACEMENT_DISCARDED},
        {"B5", -1, 0, PLACEMENT_NO_COUNT},  {"B6", 4, 0, PLACEMENT_NOT_WANTED},
        {"B8", 4, 0, PLACEMENT_RELABELLED},
    };

    assert_int_equal(placement.batches.count, 7);
    for (size_t i = 0; i < 7; i++) {
        const struct placed_batch *row = &placement.batches.list[i];

        assert_string_equal(row->batch->name, rows[i].name);
        assert_int_equal(row->left, rows[i].left);
        assert_int_equal(row->given, rows[i].given);
        assert_int_equal(row->cause, rows[i].cause);
    }
    assert_int_equal(placement.grafts.count, 5);
    assert_string_equal(placement.grafts.list[0].batch->name, "B3");
    assert_string_equal(placement.grafts.list[1].batch->name, "B2");
    assert_null(placement.grafts.list[4].batch);
    assert_int_equal(placement.selections.list[0].in_store, 4);
    assert_int_equal(placement.selections.list[0].to_cut, 1);
}

static void with_scions_in_store_alone_nothing_is_to_be_cut(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 3, 0, 0);
    add_batch(fixture, "B1", "S1", "2027-02-10")->count = 2;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 3, 1}, {0}},
                                       (struct placement_options){1, 1, false, true});

    assert_int_equal(placement.grafts.count, 2);
    assert_int_equal(placement.selections.list[0].to_cut, 0);
    assert_int_equal(placement.selections.list[0].wanted, 3);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_NO_SCIONS);
}

static void where_no_cross_is_wanted_every_scion_finds_a_place(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S2", NULL, NULL);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 2, 2, 2);
    add_batch(fixture, "B1", "S2", "2027-02-10")->count = 2;
    struct placement placement = place(fixture, NULL, loose);

    assert_false(placement.by_demand);
    assert_int_equal(placement.selections.count, 1);
    assert_int_equal(placement.selections.list[0].priority, 0);
    assert_int_equal(placement.grafts.count, 2);
    assert_string_equal(placement.grafts.list[1].batch->name, "B1");
}

static void a_demand_that_no_number_meets_places_what_is_there(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_host(fixture, "T1", "K1", 2, 2, 2);
    add_batch(fixture, "B1", "S1", "2027-02-10")->count = 2;
    struct placement placement =
        place(fixture, (struct wants[]){{"S1", -1, 1}, {"S2", 0, 1}, {0}}, loose);

    assert_int_equal(placement.selections.count, 1);
    assert_int_equal(placement.selections.list[0].placed, 2);
    assert_int_equal(placement.selections.list[0].cause, PLACEMENT_NO_NUMBER);
}

static void of_equal_trees_one_without_its_like_is_taken(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 3, 0, 0);
    add_host(fixture, "T2", "K1", 3, 0, 0);
    add_graft(fixture, "A1", "S1", "T1")->crown = CROWN_TOP;
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, usual);

    assert_string_equal(placement.grafts.list[0].tree->name, "T2");
    assert_false(placement.grafts.list[0].beside_its_like);
    assert_int_equal(placement.selections.list[0].trees_before, 1);
}

static void grafts_come_as_a_lift_goes(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_site(fixture, "Altberg");
    add_selection(fixture, "S1", NULL, NULL);
    static const struct {
        const char *name, *site, *block;
        int row, position;
    } trees[] = {{"T1", "Nordhang", "a", 2, 1}, {"T2", "Nordhang", "a", 1, 2},
                 {"T3", "Nordhang", "a", 1, 1}, {"T5", "Nordhang", "a", 1, 1},
                 {"T4", "Altberg", "b", 9, 9},  {"T6", "Nordhang", "b", 1, 1}};
    static const char *const want_order[] = {"T4", "T3", "T5", "T2", "T1", "T6"};

    for (size_t i = 0; i < 6; i++) {
        struct tree *tree = add_host(fixture, trees[i].name, "K1", 1, 1, 0);

        tree->site_name = trees[i].site;
        tree->block = trees[i].block;
        tree->row = trees[i].row;
        tree->position = trees[i].position;
    }
    struct placement placement = place(fixture, (struct wants[]){{"S1", 12, 1}, {0}}, loose);

    assert_int_equal(placement.grafts.count, 12);
    for (size_t i = 0; i < 12; i++) {
        assert_string_equal(placement.grafts.list[i].tree->name, want_order[i / 2]);
        assert_int_equal(placement.grafts.list[i].crown, i % 2 ? CROWN_MIDDLE : CROWN_TOP);
    }
}

static void tags_go_on_with_the_series_of_this_winter(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 40, 0, 0);
    add_graft(fixture, "V0079", "S1", "T1")->grafted_on = fixture_day("2027-02-10");
    add_graft(fixture, "V0012", "S1", "T1")->grafted_on = fixture_day("2027-02-19"); /* wrong */
    add_graft(fixture, "OLD-7", "S1", "T1")->grafted_on = fixture_day("2027-02-19");
    struct placement placement = place(fixture, (struct wants[]){{"S1", 30, 1}, {0}}, loose);

    assert_int_equal(placement.grafts.count, 30);
    for (size_t i = 0; i < 30; i++) {
        const char *tag = placement.grafts.list[i].tag;

        assert_true(check_character_holds(tag));
        assert_null(strpbrk(tag, "IO*"));
        assert_null(orchard_graft(&fixture->orchard, tag));
        assert_int_equal(strlen(tag), 5);
        if (i > 0)
            assert_true(strncmp(placement.grafts.list[i - 1].tag, tag, 4) < 0);
    }
    assert_string_equal(placement.grafts.list[0].tag, "V0087");
}

static void a_new_winter_begins_with_the_next_letter(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 9, 0, 0);
    char tag[] = "H001?";
    tag[4] = check_character("H001");
    add_graft(fixture, tag, "S1", "T1")->grafted_on = fixture_day("2026-02-10");
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, loose);

    assert_int_equal(placement.grafts.list[0].tag[0], 'J'); /* no I */
}

static void after_z_comes_a_and_more_digits_when_they_run_out(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 9, 0, 0);
    char last[] = "Z001?", used[] = "A999?";
    last[4] = check_character("Z001");
    used[4] = check_character("A999");
    add_graft(fixture, last, "S1", "T1")->grafted_on = fixture_day("2026-02-10");
    add_graft(fixture, used, "S1", "T1")->grafted_on = fixture_day("2025-02-10");
    struct placement placement = place(fixture, (struct wants[]){{"S1", 1, 1}, {0}}, loose);

    assert_memory_equal(placement.grafts.list[0].tag, "A100", 4);
    assert_int_equal(strlen(placement.grafts.list[0].tag), 6);
}

static void numbers_beyond_reckoning_place_nothing(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "K1", 3, 0, 0);
    struct placement placement =
        place(fixture, (struct wants[]){{"S1", 1000000000000000, 1}, {0}}, loose);

    assert_true(placement.too_large);
    assert_int_equal(placement.grafts.count, 0);
}

static void what_is_not_known_or_nothing_gains_nothing(void **state)
{
    (void)state;
    assert_int_equal(placement_gain(NAN, 1), 0);
    assert_int_equal(placement_gain(0, 1), 0);
    assert_int_equal(placement_gain(2.5, 0.5), 1250);
    assert_int_equal(placement_gain(0.0001, 1), 1);
    assert_int_equal(placement_gain(1e30, 1), 1000000000);
}

static void an_empty_orchard_places_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct placement placement = place(fixture, NULL, usual);

    assert_int_equal(placement.grafts.count, 0);
    assert_int_equal(placement.selections.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_crown_fills_from_the_top),
        FIXTURE_TEST(the_clone_that_gave_more_is_taken),
        FIXTURE_TEST(a_selection_stands_on_three_trees_and_two_clones),
        FIXTURE_TEST(where_less_stands_there_as_many_trees_as_there_are),
        FIXTURE_TEST(standing_close_is_better_than_not_at_all),
        FIXTURE_TEST(places_go_where_they_bring_most_by_priority),
        FIXTURE_TEST(what_may_not_stand_together_is_told),
        FIXTURE_TEST(trees_that_take_none_are_told_with_the_cause),
        FIXTURE_TEST(a_weak_tree_serves_when_asked_for),
        FIXTURE_TEST(a_lift_of_the_past_tells_the_reach_where_none_is_booked),
        FIXTURE_TEST(a_lift_of_untold_reach_reaches_everything),
        FIXTURE_TEST(after_the_close_no_tree_of_the_site_takes_any),
        FIXTURE_TEST(a_clone_unsuited_under_any_name_is_passed_over),
        FIXTURE_TEST(the_oldest_fit_scions_go_first),
        FIXTURE_TEST(with_scions_in_store_alone_nothing_is_to_be_cut),
        FIXTURE_TEST(where_no_cross_is_wanted_every_scion_finds_a_place),
        FIXTURE_TEST(a_demand_that_no_number_meets_places_what_is_there),
        FIXTURE_TEST(of_equal_trees_one_without_its_like_is_taken),
        FIXTURE_TEST(grafts_come_as_a_lift_goes),
        FIXTURE_TEST(tags_go_on_with_the_series_of_this_winter),
        FIXTURE_TEST(a_new_winter_begins_with_the_next_letter),
        FIXTURE_TEST(after_z_comes_a_and_more_digits_when_they_run_out),
        FIXTURE_TEST(numbers_beyond_reckoning_place_nothing),
        FIXTURE_TEST(what_is_not_known_or_nothing_gains_nothing),
        FIXTURE_TEST(an_empty_orchard_places_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
