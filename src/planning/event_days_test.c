#include "planning/event_days.h"

#include "planning/weather_fixture.h"

static struct event_table table_of(struct fixture *fixture, const char *site,
                                   const struct selection *selection, int season)
{
    struct season_heat *heat = ARENA_NEW(&fixture->arena, struct season_heat);
    struct event_maker maker;
    struct event_subject subject = {
        .site = orchard_site(&fixture->orchard, site), .selection = selection, .season = season};

    season_heat_init(heat, &fixture->orchard, &fixture->arena);
    event_maker_init(&maker, heat);
    return event_days_of(&maker, &subject);
}

static void heat_of_five_a_day_gives_exact_dates(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "flat", 300)->basis = BASIS_FITTED_HERE;
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);

    assert_int_equal(table.members, 16);
    assert_true(table.by_weather);
    for (size_t m = 0; m < table.members; m++) {
        /* 300 by 4, 5 or 6 a day: the 75th, 60th or 50th day of the year. */
        static const int nth[] = {75, 60, 50};

        assert_int_equal(table.event[EVENT_PEAK].days[m],
                         fixture_day("2026-12-31") + nth[table.weather->member_season[m] % 3]);
    }
    assert_int_equal(table.event[EVENT_OPENING].members, 0);
    assert_null(table.remark);
}

/* 29 February counts in a leap season, with the 28th again where a member has none. */
static void leap_seasons_count_their_own_days(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2028);
    for (size_t m = 0; m < table.members; m++) {
        static const char *const days[] = {"2028-03-15", "2028-02-29", "2028-02-19"};

        assert_day(table.event[EVENT_PEAK].days[m], days[table.weather->member_season[m] % 3]);
    }
}

static void days_known_count_before_those_of_the_member(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2027, by_turns_c); /* 2027: 6 a day */
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    (void)dates_on(fixture, "2027-01-20");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.weather->known, 184 + 20);
    assert_int_equal(table.members, 16);
    for (size_t m = 0; m < table.members; m++) {
        /* 20 days of 6 leave 180: 45, 36 or 30 days of 4, 5 or 6. */
        static const int left[] = {45, 36, 30};

        assert_int_equal(table.event[EVENT_PEAK].days[m],
                         fixture_day("2027-01-20") + left[table.weather->member_season[m] % 3]);
    }
}

static double six_after_winter_c(int season, daynum day)
{
    return day_of_year(day) <= 45 ? 0 : 4 + season % 3;
}

/* A gap of known days too long for a line: each member counts its own heat in it. */
static void a_long_gap_is_lent_by_each_member(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct event_table table;
    size_t from;

    add_weather_sites(fixture);
    record = add_seasons(fixture, "NORD", fixture_north, 2011, 2027, by_turns_c);
    from = (size_t)(fixture_day("2027-01-11") - record->first_day);
    for (size_t i = from; i < from + 10; i++)
        record->tmin_c[i] = record->tmax_c[i] = NAN;
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    (void)dates_on(fixture, "2027-01-25");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.weather->lent_days, 10);
    for (size_t m = 0; m < table.members; m++) {
        int heat = 4 + table.weather->member_season[m] % 3;
        int left = 300 - 15 * 6 - 10 * heat;

        assert_int_equal(table.event[EVENT_PEAK].days[m],
                         fixture_day("2027-01-25") + (left + heat - 1) / heat);
    }
}

/* The south counts from July and says 1 July where the north says 1 January. */
static void the_south_is_the_north_six_months_on(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *row;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "SYD", fixture_south, 2011, 2026, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "flat-south", 300);
    row = add_sum(fixture, EVENT_SHED_PEAK, "flat-south", 600);
    row->per_day_c = -3; /* 600 - 3 x: 6 x reached on x = 67, 5 x on 75, 4 x on 86 */
    add_calendar(fixture, EVENT_LAST, 3, 8);
    (void)dates_on(fixture, "2027-01-02");
    table = table_of(fixture, "Syd", NULL, 2027);
    assert_int_equal(table.members, 16);
    for (size_t m = 0; m < table.members; m++) {
        static const int nth[] = {75, 60, 50}, declining[] = {86, 75, 67};
        int turn = table.weather->member_season[m] % 3;

        assert_int_equal(table.event[EVENT_PEAK].days[m], fixture_day("2027-06-30") + nth[turn]);
        assert_int_equal(table.event[EVENT_SHED_PEAK].days[m],
                         fixture_day("2027-06-30") + declining[turn]);
    }
    assert_int_equal(table.event[EVENT_LAST].days[3], fixture_day("2027-09-08"));
}

