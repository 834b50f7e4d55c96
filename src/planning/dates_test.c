#include "planning/dates.h"

#include "planning/weather_fixture.h"

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
    return 5 + random_bits(&seed) % 1200 / 100.0 + season % 4;
}

static const struct site *nord(const struct fixture *fixture)
{
    return orchard_site(&fixture->orchard, "Nord");
}

/* Peak by heat, the other events some days from it; wild weather of seasons 2008 to 2028. */
static void add_wild_site(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2008, 2028, wild_c);
    add_calendar_events(fixture);
    add_sum(fixture, EVENT_PEAK, "flat", 700)->basis = BASIS_FITTED_HERE;
}

/* Weight of a shift by j days, from its definition. */
static double weight(double sigma, int reach, int j)
{
    double all = erfc(-(reach + 0.5) / sigma / sqrt(2)) - erfc((reach + 0.5) / sigma / sqrt(2));

    return (erfc(-(j + 0.5) / sigma / sqrt(2)) - erfc(-(j - 0.5) / sigma / sqrt(2))) / all;
}

static double counted_by(const struct bloom *bloom, enum event event, daynum day)
{
    bool shed = event == EVENT_SHED_FIRST || event == EVENT_SHED_PEAK || event == EVENT_SHED_LAST;
    double sigma = shed ? bloom->shed_sigma_days : bloom->sigma_days;
    int reach = (int)ceil(4 * sigma);
    double total = 0;

    for (size_t m = 0; m < bloom->members; m++) {
        for (int j = -reach; j <= reach; j++) {
            if (bloom->days[event][m] != CONETIDE_NEVER && bloom->days[event][m] + j <= day)
                total += weight(sigma, reach, j);
        }
    }
    return total / (double)bloom->members;
}

