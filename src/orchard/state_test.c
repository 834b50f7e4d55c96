#include "orchard/state.h"

#include "orchard/fixture.h"

static const struct state *state_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static const struct graft_state *graft_now(const struct state *now, const char *tag)
{
    return state_graft(now, orchard_graft(now->orchard, tag));
}

static const struct lot_balance *lot_now(const struct state *now, const char *name)
{
    return &now->lots[orchard_lot(now->orchard, name) - now->orchard->lots.list];
}

static void hang(struct fixture *fixture, const char *date, const char *bag, const char *cross)
{
    note_on_bag(fixture, date, NOTE_BAGGED, bag, "4")->cross = cross;
}

static void the_newest_dated_word_on_condition_wins(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct graft *rows = fixture->orchard.grafts.list;
    rows[0].condition = CONDITION_DOUBTFUL; /* dated: between two notes */
    rows[0].condition_on = fixture_day("2026-06-01");
    rows[1].condition = CONDITION_DEAD; /* undated: any dated word wins */
    add_graft(fixture, "A3", "S1", "T1")->condition = CONDITION_LOST;
    add_graft(fixture, "A4", "S1", "T1");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A2", "alive");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_int_equal(graft_now(now, "A1")->condition, CONDITION_DOUBTFUL);
    assert_int_equal(graft_now(now, "A1")->condition_on, fixture_day("2026-06-01"));
    assert_int_equal(graft_now(now, "A2")->condition, CONDITION_ALIVE);
    assert_int_equal(graft_now(now, "A3")->condition, CONDITION_LOST);
    assert_int_equal(graft_now(now, "A4")->condition, CONDITION_UNKNOWN);
}

static void no_graft_outlives_its_tree(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    fixture->orchard.trees.list[0].health = HEALTH_DEAD;
    fixture->orchard.trees.list[0].health_on = fixture_day("2026-09-01");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "alive");
    const struct state *now = state_now(fixture);
    assert_int_equal(graft_now(now, "A1")->condition, CONDITION_DEAD);
    assert_int_equal(graft_now(now, "A1")->condition_on, fixture_day("2026-09-01"));
    assert_int_equal(graft_now(now, "A2")->condition, CONDITION_UNKNOWN);
}

static void a_relabelled_graft_is_of_its_true_selection(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "A3", "S1", "T1")->identity = IDENTITY_WRONG;
    add_graft(fixture, "A4", "S1", "T1");
    struct graft *wrong = add_graft(fixture, "A5", "S1", "T1");
    wrong->identity = IDENTITY_WRONG;
    wrong->identity_on = fixture_day("2026-05-01");
    note_on_tag(fixture, "2026-06-01", NOTE_RELABELLED, "A1", "S2");
    note_on_tag(fixture, "2026-06-01", NOTE_RELABELLED, "A4", "unknown");
    note_on_tag(fixture, "2026-06-01", NOTE_VERIFIED, "A5", "markers");
    const struct state *now = state_now(fixture);
    assert_string_equal(graft_now(now, "A1")->selection->name, "S2");
    assert_true(graft_now(now, "A1")->relabelled);
    assert_string_equal(graft_now(now, "A2")->selection->name, "S2");
    assert_false(graft_now(now, "A2")->relabelled);
    assert_null(graft_now(now, "A3")->selection);
    assert_null(graft_now(now, "A4")->selection);
    assert_true(graft_now(now, "A4")->relabelled);
    assert_string_equal(graft_now(now, "A5")->selection->name, "S1");
}

static void what_a_tree_is_its_scions_and_pollen_are(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_batch(fixture, "B1", "S1", "2026-02-01")->source_tree_name = "T2";
    fixture->orchard.grafts.list[0].batch_name = "B1";
    add_lot(fixture, "L1", "S1")->source_tree_name = "T2";
    add_note(fixture, "2026-06-01", NOTE_RELABELLED, "S2")->tree = "T2";
    const struct state *now = state_now(fixture);
    assert_string_equal(graft_now(now, "A1")->selection->name, "S2");
    assert_string_equal(lot_now(now, "L1")->selection->name, "S2");
    assert_true(lot_now(now, "L1")->relabelled);
}

