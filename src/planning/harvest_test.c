#include "planning/harvest.h"

#include "orchard/fixture.h"

/* Grafted in February 2026, pollinated in the spring of 2027, ripe in the autumn of 2028. */
static void add_parents(struct fixture *fixture)
{
    add_basis(fixture);
    add_selection(fixture, "S3", NULL, NULL);
    add_selection(fixture, "S4", "S1", NULL);
    add_cross(fixture, "C12", "S1", "S2");
    add_cross(fixture, "C32", "S3", "S2");
    add_lot(fixture, "P2", "S2");
    add_rate(fixture, "strobili_per_bag", 3, 0);
    struct rate *conelets = add_rate(fixture, "conelets_kept", 50, 2);
    conelets->low = 0.4;
    conelets->high = 0.7;
    add_rate(fixture, "cones_kept", 8, 1);
    struct rate *seeds = add_rate(fixture, "seeds_per_cone", 30, 0);
    seeds->low = 20;
    seeds->high = 60;
    struct task_kind *test = add_task(fixture, "look at cones", "tree");
    test->earliest = "Y3-09-05";
    test->latest = "Y3-10-15";
    test->closed_by = "ripeness";
    struct task_kind *pick = add_task(fixture, "pick", "bag");
    pick->earliest = "Y3-09-12";
    pick->latest = "Y3-10-20";
    pick->closed_by = "unbagged + cones";
}

static void hang(struct fixture *fixture, const char *bag, const char *cross, const char *strobili)
{
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, bag, strobili)->cross = cross;
}

static void pollinate(struct fixture *fixture, const char *bag, const char *lot)
{
    note_on_bag(fixture, "2027-03-06", NOTE_POLLINATED, bag, NULL)->lot = lot;
}

/* Bag A1-27-1 of C12 with so many strobili, pollinated in 2027. */
static struct fixture *add_pollinated_bag(struct fixture *fixture, const char *strobili)
{
    add_parents(fixture);
    hang(fixture, "A1-27-1", "C12", strobili);
    pollinate(fixture, "A1-27-1", "P2");
    return fixture;
}

static struct harvest harvest_on(struct fixture *fixture, const char *day)
{
    orchard_as_of(&fixture->orchard, fixture_day(day));
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    assert_nothing_told(fixture);
    return harvest_of(now, pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
}

static const struct harvest_cross *cross_of(const struct harvest *harvest, const char *name)
{
    for (size_t i = 0; i < harvest->cross_count; i++)
        if (strcmp(harvest->crosses[i].cross->name, name) == 0)
            return &harvest->crosses[i];
    return NULL;
}

/* 3 strobili x 0.5 x 0.8 x 30 = 36 seeds; low 3 x 0.4 x 0.8 x 20, high 3 x 0.7 x 0.8 x 60. */
static void a_pollinated_bag_is_expected_to_give_by_the_rates(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, NULL);
    struct harvest harvest = harvest_on(fixture, "2027-06-01");
    assert_int_equal(harvest.bag_count, 1);
    const struct harvest_bag *row = &harvest.bags[0];
    assert_near(row->yield.seeds.expected, 36, 1e-12);
    assert_near(row->yield.seeds.low, 3 * 0.4 * 0.8 * 20, 1e-12);
    assert_near(row->yield.seeds.high, 3 * 0.7 * 0.8 * 60, 1e-12);
    assert_int_equal(row->state, HARVEST_GROWING);
    assert_int_equal(row->fate, FATE_AS_MEANT);
    assert_int_equal(row->year, 2028);
    assert_int_equal(row->season_number, 1);
    assert_int_equal(row->harvest.first, fixture_day("2028-09-12"));
    assert_int_equal(row->test.last, fixture_day("2028-10-15"));
    assert_int_equal(row->fertilised.first, fixture_day("2028-04-06"));
    const struct harvest_cross *sum = cross_of(&harvest, "C12");
    assert_int_equal(sum->bags, 1);
    assert_near(sum->short_of, 300 - 36, 1e-12);
    assert_int_equal(harvest.years, 1);
    assert_near(sum->seeds_of_year[0].expected, 36, 1e-12);
    assert_near(cross_of(&harvest, "C32")->short_of, 300, 1e-12);
}

