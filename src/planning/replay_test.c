#include "planning/replay.h"

#include "planning/weather_fixture.h"

static const struct replay_issue leads[] = {{.lead_days = 60}, {.lead_days = 14}, {.lead_days = 0}};

enum { FIRST_SEASON = 1981, DATED_FROM = 1993, LAST_SEASON = 2024, NEED = 700 };

static uint32_t mixed(uint32_t seed)
{
    seed = (seed ^ seed >> 16) * 0x45d9f3bu;
    seed = (seed ^ seed >> 16) * 0x45d9f3bu;
    return seed ^ seed >> 16;
}

/* Weeks of weather about a rising spring, never below 0. */
static double weekly_c(int season, daynum day)
{
    uint32_t bits = mixed((uint32_t)(season * 60 + day / 7) * 2654435761u + 1);
    double spring = 4 + 0.08 * day_of_year(day);

    return fmax(0, spring + bits % 800 / 100.0 - 4);
}

/* The day whose end has the heat summed from 1 January. */
static daynum comes_on(const struct record *record, int season, double need)
{
    daynum day = day_from_civil(season, 1, 1);

    for (double sum = 0;; day++) {
        double mean_c =
            (record->tmin_c[day - record->first_day] + record->tmax_c[day - record->first_day]) / 2;

        sum += mean_c > 0 ? mean_c : 0;
        if (sum >= need)
            return day;
    }
}

static void add_event(struct fixture *fixture, struct dated_events *events, enum event event,
                      daynum not_before, daynum date)
{
    *ARENA_PUSH(&fixture->arena, events->list, events->count, events->capacity) =
        (struct dated_event){
            .site_name = "Nord", .event = event, .not_before = not_before, .date = date};
}

/* A world in which the clock "flat" and NEED heat units are the truth, seen every day; strobili are
 * receptive for a week. */
static struct sights perfect_world(struct fixture *fixture, struct record **record)
{
    struct dated_events events = {NULL, 0, 0};

