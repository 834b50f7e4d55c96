#include "planning/flowering_days.h"

#include "planning/weather_fixture.h"

/* One tree of slash pine at Nord, calendar dates, survival 0.58 and then 0.50. */
static void add_slash_tree(struct fixture *fixture)
{
    struct rate *row;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    add_tree(fixture, "T1", "Nord")->species = "slash";
    add_selection(fixture, "S1", NULL, NULL)->species = "loblolly";
    add_selection(fixture, "S2", NULL, NULL);
    row = add_rate(fixture, "survival", 58, 2);
    row->season_number = 1;
    row = add_rate(fixture, "survival", 50, 2);
    row->season_number = 2;
    row = add_rate(fixture, "strobili_per_live_graft", 5, 0);
    row->season_number = 1;
    row = add_rate(fixture, "strobili_per_live_graft", 144, 1);
    row->season_number = 1;
    row->host_species = "slash";
    row = add_rate(fixture, "strobili_per_live_graft", 10, 0);
    row->season_number = 2;
}

static void start_again(void **state)
{
    fixture_teardown(state);
    fixture_setup(state);
}

static struct graft *add_slash_graft(struct fixture *fixture, const char *tag, const char *on)
{
    struct graft *graft = add_graft(fixture, tag, "S1", "T1");

    graft->grafted_on = fixture_day(on);
    return graft;
}

static struct flowering_rows rows_on(struct fixture *fixture, const char *as_of)
{
    struct dates *dates = dates_on(fixture, as_of);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);

    return flowering_of(state, dates, &fixture->arena);
}

static void a_graft_flowers_in_the_two_seasons_after_its_own(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2027-02-20");
    add_slash_graft(fixture, "A2", "2026-12-20");
    rows = rows_on(fixture, "2027-03-01");
    assert_int_equal(rows.count, 4);
    for (size_t i = 0; i < rows.count; i++) {
        assert_int_equal(rows.list[i].season, i < 2 ? 2028 : 2029);
        assert_int_equal(rows.list[i].season_number, i < 2 ? 1 : 2);
        assert_string_equal(rows.list[i].graft->graft->tag, i % 2 == 0 ? "A1" : "A2");
        assert_near(rows.list[i].chance_alive, i < 2 ? 0.58 : 0.5, 1e-12);
        assert_near(rows.list[i].strobili, i < 2 ? 14.4 : 10, 1e-12);
        assert_false(rows.list[i].counted);
        assert_false(rows.list[i].over);
    }
    assert_ptr_equal(rows.list[0].bloom, rows.list[1].bloom);
    assert_string_equal(rows.list[0].bloom->species, "loblolly");
    assert_day(rows.list[0].dates[EVENT_OPENING][1], "2028-03-01");
    assert_day(rows.list[0].dates[EVENT_BAG_BY][1], "2028-02-29");
    assert_int_equal(rows.list[0].dates[EVENT_BAG_BY][0] + 1, rows.list[0].dates[EVENT_OPENING][0]);
    assert_true(rows.list[0].dates[EVENT_LAST][0] < rows.list[0].dates[EVENT_LAST][2]);
    assert_int_equal(rows.list[0].dates[EVENT_SHED_PEAK][1], DAY_NONE);
}

static void southern_grafts_flower_in_the_next_southern_spring(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_tree(fixture, "T2", "Syd");
    add_graft(fixture, "A1", "S1", "T2")->grafted_on = fixture_day("2026-08-10");
    rows = rows_on(fixture, "2026-09-01");
    assert_int_equal(rows.count, 2);
    assert_int_equal(rows.list[0].season, 2027);
    assert_day(rows.list[0].dates[EVENT_PEAK][1], "2027-09-08");
    assert_near(rows.list[0].strobili, 5, 0); /* no rate of its host */
}

static void seasons_that_have_ended_are_not_shown(void **state)
{
    static const struct {
        const char *as_of;
        size_t count;
    } cases[] = {{"2028-06-30", 2}, {"2028-07-01", 1}, {"2029-06-30", 1}, {"2029-07-01", 0}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;

        start_again(state);
        add_slash_tree(fixture);
        add_slash_graft(fixture, "A1", "2027-02-20");
        assert_int_equal(rows_on(fixture, cases[i].as_of).count, cases[i].count);
    }
}

/* The last day of calendar dates is 12 March, and shifts reach 36 days further. */
static void a_spring_is_over_when_no_future_has_a_receptive_day_left(void **state)
{
    static const struct {
        const char *as_of;
        bool over;
    } cases[] = {{"2028-04-17", false}, {"2028-05-30", true}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;

        start_again(state);
        add_slash_tree(fixture);
        add_slash_graft(fixture, "A1", "2027-02-20");
        assert_int_equal(rows_on(fixture, cases[i].as_of).list[0].over, cases[i].over);
    }
}

