#include "planning/weather_fixture.h"
#include "planning/why.h"
#include "writing/pages.h"

/* A graft A1 of S1 on T1 at Nord: first at 300 heat units by a clock that means the whole day,
 * opening and last by days from it; twelve past springs. */
static struct graft *add_told_graft(struct fixture *fixture)
{
    struct threshold *row;
    struct graft *graft;

    add_weather_sites(fixture);
    add_tree(fixture, "T1", "Nord")->species = "slash";
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    row = add_sum(fixture, EVENT_FIRST, "flat", 300);
    row->residual_days = 2;
    row->spread_days = 1.5;
    row->clone_spread_days = 4;
    row->seasons_seen = 1;
    add_after(fixture, EVENT_OPENING, EVENT_FIRST, -5);
    add_after(fixture, EVENT_LAST, EVENT_FIRST, 6)->residual_days = 1;
    add_seasons(fixture, "NORD", fixture_north, 2015, 2027, by_turns_c);
    graft = add_graft(fixture, "A1", "S1", "T1");
    graft->grafted_on = fixture_day("2026-02-10");
    return graft;
}

struct asked_page {
    enum event event;
    bool units_us;
};

/* The page as one line a fact. */
static const char *page(struct fixture *fixture, const char *as_of, struct asked_page how)
{
    struct dates *dates = dates_on(fixture, as_of);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    struct page_run run = {.orchard = &fixture->orchard,
                           .as_of = fixture_day(as_of),
                           .units_us = how.units_us,
                           .dates = dates,
                           .arena = &fixture->arena};
    struct sheet_style style = {.digits = -1};
    struct why_asked asked = {.event = how.event};
    const struct graft_state *graft;
    struct text out;
    struct sheet sheet;
    struct why why;

    graft = why_graft(state, "A1", &asked.bag);
    if (graft == NULL)
        graft = why_graft(state, "A1-27-1", &asked.bag);
    why = why_of(state, dates, graft, asked, &fixture->arena);
    sheet = why_sheet(&why, &run);
    text_init(&out, &fixture->arena);
    sheet_write_text(&sheet, style, &out);
    sheet_write_csv(&sheet, style, &out);
    return out.bytes;
}

static const struct asked_page whole = {.event = EVENTS};

#define assert_says(page, words)                                                                   \
    do {                                                                                           \
        if (strstr((page), (words)) == NULL)                                                       \
            fail_msg("'%s' is not in:\n%s", (words), (page));                                      \
    } while (0)

#define assert_does_not_say(page, words)                                                           \
    do {                                                                                           \
        if (strstr((page), (words)) != NULL)                                                       \
            fail_msg("'%s' is in:\n%s", (words), (page));                                          \
    } while (0)

static void again(void **state)
{
    fixture_teardown(state);
    fixture_setup(state);
}

static void every_date_is_walked_back_in_words(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "Why these dates: A1\nAs of Mon 1 Feb 2027; weather observed: NORD to");
    assert_says(got, "2027, its first spring: days at 10, 50, 90 %");
    assert_says(got, "flat: degree-days C above 0.0 C by the mean of the extremes all day, counted "
                     "from 1 Jan for 240 days (program.json:1)");
    assert_says(got, "192.0 on Mon 1 Feb 2027; usual on that day");
    assert_says(got, "5 days before first (thresholds.csv:");
    assert_says(got, "heat 300.0, 108.0 to go (thresholds.csv:");
    assert_says(got, "6 days after first");
    assert_says(got, "4 days after last; errs by 1.0 days of its own");
    assert_says(got, "fitted here, 1 season seen");
    assert_says(got, "12 springs of weather as futures, 2015 to 2026");
    assert_says(got, "first comes earliest if the weather goes on like 20");
    assert_says(got, "(2.0 the rule itself, 4.0 between selections, this one having no row of its "
                     "own, 1.5 between grafts of one selection)");
    assert_says(got, "of the same rows, clock and spread as 2027");
    assert_says(got, "none counted yet: until Sat 1 Jan 2028");
    assert_says(got, "by 1 C on 2-15 Feb: first comes ");
    assert_says(got, "none about this graft");
    assert_says(got, "dates,2027,date,first,2027-0");
    assert_says(got, "needs,2027,needs,closed,,,,4.000,days,after last,,\n");
}