/* A graft is noted with the tree it stands on, a lot with the tree it came from. */
static void a_tree_named_beside_a_tag_or_a_lot_keeps_its_name(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_batch(fixture, "B1", "S1", "2026-02-01")->source_tree_name = "T2";
    fixture->orchard.grafts.list[0].batch_name = "B1";
    add_lot(fixture, "L1", "S1");
    note_on_tag(fixture, "2026-06-01", NOTE_RELABELLED, "A2", "S1")->tree = "T2";
    note_on_lot(fixture, "2026-06-01", NOTE_RELABELLED, "L1", "S2")->tree = "T2";
    const struct state *now = state_now(fixture);
    assert_string_equal(graft_now(now, "A1")->selection->name, "S1");
    assert_string_equal(graft_now(now, "A2")->selection->name, "S1");
    assert_string_equal(lot_now(now, "L1")->selection->name, "S2");
}

/* Relabelled on 1 June: T2.  Lots: of T2 by its notes alone; of T1 and T2; of T1; noted later
 * itself; without a selection of its own to lose. */
static void pollen_is_what_the_trees_are_that_it_was_collected_on(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    for (const char *const *lot = (const char *const[]){"L1", "L2", "L3", "L4", "L5", NULL}; *lot;
         lot++)
        add_lot(fixture, *lot, "S1");
    fixture->orchard.lots.list[4].source_tree_name = "T1";
    static const struct {
        const char *lot, *tree;
    } collected[] = {{"L1", "T2"}, {"L2", "T1"}, {"L2", "T2"}, {"L3", "T1"},
                     {"L4", "T2"}, {"L5", "T1"}, {"L5", "T2"}};
    for (size_t i = 0; i < COUNT(collected); i++)
        note_on_lot(fixture, "2026-04-01", NOTE_COLLECTED, collected[i].lot, "5")->tree =
            collected[i].tree;
    add_note(fixture, "2026-06-01", NOTE_RELABELLED, "S2")->tree = "T2";
    note_on_lot(fixture, "2026-07-01", NOTE_RELABELLED, "L4", "S1");
    const struct state *now = state_now(fixture);
    assert_string_equal(lot_now(now, "L1")->selection->name, "S2");
    assert_true(lot_now(now, "L1")->relabelled);
    assert_null(lot_now(now, "L2")->selection);
    assert_true(lot_now(now, "L2")->relabelled);
    assert_string_equal(lot_now(now, "L3")->selection->name, "S1");
    assert_false(lot_now(now, "L3")->relabelled);
    assert_string_equal(lot_now(now, "L4")->selection->name, "S1");
    assert_null(lot_now(now, "L5")->selection);
    const struct tree *tree = orchard_tree(&fixture->orchard, "T2");
    assert_true(state_lot_is_from(now, lot_now(now, "L1")->lot, tree));
    assert_false(state_lot_is_from(now, lot_now(now, "L3")->lot, tree));
    assert_true(
        state_lot_is_from(now, lot_now(now, "L5")->lot, orchard_tree(&fixture->orchard, "T1")));
}

/* Nothing that was noted before is lost: the row, the old name, the bag with its cross. */
static void what_is_relabelled_or_retagged_keeps_its_history(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    hang(fixture, "2027-03-01", "A1-27-1", "C1");
    note_on_tag(fixture, "2027-04-01", NOTE_RELABELLED, "A1", "S2");
    note_on_tag(fixture, "2027-04-02", NOTE_RETAGGED, "A1", "B7");
    note_on_tag(fixture, "2027-04-03", NOTE_RELABELLED, "B7", "S1");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    const struct graft_state *graft = graft_now(now, "A1");
    size_t count;
    assert_string_equal(graft->graft->tag, "B7");
    assert_string_equal(graft->graft->selection_name, "S1");
    assert_string_equal(graft->selection->name, "S1"); /* the newest word */
    assert_string_equal(state_bag(now, "B7-27-1")->cross->name, "C1");
    assert_ptr_equal(state_bag(now, "B7-27-1"), state_bag(now, "A1-27-1"));
    state_notes_of(now, graft->graft, &count);
    assert_int_equal(count, 4);
}

