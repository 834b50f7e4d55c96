#include "planning/grafting.h"

#include "planning/weather_fixture.h"

/*
 * Days of 7 to 13 degrees give the same heat above 37 F every day, so a share of the usual sum from
 * 17 January to 8 March is that share of 51 days (52 in leap seasons; south: 54 from 17 July to
 * 8 September).
 */
static double ten_c(int season, daynum day)
{
    (void)season;
    (void)day;
    return 10;
}

/* The same with a night of -4 on 20 February. */
static double a_cold_night_c(int season, daynum day)
{
    struct civil civil = day_to_civil(day);

    (void)season;
    return civil.month == 2 && civil.day == 20 ? -1 : 10;
}

/* The same in one season of four only. */
static double a_cold_night_at_times_c(int season, daynum day)
{
    return season % 4 == 0 ? a_cold_night_c(season, day) : 10;
}

static struct tree *add_interstock(struct fixture *fixture, const char *name, const char *site,
                                   const char *clone)
{
    struct tree *tree = add_tree(fixture, name, site);

    tree->clone = clone;
    tree->species = "slash";
    tree->uses = USE_GRAFT;
    return tree;
}

static void add_site_with(struct fixture *fixture, mean_c_function *mean_c, int last)
{
    add_weather_sites(fixture);
    add_calendar_events(fixture);
    if (mean_c != NULL)
        add_seasons(fixture, "NORD", fixture_north, 2011, last, mean_c);
    add_interstock(fixture, "T1", "Nord", "K7");
}

static struct grafting_rows rows_on(struct fixture *fixture, const char *as_of)
{
    struct dates *dates = dates_on(fixture, as_of);
    const struct state *state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);

    return grafting_of(state, dates, &fixture->arena);
}

static struct grafting_row row_on(struct fixture *fixture, const char *as_of)
{
    struct grafting_rows rows = rows_on(fixture, as_of);

    assert_int_equal(rows.count, 1);
    return rows.list[0];
}

static void start_again(void **state)
{
    fixture_teardown(state);
    fixture_setup(state);
}

static void heat_opens_and_closes_the_window(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    row = row_on(fixture, "2026-12-15");
    assert_true(row.by_heat);
    assert_int_equal(row.season, 2027);
    assert_day(row.opens[1], "2027-01-29");  /* 13 of 51 days */
    assert_day(row.closes[1], "2027-02-26"); /* 41 of 51 */
    assert_int_equal(row.basis, BASIS_BORROWED);
    assert_int_equal(row.seasons_seen, -1);
    assert_day(row.calendar_open, "2027-02-01");
    assert_day(row.calendar_close, "2027-03-10");
    assert_int_equal(row.state, GRAFTING_NOT_YET);
    /* All years alike: the spread is the nine days of dates that were not measured. */
    assert_string_equal(row.state_words, "not yet: likely to open about 29 January 2027 (between "
                                         "18 January and 10 February)");
    assert_string_equal(row.decided_words,
                        "decided by heat: 25 % and 80 % of the heat sum at the usual peak (own "
                        "choice, no source), bounded by the calendar stop of 10 March");
    assert_int_equal(row.good_days_left, 29);
    assert_int_equal(row.good_days_low, 29);
    assert_int_equal(row.good_days_high, 29);
    assert_near(row.freeze_chance, 0, 0);
    assert_null(row.caution);
    assert_true(row.chance_open < 0.001);
}

static void a_leap_season_counts_29_february(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    row = row_on(fixture, "2027-07-01");
    assert_int_equal(row.season, 2028);
    assert_day(row.opens[1], "2028-01-29");  /* 13 of 52 days */
    assert_day(row.closes[1], "2028-02-27"); /* 42 of 52 */
}

static void the_south_grafts_in_its_own_winter(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    add_seasons(fixture, "SYD", fixture_south, 2011, 2026, ten_c);
    add_interstock(fixture, "T1", "Syd", "K7");
    row = row_on(fixture, "2027-05-15");
    assert_int_equal(row.season, 2027);
    assert_day(row.opens[1], "2027-07-30");  /* 14 of 54 days */
    assert_day(row.closes[1], "2027-08-29"); /* 44 of 54 */
    assert_day(row.calendar_open, "2027-08-01");
    assert_day(row.calendar_close, "2027-09-10");
    assert_int_equal(row.good_days_left, 31);
    assert_int_equal(row.state, GRAFTING_NOT_YET);
}