static void dead_lost_and_removed_grafts_are_not_shown(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2027-02-20")->condition = CONDITION_DEAD;
    add_slash_graft(fixture, "A2", "2027-02-20")->condition = CONDITION_LOST;
    add_slash_graft(fixture, "A3", "2027-02-20")->condition = CONDITION_REMOVED;
    add_slash_graft(fixture, "A4", "2027-02-20");
    add_slash_graft(fixture, "A5", "2027-02-20");
    note_on_tag(fixture, "2027-05-02", NOTE_SURVIVAL, "A5", "dead");
    rows = rows_on(fixture, "2027-06-01");
    assert_int_equal(rows.count, 2);
    assert_string_equal(rows.list[0].graft->graft->tag, "A4");
}

/* What was seen when, asked when, of which spring. */
static void chance_alive_follows_what_was_seen(void **state)
{
    static const double year = 0.50 / 0.58;
    static const struct {
        const char *seen_on, *seen, *as_of;
        size_t row;
        double share_of_one; /* NAN: the survival rate of its season */
        int years;
    } cases[] = {
        {NULL, NULL, "2027-06-01", 0, NAN, 0},
        {NULL, NULL, "2027-06-01", 1, NAN, 0},
        {"2027-05-02", "alive", "2027-06-01", 0, 1, 0}, /* seen in the season of as-of */
        {"2027-05-02", "alive", "2027-06-01", 1, 1, 1},
        {"2027-05-02", "alive", "2028-01-10", 0, 1, 1}, /* seen a season ago */
        {"2027-05-02", "alive", "2028-01-10", 1, 1, 2},
        {"2028-01-08", "alive", "2028-01-10", 0, 1, 0},
        {"2028-01-08", "alive", "2028-01-10", 1, 1, 1},
        {"2028-01-08", "alive", "2029-01-10", 0, 1, 1}, /* its first spring is gone: season 2 */
        {"2027-05-02", "doubtful", "2027-06-01", 0, 0.5, 0},
        {"2027-05-02", "doubtful", "2028-01-10", 0, 0.5, 1},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;
        struct flowering_rows rows;
        double want;

        start_again(state);
        add_slash_tree(fixture);
        add_slash_graft(fixture, "A1", "2027-02-20");
        if (cases[i].seen_on != NULL)
            note_on_tag(fixture, cases[i].seen_on, NOTE_SURVIVAL, "A1", cases[i].seen);
        rows = rows_on(fixture, cases[i].as_of);
        want = isnan(cases[i].share_of_one) ? (cases[i].row == 0 ? 0.58 : 0.5)
                                            : cases[i].share_of_one * pow(year, cases[i].years);
        assert_near(rows.list[cases[i].row].chance_alive, want, 1e-12);
    }
}

static void an_undated_word_is_of_now(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2027-02-20")->condition = CONDITION_ALIVE;
    rows = rows_on(fixture, "2028-12-01");
    assert_int_equal(rows.count, 1);
    assert_near(rows.list[0].chance_alive, 1, 0);
}

static void counted_strobili_go_before_rates(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2027-02-20");
    add_slash_graft(fixture, "A2", "2027-02-20");
    add_slash_graft(fixture, "A3", "2027-02-20");
    note_on_tag(fixture, "2028-01-20", NOTE_STROBILI, "A1", "7");
    note_on_tag(fixture, "2028-02-01", NOTE_STROBILI, "A2", "0");
    note_on_tag(fixture, "2028-02-01", NOTE_STROBILI, "A3", "6");
    note_on_tag(fixture, "2028-02-03", NOTE_SURVIVAL, "A3", "doubtful");
    rows = rows_on(fixture, "2028-02-05");
    assert_int_equal(rows.count, 6);
    assert_true(rows.list[0].counted);
    assert_near(rows.list[0].strobili, 7, 0);
    assert_day(rows.list[0].counted_on, "2028-01-20");
    assert_near(rows.list[0].chance_alive, 1, 0); /* whoever counted saw it */
    assert_true(rows.list[1].counted); /* a count of 0 is a count, but tells nothing of life */
    assert_near(rows.list[1].strobili, 0, 0);
    assert_near(rows.list[1].chance_alive, 0.58, 1e-12);
    assert_near(rows.list[2].chance_alive, 0.5, 0);
    assert_false(rows.list[3].counted); /* the count is of 2028 */
    assert_int_equal(rows.list[3].counted_on, DAY_NONE);
    assert_near(rows.list[3].strobili, 10, 0);
}