/* A clock that ships starts on 17 January: in the south on 17 July. */
static void shipped_clocks_start_six_months_on_in_the_south(void **state)
{
    struct fixture *fixture = *state;
    struct event_table north, south;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    add_seasons(fixture, "SYD", fixture_south, 2011, 2026, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "sine-37f", 100);
    (void)dates_on(fixture, "2026-12-31");
    north = table_of(fixture, "Nord", NULL, 2027);
    south = table_of(fixture, "Syd", NULL, 2027);
    assert_int_equal(north.weather->member_season[0], south.weather->member_season[0]);
    for (size_t m = 0; m < north.members; m++)
        assert_int_equal(south.event[EVENT_PEAK].days[m] - fixture_day("2027-07-17"),
                         north.event[EVENT_PEAK].days[m] - fixture_day("2027-01-17"));
}

static void summing_stops_when_the_clock_says_so(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    /* Days 1 to 75 of the year count: enough for 300 with 4 a day, not for 304. */
    ((struct clock *)(uintptr_t)program_clock(&fixture->orchard.program, "flat"))->end_days = 75;
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    add_sum(fixture, EVENT_LAST, "flat", 304);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    for (size_t m = 0; m < table.members; m++) {
        bool cold = table.weather->member_season[m] % 3 == 0;

        assert_true(table.event[EVENT_PEAK].days[m] != CONETIDE_NEVER);
        assert_int_equal(table.event[EVENT_LAST].days[m] == CONETIDE_NEVER, cold);
        /* What follows an event that never comes never comes either. */
        assert_int_equal(table.event[EVENT_CLOSED].days[m] == CONETIDE_NEVER, cold);
    }
}

static void fewer_than_ten_years_fall_to_the_calendar_and_say_why(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2018, 2026, by_turns_c);
    add_calendar_events(fixture);
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.weather->members, 9);
    assert_int_equal(table.members, 1);
    assert_false(table.by_weather);
    assert_string_equal(table.remark, "9 past years only: calendar date");
    assert_day(table.event[EVENT_PEAK].days[0], "2027-03-08");
    assert_day(table.event[EVENT_BAG_BY].days[0], "2027-02-28");
    assert_int_equal(table.event[EVENT_PEAK].basis, BASIS_CALENDAR);

    table = table_of(fixture, "Syd", NULL, 2027);
    assert_string_equal(table.remark, "no weather of this site: calendar date");
    assert_day(table.event[EVENT_PEAK].days[0], "2027-09-08");
}

static void ten_years_are_enough(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2017, 2026, by_turns_c);
    add_calendar_events(fixture);
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.members, 10);
    assert_int_equal(table.event[EVENT_PEAK].basis, BASIS_FITTED_HERE);
    /* Rows that add days take their basis from what they hang on. */
    assert_int_equal(table.event[EVENT_FIRST].basis, BASIS_FITTED_HERE);
    assert_null(table.remark);
}

static void a_calendar_row_alone_needs_no_remark(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2028);
    assert_null(table.remark);
    assert_day(table.event[EVENT_OPENING].days[0], "2028-03-01");
    assert_day(table.event[EVENT_BAG_BY].days[0], "2028-02-29");
    assert_day(table.event[EVENT_CLOSED].days[0], "2028-03-16"); /* last + 4 without a row */
    assert_int_equal(table.event[EVENT_SHED_LAST].members, 0);
}

static void chains_of_days_end_in_the_sum_they_hang_on(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *sum, *shed;
    struct event_table table;
    const struct event_days *last;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    sum = add_sum(fixture, EVENT_PEAK, "flat", 300);
    sum->residual_days = 3;
    sum->clone_spread_days = 4;
    sum->spread_days = 2;
    shed = add_after(fixture, EVENT_SHED_FIRST, EVENT_PEAK, -1);
    shed->residual_days = 12;
    add_after(fixture, EVENT_SHED_PEAK, EVENT_SHED_FIRST, 4)->residual_days = 84;
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    last = &table.event[EVENT_SHED_LAST];
    for (size_t m = 0; m < table.members; m++)
        assert_int_equal(last->days[m], table.event[EVENT_PEAK].days[m] - 1 + 4 + 10);
    assert_int_equal(last->root->event, EVENT_PEAK);
    assert_null(last->threshold);
    assert_near(last->after_variance, 12 * 12 + 84 * 84, 1e-9);
    assert_near(event_sigma_days(last, false, false), sqrt(9 + 144 + 7056), 1e-9);
    assert_near(event_sigma_days(last, true, true), sqrt(9 + 144 + 7056 + 16 + 4), 1e-9);
}