static void one_question_is_answered_once(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;
    char species[] = "slash";

    add_wild_site(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S1b", NULL, NULL)->same_as_name = "S1";
    dates = dates_on(fixture, "2027-02-01");
    bloom = dates_bloom(dates, nord(fixture), "slash", NULL, 2027);
    assert_ptr_equal(bloom, dates_bloom(dates, nord(fixture), species, NULL, 2027));
    assert_true(bloom != dates_bloom(dates, nord(fixture), "slash", NULL, 2028));
    assert_true(bloom != dates_bloom(dates, nord(fixture), "loblolly", NULL, 2027));
    assert_true(bloom != dates_bloom(dates, nord(fixture), NULL, NULL, 2027));
    assert_true(bloom != dates_bloom_of_past(dates, nord(fixture), "slash", NULL, 2027));
    assert_true(bloom !=
                dates_bloom(dates, orchard_site(&fixture->orchard, "Syd"), "slash", NULL, 2027));
    assert_ptr_equal(dates_weather(dates, nord(fixture), 2027),
                     dates_weather(dates, nord(fixture), 2027));
    assert_ptr_equal(dates_interstock(dates, nord(fixture), "slash", "K7", 2027),
                     dates_interstock(dates, nord(fixture), species, "K7", 2027));

    /* All names of a clone are one question. */
    bloom = dates_bloom(dates, nord(fixture), "slash", orchard_selection(&fixture->orchard, "S1"),
                        2027);
    assert_ptr_equal(bloom, dates_bloom(dates, nord(fixture), "slash",
                                        orchard_selection(&fixture->orchard, "S1b"), 2027));

    /* So is one requirement by one clock, whoever asks. */
    assert_ptr_equal(dates_reached(dates, nord(fixture), 2027,
                                   program_clock(&fixture->orchard.program, "flat"), 700, 0),
                     dates_reached(dates, nord(fixture), 2027,
                                   program_clock(&fixture->orchard.program, "flat"), 700, 0));
}

static void sites_of_one_station_share_its_weather(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;

    add_wild_site(fixture);
    add_site(fixture, "Ost")->station_name = "NORD";
    dates = dates_on(fixture, "2027-02-01");
    assert_ptr_equal(dates_weather(dates, nord(fixture), 2027),
                     dates_weather(dates, orchard_site(&fixture->orchard, "Ost"), 2027));
}

static void chances_and_dates_agree_with_counting_all_futures(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;

    add_wild_site(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    dates = dates_on(fixture, "2027-02-01");
    bloom =
        dates_bloom(dates, nord(fixture), NULL, orchard_selection(&fixture->orchard, "S1"), 2027);
    assert_int_equal(bloom->members, 19);
    assert_near(bloom->sigma_days, sqrt(2.5 * 2.5 + 4.5 * 4.5 + 1.6 * 1.6), 1e-12);
    for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++) {
        enum event event = (enum event)e;
        daynum first = fixture_day("2027-01-01");

        for (daynum day = first; day < first + 150; day++)
            assert_near(bloom_by(bloom, event, day), counted_by(bloom, event, day), 1e-12);
        for (double p = 0.05; p < 1; p += 0.05) {
            daynum day = bloom_date(bloom, event, p);

            assert_true(counted_by(bloom, event, day) >= p - 1e-11);
            assert_true(counted_by(bloom, event, day - 1) < p);
        }
    }
}

/* To isolate with 90 % a bag hangs the day before opening at 10 %. */
static void bag_by_is_the_day_before_opening_at_every_chance(void **state)
{
    struct fixture *fixture = *state;
    const struct bloom *bloom;

    add_wild_site(fixture);
    bloom = dates_bloom(dates_on(fixture, "2027-02-01"), nord(fixture), NULL, NULL, 2027);
    for (double p = 0.1; p < 1; p += 0.1)
        assert_int_equal(bloom_date(bloom, EVENT_BAG_BY, p),
                         bloom_date(bloom, EVENT_OPENING, p) - 1);
}

static void nothing_known_is_neither_a_date_nor_a_chance(void **state)
{
    struct fixture *fixture = *state;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    add_calendar(fixture, EVENT_PEAK, 3, 8);
    bloom = dates_bloom(dates_on(fixture, "2027-02-01"), nord(fixture), NULL, NULL, 2027);
    assert_null(bloom->windows);
    assert_null(bloom->member_season);
    assert_int_equal(bloom->members, 1);
    assert_int_equal(bloom_date(bloom, EVENT_FIRST, 0.5), DAY_NONE);
    assert_near(bloom_by(bloom, EVENT_FIRST, fixture_day("2027-06-30")), 0, 0);
    assert_near(bloom_safe_to_unbag(bloom, NULL, fixture_day("2027-06-30")), 0, 0);
    assert_day(bloom_date(bloom, EVENT_PEAK, 0.5), "2027-03-08");
    assert_int_equal(bloom->basis, BASIS_CALENDAR);
}

static void a_site_without_any_row_still_has_a_bloom(void **state)
{
    struct fixture *fixture = *state;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    bloom = dates_bloom(dates_on(fixture, "2027-02-01"), nord(fixture), NULL, NULL, 2027);
    assert_non_null(bloom);
    assert_int_equal(bloom->seasons_seen, -1);
    for (int e = 0; e < EVENTS; e++)
        assert_null(bloom->days[e]);
}

static double by_turns_of_winter_c(int season, daynum day)
{
    return season % 5 == 0 ? -5 : by_turns_c(season, day);
}

static void too_many_cold_members_leave_no_date(void **state)
{
    struct fixture *fixture = *state;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2007, 2026, by_turns_of_winter_c);
    add_calendar_events(fixture);
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    bloom = dates_bloom(dates_on(fixture, "2026-10-01"), nord(fixture), NULL, NULL, 2027);
    assert_int_equal(bloom->members, 20); /* four of them without any heat */
    assert_true(bloom_date(bloom, EVENT_PEAK, 0.75) < fixture_day("2027-04-15"));
    assert_int_equal(bloom_date(bloom, EVENT_PEAK, 0.85), DAY_NEVER);
    assert_int_equal(bloom_date(bloom, EVENT_BAG_BY, 0.85), DAY_NEVER);
    assert_near(bloom_by(bloom, EVENT_PEAK, fixture_day("2027-06-30")), 0.8, 1e-12);
    assert_near(bloom_safe_to_unbag(bloom, NULL, fixture_day("2027-06-30")), 0.8, 1e-12);
}

/* Standard deviation of the days on which an event comes, from its chances. */
static double sd_of(const struct bloom *bloom, enum event event, daynum low, daynum high)
{
    double mean = 0, square = 0;

    for (daynum day = low; day <= high; day++) {
        double p = bloom_by(bloom, event, day) - bloom_by(bloom, event, day - 1);

        mean += p * (day - low);
        square += p * (day - low) * (day - low);
    }
    return sqrt(square - mean * mean);
}