static void the_state_follows_the_middle_dates(void **state)
{
    static const struct {
        const char *as_of;
        enum grafting_state state;
        int season, good_days;
    } cases[] = {
        {"2027-01-28", GRAFTING_NOT_YET, 2027, 29}, {"2027-01-29", GRAFTING_OPEN, 2027, 29},
        {"2027-02-10", GRAFTING_OPEN, 2027, 17},    {"2027-02-26", GRAFTING_OPEN, 2027, 1},
        {"2027-02-27", GRAFTING_CLOSED, 2027, 0},   {"2027-05-27", GRAFTING_CLOSED, 2027, 0},
        {"2027-05-28", GRAFTING_NOT_YET, 2028, 30}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;
        struct grafting_row row;

        start_again(state);
        add_site_with(fixture, ten_c, 2027);
        row = row_on(fixture, cases[i].as_of);
        assert_int_equal(row.state, cases[i].state);
        assert_int_equal(row.season, cases[i].season);
        assert_int_equal(row.good_days_left, cases[i].good_days);
        assert_int_equal(isnan(row.freeze_chance) != 0, row.state == GRAFTING_CLOSED);
    }
}

static void open_is_as_likely_as_opened_less_closed(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;
    struct conetide_shifts shifts;
    int32_t open = fixture_day("2027-01-29"), close = fixture_day("2027-02-26");
    int32_t as_of = fixture_day("2027-02-20");

    add_site_with(fixture, ten_c, 2027);
    row = row_on(fixture, "2027-02-20");
    assert_int_equal(conetide_shifts_of(9, &shifts), CONETIDE_OK);
    assert_near(row.chance_open,
                conetide_shift_cumulative(&shifts, as_of - open) -
                    conetide_shift_cumulative(&shifts, as_of - 1 - close),
                1e-12);
    assert_true(row.chance_open > 0.7 && row.chance_open < 0.8);
}

/* The three nights before it, and its own day, which is too cold: 17 to 20 February. */
static void days_before_a_cold_night_are_not_good(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, a_cold_night_c, 2027);
    row = row_on(fixture, "2026-12-15");
    assert_day(row.opens[1], "2027-01-29");
    assert_day(row.closes[1], "2027-02-26");
    assert_int_equal(row.good_days_left, 29 - 4);
    assert_near(row.freeze_chance, 1, 0);

    start_again(state);
    add_site_with(fixture, a_cold_night_c, 2027);
    row = row_on(fixture, "2027-02-16");
    assert_int_equal(row.good_days_left, 11 - 4);
    assert_near(row.freeze_chance, 1, 0);
    assert_null(row.caution);

    start_again(state);
    add_site_with(fixture, a_cold_night_c, 2027);
    row = row_on(fixture, "2027-02-20"); /* it has frozen already, before grafting today */
    assert_near(row.freeze_chance, 0, 0);
    assert_string_equal(row.caution, "too cold a night for fresh grafts on 20 February 2027");

    start_again(state);
    add_site_with(fixture, a_cold_night_c, 2027);
    assert_non_null(row_on(fixture, "2027-02-22").caution);

    start_again(state);
    add_site_with(fixture, a_cold_night_c, 2027);
    assert_null(row_on(fixture, "2027-02-23").caution);
}

/* A night is over when its day comes. */
static void the_night_that_has_passed_spoils_no_day(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;

    add_site_with(fixture, ten_c, 2026);
    record = fixture->orchard.records.list;
    for (size_t i = 0; i < record->count; i++) {
        struct civil civil = day_to_civil(record->first_day + (daynum)i);

        if (civil.month == 2 && civil.day == 20)
            record->tmin_c[i] = -4;
    }
    assert_int_equal(row_on(fixture, "2026-12-15").good_days_left, 29 - 3);
}