static void a_ring_of_days_after_days_is_unknown(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    add_after(fixture, EVENT_OPENING, EVENT_FIRST, -3);
    add_after(fixture, EVENT_FIRST, EVENT_PEAK, -3);
    add_after(fixture, EVENT_PEAK, EVENT_FIRST, 3);
    add_sum(fixture, EVENT_LAST, "flat", 300);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.event[EVENT_OPENING].members, 0);
    assert_int_equal(table.event[EVENT_FIRST].members, 0);
    assert_int_equal(table.event[EVENT_PEAK].members, 0);
    assert_null(table.event[EVENT_PEAK].threshold);
    assert_int_equal(table.event[EVENT_LAST].members, 16);
}

/* Rows that cross each other: the later event is raised, and what follows it goes with it. */
static void events_are_put_in_order_by_raising_the_later(void **state)
{
    struct fixture *fixture = *state;
    struct event_table table;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, six_after_winter_c);
    add_sum(fixture, EVENT_OPENING, "flat", 60);
    add_sum(fixture, EVENT_FIRST, "flat", 100);
    add_sum(fixture, EVENT_LAST, "flat", 30);
    add_after(fixture, EVENT_CLOSED, EVENT_LAST, 6);
    add_calendar(fixture, EVENT_PEAK, 2, 1);
    (void)dates_on(fixture, "2026-10-01");
    table = table_of(fixture, "Nord", NULL, 2027);
    assert_int_equal(table.members, 16);
    for (size_t m = 0; m < table.members; m++) {
        daynum first = table.event[EVENT_FIRST].days[m];

        assert_true(table.event[EVENT_OPENING].days[m] < first);
        assert_int_equal(table.event[EVENT_PEAK].days[m], first);
        assert_int_equal(table.event[EVENT_LAST].days[m], first);
        assert_int_equal(table.event[EVENT_CLOSED].days[m], first + 6);
    }
}

static void a_selection_is_late_until_it_has_a_row_of_its_own(void **state)
{
    struct fixture *fixture = *state;
    struct event_table general, own, moved;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2011, 2026, by_turns_c);
    add_selection(fixture, "S1", NULL, NULL)->days_late = 6.5; /* rounds away from 0 */
    add_selection(fixture, "S2", NULL, NULL)->days_late = -4;
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    add_after(fixture, EVENT_FIRST, EVENT_PEAK, -3);
    add_sum(fixture, EVENT_PEAK, "flat", 360)->selection_name = "S2";
    (void)dates_on(fixture, "2026-10-01");
    general = table_of(fixture, "Nord", NULL, 2027);
    moved = table_of(fixture, "Nord", orchard_selection(&fixture->orchard, "S1"), 2027);
    own = table_of(fixture, "Nord", orchard_selection(&fixture->orchard, "S2"), 2027);
    for (size_t m = 0; m < general.members; m++) {
        static const int nth[] = {90, 72, 60}; /* 360 by 4, 5 or 6 */

        assert_int_equal(moved.event[EVENT_PEAK].days[m], general.event[EVENT_PEAK].days[m] + 7);
        assert_int_equal(moved.event[EVENT_FIRST].days[m], general.event[EVENT_PEAK].days[m] + 4);
        assert_int_equal(own.event[EVENT_PEAK].days[m],
                         fixture_day("2026-12-31") + nth[own.weather->member_season[m] % 3]);
    }
    assert_false(moved.event[EVENT_PEAK].own);
    assert_true(own.event[EVENT_FIRST].own);
}

/* Blank cells: error of the basis, 4.5 between clones, 1.6 between grafts. */
static void blank_spreads_take_their_defaults(void **state)
{
    static const struct {
        enum basis basis;
        double residual_days, want_residual_days;
    } cases[] = {
        {BASIS_FITTED_HERE, NAN, 2.5}, {BASIS_FITTED_HERE, 1.25, 1.25}, {BASIS_OTHER_SITE, NAN, 5},
        {BASIS_OTHER_SITE, 1.25, 5},   {BASIS_OTHER_SITE, 7, 7},        {BASIS_BORROWED, NAN, 5},
        {BASIS_BORROWED, 2, 2},        {BASIS_CALENDAR, NAN, 7.6},      {BASIS_CALENDAR, 9, 9}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct threshold root = {
            .residual_days = cases[i].residual_days, .spread_days = NAN, .clone_spread_days = NAN};
        struct event_days event = {.root = &root, .basis = cases[i].basis};
        double square = cases[i].want_residual_days * cases[i].want_residual_days;

        assert_near(event_sigma_days(&event, false, false), sqrt(square), 1e-12);
        assert_near(event_sigma_days(&event, true, false), sqrt(square + 4.5 * 4.5), 1e-12);
        assert_near(event_sigma_days(&event, false, true), sqrt(square + 1.6 * 1.6), 1e-12);
        event.own = true;
        assert_near(event_sigma_days(&event, true, false), sqrt(square), 1e-12);
    }
}