static void words_are_in_the_units_that_people_read(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    add_batch(fixture, "B1", "S1", "2026-01-20")->store_c = 3;
    fixture->orchard.grafts.list[0].batch_name = "B1";
    fixture->orchard.batches.list[0].source_tree_name = "T1";
    got = page(fixture, "2027-02-01", (struct asked_page){.event = EVENT_FIRST, .units_us = true});
    assert_says(got, "degree-days F above 32.0 F");
    assert_says(got, "heat 540.0, 194.4 to go");
    assert_says(got, "kept at 37.4 F");
    assert_says(got, "from tree T1");
    assert_says(got, "by 1.8 F on ");
    assert_says(got, "200 ft");
    assert_does_not_say(got, "\nopening");
}

static void what_is_reached_has_nothing_to_go(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    got = page(fixture, "2027-02-25", (struct asked_page){.event = EVENT_FIRST});
    assert_says(got, "heat 300.0, reached");
}

static void a_spring_that_is_over_says_so_and_nothing_moves_it(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    got = page(fixture, "2027-06-20", whole);
    assert_says(got, "the last receptive day is past in every future");
    assert_does_not_say(got, "What would move the dates of 2027");
    assert_says(got, "What would move the dates of 2028");
}

static void the_newest_word_on_the_label_is_told(void **state)
{
    static const struct {
        enum identity identity;
        const char *on, *how, *says;
    } cases[] = {
        {IDENTITY_UNCHECKED, NULL, NULL, "label        never checked (grafts.csv"},
        {IDENTITY_CHECKED, "2026-05-01", "genotype",
         "label        checked Fri 1 May 2026, genotype (grafts.csv"},
        {IDENTITY_DISPUTED, "2026-05-01", NULL, "disputed Fri 1 May 2026"},
        {IDENTITY_WRONG, NULL, NULL, "known to be wrong"},
    };

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct graft *graft;

        again(state);
        graft = add_told_graft(*state);
        graft->identity = cases[i].identity;
        graft->identity_how = cases[i].how;
        if (cases[i].on != NULL)
            graft->identity_on = fixture_day(cases[i].on);
        assert_says(page(*state, "2027-02-01", whole), cases[i].says);
    }
    again(state);
    add_told_graft(*state);
    note_on_tag(*state, "2026-09-01", NOTE_VERIFIED, "A1", "by eye");
    assert_says(page(*state, "2027-02-01", whole), "checked Tue 1 Sep 2026, by eye (notes.csv:");
    again(state);
    add_told_graft(*state);
    note_on_tag(*state, "2026-09-01", NOTE_RELABELLED, "A1", "S2");
    assert_says(page(*state, "2027-02-01", whole),
                "relabelled Tue 1 Sep 2026: it is S2, not S1 (notes.csv:");
    again(state);
    add_told_graft(*state);
    note_on_tag(*state, "2026-09-01", NOTE_RELABELLED, "A1", "unknown");
    assert_says(page(*state, "2027-02-01", whole),
                "unknown: dates are those of the site in general");
}

static void a_scion_of_a_relabelled_tree_says_which_tree(void **state)
{
    struct fixture *fixture = *state;
    struct note *note;
    const char *got;

    add_told_graft(fixture);
    add_batch(fixture, "B1", "S1", "2026-01-20")->source_tree_name = "T2";
    add_tree(fixture, "T2", "Nord");
    fixture->orchard.grafts.list[0].batch_name = "B1";
    note = add_note(fixture, "2026-09-01", NOTE_RELABELLED, "S2");
    note->tree = "T2";
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "it is S2, not S1, being cut from tree T2 (notes.csv:");
}

static void chance_and_strobili_name_their_rows(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    add_rate(fixture, "survival", 58, 2)->season_number = 1;
    add_rate(fixture, "survival", 50, 2)->season_number = 2;
    add_rate(fixture, "strobili_per_live_graft", 5, 0);
    got = page(fixture, "2026-11-01", whole);
    assert_says(got, "58 %: nobody looked yet; share of grafts made that live in their first "
                     "spring, 0.58 (rates.csv:");
    assert_says(got, "that live in their second spring, 0.5 (rates.csv:");
    assert_says(got, "about 5 expected of a live graft, none counted yet (rates.csv:");

    again(state);
    fixture = *state;
    add_told_graft(fixture);
    add_rate(fixture, "survival", 58, 2)->season_number = 1;
    add_rate(fixture, "survival", 50, 2)->season_number = 2;
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "doubtful");
    note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, "A1", "0");
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, ": half, being doubtful since Fri 1 May 2026; a year leaves second-spring "
                     "survival 0.5 (rates.csv:");
    assert_says(got, ", 2 times");
    assert_says(got, "0 counted Wed 20 Jan 2027 (notes.csv:");
    assert_says(got, "no rate tells how many to expect");
    assert_says(got, "doubtful since Fri 1 May 2026 (notes.csv:");
}