static void borrowed_and_calendar_dates_spread_nine_days_at_least(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;
    struct threshold *row;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2008, 2026, by_turns_c);
    add_calendar_events(fixture);
    fixture->orchard.thresholds.list[0].residual_days = 3;
    row = add_sum(fixture, EVENT_PEAK, "flat", 300);
    row->species = "slash";
    row->basis = BASIS_BORROWED;
    dates = dates_on(fixture, "2026-10-01");

    /* The members alone have about 10 days. */
    bloom = dates_bloom(dates, nord(fixture), "slash", NULL, 2027);
    assert_int_equal(bloom->basis, BASIS_BORROWED);
    assert_near(bloom->sigma_days, sqrt(25 + 1.6 * 1.6), 1e-12);
    assert_true(sd_of(bloom, EVENT_FIRST, fixture_day("2026-11-01"), fixture_day("2027-06-30")) >
                9);

    /* The calendar has one day: all of it is shift. */
    bloom = dates_bloom(dates, nord(fixture), "loblolly", NULL, 2027);
    assert_int_equal(bloom->basis, BASIS_CALENDAR);
    assert_near(bloom->sigma_days, 9, 1e-12);
    /* Whole days add the variance of rounding, cutting at four sigma takes a little. */
    assert_near(sd_of(bloom, EVENT_FIRST, fixture_day("2026-11-01"), fixture_day("2027-06-30")), 9,
                0.02);

    /* A season known by heat would be sure of itself: the rule still holds. */
    bloom = dates_bloom(dates, nord(fixture), "slash", NULL, 2026);
    assert_true(bloom->sigma_days > 8.9);
}

static void the_weakest_of_the_window_is_its_basis(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom;
    struct threshold *row;

    add_wild_site(fixture);
    row = add_sum(fixture, EVENT_LAST, "flat", 760);
    row->selection_name = "S2";
    row->basis = BASIS_BORROWED;
    row = add_sum(fixture, EVENT_PEAK, "flat", 720);
    row->selection_name = "S2";
    row->seasons_seen = 7;
    row = add_sum(fixture, EVENT_PEAK, "flat", 650);
    row->selection_name = "S3";
    row->site_name = "Syd";
    row->seasons_seen = 3;
    add_selection(fixture, "S2", NULL, NULL);
    add_selection(fixture, "S3", NULL, NULL);
    dates = dates_on(fixture, "2027-02-01");

    bloom = dates_bloom(dates, nord(fixture), NULL, NULL, 2027);
    assert_int_equal(bloom->basis, BASIS_FITTED_HERE);
    assert_int_equal(bloom->seasons_seen, -1);

    bloom =
        dates_bloom(dates, nord(fixture), NULL, orchard_selection(&fixture->orchard, "S2"), 2027);
    assert_int_equal(bloom->basis, BASIS_BORROWED); /* of `last` alone */
    assert_int_equal(bloom->seasons_seen, 7);
    assert_true(bloom->threshold[EVENT_PEAK]->selection_name != NULL);

    /* The general row of this site goes before a row of another. */
    bloom =
        dates_bloom(dates, nord(fixture), NULL, orchard_selection(&fixture->orchard, "S3"), 2027);
    assert_int_equal(bloom->basis, BASIS_FITTED_HERE);
    assert_true(bloom->threshold[EVENT_PEAK]->selection_name == NULL);
}

static void a_sigma_beyond_reason_is_cut_not_refused(void **state)
{
    struct fixture *fixture = *state;
    const struct bloom *bloom;

    add_weather_sites(fixture);
    add_calendar_events(fixture);
    fixture->orchard.thresholds.list[0].residual_days = 5000;
    bloom = dates_bloom(dates_on(fixture, "2027-02-01"), nord(fixture), NULL, NULL, 2027);
    assert_near(bloom->sigma_days, 100, 0);
    assert_near(bloom_by(bloom, EVENT_FIRST, DAY_LAST), 1, 1e-12);
}