static uint32_t random_bits(uint32_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

static double wild_c(int season, daynum day)
{
    uint32_t seed = (uint32_t)(season * 7919 + day) * 2654435761u | 1u;

    random_bits(&seed);
    return 5 + 9 * sin((day_of_year(day) - 100) * 6.283185307 / 365) +
           random_bits(&seed) % 1200 / 100.0;
}

/* The day on which a member has the heat, counted day by day from the record itself. */
static daynum counted(const struct record *record, const struct season_weather *weather,
                      size_t member, daynum known_until, double units, double per_day)
{
    struct season_rule rule = weather->rule;
    int season = weather->season, member_season = weather->member_season[member];
    daynum start = day_from_civil(season, rule.northern ? 1 : 7, 1);
    double sum = 0;

    for (daynum day = start; day < start + 240 && day_season(rule, day) == season; day++) {
        daynum source = day <= known_until ? day : day_map_season(rule, season, day, member_season);
        double mean = (record->tmin_c[source - record->first_day] +
                       record->tmax_c[source - record->first_day]) /
                          2 +
                      (day <= known_until ? 0 : weather->warming_c * (season - member_season));
        double need = units + per_day * (day - start + 1);

        sum += mean > 0 ? mean : 0;
        if (need > 0 && sum >= need - 1e-6)
            return day;
    }
    return CONETIDE_NEVER;
}

static void days_agree_with_counting_on_wild_weather(void **state)
{
    struct fixture *fixture = *state;
    struct threshold *declining;
    size_t never = 0, reached = 0;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2005, 2028, wild_c);
    add_seasons(fixture, "SYD", fixture_south, 2005, 2027, wild_c);
    add_sum(fixture, EVENT_SHED_FIRST, "flat", 500)->site_name = "Nord";
    add_sum(fixture, EVENT_SHED_FIRST, "flat-south", 500)->site_name = "Syd";
    declining = add_sum(fixture, EVENT_OPENING, "flat", 14);
    declining->per_day_c = -6.5;
    declining->site_name = "Nord";
    declining = add_sum(fixture, EVENT_OPENING, "flat-south", 2200);
    declining->per_day_c = -4.5;
    declining->site_name = "Syd";
    (void)dates_on(fixture, "2027-08-20");
    for (int season = 2020; season <= 2029; season++) {
        static const char *const sites[] = {"Nord", "Syd"};

        for (size_t s = 0; s < COUNT(sites); s++) {
            struct event_table table = table_of(fixture, sites[s], NULL, season);
            const struct record *record = orchard_site(&fixture->orchard, sites[s])->record;

            assert_true(table.members >= 15 && table.weather->warming_c != 0);
            for (size_t m = 0; m < table.members; m++) {
                daynum opening = counted(record, table.weather, m, fixture_day("2027-08-20"),
                                         s == 0 ? 14 : 2200, s == 0 ? -6.5 : -4.5);

                assert_int_equal(table.event[EVENT_OPENING].days[m], opening);
                never += opening == CONETIDE_NEVER;
                reached += opening != CONETIDE_NEVER;
                assert_int_equal(
                    table.event[EVENT_SHED_FIRST].days[m],
                    counted(record, table.weather, m, fixture_day("2027-08-20"), 500, 0));
            }
        }
    }
    print_message("declining requirement: %zu members reach it, %zu never do\n", reached, never);
    assert_true(reached > 100 && never > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(heat_of_five_a_day_gives_exact_dates),
        FIXTURE_TEST(leap_seasons_count_their_own_days),
        FIXTURE_TEST(days_known_count_before_those_of_the_member),
        FIXTURE_TEST(a_long_gap_is_lent_by_each_member),
        FIXTURE_TEST(the_south_is_the_north_six_months_on),
        FIXTURE_TEST(shipped_clocks_start_six_months_on_in_the_south),
        FIXTURE_TEST(summing_stops_when_the_clock_says_so),
        FIXTURE_TEST(fewer_than_ten_years_fall_to_the_calendar_and_say_why),
        FIXTURE_TEST(ten_years_are_enough),
        FIXTURE_TEST(a_calendar_row_alone_needs_no_remark),
        FIXTURE_TEST(chains_of_days_end_in_the_sum_they_hang_on),
        FIXTURE_TEST(a_ring_of_days_after_days_is_unknown),
        FIXTURE_TEST(events_are_put_in_order_by_raising_the_later),
        FIXTURE_TEST(a_selection_is_late_until_it_has_a_row_of_its_own),
        cmocka_unit_test(blank_spreads_take_their_defaults),
        FIXTURE_TEST(days_agree_with_counting_on_wild_weather),
    };
    return cmocka_run_group_tests_name("event days", tests, NULL, NULL) != 0;
}