static void without_a_rate_nothing_is_made_up(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    fixture->orchard.rates.count = 0;
    add_slash_graft(fixture, "A1", "2027-02-20");
    rows = rows_on(fixture, "2027-03-01");
    assert_int_equal(rows.count, 2);
    assert_true(isnan(rows.list[0].chance_alive) != 0);
    assert_true(isnan(rows.list[0].strobili) != 0);
}

static void a_graft_known_to_be_wrong_has_the_dates_of_the_site(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    fixture->orchard.selections.list[0].days_late = 6;
    add_slash_graft(fixture, "A1", "2027-02-20");
    add_slash_graft(fixture, "A2", "2027-02-20");
    note_on_tag(fixture, "2027-04-01", NOTE_RELABELLED, "A2", "unknown");
    rows = rows_on(fixture, "2027-06-01");
    assert_int_equal(rows.count, 4);
    assert_day(rows.list[0].dates[EVENT_PEAK][1], "2028-03-14");
    assert_day(rows.list[1].dates[EVENT_PEAK][1], "2028-03-08");
    assert_null(rows.list[1].bloom->selection);
    assert_string_equal(rows.list[1].bloom->species, "loblolly");
}

static struct flowering_rows asked_on(struct fixture *fixture, const char *as_of,
                                      struct flowering_asked asked, const char *only)
{
    struct dates *dates = dates_on(fixture, as_of);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);

    if (only != NULL)
        asked.only = state_graft(state, orchard_graft(&fixture->orchard, only));
    return flowering_asked(state, dates, asked, &fixture->arena);
}

static void any_spring_after_grafting_may_be_asked_for(void **state)
{
    static const struct {
        int season;
        const char *only;
        size_t count;
        int number; /* of the first row */
    } cases[] = {{2028, NULL, 2, 1}, {2031, NULL, 3, 4}, {2027, NULL, 0, 0},
                 {2031, "A3", 1, 1}, {2030, "A3", 0, 0}, {0, "A1", 2, 1}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct flowering_rows rows;

        start_again(state);
        add_slash_tree(*state);
        add_slash_graft(*state, "A1", "2027-02-20");
        add_slash_graft(*state, "A2", "2027-02-20");
        add_slash_graft(*state, "A3", "2030-02-20");
        rows = asked_on(*state, "2030-03-01", (struct flowering_asked){.season = cases[i].season},
                        cases[i].only);
        if (cases[i].season == 0) { /* both springs of A1 are past */
            assert_int_equal(rows.count, 0);
            continue;
        }
        assert_int_equal(rows.count, cases[i].count);
        if (rows.count > 0) {
            assert_int_equal(rows.list[0].season_number, cases[i].number);
            assert_non_null(rows.list[0].past);
        }
    }
}

/* By the calendar of Nord: what is seen of A1 in its spring moves A1 alone. */
static void a_look_moves_its_own_graft_and_no_other(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_rows rows;
    daynum after, by;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2026-02-20");
    add_slash_graft(fixture, "A2", "2026-02-20");
    note_on_tag(fixture, "2026-03-01", NOTE_STAGE, "A1", "6"); /* of another season */
    note_on_tag(fixture, "2027-02-10", NOTE_STAGE, "A1", "2");
    note_on_tag(fixture, "2027-02-14", NOTE_STAGE, "A1", "3");
    note_on_tag(fixture, "2027-02-14", NOTE_STAGE, "A1", "1-4"); /* one look with the other */
    note_on_tag(fixture, "2027-02-18", NOTE_STAGE, "A1", "6");   /* after as-of */
    rows = asked_on(fixture, "2027-02-16", (struct flowering_asked){.season = 2027}, NULL);
    assert_int_equal(rows.count, 2);
    assert_null(rows.list[1].bloom->looks);
    assert_non_null(rows.list[0].bloom->looks);
    assert_ptr_equal(rows.list[0].bloom->plain, rows.list[1].bloom);
    assert_true(bloom_seen(rows.list[0].bloom, EVENT_FIRST, &after, &by));
    assert_day(after, "2027-02-10");
    assert_day(by, "2027-02-14");
    assert_false(bloom_seen(rows.list[0].bloom, EVENT_PEAK, &after, &by));
    assert_true(rows.list[0].dates[EVENT_FIRST][2] <= fixture_day("2027-02-14"));
    assert_true(rows.list[0].dates[EVENT_PEAK][0] > fixture_day("2027-02-14"));
}