static void few_members_are_marked(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;

    add_wild_site(fixture);
    dates = dates_on(fixture, "2027-02-01"); /* past seasons 2008 to 2026 */
    assert_false(dates_bloom(dates, nord(fixture), NULL, NULL, 2023)->few_members); /* 15 */
    assert_true(dates_bloom(dates, nord(fixture), NULL, NULL, 2022)->few_members);
    assert_non_null(dates_bloom(dates, nord(fixture), NULL, NULL, 2018)->member_season); /* 10 */
    assert_null(dates_bloom(dates, nord(fixture), NULL, NULL, 2017)->member_season);
    assert_string_equal(dates_bloom(dates, nord(fixture), NULL, NULL, 2017)->remark,
                        "9 past years only: calendar date");
    assert_false(dates_bloom(dates, nord(fixture), NULL, NULL, 2017)->few_members);
}

/* Weather of days to come must not change a byte of what is said today. */
static void weather_after_the_day_changes_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates, *blind;
    struct record *record;
    daynum as_of = fixture_day("2027-02-14");

    add_wild_site(fixture);
    dates = dates_on(fixture, "2027-02-14");
    record = fixture->orchard.records.list;
    blind = dates_new(&fixture->orchard, &fixture->arena);
    for (int season = 2026; season <= 2029; season++) {
        const struct bloom *a = dates_bloom(dates, nord(fixture), NULL, NULL, season), *b;
        size_t more = 300, count = (size_t)(as_of - record->first_day) + 1;
        struct record longer = {.station = "NORD",
                                .first_day = record->first_day,
                                .count = count + more,
                                .tmin_c = ARENA_ARRAY(&fixture->arena, count + more, double),
                                .tmax_c = ARENA_ARRAY(&fixture->arena, count + more, double)};
        struct record kept = *record;

        for (size_t i = 0; i < longer.count; i++) {
            longer.tmin_c[i] = i < count ? record->tmin_c[i] : 25;
            longer.tmax_c[i] = i < count ? record->tmax_c[i] : 40;
        }
        *record = longer;
        b = dates_bloom(blind, nord(fixture), NULL, NULL, season);
        *record = kept;
        assert_int_equal(a->members, b->members);
        for (int e = 0; e < EVENTS; e++) {
            assert_int_equal(a->days[e] == NULL, b->days[e] == NULL);
            if (a->days[e] != NULL)
                assert_memory_equal(a->days[e], b->days[e], a->members * sizeof *a->days[e]);
        }
        assert_near(a->sigma_days, b->sigma_days, 0);
    }
}

/* Rows of shedding have a residual of their own, and a floor where they are not measured. */
static void pollen_spreads_by_its_own_rows(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    struct threshold *row;
    const struct bloom *bloom, *other;
    daynum from = fixture_day("2026-11-01"), to = fixture_day("2027-06-30");

    add_wild_site(fixture);
    row = add_sum(fixture, EVENT_SHED_PEAK, "flat", 720);
    row->basis = BASIS_FITTED_HERE;
    row->residual_days = 6;
    row = add_sum(fixture, EVENT_SHED_PEAK, "flat", 720);
    row->species = "loblolly";
    row->basis = BASIS_FITTED_HERE;
    row->residual_days = 2.5;
    row = add_after(fixture, EVENT_SHED_PEAK, EVENT_PEAK, 2);
    row->species = "slash";
    row->residual_days = 3;
    row = add_calendar(fixture, EVENT_SHED_FIRST, 3, 1);
    row->species = "slash";
    dates = dates_on(fixture, "2027-02-01");

    bloom = dates_bloom(dates, nord(fixture), NULL, NULL, 2027);
    assert_near(bloom->sigma_days, sqrt(2.5 * 2.5 + 1.6 * 1.6), 1e-12);
    assert_near(bloom->shed_sigma_days, sqrt(6 * 6 + 1.6 * 1.6), 1e-12);
    for (int e = EVENT_OPENING; e < EVENTS; e++) {
        if (bloom->days[e] == NULL)
            continue;
        for (daynum day = from; day < to; day += 3)
            assert_near(bloom_by(bloom, (enum event)e, day), counted_by(bloom, (enum event)e, day),
                        1e-12);
    }
    assert_non_null(bloom->days[EVENT_SHED_LAST]);

    /* Equal sigmas are one table of shifts. */
    other = dates_bloom(dates, nord(fixture), "loblolly", NULL, 2027);
    assert_ptr_equal(other->shed_shifts, other->shifts);
    assert_ptr_equal(other->shifts, bloom->shifts);
    assert_true(bloom->shed_shifts != bloom->shifts);

    /* One shed event by the calendar: the floor of 9 days for pollen alone. */
    other = dates_bloom(dates, nord(fixture), "slash", NULL, 2027);
    assert_ptr_equal(other->shifts, bloom->shifts);
    assert_true(sd_of(other, EVENT_SHED_PEAK, from, to) > 8.9);
    assert_true(sd_of(other, EVENT_SHED_PEAK, from, to) > sd_of(other, EVENT_PEAK, from, to));
}