static void the_freeze_chance_is_the_share_of_past_years(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, a_cold_night_at_times_c, 2026);
    row = row_on(fixture, "2026-12-15"); /* of 2011 to 2026: 2012, 2016, 2020, 2024 */
    assert_near(row.freeze_chance, 0.25, 1e-12);
    assert_int_equal(row.good_days_left, 29);
    assert_int_equal(row.good_days_low, 26);   /* 29 less 4, and closing a day later */
    fixture->orchard.program.freeze_days = 21; /* 30 January to 19 February */
    row = grafting_of(state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
                      dates_new(&fixture->orchard, &fixture->arena), &fixture->arena)
              .list[0];
    assert_near(row.freeze_chance, 0, 0);
}

static void days_too_warm_or_too_cool_are_not_good(void **state)
{
    struct fixture *fixture = *state;

    add_site_with(fixture, ten_c, 2026);
    fixture->orchard.program.graft_day_high_c = 13; /* as warm as it gets, and no more */
    assert_int_equal(row_on(fixture, "2026-12-15").good_days_left, 29);

    start_again(state);
    add_site_with(fixture, ten_c, 2027);
    fixture->orchard.program.graft_day_high_c = 12.9;
    assert_int_equal(row_on(fixture, "2027-02-10").good_days_left, 0);

    start_again(state);
    add_site_with(fixture, ten_c, 2027);
    fixture->orchard.program.graft_day_high_c = 12.9;
    assert_string_equal(row_on(fixture, "2027-02-10").caution,
                        "too hot a day for grafting on 10 February 2027");

    start_again(state);
    add_site_with(fixture, ten_c, 2026);
    fixture->orchard.program.graft_day_low_c = 13.1;
    assert_int_equal(row_on(fixture, "2026-12-15").good_days_left, 0);
}

static void without_weather_the_calendar_decides(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, NULL, 0);
    row = row_on(fixture, "2027-02-20");
    assert_false(row.by_heat);
    assert_int_equal(row.basis, BASIS_CALENDAR);
    assert_day(row.opens[1], "2027-02-01");
    assert_day(row.closes[1], "2027-03-10");
    assert_day(row.closes[0], "2027-02-26"); /* 9 days of spread: 12 to 10 % and to 90 % */
    assert_day(row.closes[2], "2027-03-22");
    assert_string_equal(row.state_words, "open since about 1 February 2027; likely to close about "
                                         "10 March (between 26 February and 22 March)");
    assert_int_equal(row.good_days_left, -1);
    assert_true(isnan(row.freeze_chance) != 0);
    assert_string_equal(row.caution, "no weather of this site: calendar date");
}

static void too_few_years_fall_to_the_calendar(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2018, 2026, ten_c);
    add_interstock(fixture, "T1", "Nord", "K7");
    row = row_on(fixture, "2026-12-15");
    assert_false(row.by_heat);
    assert_string_equal(row.caution, "9 past years only: calendar date");
    assert_int_equal(row.good_days_left, -1);
}

static void the_window_moves_with_latitude_where_the_calendar_decides(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, NULL, 0);
    fixture->orchard.sites.list[0].latitude = 34.2;
    row = row_on(fixture, "2027-01-10");
    assert_day(row.opens[1], "2027-02-09");
    assert_day(row.calendar_close, "2027-03-18");
}

static void fitted_rows_of_the_clone_go_first(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *row;
    struct grafting_rows rows;

    add_site_with(fixture, ten_c, 2026);
    add_interstock(fixture, "T2", "Nord", "K8");
    row = add_sum(fixture, EVENT_GRAFT_OPEN, "flat", 400); /* 10 a day: 9 February */
    row->selection_name = "K7";
    row->seasons_seen = 6;
    row->residual_days = 3;
    row = add_sum(fixture, EVENT_GRAFT_CLOSE, "flat", 600); /* 1 March */
    row->selection_name = "K7";
    row->seasons_seen = 4;
    rows = rows_on(fixture, "2026-12-15");
    assert_int_equal(rows.count, 2);
    assert_day(rows.list[0].opens[1], "2027-02-09");
    assert_day(rows.list[0].opens[0], "2027-02-05"); /* 3 days of residual */
    assert_day(rows.list[0].closes[1], "2027-03-01");
    assert_int_equal(rows.list[0].basis, BASIS_FITTED_HERE);
    assert_int_equal(rows.list[0].seasons_seen, 4);
    assert_day(rows.list[1].opens[1], "2027-01-29");
    assert_int_equal(rows.list[1].basis, BASIS_BORROWED);
}