static void a_bag_lives_through_its_notes(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    add_lot(fixture, "L1", "S2")->volume_ml = 5;
    hang(fixture, "2027-03-01", "A1-27-1", "C1");
    note_on_bag(fixture, "2027-03-09", NOTE_POLLINATED, "A1-27-1", "0.5")->lot = "L1";
    note_on_bag(fixture, "2027-03-11", NOTE_POLLINATED, "A1-27-1", NULL)->lot = "L1";
    note_on_bag(fixture, "2027-03-30", NOTE_UNBAGGED, "A1-27-1", "3");
    note_on_bag(fixture, "2027-07-01", NOTE_CONELETS, "A1-27-1", "2");
    note_on_bag(fixture, "2028-09-20", NOTE_CONES, "A1-27-1", "2");
    note_on_bag(fixture, "2028-11-20", NOTE_SEEDS, "A1-27-1", "70");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_int_equal(now->bag_count, 1);
    const struct bag *bag = state_bag(now, "A1-27-1");
    assert_string_equal(bag->graft->tag, "A1");
    assert_int_equal(bag->season, 2027);
    assert_int_equal(bag->number, 1);
    assert_string_equal(bag->cross->name, "C1");
    assert_int_equal(bag->strobili, 4);
    assert_true(bag->clean);
    assert_int_equal(bag->visits, 2);
    assert_int_equal(bag->visit_on[1], fixture_day("2027-03-11"));
    assert_string_equal(bag->lot->name, "L1");
    assert_int_equal(bag->unbagged_on, fixture_day("2027-03-30"));
    assert_int_equal(bag->lost_on, DAY_NONE);
    assert_int_equal(bag->conelets, 2);
    assert_int_equal(bag->cones, 2);
    assert_int_equal(bag->seeds, 70);
    assert_near(lot_now(now, "L1")->balance_ml, 4.0, 1e-12);
    assert_null(state_bag(now, "A1-27-2"));
    assert_null(state_bag(now, "nonsense"));
}

static void a_bag_hung_at_stage_three_is_not_clean(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_tag(fixture, "2027-03-02", NOTE_STAGE, "A1", "2-3");
    note_on_bag(fixture, "2027-03-03", NOTE_STAGE, "A1-27-3", "2"); /* this shoot is later */
    hang(fixture, "2027-03-01", "A1-27-1", "C1");
    hang(fixture, "2027-03-02", "A1-27-2", "C1");
    hang(fixture, "2027-03-03", "A1-27-3", "C1");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_true(state_bag(now, "A1-27-1")->clean);
    assert_false(state_bag(now, "A1-27-2")->clean);
    assert_true(state_bag(now, "A1-27-3")->clean);
}

static void a_bag_is_found_under_every_tag_of_its_graft(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    hang(fixture, "2027-03-01", "A1-27-1", "C1");
    note_on_tag(fixture, "2027-03-05", NOTE_RETAGGED, "A1", "N7");
    note_on_bag(fixture, "2027-03-30", NOTE_UNBAGGED, "N7-27-1", "3");
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_int_equal(now->bag_count, 1);
    assert_ptr_equal(state_bag(now, "A1-27-1"), state_bag(now, "N7-27-1"));
    assert_int_equal(state_bag(now, "A1-27-1")->unbagged_on, fixture_day("2027-03-30"));
}