static void looks_at_a_bag_move_that_bag_alone(void **state)
{
    struct fixture *fixture = *state;
    const struct state *nouns;
    struct looks graft, bag;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2026-02-20");
    add_cross(fixture, "C1", "S1", "S2");
    note_on_tag(fixture, "2027-02-10", NOTE_STAGE, "A1", "2");
    note_on_bag(fixture, "2027-02-11", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-02-11", NOTE_BAGGED, "A1-27-2", "3")->cross = "C1";
    note_on_tag(fixture, "2027-02-15", NOTE_STAGE, "A1", "4");
    note_on_bag(fixture, "2027-02-16", NOTE_STAGE, "A1-27-1", "3");
    struct dates *dates = dates_on(fixture, "2027-02-20");
    nouns = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    graft = looks_at_graft(nouns, nouns->grafts[0].graft, 2027);
    assert_int_equal(graft.count, 2);
    assert_int_equal(graft.come, 2);
    bag = looks_at_bag(nouns, state_bag(nouns, "A1-27-1"));
    assert_int_equal(bag.count, 2);
    assert_int_equal(bag.come, 1);
    assert_day(bag.after[0], "2027-02-10");
    assert_day(bag.by[0], "2027-02-16");
    bag = looks_at_bag(nouns, state_bag(nouns, "A1-27-2"));
    assert_int_equal(bag.count, 1);
    assert_int_equal(bag.come, 0);
    assert_ptr_not_equal(dates_bag_bloom(dates, nouns, state_bag(nouns, "A1-27-1")),
                         dates_bag_bloom(dates, nouns, state_bag(nouns, "A1-27-2")));
    assert_ptr_equal(dates_bag_bloom(dates, nouns, state_bag(nouns, "A1-27-1")),
                     dates_bag_bloom(dates, nouns, state_bag(nouns, "A1-27-1")));
}

static void grafts_that_share_a_distribution_share_its_days(void **state)
{
    struct fixture *fixture = *state;
    struct flowering_days days;
    struct flowering_rows rows;

    add_slash_tree(fixture);
    add_slash_graft(fixture, "A1", "2026-02-20");
    add_slash_graft(fixture, "A2", "2026-02-20");
    add_slash_graft(fixture, "A3", "2026-02-20");
    note_on_tag(fixture, "2027-02-10", NOTE_STAGE, "A2", "2");
    rows = asked_on(fixture, "2027-02-16", (struct flowering_asked){.season = 2027}, NULL);
    days = flowering_days_of(&rows, 0.005, &fixture->arena);
    assert_int_equal(days.count, 2);
    assert_int_equal(days.list[0].count, 2);
    assert_string_equal(days.list[0].rows[1]->graft->graft->tag, "A3");
    assert_string_equal(days.list[1].row->graft->graft->tag, "A2");
    for (size_t i = 0; i < days.count; i++) {
        const struct day_span *span = &days.list[i];

        assert_true(span->last > span->first);
        assert_true(bloom_by(span->row->bloom, EVENT_OPENING, span->first - 1) < 0.005);
        assert_true(bloom_by(span->row->bloom, EVENT_CLOSED, span->last) >= 0.995 - 1e-9);
        assert_true(bloom_receptive(span->row->bloom, span->row->dates[EVENT_PEAK][1]) > 0.05);
    }
    assert_int_equal(days.days, (days.list[0].last - days.list[0].first + 1) +
                                    (days.list[1].last - days.list[1].first + 1));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_graft_flowers_in_the_two_seasons_after_its_own),
        FIXTURE_TEST(southern_grafts_flower_in_the_next_southern_spring),
        FIXTURE_TEST(seasons_that_have_ended_are_not_shown),
        FIXTURE_TEST(a_spring_is_over_when_no_future_has_a_receptive_day_left),
        FIXTURE_TEST(dead_lost_and_removed_grafts_are_not_shown),
        FIXTURE_TEST(chance_alive_follows_what_was_seen),
        FIXTURE_TEST(an_undated_word_is_of_now),
        FIXTURE_TEST(counted_strobili_go_before_rates),
        FIXTURE_TEST(without_a_rate_nothing_is_made_up),
        FIXTURE_TEST(any_spring_after_grafting_may_be_asked_for),
        FIXTURE_TEST(a_look_moves_its_own_graft_and_no_other),
        FIXTURE_TEST(looks_at_a_bag_move_that_bag_alone),
        FIXTURE_TEST(grafts_that_share_a_distribution_share_its_days),
        FIXTURE_TEST(a_graft_known_to_be_wrong_has_the_dates_of_the_site),
    };
    return cmocka_run_group_tests_name("flowering", tests, NULL, NULL) != 0;
}