/* Outside pollen and the graft's own strobili share the weather, not their shifts. */
static void unbagging_waits_for_both_strobili_and_pollen(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *bloom, *shed;
    struct bloom one_day;
    const int32_t over = fixture_day("2027-03-20");

    add_wild_site(fixture);
    add_after(fixture, EVENT_SHED_PEAK, EVENT_PEAK, 1)->residual_days = 7;
    add_selection(fixture, "S1", NULL, NULL)->days_late = 5;
    dates = dates_on(fixture, "2027-02-01");
    bloom =
        dates_bloom(dates, nord(fixture), NULL, orchard_selection(&fixture->orchard, "S1"), 2027);
    shed = dates_bloom(dates, nord(fixture), NULL, NULL, 2027);
    assert_true(shed->shed_sigma_days > shed->sigma_days + 4);
    for (daynum day = fixture_day("2027-02-01"); day < fixture_day("2027-05-15"); day++) {
        double alone = 0, together = 0;

        for (size_t m = 0; m < bloom->members; m++) {
            struct bloom one = *bloom, other = *shed;

            one.members = other.members = 1;
            for (int e = 0; e < EVENTS; e++) {
                one.days[e] = one.days[e] == NULL ? NULL : one.days[e] + m;
                other.days[e] = other.days[e] == NULL ? NULL : other.days[e] + m;
            }
            alone += counted_by(&one, EVENT_CLOSED, day - 1) / (double)bloom->members;
            together += counted_by(&one, EVENT_CLOSED, day - 1) *
                        counted_by(&other, EVENT_SHED_LAST, day - 1) / (double)bloom->members;
        }
        assert_near(bloom_safe_to_unbag(bloom, NULL, day), alone, 1e-12);
        assert_near(bloom_safe_to_unbag(bloom, shed, day), together, 1e-12);
    }

    /* A shed told by the calendar alone goes with every member. */
    one_day = *shed;
    one_day.members = 1;
    for (int e = 0; e < EVENTS; e++)
        one_day.days[e] = e == EVENT_SHED_LAST ? &over : NULL;
    assert_near(bloom_safe_to_unbag(bloom, &one_day, fixture_day("2027-03-22")),
                bloom_safe_to_unbag(bloom, NULL, fixture_day("2027-03-22")) *
                    bloom_by(&one_day, EVENT_SHED_LAST, fixture_day("2027-03-21")),
                1e-12);
}

/* What a past year lacks in October matters to a clock that runs by then. */
static void a_gap_before_all_sums_does_not_cost_a_year(void **state)
{
    for (int early = 0; early < 2; early++) {
        struct fixture *fixture;
        struct record *record;
        const struct season_weather *weather;
        size_t gap;

        fixture_teardown(state);
        fixture_setup(state);
        fixture = *state;
        add_weather_sites(fixture);
        record = add_seasons(fixture, "NORD", fixture_north, 2008, 2026, by_turns_c);
        gap = (size_t)(fixture_day("2020-10-02") - record->first_day);
        for (size_t i = gap; i < gap + 11; i++)
            record->tmax_c[i] = NAN;
        fixture->orchard.program.clock_count--; /* without the southern one of July */
        if (early == 1)
            add_clock(fixture, "early", (struct month_day){10, 1});
        weather = dates_weather(dates_on(fixture, "2026-10-01"), nord(fixture), 2027);
        assert_int_equal(weather->members, early == 1 ? 18 : 19);
        assert_int_equal(weather->left_out_count, early);
    }
}