static void both_crops_of_a_graft_stand_in_their_own_years(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "2");
    note_on_bag(fixture, "2028-03-01", NOTE_BAGGED, "A1-28-1", "3")->cross = "C12";
    note_on_bag(fixture, "2028-03-06", NOTE_POLLINATED, "A1-28-1", NULL)->lot = "P2";
    struct harvest harvest = harvest_on(fixture, "2028-06-01");
    assert_int_equal(harvest.bag_count, 2);
    assert_int_equal(harvest.bags[1].season_number, 2);
    assert_int_equal(harvest.bags[1].harvest.first, fixture_day("2029-09-12"));
    assert_int_equal(harvest.first_year, 2028);
    assert_int_equal(harvest.years, 2);
    const struct harvest_cross *sum = cross_of(&harvest, "C12");
    assert_near(sum->seeds_of_year[0].expected, 24, 1e-12);
    assert_near(sum->seeds_of_year[1].expected, 36, 1e-12);
}

/* 5 conelets are 4 cones, whatever strobili were. */
static void counts_stand_before_rates(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "9");
    note_on_bag(fixture, "2027-04-10", NOTE_UNBAGGED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-06-10", NOTE_CONELETS, "A1-27-1", "5");
    struct harvest harvest = harvest_on(fixture, "2027-07-01");
    assert_near(harvest.bags[0].yield.cones.expected, 4, 1e-12);
    assert_near(harvest.bags[0].yield.conelets.high, 5, 0);
}

static void the_state_of_a_crop_follows_its_days_and_notes(void **state)
{
    static const struct {
        const char *day;
        enum harvest_state state;
        double seeds;
    } cases[] = {
        {"2028-09-04", HARVEST_GROWING, 36},       {"2028-09-05", HARVEST_TEST, 36},
        {"2028-09-10", HARVEST_TEST, 36},          {"2028-09-14", HARVEST_RIPE, 36},
        {"2028-10-21", HARVEST_CONES_COUNTED, 30}, {"2029-02-01", HARVEST_SEED_COUNTED, 17},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = add_pollinated_bag(*state, "3");
        note_on_bag(fixture, "2028-09-07", NOTE_RIPENESS, "A1-27-1", "18/20");
        add_note(fixture, "2028-09-14", NOTE_RIPENESS, "19/20")->tree = "T1";
        note_on_bag(fixture, "2028-10-21", NOTE_CONES, "A1-27-1", "1");
        note_on_bag(fixture, "2029-02-01", NOTE_SEEDS, "A1-27-1", "17");
        struct harvest harvest = harvest_on(fixture, cases[i].day);
        assert_int_equal(harvest.bags[0].state, cases[i].state);
        assert_near(harvest.bags[0].yield.seeds.expected, cases[i].seeds, 1e-12);
        assert_near(cross_of(&harvest, "C12")->short_of, 300 - cases[i].seeds, 1e-12);
    }
}

static void cones_that_nobody_counted_are_past_due(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "3");
    struct harvest harvest = harvest_on(fixture, "2028-10-21");
    assert_int_equal(harvest.bags[0].state, HARVEST_DUE);
}

static void lost_dead_and_unpollinated_bags_give_nothing(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "3");
    note_on_bag(fixture, "2027-03-20", NOTE_BAG_LOST, "A1-27-1", "wind");
    hang(fixture, "A1-27-2", "C12", "3");
    struct harvest harvest = harvest_on(fixture, "2027-04-01");
    assert_int_equal(harvest.bags[0].state, HARVEST_NOTHING);
    assert_int_equal(harvest.bags[1].state, HARVEST_NOTHING);
    assert_int_equal(harvest.years, 0);
    assert_near(cross_of(&harvest, "C12")->short_of, 300, 0);
}

static void a_dead_graft_gives_nothing_more(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "3");
    note_on_tag(fixture, "2027-11-01", NOTE_SURVIVAL, "A1", "dead");
    struct harvest harvest = harvest_on(fixture, "2028-01-01");
    assert_int_equal(harvest.bags[0].state, HARVEST_NOTHING);
}

/* Not clean: the cones are there, and the cross has nothing of them. */
static void a_bag_that_was_not_clean_counts_for_no_cross(void **state)
{
    struct fixture *fixture = *state;
    add_parents(fixture);
    note_on_tag(fixture, "2027-02-28", NOTE_STAGE, "A1", "3");
    hang(fixture, "A1-27-1", "C12", "3");
    pollinate(fixture, "A1-27-1", "P2");
    struct harvest harvest = harvest_on(fixture, "2027-06-01");
    assert_false(harvest.bags[0].bag->clean);
    assert_near(harvest.bags[0].yield.cones.expected, 1.2, 1e-12);
    assert_int_equal(cross_of(&harvest, "C12")->bags, 0);
    assert_near(cross_of(&harvest, "C12")->short_of, 300, 0);
}