static void a_dead_graft_has_no_dates_and_says_so(void **state)
{
    struct graft *graft = add_told_graft(*state);
    const char *got;

    graft->condition = CONDITION_DEAD;
    graft->condition_on = fixture_day("2026-11-02");
    got = page(*state, "2027-02-01", whole);
    assert_says(got, "As of Mon 1 Feb 2027\n");
    assert_says(got, "dead since Mon 2 Nov 2026 (grafts.csv:");
    assert_says(got, ": it has no dates");

    again(state);
    add_told_graft(*state);
    assert_says(page(*state, "2028-07-01", whole), "both of its springs are over");
    again(state);
    add_told_graft(*state)->grafted_on = DAY_NONE;
    assert_says(page(*state, "2027-02-01", whole), "day not told, so its springs are not known");
}

static void borrowed_dates_are_raised_and_a_cut_off_is_told(void **state)
{
    struct fixture *fixture = *state;
    struct clock *clock;
    const char *got;

    add_told_graft(fixture);
    fixture->orchard.thresholds.list[0].basis = BASIS_BORROWED;
    fixture->orchard.thresholds.list[0].per_day_c = -1;
    clock = &fixture->orchard.program.clocks[fixture->orchard.program.clock_count - 2];
    clock->rule.cutoff = CONETIDE_CUTOFF_HORIZONTAL;
    clock->rule.upper = 30;
    clock->place.file = NULL;
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "Nord 2027: borrowed dates, not measured here; scout from");
    assert_says(got, "raised so that a borrowed date never claims less than 9 days in all");
    assert_says(got, "heat 300.0 less 1.0 a day of the year (thresholds.csv:");
    assert_says(got, ", horizontal cut-off at 30.0 C, counted from 1 Jan for 240 days (shipped)");
}

static void rows_of_several_origins_tell_theirs_each(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *row;
    const char *got;

    add_told_graft(fixture);
    fixture->orchard.selections.list[0].days_late = -2;
    row = add_sum(fixture, EVENT_PEAK, "sine-37f", 90);
    row->selection_name = "S1";
    row->seasons_seen = 2;
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, " by flat, ");
    assert_says(got, " by sine-37f, ");
    assert_says(got, "; fitted here, for this selection, 2 seasons seen");
    assert_says(got, "; fitted here, 1 season seen; 2 days earlier for this selection (selections");
    assert_says(got, "needs,2027,days late of the selection,first,,,,-2.000,days,,selections.csv,");
}