static void the_calendar_bounds_what_heat_says(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    add_sum(fixture, EVENT_GRAFT_OPEN, "flat", 10);     /* 1 January */
    add_sum(fixture, EVENT_GRAFT_CLOSE, "flat", 99999); /* never */
    row = row_on(fixture, "2026-12-15");
    for (int i = 0; i < THREE_DATES; i++)
        assert_day(row.closes[i], "2027-03-10");
    assert_day(row.opens[0], "2027-01-18"); /* 1 February - 14 */
    assert_day(row.opens[2], "2027-01-18");
    assert_int_equal(row.good_days_left, 52);
    assert_string_equal(row.decided_words,
                        "decided by heat, bounded by the calendar stop of 10 March");
}

/* Heat alone closes on 7 March with 2.5 days of residual: the stop cuts the later futures. */
static void the_stop_holds_in_every_future(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2027);
    add_sum(fixture, EVENT_GRAFT_CLOSE, "flat", 660)->selection_name = "K7";
    row = row_on(fixture, "2027-03-01");
    assert_day(row.closes[0], "2027-03-04");
    assert_day(row.closes[1], "2027-03-07");
    assert_day(row.closes[2], "2027-03-10");
    assert_string_equal(row.decided_words,
                        "decided by heat: opens at 25 % of the heat sum at the usual peak (own "
                        "choice, no source), bounded by the calendar stop of 10 March");
    start_again(state);
    add_site_with(*state, ten_c, 2027);
    add_sum(*state, EVENT_GRAFT_CLOSE, "flat", 660)->selection_name = "K7";
    row = row_on(*state, "2027-03-11");
    assert_int_equal(row.state, GRAFTING_CLOSED);
    assert_near(row.chance_open, 0, 0);
}

static void heat_that_never_comes_gives_no_date(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    add_sum(fixture, EVENT_GRAFT_OPEN, "flat", 99999);
    row = row_on(fixture, "2026-12-15");
    assert_int_equal(row.state, GRAFTING_NO_DATE);
    assert_int_equal(row.opens[1], DAY_NEVER);
    assert_int_equal(row.good_days_left, 0);
    assert_near(row.chance_open, 0, 0);
    assert_true(isnan(row.freeze_chance) != 0);
}

static void a_calendar_row_of_the_folder_moves_the_bound(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    add_calendar(fixture, EVENT_GRAFT_CLOSE, 2, 5);
    row = row_on(fixture, "2026-12-15");
    assert_day(row.calendar_close, "2027-02-05");
    assert_day(row.closes[1], "2027-02-05"); /* heat has 26 February */

    /* It does so, too, where a fitted row of the clone tells more of heat. */
    start_again(state);
    fixture = *state;
    add_site_with(fixture, ten_c, 2026);
    add_calendar(fixture, EVENT_GRAFT_CLOSE, 3, 20)->species = "slash";
    add_calendar(fixture, EVENT_GRAFT_CLOSE, 2, 5)->species = "loblolly";
    add_sum(fixture, EVENT_GRAFT_CLOSE, "flat", 99999)->selection_name = "K7";
    row = row_on(fixture, "2026-12-15");
    assert_day(row.calendar_close, "2027-03-20");
    assert_day(row.closes[1], "2027-03-20");
}

/* A date of one's own is no bound but the date itself. */
static void a_fitted_calendar_row_is_the_date(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;
    struct threshold *close;

    add_site_with(fixture, ten_c, 2026);
    close = add_calendar(fixture, EVENT_GRAFT_CLOSE, 3, 20);
    close->basis = BASIS_FITTED_HERE;
    row = row_on(fixture, "2026-12-15");
    assert_day(row.closes[1], "2027-03-20");
    assert_true(row.closes[2] > row.closes[1]);
    assert_string_equal(row.decided_words,
                        "opening decided by heat: opens at 25 % of the heat sum at the usual peak "
                        "(own choice, no source), closing by the calendar of 20 March");
}

/* The fitted peak of what is grafted lies on 9 April; the interstock's own is not known better than
 * by the calendar. */