/* What the graft turned out to be decides what the seed of C12 is. */
static void a_relabelled_graft_stands_under_both_names(void **state)
{
    static const struct {
        const char *truth;
        enum seed_fate fate;
        const char *cross; /* NULL: none */
    } cases[] = {
        {"S3", FATE_USEFUL, "C32"},      {"S2", FATE_SELF, NULL},    {"S4", FATE_UNWANTED, NULL},
        {"unknown", FATE_UNKNOWN, NULL}, {"S5", FATE_RELATED, NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        add_parents(fixture);
        add_selection(fixture, "S5", "S2", "S3");
        hang(fixture, "A1-27-1", "C12", "3");
        pollinate(fixture, "A1-27-1", "P2");
        note_on_tag(fixture, "2027-05-01", NOTE_RELABELLED, "A1", cases[i].truth);
        struct harvest harvest = harvest_on(fixture, "2027-06-01");
        const struct harvest_bag *row = &harvest.bags[0];
        assert_string_equal(row->labelled->name, "S1");
        assert_int_equal(row->fate, cases[i].fate);
        assert_int_equal(cross_of(&harvest, "C12")->bags, 0);
        assert_int_equal(cross_of(&harvest, "C32")->bags, cases[i].cross != NULL);
        if (cases[i].cross != NULL)
            assert_string_equal(row->truth.cross->name, cases[i].cross);
        else
            assert_null(row->truth.cross);
    }
}

/* 20 % germination where 50 is full: two fifths of the seed. */
static void weak_pollen_gives_less_seed(void **state)
{
    struct fixture *fixture = *state;
    add_parents(fixture);
    note_on_lot(fixture, "2027-02-01", NOTE_GERMINATION, "P2", "20");
    hang(fixture, "A1-27-1", "C12", "3");
    pollinate(fixture, "A1-27-1", "P2");
    struct harvest harvest = harvest_on(fixture, "2027-06-01");
    assert_near(harvest.bags[0].yield.seeds.expected, 36 * 0.4, 1e-12);
}

/* Seed weighed as one for the cross holds that of the bags whose own was not counted. */
static void seed_noted_of_a_cross_is_not_counted_twice(void **state)
{
    struct fixture *fixture = add_pollinated_bag(*state, "3");
    note_on_bag(fixture, "2028-10-01", NOTE_CONES, "A1-27-1", "2");
    add_note(fixture, "2029-01-15", NOTE_SEEDS, "55")->cross = "C12";
    struct harvest harvest = harvest_on(fixture, "2029-02-01");
    const struct harvest_cross *sum = cross_of(&harvest, "C12");
    assert_near(sum->seeds_counted, 55, 0);
    assert_near(sum->seeds.expected, 0, 0);
    assert_near(sum->short_of, 245, 0);
}

static void without_such_tasks_no_day_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_parents(fixture);
    fixture->orchard.tasks.count = 0;
    hang(fixture, "A1-27-1", "C12", "3");
    pollinate(fixture, "A1-27-1", "P2");
    struct harvest harvest = harvest_on(fixture, "2030-06-01");
    assert_int_equal(harvest.bags[0].harvest.first, DAY_NONE);
    assert_int_equal(harvest.bags[0].year, 2028);
    assert_int_equal(harvest.bags[0].state, HARVEST_GROWING);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_pollinated_bag_is_expected_to_give_by_the_rates),
        FIXTURE_TEST(both_crops_of_a_graft_stand_in_their_own_years),
        FIXTURE_TEST(counts_stand_before_rates),
        FIXTURE_TEST(the_state_of_a_crop_follows_its_days_and_notes),
        FIXTURE_TEST(cones_that_nobody_counted_are_past_due),
        FIXTURE_TEST(lost_dead_and_unpollinated_bags_give_nothing),
        FIXTURE_TEST(a_dead_graft_gives_nothing_more),
        FIXTURE_TEST(a_bag_that_was_not_clean_counts_for_no_cross),
        FIXTURE_TEST(a_relabelled_graft_stands_under_both_names),
        FIXTURE_TEST(weak_pollen_gives_less_seed),
        FIXTURE_TEST(seed_noted_of_a_cross_is_not_counted_twice),
        FIXTURE_TEST(without_such_tasks_no_day_is_told),
    };

    return cmocka_run_group_tests_name("planning/harvest", tests, NULL, NULL) != 0;
}