    add_weather_sites(fixture);
    *record = add_seasons(fixture, "NORD", fixture_north, FIRST_SEASON, LAST_SEASON, weekly_c);
    for (int season = DATED_FROM; season <= LAST_SEASON; season++) {
        daynum day = comes_on(*record, season, NEED);

        add_event(fixture, &events, EVENT_FIRST, day - 1, day);
        add_event(fixture, &events, EVENT_LAST, day + 6, day + 7);
    }
    orchard_as_of(&fixture->orchard, fixture_day("2024-06-30"));
    orchard_link(&fixture->orchard, &fixture->diags);
    dated_link(&events, &fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    return sights_of_dates(&events, &fixture->orchard, &fixture->arena);
}

static struct replay_asked asked_of(struct fixture *fixture, const struct sights *sights)
{
    return (struct replay_asked){
        .orchard = &fixture->orchard,
        .sights = sights,
        .event = EVENT_FIRST,
        .wanted = {.clock = program_clock(&fixture->orchard.program, "flat")},
        .issue_count = COUNT(leads),
        .issues = leads};
}

static void in_a_world_of_heat_the_date_is_told_to_the_day(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    struct replay replay;
    const struct event_replay *told;

    asked.from = 2000;
    replay = replay_of(&asked, &fixture->arena);
    assert_int_equal(replay.count, 1);
    told = &replay.list[0];
    assert_int_equal(told->season_count, 25);
    assert_int_equal(told->told_seasons, 25);
    assert_int_equal(told->told_count, 25 * COUNT(leads));
    assert_int_equal(told->seasons[0].season, 2000);
    assert_int_equal(told->seasons[0].trained, 7);
    assert_int_equal(told->seasons[0].members, 19); /* 1981 to 1999 */
    assert_false(told->seasons[0].searched);

    /* on the day itself its weather is known, so nothing but the requirement is left to err */
    assert_true(told->lines[2].mae_days <= 0.2);
    assert_int_equal(told->lines[2].inside, 25);
    for (size_t i = 0; i < COUNT(leads); i++) {
        const struct replay_line *line = &told->lines[i];
        double bins = 0;

        assert_int_equal(line->issue.lead_days, leads[i].lead_days);
        assert_int_equal(line->seasons, 25);
        assert_true(i == 2 || line->inside_p >= 0.05);
        assert_true(line->skill > (i == 0 ? -0.1 : 0)); /* two months ahead nothing is known */
        for (size_t b = 0; b < REPLAY_BINS; b++)
            bins += line->bins[b];
        assert_near(bins, 25, 1e-9);
        if (i > 0) {
            assert_true(line->score_days < told->lines[i - 1].score_days);
            assert_true(line->width_days < told->lines[i - 1].width_days);
        }
    }
}

static void visits_meet_what_is_receptive(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    const struct replay_line *lines;

    asked.from = 2000;
    lines = replay_of(&asked, &fixture->arena).list[0].lines;
    assert_int_equal(lines[2].planned.plans, 25);
    assert_int_equal(lines[2].planned.seen, 25);
    assert_int_equal(lines[2].perfect.seen, 25);
    assert_true(lines[0].planned.possible >= lines[0].planned.seen);
    assert_true(lines[0].calendar.seen < 25);
}

static bool is_same(const struct replay_told *a, const struct replay_told *b)
{
    return a->p10 == b->p10 && a->p50 == b->p50 && a->p90 == b->p90 && a->past_p50 == b->past_p50 &&
           a->residual_days == b->residual_days && a->score_days == b->score_days &&
           a->below == b->below && a->up_to == b->up_to &&
           a->unmoved_score_days == b->unmoved_score_days;
}

static void weather_after_the_day_of_telling_changes_nothing(void **state)
{
    static const struct replay_issue march[] = {{.on = {2, 10}}};
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    struct replay_told before;
    struct replay replay;

    asked.from = asked.to = 2010;
    asked.issues = march;
    asked.issue_count = 1;
    replay = replay_of(&asked, &fixture->arena);
    assert_int_equal(replay.list[0].told_count, 1);
    before = replay.list[0].told[0];
    assert_day(before.issued, "2010-02-10");
    for (daynum day = before.issued + 1; day < record->first_day + (daynum)record->count; day++) {
        record->tmin_c[day - record->first_day] += 3 + day % 5;
        record->tmax_c[day - record->first_day] += 4 + day % 5;
    }
    replay = replay_of(&asked, &fixture->arena);
    assert_true(is_same(&replay.list[0].told[0], &before));
    asked.loyo = true; /* looks there */
    replay = replay_of(&asked, &fixture->arena);
    assert_false(is_same(&replay.list[0].told[0], &before));
    /* and what lies on it or before does change it */
    asked.loyo = false;
    record->tmax_c[before.issued - record->first_day] += 20;
    replay = replay_of(&asked, &fixture->arena);
    assert_false(is_same(&replay.list[0].told[0], &before));
}

static void all_others_tell_the_first_season_too(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    struct replay replay = replay_of(&asked, &fixture->arena);
    const struct event_replay *told = &replay.list[0];

    /* 1993 has no season before it, but enough years of weather */
    assert_int_equal(told->seasons[0].state, REPLAY_FEW_SEASONS);
    assert_int_equal(told->seasons[1].state, REPLAY_TOLD);
    assert_int_equal(told->seasons[1].trained, 1);
    asked.loyo = true;
    replay = replay_of(&asked, &fixture->arena);
    told = &replay.list[0];
    assert_int_equal(told->seasons[0].state, REPLAY_TOLD);
    assert_int_equal(told->seasons[0].trained, LAST_SEASON - DATED_FROM);
    assert_int_equal(told->seasons[0].members, LAST_SEASON - FIRST_SEASON);
}

static void a_clock_is_searched_where_none_is_given(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    struct replay replay;

    asked.wanted = (struct fit_wanted){.curve = &conetide_average};
    asked.from = 1996;
    asked.to = 1999;
    replay = replay_of(&asked, &fixture->arena);
    assert_int_equal(replay.list[0].told_seasons, 4);
    assert_false(replay.list[0].seasons[0].searched);
    assert_true(replay.list[0].seasons[3].searched);
}

static void few_years_of_weather_tell_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    size_t lost = (size_t)(day_season_start(fixture_north, 1990) - record->first_day);
    struct replay replay;

    for (size_t i = 0; i < lost; i++)
        record->tmin_c[i] = record->tmax_c[i] = NAN;
    asked.to = 1999;
    replay = replay_of(&asked, &fixture->arena);
    assert_int_equal(replay.list[0].seasons[5].state, REPLAY_FEW_MEMBERS); /* 1998, from 1990 on */
    assert_int_equal(replay.list[0].told_seasons, 0);
    assert_int_equal(replay.list[0].lines[0].seasons, 0);
    assert_true(isnan(replay.list[0].lines[0].mae_days));
}

static void another_site_or_event_is_not_told(void **state)
{
    struct fixture *fixture = *state;
    struct record *record;
    struct sights sights = perfect_world(fixture, &record);
    struct replay_asked asked = asked_of(fixture, &sights);
    struct replay replay;

    asked.site = "Syd";
    assert_int_equal(replay_of(&asked, &fixture->arena).count, 0);
    asked.site = "Nord";
    asked.event = EVENT_SHED_FIRST;
    assert_int_equal(replay_of(&asked, &fixture->arena).count, 0);
    asked.event = EVENT_LAST;
    asked.from = 2010;
    replay = replay_of(&asked, &fixture->arena);
    assert_int_equal(replay.count, 1);
    assert_int_equal(replay.list[0].lines[1].planned.plans, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(in_a_world_of_heat_the_date_is_told_to_the_day),
        FIXTURE_TEST(visits_meet_what_is_receptive),
        FIXTURE_TEST(weather_after_the_day_of_telling_changes_nothing),
        FIXTURE_TEST(all_others_tell_the_first_season_too),
        FIXTURE_TEST(a_clock_is_searched_where_none_is_given),
        FIXTURE_TEST(few_years_of_weather_tell_nothing),
        FIXTURE_TEST(another_site_or_event_is_not_told),
    };

    return cmocka_run_group_tests_name("replay", tests, NULL, NULL) != 0;
}