static void shares_are_of_the_peak_of_what_is_grafted(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_row row;

    add_site_with(fixture, ten_c, 2026);
    fixture->orchard.program.graft_calendar_close = (struct month_day){4, 30};
    add_sum(fixture, EVENT_PEAK, "flat", 990)->species = "shortleaf";
    add_selection(fixture, "S1", NULL, NULL)->species = "shortleaf";
    add_graft(fixture, "A1", "S1", "T1");
    row = row_on(fixture, "2026-12-15");
    assert_int_equal(row.basis, BASIS_BORROWED);
    assert_day(row.opens[1], "2027-02-06");  /* 21 of 83 days from 17 January to 9 April */
    assert_day(row.closes[1], "2027-03-24"); /* 67 of 83 */
}

static void sound_trees_for_grafting_are_counted_by_site_and_clone(void **state)
{
    struct fixture *fixture = *state;
    struct grafting_rows rows;
    struct tree *tree;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    tree = add_interstock(fixture, "T1", "Nord", "K9");
    tree->places[CROWN_TOP] = 4;
    tree->places[CROWN_LOW] = 0;
    tree = add_interstock(fixture, "T2", "Nord", "K9");
    tree->places[CROWN_TOP] = 3;
    tree->health = HEALTH_SOUND;
    tree = add_interstock(fixture, "T3", "Nord", "K9");
    tree->places[CROWN_TOP] = 9;
    tree->health = HEALTH_WEAK;
    add_interstock(fixture, "T4", "Nord", "K9")->health = HEALTH_DEAD;
    add_interstock(fixture, "T5", "Nord", NULL);
    add_interstock(fixture, "T6", "Nord", "K1");
    add_interstock(fixture, "T7", "Nord", "K3")->uses = USE_POLLEN | USE_SCIONS;
    add_interstock(fixture, "T8", "Syd", "K9");
    add_graft(fixture, "A1", "S1", "T1")->crown = CROWN_TOP;
    rows = rows_on(fixture, "2027-02-20");
    assert_int_equal(rows.count, 4);
    assert_string_equal(rows.list[0].clone, "K1");
    assert_int_equal(rows.list[0].trees, 1);
    assert_int_equal(rows.list[0].free_places, -1);
    assert_string_equal(rows.list[1].clone, "K9");
    assert_int_equal(rows.list[1].trees, 2);
    assert_int_equal(rows.list[1].free_places, 4 + 3 - 1);
    assert_null(rows.list[2].clone);
    assert_string_equal(rows.list[3].site->name, "Syd");
}

static void no_interstock_gives_no_row(void **state)
{
    struct fixture *fixture = *state;

    add_weather_sites(fixture);
    assert_int_equal(rows_on(fixture, "2027-02-20").count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(heat_opens_and_closes_the_window),
        FIXTURE_TEST(a_leap_season_counts_29_february),
        FIXTURE_TEST(the_south_grafts_in_its_own_winter),
        FIXTURE_TEST(the_state_follows_the_middle_dates),
        FIXTURE_TEST(open_is_as_likely_as_opened_less_closed),
        FIXTURE_TEST(days_before_a_cold_night_are_not_good),
        FIXTURE_TEST(the_night_that_has_passed_spoils_no_day),
        FIXTURE_TEST(the_freeze_chance_is_the_share_of_past_years),
        FIXTURE_TEST(days_too_warm_or_too_cool_are_not_good),
        FIXTURE_TEST(without_weather_the_calendar_decides),
        FIXTURE_TEST(too_few_years_fall_to_the_calendar),
        FIXTURE_TEST(the_window_moves_with_latitude_where_the_calendar_decides),
        FIXTURE_TEST(fitted_rows_of_the_clone_go_first),
        FIXTURE_TEST(the_calendar_bounds_what_heat_says),
        FIXTURE_TEST(the_stop_holds_in_every_future),
        FIXTURE_TEST(heat_that_never_comes_gives_no_date),
        FIXTURE_TEST(a_calendar_row_of_the_folder_moves_the_bound),
        FIXTURE_TEST(a_fitted_calendar_row_is_the_date),
        FIXTURE_TEST(shares_are_of_the_peak_of_what_is_grafted),
        FIXTURE_TEST(sound_trees_for_grafting_are_counted_by_site_and_clone),
        FIXTURE_TEST(no_interstock_gives_no_row),
    };
    return cmocka_run_group_tests_name("grafting", tests, NULL, NULL) != 0;
}
