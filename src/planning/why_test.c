#include "planning/why.h"

#include "planning/spread.h"
#include "planning/weather_fixture.h"

/* A graft A1 of S1 on a tree at Nord, dates by heat: first at 300 heat units, opening 5 days
 * before it, last 6 days after; peak at 320; 12 past springs of 4, 5 and 6 degrees by turns. */
static struct graft *add_heat_graft(struct fixture *fixture)
{
    struct threshold *row;
    struct graft *graft;

    add_weather_sites(fixture);
    add_tree(fixture, "T1", "Nord")->species = "slash";
    add_selection(fixture, "S1", NULL, NULL)->days_late = 3;
    add_selection(fixture, "S2", NULL, NULL);
    row = add_sum(fixture, EVENT_FIRST, "flat", 300);
    row->spread_days = 1.5;
    row->residual_days = 2;
    row->clone_spread_days = 4;
    row->seasons_seen = 7;
    add_sum(fixture, EVENT_PEAK, "flat", 320);
    add_after(fixture, EVENT_OPENING, EVENT_FIRST, -5);
    add_after(fixture, EVENT_LAST, EVENT_FIRST, 6);
    add_seasons(fixture, "NORD", fixture_north, 2015, 2027, by_turns_c);
    graft = add_graft(fixture, "A1", "S1", "T1");
    graft->grafted_on = fixture_day("2026-02-10");
    return graft;
}

struct asked {
    const struct state *state;
    struct dates *dates;
    struct why why;
};

static struct asked ask(struct fixture *fixture, const char *as_of, struct why_asked how)
{
    struct asked asked = {.dates = dates_on(fixture, as_of)};
    const struct bag *bag;

    asked.state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    asked.why =
        why_of(asked.state, asked.dates, why_graft(asked.state, "A1", &bag), how, &fixture->arena);
    return asked;
}

static const struct why_asked everything = {.event = EVENTS};

static const struct why_event *event_in(const struct why_season *season, enum event event)
{
    for (size_t i = 0; i < season->event_count; i++) {
        if (season->events[i].event == event)
            return &season->events[i];
    }
    fail_msg("%s is not told", event_names[event]);
    return NULL;
}

static void an_event_is_walked_back_to_the_row_that_it_hangs_on(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    const struct why_event *event;
    struct asked asked;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.season_count, 2);
    season = &asked.why.seasons[0];
    assert_int_equal(season->row.season, 2027);
    assert_int_equal(season->event_count, 6);
    event = event_in(season, EVENT_BAG_BY); /* 1 day before opening, 5 before first, a sum */
    assert_int_equal(event->step_count, 3);
    assert_null(event->steps[0].row);
    assert_int_equal(event->steps[0].after, EVENT_OPENING);
    assert_int_equal(event->steps[0].days, -1);
    assert_int_equal(event->steps[1].row->kind, THRESHOLD_AFTER);
    assert_int_equal(event->steps[1].days, -5);
    assert_int_equal(event->steps[2].row->kind, THRESHOLD_SUM);
    assert_near(event->steps[2].row->heat_units_c, 300, 0);
    event = event_in(season, EVENT_CLOSED); /* no row tells it */
    assert_int_equal(event->step_count, 3);
    assert_null(event->steps[0].row);
    assert_int_equal(event->steps[0].after, EVENT_LAST);
    assert_int_equal(event->steps[0].days, 4);
    assert_int_equal(event->steps[1].row->after_days, 6);
    assert_int_equal(event_in(season, EVENT_PEAK)->step_count, 1);
    assert_int_equal(event->days_late, 3);
    assert_int_equal(event->calendar_days, 0);
}

static void a_selection_with_a_row_of_its_own_is_not_moved(void **state)
{
    struct fixture *fixture = *state;
    struct asked asked;

    add_heat_graft(fixture);
    add_sum(fixture, EVENT_FIRST, "flat", 310)->selection_name = "S1";
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(event_in(&asked.why.seasons[0], EVENT_FIRST)->days_late, 0);
    assert_int_equal(event_in(&asked.why.seasons[0], EVENT_PEAK)->days_late, 3);
    assert_near(asked.why.seasons[0].unknowns.clone_days, 0, 0);
}