/* Each row: notes of one bag that contradict each other, and what is told of them. */
static void notes_of_a_bag_that_contradict_each_other_are_told(void **state)
{
    struct step {
        const char *date;
        enum note_kind kind;
        const char *with; /* cross or lot */
    };
    static const struct {
        const char *code;
        struct step steps[3];
    } rows[] = {
        {"bag-of-two-crosses",
         {{"2027-03-01", NOTE_BAGGED, "C1"}, {"2027-03-02", NOTE_BAGGED, "C2"}}},
        {"bagged-twice", {{"2027-03-01", NOTE_BAGGED, "C1"}, {"2027-03-02", NOTE_BAGGED, "C1"}}},
        {"pollinated-before-bagged",
         {{"2027-02-28", NOTE_POLLINATED, "L2"}, {"2027-03-01", NOTE_BAGGED, "C1"}}},
        {"unbagged-before-bagged",
         {{"2027-02-28", NOTE_UNBAGGED, NULL}, {"2027-03-01", NOTE_BAGGED, "C1"}}},
        {"noted-before-bagged",
         {{"2027-02-28", NOTE_BAG_LOST, NULL}, {"2027-03-01", NOTE_BAGGED, "C1"}}},
        {"bag-never-hung", {{"2027-07-28", NOTE_CONELETS, NULL}}},
        {"pollinated-after-bag",
         {{"2027-03-01", NOTE_BAGGED, "C1"},
          {"2027-03-20", NOTE_UNBAGGED, NULL},
          {"2027-03-21", NOTE_POLLINATED, "L2"}}},
        {"pollinated-after-bag",
         {{"2027-03-01", NOTE_BAGGED, "C1"},
          {"2027-03-08", NOTE_BAG_LOST, NULL},
          {"2027-03-09", NOTE_POLLINATED, "L2"}}},
        {"cross-not-of-graft", {{"2027-03-01", NOTE_BAGGED, "C3"}}},
        {"other-pollen",
         {{"2027-03-01", NOTE_BAGGED, "C1"}, {"2027-03-09", NOTE_POLLINATED, "L1"}}},
        {"dead-graft-bagged",
         {{"2027-01-01", NOTE_SURVIVAL, NULL}, {"2027-03-01", NOTE_BAGGED, "C1"}}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_basis(fixture);
        add_cross(fixture, "C1", "S1", "S2");
        add_cross(fixture, "C2", "S2", "S1")->either_way = true;
        add_cross(fixture, "C3", "S2", "S1");
        add_lot(fixture, "L1", "S1");
        add_lot(fixture, "L2", "S2");
        for (size_t j = 0; j < COUNT(rows[i].steps) && rows[i].steps[j].date; j++) {
            const struct step *step = &rows[i].steps[j];
            struct note *note = note_on_bag(fixture, step->date, step->kind, "A1-27-1", NULL);
            if (step->kind == NOTE_BAGGED)
                note->cross = step->with;
            else if (step->kind == NOTE_POLLINATED)
                note->lot = step->with;
            else if (step->kind == NOTE_SURVIVAL) {
                note->bag = NULL;
                note->tag = "A1";
                note->value = "dead";
            }
        }
        state_now(fixture);
        assert_only_told(fixture, rows[i].code);
    }
}

static void a_lot_s_balance_counts_from_its_measuring(void **state)
{
    struct fixture *fixture = *state;
    struct lot *lot = add_lot(fixture, "L1", NULL);
    lot->volume_ml = 10;
    lot->measured_on = fixture_day("2027-03-05");
    add_lot(fixture, "L2", NULL); /* never measured, but collected */
    add_lot(fixture, "L3", NULL); /* never measured at all */
    add_lot(fixture, "L4", NULL)->volume_ml = 8;
    note_on_lot(fixture, "2027-03-05", NOTE_POLLINATED, "L1", "4"); /* the measuring saw it */
    note_on_lot(fixture, "2027-03-06", NOTE_POLLINATED, "L1", NULL);
    note_on_lot(fixture, "2027-03-07", NOTE_COLLECTED, "L1", "2");
    note_on_lot(fixture, "2027-03-08", NOTE_DISCARDED, "L1", "1.5");
    note_on_lot(fixture, "2027-03-07", NOTE_COLLECTED, "L2", "3");
    note_on_lot(fixture, "2027-03-08", NOTE_POLLINATED, "L3", "1");
    note_on_lot(fixture, "2027-03-08", NOTE_DISCARDED, "L4", NULL);
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_near(lot_now(now, "L1")->balance_ml, 10.0, 1e-12);
    assert_near(lot_now(now, "L2")->balance_ml, 3.0, 1e-12);
    assert_true(isnan(lot_now(now, "L3")->balance_ml));
    assert_near(lot_now(now, "L4")->balance_ml, 0.0, 0);
    assert_true(lot_now(now, "L1")->usable);
    assert_false(lot_now(now, "L4")->usable);
}

static void a_lot_is_usable_by_its_state_from_the_day_it_is_ready(void **state)
{
    struct fixture *fixture = *state;
    static const struct {
        const char *name;
        enum lot_state state;
        const char *ready_on;
        bool usable;
        const char *from;
    } rows[] = {
        {"L1", LOT_STORED, NULL, true, NULL},
        {"L2", LOT_STORED, "2027-01-01", true, NULL},
        {"L3", LOT_DRYING, "2027-03-20", true, "2027-03-20"},
        {"L4", LOT_PLANNED, NULL, false, NULL},
        {"L5", LOT_FINISHED, NULL, false, NULL},
        {"L6", LOT_DISCARDED, NULL, false, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct lot *lot = add_lot(fixture, rows[i].name, NULL);
        lot->state = rows[i].state;
        lot->ready_on = rows[i].ready_on ? fixture_day(rows[i].ready_on) : DAY_NONE;
    }
    orchard_as_of(&fixture->orchard, fixture_day("2027-03-01"));
    const struct state *now = state_now(fixture);
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(lot_now(now, rows[i].name)->usable, rows[i].usable);
        assert_int_equal(lot_now(now, rows[i].name)->ready_on,
                         rows[i].from ? fixture_day(rows[i].from) : DAY_NONE);
    }
}

static void lots_used_wrongly_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_lot(fixture, "L1", NULL)->volume_ml = 1;
    add_lot(fixture, "L2", NULL)->ready_on = fixture_day("2027-03-20");
    add_lot(fixture, "L3", NULL);
    add_lot(fixture, "L4", NULL)->state = LOT_DRYING;
    note_on_lot(fixture, "2027-03-08", NOTE_POLLINATED, "L1", "0.6");
    note_on_lot(fixture, "2027-03-09", NOTE_POLLINATED, "L1", "0.6");
    note_on_lot(fixture, "2027-03-10", NOTE_POLLINATED, "L1", "0.6"); /* told once */
    note_on_lot(fixture, "2027-03-08", NOTE_POLLINATED, "L2", NULL);
    note_on_lot(fixture, "2027-03-08", NOTE_DISCARDED, "L3", NULL);
    note_on_lot(fixture, "2027-03-09", NOTE_POLLINATED, "L3", NULL);
    note_on_lot(fixture, "2027-03-09", NOTE_POLLINATED, "L4", NULL);
    state_now(fixture);
    assert_int_equal(fixture->diags.count, 4);
    assert_int_equal(fixture_told(fixture, "lot-overdrawn"), 1);
    assert_int_equal(fixture_told(fixture, "lot-not-ready"), 1);
    assert_int_equal(fixture_told(fixture, "lot-discarded"), 1);
    assert_int_equal(fixture_told(fixture, "lot-still-planned"), 1);
}