static void calendar_dates_are_told_with_the_shift_of_the_site(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_weather_sites(fixture);
    fixture->orchard.sites.list[0].latitude = 31.2;
    add_calendar_events(fixture);
    add_tree(fixture, "T1", "Nord");
    add_selection(fixture, "S1", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1")->crown = CROWN_TOP;
    fixture->orchard.grafts.list[0].branch = "T4";
    got = page(fixture, "2026-11-01", whole);
    assert_says(got, "8 Mar at 32.2 N, 61 m, 4 days earlier here by latitude and elevation");
    assert_says(got, "top of the crown, branch T4");
    assert_says(got, "NORD; no weather of it");
    assert_says(got, "none; these dates do not use them");
    assert_does_not_say(got, "usual ");
    assert_says(got, "needs,2027,calendar shift of the site,first,,,,-4.000,days,,sites.csv,");
}

static void without_thresholds_no_date_is_made_up(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_weather_sites(fixture);
    add_tree(fixture, "T1", "Nord");
    add_selection(fixture, "S1", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1");
    got = page(fixture, "2026-11-01", whole);
    assert_says(got, "no row of thresholds.csv tells any of its events");
    assert_does_not_say(got, "What would move");
}

static void gaps_and_years_left_out_are_named(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    daynum from;
    const char *got;

    add_told_graft(fixture);
    record = &fixture->orchard.records.list[0];
    from = fixture_day("2020-01-05");
    for (int i = 0; i < 60; i++)
        record->tmin_c[from - record->first_day + i] = (double)NAN;
    from = fixture_day("2027-01-10");
    for (int i = 0; i < 15; i++)
        record->tmax_c[from - record->first_day + i] = (double)NAN;
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "; left out 2020 (a gap of 60 days)");
    assert_says(got, "15 days of 2027 lent by each past year");
    assert_says(got, " to ");
    assert_says(got, "needs,2027,left out,,,,,2020.000,year,,,\n");
}

static void a_bag_is_told_with_its_graft(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_bag(fixture, "2027-01-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    note_on_tag(fixture, "2027-01-25", NOTE_RETAGGED, "A1", "B7");
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "Why these dates: B7");
    assert_says(got, "Mon 25 Jan 2027: B7; it carries this tag since (notes.csv:");
    assert_says(got, "1 note of bags, harvest or work done, which move no date");
}

static void a_bag_that_was_asked_for_is_described(void **state)
{
    struct fixture *fixture = *state;
    const struct graft_state *graft;
    const struct bag *bag;
    const struct state *now;
    struct dates *dates;
    struct why why;
    struct sheet sheet;
    struct text out;

    add_told_graft(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    note_on_bag(fixture, "2027-01-20", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
    dates = dates_on(fixture, "2027-02-01");
    now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    graft = why_graft(now, "A1-27-1", &bag);
    why = why_of(now, dates, graft, (struct why_asked){.event = EVENTS, .season = 2027, .bag = bag},
                 &fixture->arena);
    sheet = why_sheet(&why, &(struct page_run){.orchard = &fixture->orchard,
                                               .as_of = fixture_day("2027-02-01"),
                                               .dates = dates,
                                               .arena = &fixture->arena});
    text_init(&out, &fixture->arena);
    sheet_write_text(&sheet, (struct sheet_style){.digits = -1}, &out);
    assert_says(out.bytes, "A1-27-1, hung Wed 20 Jan 2027, clean by what was noted, 3 strobili "
                           "inside, for C1 (crosses.csv:");
    assert_does_not_say(out.bytes, "2028, its second spring");
}

static void a_station_of_its_own_row_tells_how_much_higher_the_site_lies(void **state)
{
    struct station station = {.name = "NORD", .latitude = -31, .reads_morning = true};
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    station.place = (struct place){"my/folder/stations.csv", 3, 0};
    station.elevation_m = 160.96;
    station.longitude = station.utc_offset_h = (double)NAN;
    station.tmin_lapse_c_per_km = station.tmax_lapse_c_per_km = (double)NAN;
    for (int i = 0; i < 2; i++) {
        *FIXTURE_PUSH(fixture, stations) = station;
        station.name = "SYD";
    }
    got = page(fixture, "2027-02-01", whole);
    assert_says(got, "NORD, 31.0 S, 161 m, the site lies 100 m lower, read in the morning "
                     "(stations.csv:3)");
}

static void what_was_seen_is_told_with_what_it_left(void **state)
{
    struct fixture *fixture = *state;
    const char *got;

    add_told_graft(fixture);
    note_on_tag(fixture, "2027-02-13", NOTE_STAGE, "A1", "2");
    note_on_tag(fixture, "2027-02-16", NOTE_STAGE, "A1", "3");
    got = page(fixture, "2027-02-16", whole);
    assert_says(got, "opening came after 13 Feb and by 16 Feb\n");
    assert_says(got, "first had not come by 16 Feb\n");
    assert_says(got, "without these looks first stood at ");
    assert_says(got, " % of the futures agree with what was seen, the others are dropped\n");
    assert_says(got, "before what was seen: between past years");
    assert_says(got, "dates,2027,date without looks,closed,2027-");

    again(state);
    fixture = *state;
    add_told_graft(fixture);
    note_on_tag(fixture, "2027-01-20", NOTE_STAGE, "A1", "4");
    got = page(fixture, "2027-01-21", whole);
    assert_says(got, "opening had come by the first look, 20 Jan\n");
    assert_says(got, "these are so few that the looks alone tell when it came");
    assert_does_not_say(got, "which years  first comes");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(every_date_is_walked_back_in_words),
        FIXTURE_TEST(words_are_in_the_units_that_people_read),
        FIXTURE_TEST(what_is_reached_has_nothing_to_go),
        FIXTURE_TEST(a_spring_that_is_over_says_so_and_nothing_moves_it),
        FIXTURE_TEST(the_newest_word_on_the_label_is_told),
        FIXTURE_TEST(a_scion_of_a_relabelled_tree_says_which_tree),
        FIXTURE_TEST(chance_and_strobili_name_their_rows),
        FIXTURE_TEST(a_dead_graft_has_no_dates_and_says_so),
        FIXTURE_TEST(borrowed_dates_are_raised_and_a_cut_off_is_told),
        FIXTURE_TEST(rows_of_several_origins_tell_theirs_each),
        FIXTURE_TEST(calendar_dates_are_told_with_the_shift_of_the_site),
        FIXTURE_TEST(without_thresholds_no_date_is_made_up),
        FIXTURE_TEST(gaps_and_years_left_out_are_named),
        FIXTURE_TEST(a_bag_is_told_with_its_graft),
        FIXTURE_TEST(what_was_seen_is_told_with_what_it_left),
        FIXTURE_TEST(a_bag_that_was_asked_for_is_described),
        FIXTURE_TEST(a_station_of_its_own_row_tells_how_much_higher_the_site_lies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