static void a_calendar_date_tells_how_the_site_moved_it_and_uses_no_past_year(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_weather_sites(fixture);
    fixture->orchard.sites.list[0].latitude = 33.2;
    add_calendar_events(fixture);
    add_tree(fixture, "T1", "Nord");
    add_selection(fixture, "S1", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1");
    asked = ask(fixture, "2026-11-01", everything);
    season = &asked.why.seasons[0];
    assert_int_equal(event_in(season, EVENT_FIRST)->calendar_days, 4);
    assert_int_equal(event_in(season, EVENT_FIRST)->steps[1].row->calendar_day.month, 3);
    assert_int_equal(event_in(season, EVENT_FIRST)->past[0], DAY_NONE);
    assert_int_equal(season->clock_count, 0);
    assert_int_equal(season->member_count, 0);
    assert_true(isnan(season->member_sd_days));
    assert_near(season->warmer.add_c, 0, 0);
    assert_int_equal(season->told, EVENT_FIRST);
}

static void without_any_row_nothing_is_told(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_weather_sites(fixture);
    add_tree(fixture, "T1", "Nord");
    add_selection(fixture, "S1", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1");
    asked = ask(fixture, "2026-11-01", everything);
    season = &asked.why.seasons[0];
    assert_int_equal(season->event_count, 0);
    assert_int_equal(season->told, EVENTS);
    assert_int_equal(season->look_from, DAY_NONE);
    assert_int_equal(season->site_p50, DAY_NONE);
    assert_null(season->strobili_rate);
}

/* 4, 5 and 6 degrees from 1 January: 2027 has 4 + 2027 % 3 = 6 degrees, the past years' mean 5. */
static void the_clock_tells_heat_so_far_beside_the_usual(void **state)
{
    struct fixture *fixture = *state;
    const struct why_clock *clock;
    struct asked asked;
    daynum day = fixture_day("2027-02-01");

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.seasons[0].clock_count, 1);
    clock = &asked.why.seasons[0].clocks[0];
    assert_string_equal(clock->clock->name, "flat");
    assert_day(clock->start, "2027-01-01");
    assert_day(clock->day, "2027-02-01");
    assert_near(clock->sum.least, 6 * 32, 1e-9);
    assert_near(clock->sum.most, 6 * 32, 1e-9);
    assert_near(clock->usual,
                dates_mean_sum(asked.dates, asked.why.seasons[0].row.site, 2027, clock->clock, day),
                0);
    assert_int_equal(asked.why.seasons[1].clocks[0].day, DAY_NONE); /* no day of 2028 is known */
    assert_near(dates_sum(asked.dates, asked.why.seasons[0].row.site, 2027, clock->clock,
                          fixture_day("2026-12-31"))
                    .most,
                0, 0);
}

static void members_stand_from_the_earliest_to_the_latest(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    const struct bloom *bloom;
    struct asked asked;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-01-03", (struct why_asked){.event = EVENT_LAST, .season = 2027});
    assert_int_equal(asked.why.season_count, 1);
    season = &asked.why.seasons[0];
    bloom = season->row.bloom;
    assert_int_equal(season->event_count, 1);
    assert_int_equal(season->told, EVENT_LAST);
    assert_int_equal(season->leading, EVENT_FIRST);
    assert_int_equal(season->member_count, 12);
    for (size_t i = 1; i < season->member_count; i++) {
        const struct why_member *one = &season->members[i - 1], *other = &season->members[i];

        assert_true(one->day < other->day ||
                    (one->day == other->day && one->season < other->season));
    }
    for (size_t i = 0; i < season->member_count; i++) {
        for (size_t m = 0; m < bloom->members; m++) {
            if (bloom->member_season[m] == season->members[i].season)
                assert_int_equal(season->members[i].day, bloom->days[EVENT_LAST][m]);
        }
    }
    assert_int_equal(season->members[0].season % 3, 2); /* the years of 6 degrees */
}

static void the_parts_of_the_spread_make_the_spread_that_is_used(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-02-01", everything);
    season = &asked.why.seasons[0];
    assert_near(season->unknowns.residual_days, 2, 0);
    assert_near(season->unknowns.clone_days, 4, 0);
    assert_near(season->unknowns.graft_days, 1.5, 0);
    assert_near(season->unknowns.after_days, 0, 0);
    assert_false(season->unknowns.residual_raised);
    assert_near(season->unknowns_sd_days, sqrt(4 + 16 + 2.25), 1e-12);
    assert_near(season->row.bloom->sigma_days, season->unknowns_sd_days, 1e-12);
}

static void a_fitted_row_of_another_site_is_told_to_be_raised(void **state)
{
    struct fixture *fixture = *state;
    struct asked asked;

    add_heat_graft(fixture);
    fixture->orchard.thresholds.list[0].site_name = "Syd";
    asked = ask(fixture, "2027-02-01", everything);
    assert_true(asked.why.seasons[0].unknowns.residual_raised);
    assert_near(asked.why.seasons[0].unknowns.residual_days, 5, 0);
}

/* 300 - 6 * 32 units are left on 1 February: at 4, 5, 6 degrees and one more or less. */
static void warmer_days_to_come_move_the_date_and_known_days_stay(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;
    daynum p50;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-02-01", everything);
    season = &asked.why.seasons[0];
    p50 = season->row.dates[EVENT_FIRST][1];
    assert_day(season->warmer.from, "2027-02-02");
    assert_day(season->warmer.to, "2027-02-15");
    assert_near(season->warmer.add_c, 1, 0);
    assert_near(season->colder.add_c, -1, 0);
    assert_true(season->warmer.p50 < p50);
    assert_true(season->colder.p50 > p50);
    assert_true(p50 - season->warmer.p50 <= 4);           /* 14 units at 4 degrees a day */
    assert_near(asked.why.seasons[1].warmer.add_c, 0, 0); /* no day of 2028 is changed */
}

static void what_may_be_seen_next_is_told_until_it_is_over(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-01-05", everything);
    season = &asked.why.seasons[0];
    assert_int_equal(season->look_from, season->row.dates[EVENT_OPENING][0] - 1);
    assert_int_equal(season->look_to, season->row.dates[EVENT_LAST][1]);

    fixture_teardown(state);
    fixture_setup(state);
    add_heat_graft(*state);
    asked = ask(*state, "2027-05-30", everything);
    assert_int_equal(asked.why.seasons[0].look_from, DAY_NONE);
    assert_near(asked.why.seasons[0].warmer.add_c, 0, 0); /* the spring is over */
}

static void a_label_that_is_wrong_would_give_the_date_of_the_site(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_heat_graft(fixture);
    asked = ask(fixture, "2027-02-01", everything);
    season = &asked.why.seasons[0];
    assert_int_equal(season->row.dates[EVENT_FIRST][1] - season->site_p50, 3);

    fixture_teardown(state);
    fixture_setup(state);
    add_heat_graft(*state);
    note_on_tag(*state, "2026-05-01", NOTE_RELABELLED, "A1", "unknown");
    asked = ask(*state, "2027-02-01", everything);
    assert_int_equal(asked.why.seasons[0].site_p50, DAY_NONE);
    assert_non_null(asked.why.relabelled);
    assert_int_equal(asked.why.seasons[0].seen_of_selection, 0);
}

static void seasons_dated_by_two_looks_are_counted(void **state)
{
    struct fixture *fixture = *state;
    struct asked asked;

    add_heat_graft(fixture);
    add_graft(fixture, "A2", "S2", "T1")->grafted_on = fixture_day("2023-02-10");
    add_graft(fixture, "A3", "S1", "T1")->grafted_on = fixture_day("2023-02-10");
    note_on_tag(fixture, "2024-03-01", NOTE_STAGE, "A2", "3"); /* S2 in 2024 */
    note_on_tag(fixture, "2024-03-05", NOTE_STAGE, "A2", "4");
    note_on_tag(fixture, "2025-03-01", NOTE_STAGE, "A3", "3"); /* S1 in 2025 */
    note_on_tag(fixture, "2025-03-05", NOTE_STAGE, "A3", "4");
    note_on_tag(fixture, "2025-03-05", NOTE_STAGE, "A2", "4"); /* no look before */
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.seasons[0].seen_here, 2);
    assert_int_equal(asked.why.seasons[0].seen_of_selection, 1);
}