static void the_newest_germination_test_wins(void **state)
{
    struct fixture *fixture = *state;
    struct lot *lot = add_lot(fixture, "L1", NULL);
    lot->germination_pct = 80;
    lot->tested_on = fixture_day("2027-02-01");
    note_on_lot(fixture, "2027-01-01", NOTE_GERMINATION, "L1", "90");
    add_lot(fixture, "L2", NULL)->germination_pct = 80; /* undated */
    note_on_lot(fixture, "2027-01-01", NOTE_GERMINATION, "L2", "0");
    const struct state *now = state_now(fixture);
    assert_near(lot_now(now, "L1")->germination_pct, 80, 0);
    assert_near(lot_now(now, "L2")->germination_pct, 0, 0);
}

static void strobili_and_stages_are_those_of_the_season_asked_for(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-03-01", NOTE_STROBILI, "A1", "3");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A1", "12");
    note_on_tag(fixture, "2027-02-10", NOTE_STROBILI, "A1", "0");
    note_on_bag(fixture, "2027-03-10", NOTE_STROBILI, "A1-27-1", "4"); /* of the bag alone */
    note_on_tag(fixture, "2027-03-01", NOTE_STAGE, "A1", "1-2");
    note_on_bag(fixture, "2027-03-08", NOTE_STAGE, "A1-27-1", "4");
    note_on_bag(fixture, "2027-03-09", NOTE_STAGE, "A1-27-2", "3-5");
    hang(fixture, "2027-03-02", "A1-27-1", NULL);
    const struct state *now = state_now(fixture);
    const struct graft *graft = orchard_graft(now->orchard, "A1");
    daynum on;
    assert_int_equal(state_strobili(now, graft, 2027, &on), 0);
    assert_int_equal(on, fixture_day("2027-02-10"));
    assert_int_equal(state_strobili(now, graft, 2026, &on), 3);
    assert_int_equal(state_strobili(now, graft, 2028, &on), -1);
    assert_int_equal(on, DAY_NONE);
    int low, high;
    state_stage(now, graft, 2027, &low, &high, &on);
    assert_int_equal(low, 3);
    assert_int_equal(high, 5);
    assert_int_equal(on, fixture_day("2027-03-09"));
    state_bag_stage(now, state_bag(now, "A1-27-1"), &low, &high, &on);
    assert_int_equal(high, 4);
    state_stage(now, graft, 2028, &low, &high, &on);
    assert_int_equal(high, 0);
    assert_int_equal(on, DAY_NONE);
}