static void the_usual_sum_is_that_of_past_years(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct clock *clock;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2015, 2027, by_turns_c);
    dates = dates_on(fixture, "2027-03-31"); /* 2027 had 6 a day; twelve past years 5 on average */
    clock = program_clock(&fixture->orchard.program, "flat");
    assert_near(dates_mean_sum(dates, nord(fixture), 2027, clock, fixture_day("2027-01-01")), 5,
                1e-9);
    assert_near(dates_mean_sum(dates, nord(fixture), 2027, clock, fixture_day("2027-03-01")), 300,
                1e-9);
    assert_near(dates_mean_sum(dates, nord(fixture), 2027, clock, fixture_day("2026-12-31")), 0, 0);
    assert_near(dates_mean_sum(dates, nord(fixture), 2027, clock, fixture_day("2026-01-01")), 0, 0);
    assert_near(dates_mean_sum(dates, nord(fixture), 2027, clock, fixture_day("2028-01-01")), 905,
                1e-9); /* to the season's end */
    assert_true(isnan(dates_mean_sum(dates, orchard_site(&fixture->orchard, "Syd"), 2027, clock,
                                     fixture_day("2027-03-01"))) != 0);
    assert_null(dates_reached(dates, orchard_site(&fixture->orchard, "Syd"), 2027, clock, 300, 0));
    assert_day(dates_reached(dates, nord(fixture), 2027, clock, 300, 0)[0], "2027-02-19");
}

static void past_years_alone_forget_what_is_known(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct bloom *past, *now;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2012, 2027, by_turns_c);
    add_sum(fixture, EVENT_PEAK, "flat", 300);
    dates = dates_on(fixture, "2027-03-31");
    past = dates_bloom_of_past(dates, nord(fixture), NULL, NULL, 2027);
    now = dates_bloom(dates, nord(fixture), NULL, NULL, 2027);
    for (size_t m = 0; m < past->members; m++) {
        static const int nth[] = {75, 60, 50};

        assert_int_equal(past->days[EVENT_PEAK][m],
                         fixture_day("2026-12-31") + nth[past->member_season[m] % 3]);
        assert_day(now->days[EVENT_PEAK][m], "2027-02-19");
    }
}

static void interstocks_have_rows_of_their_clone(void **state)
{
    struct fixture *fixture = *state;
    struct dates *dates;
    const struct event_table *table;

    add_wild_site(fixture);
    add_sum(fixture, EVENT_GRAFT_OPEN, "flat", 200)->selection_name = "K7";
    add_after(fixture, EVENT_GRAFT_CLOSE, EVENT_PEAK, -10)->selection_name = "K7";
    dates = dates_on(fixture, "2027-02-01");
    table = dates_interstock(dates, nord(fixture), "slash", "K7", 2027);
    assert_int_equal(table->event[EVENT_GRAFT_OPEN].members, 19);
    assert_true(table->event[EVENT_GRAFT_OPEN].own);
    for (size_t m = 0; m < 19; m++)
        assert_int_equal(table->event[EVENT_GRAFT_CLOSE].days[m],
                         table->event[EVENT_PEAK].days[m] - 10);
    table = dates_interstock(dates, nord(fixture), "slash", "K8", 2027);
    assert_int_equal(table->event[EVENT_GRAFT_OPEN].members, 0);
    assert_null(dates_bloom(dates, nord(fixture), "slash", NULL, 2027)->days[EVENT_GRAFT_OPEN]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(one_question_is_answered_once),
        FIXTURE_TEST(sites_of_one_station_share_its_weather),
        FIXTURE_TEST(chances_and_dates_agree_with_counting_all_futures),
        FIXTURE_TEST(bag_by_is_the_day_before_opening_at_every_chance),
        FIXTURE_TEST(nothing_known_is_neither_a_date_nor_a_chance),
        FIXTURE_TEST(a_site_without_any_row_still_has_a_bloom),
        FIXTURE_TEST(too_many_cold_members_leave_no_date),
        FIXTURE_TEST(borrowed_and_calendar_dates_spread_nine_days_at_least),
        FIXTURE_TEST(the_weakest_of_the_window_is_its_basis),
        FIXTURE_TEST(a_sigma_beyond_reason_is_cut_not_refused),
        FIXTURE_TEST(few_members_are_marked),
        FIXTURE_TEST(weather_after_the_day_changes_nothing),
        FIXTURE_TEST(pollen_spreads_by_its_own_rows),
        FIXTURE_TEST(unbagging_waits_for_both_strobili_and_pollen),
        FIXTURE_TEST(a_gap_before_all_sums_does_not_cost_a_year),
        FIXTURE_TEST(the_usual_sum_is_that_of_past_years),
        FIXTURE_TEST(past_years_alone_forget_what_is_known),
        FIXTURE_TEST(interstocks_have_rows_of_their_clone),
    };
    return cmocka_run_group_tests_name("dates", tests, NULL, NULL) != 0;
}