static void each_note_is_told_by_what_it_did(void **state)
{
    static const enum why_effect effects[] = {WHY_MADE,    WHY_SUPERSEDED, WHY_SUPERSEDED,
                                              WHY_CHECKED, WHY_CONDITION,  WHY_SUPERSEDED,
                                              WHY_COUNT,   WHY_STAGE,      WHY_NO_DATE};
    struct fixture *fixture = *state;
    struct note *note;
    struct asked asked;

    add_heat_graft(fixture);
    note = note_on_tag(fixture, "2026-02-10", NOTE_GRAFTED, "A1", NULL);
    note->tree = "T1";
    note->selection = "S1";
    note_on_tag(fixture, "2026-03-01", NOTE_STAGE, "A1", "2"); /* of a season that is over */
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "doubtful");
    note_on_tag(fixture, "2026-06-01", NOTE_VERIFIED, "A1", "by eye");
    note_on_tag(fixture, "2026-11-01", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2027-01-10", NOTE_STROBILI, "A1", "4");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A1", "5");
    note_on_tag(fixture, "2027-01-25", NOTE_STAGE, "A1", "1");
    note_on_tag(fixture, "2027-01-26", NOTE_CATKINS, "A1", "9");
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.note_count, COUNT(effects));
    for (size_t i = 0; i < COUNT(effects); i++)
        assert_int_equal(asked.why.notes[i].effect, effects[i]);
    assert_string_equal(asked.why.verified->value, "by eye");
    assert_null(asked.why.relabelled);
    assert_near(asked.why.seasons[0].row.strobili, 5, 0);
}