static void free_places_are_those_without_a_graft_that_is_not_removed(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    fixture->orchard.trees.list[0].places[CROWN_TOP] = 3;
    fixture->orchard.grafts.list[0].crown = CROWN_TOP;
    for (int i = 0; i < 2; i++) {
        struct graft *graft = add_graft(fixture, i ? "B1" : "B2", "S1", "T1");
        graft->crown = CROWN_TOP;
        graft->condition = i ? CONDITION_REMOVED : CONDITION_DEAD;
    }
    const struct state *now = state_now(fixture);
    const struct tree *tree = orchard_tree(now->orchard, "T1");
    assert_int_equal(state_free_places(now, tree, CROWN_TOP), 1);
    assert_int_equal(state_free_places(now, tree, CROWN_LOW), -1);
    assert_int_equal(state_free_places(now, tree, CROWN_UNKNOWN), -1);
}

/* Thousands of grafts and notes must not take a search each. */
static void a_large_orchard_is_gone_through_once(void **state)
{
    struct fixture *fixture = *state;
    enum { GRAFTS = 4000, NOTES_EACH = 10 };
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    for (int i = 0; i < GRAFTS; i++) {
        const char *tag = arena_printf(&fixture->arena, "G%05d", i * 7919 % GRAFTS);
        add_graft(fixture, tag, "S1", "T1");
        const char *bag = arena_printf(&fixture->arena, "%s-27-1", tag);
        hang(fixture, "2027-03-01", bag, "C1");
        for (int j = 0; j < NOTES_EACH; j++)
            note_on_bag(fixture, "2027-03-05", NOTE_STAGE, bag, "4");
    }
    const struct state *now = state_now(fixture);
    assert_nothing_told(fixture);
    assert_int_equal(now->bag_count, GRAFTS);
    assert_string_equal(now->bags[GRAFTS - 1].graft->tag, "G03999");
}

static void diagnostics_may_go_unheard_and_unknown_names_do_no_harm(void **state)
{
    struct fixture *fixture = *state;
    add_graft(fixture, "A1", "S9", "T9")->batch_name = "B9";
    hang(fixture, "2027-03-01", "A1-27-1", "C9");
    hang(fixture, "2027-03-01", "X1-27-1", "C9");
    hang(fixture, "2027-03-01", "A1", "C9");
    note_on_bag(fixture, "2027-03-01", NOTE_POLLINATED, "A1-27-1", NULL)->lot = "L9";
    note_on_tag(fixture, "2027-03-01", NOTE_RELABELLED, "A1", NULL);
    orchard_link(&fixture->orchard, &fixture->diags);
    size_t told = fixture->diags.count;
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, NULL);
    assert_int_equal(fixture->diags.count, told);
    assert_int_equal(now->bag_count, 1);
    assert_null(now->bags[0].cross);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_newest_dated_word_on_condition_wins),
        FIXTURE_TEST(no_graft_outlives_its_tree),
        FIXTURE_TEST(a_relabelled_graft_is_of_its_true_selection),
        FIXTURE_TEST(what_a_tree_is_its_scions_and_pollen_are),
        FIXTURE_TEST(a_tree_named_beside_a_tag_or_a_lot_keeps_its_name),
        FIXTURE_TEST(pollen_is_what_the_trees_are_that_it_was_collected_on),
        FIXTURE_TEST(what_is_relabelled_or_retagged_keeps_its_history),
        FIXTURE_TEST(a_bag_lives_through_its_notes),
        FIXTURE_TEST(a_bag_hung_at_stage_three_is_not_clean),
        FIXTURE_TEST(a_bag_is_found_under_every_tag_of_its_graft),
        FIXTURE_TEST(notes_of_a_bag_that_contradict_each_other_are_told),
        FIXTURE_TEST(a_lot_s_balance_counts_from_its_measuring),
        FIXTURE_TEST(a_lot_is_usable_by_its_state_from_the_day_it_is_ready),
        FIXTURE_TEST(lots_used_wrongly_are_told),
        FIXTURE_TEST(the_newest_germination_test_wins),
        FIXTURE_TEST(strobili_and_stages_are_those_of_the_season_asked_for),
        FIXTURE_TEST(free_places_are_those_without_a_graft_that_is_not_removed),
        FIXTURE_TEST(a_large_orchard_is_gone_through_once),
        FIXTURE_TEST(diagnostics_may_go_unheard_and_unknown_names_do_no_harm),
    };
    return cmocka_run_group_tests_name("state", tests, NULL, NULL) != 0;
}