static void a_survival_note_gives_way_to_a_newer_cell(void **state)
{
    struct fixture *fixture = *state;
    struct graft *graft = add_heat_graft(fixture);
    struct asked asked;

    graft->condition = CONDITION_ALIVE;
    graft->condition_on = fixture_day("2026-12-01");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "doubtful");
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.notes[0].effect, WHY_SUPERSEDED);
    assert_int_equal(asked.why.seasons[0].alive.way, ALIVE_SEEN);
    assert_int_equal(asked.why.seasons[0].alive.years, 0);
    assert_int_equal(asked.why.seasons[1].alive.years, 1);
}

static void a_graft_that_is_dead_has_no_season(void **state)
{
    struct fixture *fixture = *state;
    struct asked asked;

    add_heat_graft(fixture)->condition = CONDITION_DEAD;
    asked = ask(fixture, "2027-02-01", everything);
    assert_int_equal(asked.why.season_count, 0);
}

static void a_graft_answers_to_old_tags_and_to_its_bags(void **state)
{
    struct fixture *fixture = *state;
    const struct bag *bag;
    const struct state *now;
    const struct graft_state *graft;

    add_heat_graft(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_bag(fixture, "2027-01-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_tag(fixture, "2027-01-25", NOTE_RETAGGED, "A1", "B7");
    dates_on(fixture, "2027-02-01");
    now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    graft = why_graft(now, "B7", &bag);
    assert_non_null(graft);
    assert_null(bag);
    assert_ptr_equal(why_graft(now, "A1", &bag), graft);
    assert_ptr_equal(why_graft(now, "B7-27-1", &bag), graft);
    assert_non_null(bag);
    assert_ptr_equal(why_graft(now, "A1-27-1", &bag), graft);
    assert_null(why_graft(now, "A1-27-2", &bag));
    assert_null(bag);
}

static void of_a_name_that_is_no_tag_it_is_told_what_was_meant(void **state)
{
    struct fixture *fixture = *state;
    const char *names[3], *what;
    const struct state *now;

    add_heat_graft(fixture);
    add_graft(fixture, "KTR71", "S1", "T1");
    add_graft(fixture, "KTR72", "S2", "T1");
    dates_on(fixture, "2027-02-01");
    now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    assert_int_equal(why_meant(now, "T1", 2, names, &what), 2);
    assert_string_equal(what, "tree");
    assert_int_equal(why_meant(now, "S2", 3, names, &what), 1);
    assert_string_equal(what, "selection");
    assert_string_equal(names[0], "KTR72");
    assert_int_equal(why_meant(now, "ktr72", 3, names, &what), 2);
    assert_null(what);
    assert_string_equal(names[0], "KTR72");
    assert_string_equal(names[1], "KTR71");
    assert_int_equal(why_meant(now, "KTR72", 1, names, &what), 1);
    assert_int_equal(why_meant(now, "WWWWWW", 3, names, &what), 0);
}

/* A peak before first is raised to it; last follows it where it was raised. */
static void futures_that_were_put_in_order_are_counted(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    struct asked asked;

    add_heat_graft(fixture);
    fixture->orchard.thresholds.list[3].after_days = 1; /* last, a day after first: before peak */
    asked = ask(fixture, "2027-02-01", everything);
    season = &asked.why.seasons[0];
    assert_int_equal(event_in(season, EVENT_LAST)->raised, season->row.bloom->members);
    assert_int_equal(event_in(season, EVENT_OPENING)->raised, 0);
    assert_int_equal(event_in(season, EVENT_PEAK)->raised, 0);
}

static void looks_of_the_season_are_told_beside_the_dates_without_them(void **state)
{
    struct fixture *fixture = *state;
    const struct why_season *season;
    const struct why_event *event;
    struct asked asked;
    double weights = 0;

    add_heat_graft(fixture);
    note_on_tag(fixture, "2027-02-16", NOTE_STAGE, "A1", "2");
    asked = ask(fixture, "2027-02-16", (struct why_asked){.event = EVENT_FIRST, .season = 2027});
    season = &asked.why.seasons[0];
    event = event_in(season, EVENT_FIRST);
    assert_non_null(season->row.bloom->looks);
    assert_ptr_equal(season->plain, season->row.bloom->plain);
    for (int i = 0; i < THREE_DATES; i++)
        assert_int_equal(event->unseen[i],
                         bloom_date(season->plain, EVENT_FIRST, three_chances[i]));
    assert_true(season->row.dates[EVENT_FIRST][0] > event->unseen[0]);
    assert_true(season->member_count > 0 && season->member_count <= 12);
    for (size_t i = 0; i < season->member_count; i++) {
        weights += season->members[i].weight;
        assert_true(season->members[i].day > fixture_day("2027-02-16"));
    }
    assert_near(weights, 1, 1e-4);
    assert_int_equal(asked.why.notes[0].effect, WHY_STAGE);
}

static void what_has_come_needs_no_past_year(void **state)
{
    struct fixture *fixture = *state;
    struct asked asked;

    add_heat_graft(fixture);
    note_on_tag(fixture, "2027-02-08", NOTE_STAGE, "A1", "3");
    note_on_tag(fixture, "2027-02-12", NOTE_STAGE, "A1", "4");
    asked = ask(fixture, "2027-02-12", (struct why_asked){.event = EVENT_FIRST, .season = 2027});
    assert_int_equal(asked.why.seasons[0].member_count, 0);
    assert_true(asked.why.seasons[0].member_sd_days > 0);
}

static void looks_at_a_bag_move_its_own_dates(void **state)
{
    struct fixture *fixture = *state;
    struct why_asked how = {.event = EVENTS, .season = 2027};
    struct asked asked;
    const struct bag *bag;

    add_heat_graft(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_bag(fixture, "2027-01-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_bag(fixture, "2027-02-10", NOTE_STAGE, "A1-27-1", "4");
    asked = ask(fixture, "2027-02-12", how);
    assert_null(asked.why.seasons[0].bag_bloom);
    assert_int_equal(asked.why.notes[1].effect, WHY_BAG_STAGE);
    why_graft(asked.state, "A1-27-1", &bag);
    how.bag = bag;
    asked.why = why_of(asked.state, asked.dates, asked.why.graft, how, &fixture->arena);
    assert_ptr_equal(asked.why.seasons[0].bag_bloom,
                     dates_bag_bloom(asked.dates, asked.state, bag));
    assert_true(bloom_date(asked.why.seasons[0].bag_bloom, EVENT_FIRST, 0.5) <
                asked.why.seasons[0].row.dates[EVENT_FIRST][1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(an_event_is_walked_back_to_the_row_that_it_hangs_on),
        FIXTURE_TEST(a_selection_with_a_row_of_its_own_is_not_moved),
        FIXTURE_TEST(a_calendar_date_tells_how_the_site_moved_it_and_uses_no_past_year),
        FIXTURE_TEST(without_any_row_nothing_is_told),
        FIXTURE_TEST(the_clock_tells_heat_so_far_beside_the_usual),
        FIXTURE_TEST(members_stand_from_the_earliest_to_the_latest),
        FIXTURE_TEST(the_parts_of_the_spread_make_the_spread_that_is_used),
        FIXTURE_TEST(a_fitted_row_of_another_site_is_told_to_be_raised),
        FIXTURE_TEST(warmer_days_to_come_move_the_date_and_known_days_stay),
        FIXTURE_TEST(what_may_be_seen_next_is_told_until_it_is_over),
        FIXTURE_TEST(a_label_that_is_wrong_would_give_the_date_of_the_site),
        FIXTURE_TEST(seasons_dated_by_two_looks_are_counted),
        FIXTURE_TEST(each_note_is_told_by_what_it_did),
        FIXTURE_TEST(a_survival_note_gives_way_to_a_newer_cell),
        FIXTURE_TEST(a_graft_that_is_dead_has_no_season),
        FIXTURE_TEST(a_graft_answers_to_old_tags_and_to_its_bags),
        FIXTURE_TEST(of_a_name_that_is_no_tag_it_is_told_what_was_meant),
        FIXTURE_TEST(futures_that_were_put_in_order_are_counted),
        FIXTURE_TEST(looks_of_the_season_are_told_beside_the_dates_without_them),
        FIXTURE_TEST(what_has_come_needs_no_past_year),
        FIXTURE_TEST(looks_at_a_bag_move_its_own_dates),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
