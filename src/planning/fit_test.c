/*
 * fit_test.c - requirements put into invented weather and found again; what few or missing seasons
 * leave open; a graft under the wrong name.
 */
#include "planning/fit.h"

#include "planning/fit_group.h"
#include "planning/weather_fixture.h"

static uint32_t random_state;

static double even(void)
{
    random_state = random_state * 1664525u + 1013904223u;
    return ((random_state >> 8) + 0.5) / 16777216.0;
}

static double normal(double sd)
{
    return sd * sqrt(-2 * log(even())) * cos(6.28318530717958648 * even());
}

/* Spring warms from 0 to 20 degrees, each season and each week in its own way. */
static double spring_c(int season, daynum day)
{
    uint32_t week = (uint32_t)(day / 7) * 2654435761u, year = (uint32_t)season * 2246822519u;
    double x = day - day_from_civil(season, 1, 1), rough;

    week = (week ^ (week >> 15)) * 2246822519u;
    year = (year ^ (year >> 13)) * 3266489917u;
    rough = ((week >> 8) % 1000) / 1000.0 - 0.5 + ((year >> 8) % 1000) / 1000.0 - 0.5;
    return 8 - 10 * cos(6.28318530717958648 * x / 365) + 5 * rough;
}

static const struct clock truth = {.name = "truth",
                                   .rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 5, NAN},
                                   .start = {1, 20},
                                   .end_days = 240,
                                   .place = {"program.json", 1, 0}};

enum { FIRST_SEASON = 2001, GRAFTS = 5 };
static const double lateness[] = {0, -40, 40}; /* of selections, in heat units */
static const double need_c = 300;

struct world {
    struct fixture *fixture;
    struct sights sights;
    bool southern;
};

/* The same spring half a year on. */
static double southern_spring_c(int season, daynum day)
{
    return spring_c(season, day - (day_from_civil(season, 7, 1) - day_from_civil(season, 1, 1)));
}

static void add_world(struct world *world, int seasons)
{
    struct fixture *fixture = world->fixture;

    add_weather_sites(fixture);
    if (world->southern)
        add_seasons(fixture, "SYD", fixture_south, FIRST_SEASON, FIRST_SEASON + seasons - 1,
                    southern_spring_c);
    else
        add_seasons(fixture, "NORD", fixture_north, FIRST_SEASON, FIRST_SEASON + seasons - 1,
                    spring_c);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_selection(fixture, "S3", NULL, NULL);
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
}

/* Grafts of three selections looked at every three days; `odd` needs more than its name says. */
static void look(struct world *world, int seasons, const char *odd)
{
    struct fixture *fixture = world->fixture;
    const struct site *site = &fixture->orchard.sites.list[world->southern ? 1 : 0];
    struct fit_clock clock = {truth, 0};
    const struct station_record record = fit_record_of(&fixture->orchard, site, &fixture->arena);

    clock.clock.start.month += world->southern ? 6 : 0;
    random_state = 1;
    for (int y = FIRST_SEASON; y < FIRST_SEASON + seasons; y++) {
        const struct fit_season season = fit_season_of(
            &record, orchard_season_rule(&fixture->orchard, site), y, &fixture->arena);
        const struct fit_sums sums = fit_sums_of(&season, &clock, &fixture->arena);
        double year = normal(6);

        for (int s = 0; s < 3; s++) {
            for (int g = 0; g < GRAFTS; g++) {
                const char *tag = arena_printf(&fixture->arena, "G%d%d", s + 1, g + 1);
                double need = need_c + year + lateness[s] + normal(8);
                daynum day, by;

                if (odd && strcmp(tag, odd) == 0)
                    need += 80;
                day = fit_day_met(&sums, need);
                assert_true(day != DAY_NONE);
                by = day + ((y + g) % 3);
                *ARENA_PUSH(&fixture->arena, world->sights.list, world->sights.count,
                            world->sights.capacity) =
                    (struct sight){.site = site,
                                   .event = EVENT_FIRST,
                                   .selection = &fixture->orchard.selections.list[s],
                                   .subject = tag,
                                   .season = y,
                                   .after = by - 3,
                                   .by = by};
            }
        }
    }
}

static struct event_fit fit_world(struct world *world)
{
    struct fits fits =
        fits_of(&world->sights, &world->fixture->orchard, NULL, &world->fixture->arena);

    assert_int_equal(fits.count, 1);
    return fits.list[0];
}

static void a_requirement_is_found_again_behind_its_visits(void **state)
{
    struct world world = {.fixture = *state};
    struct event_fit fit;
    const struct fit_clock clock = {truth, 0};
    struct fit_sums sums;
    struct station_record record;
    struct fit_season season;

    add_world(&world, 14);
    look(&world, 14, NULL);
    fit = fit_world(&world);
    assert_int_equal(fit.used, 14);
    assert_true(fit.fitted && fit.judged && fit.search.searched);
    assert_ptr_equal(fit.search.clock.clock.rule.curve, &conetide_sine);
    assert_true(fit.search.lower_least_c <= 5 && fit.search.lower_most_c >= 5);
    assert_true(fit.search.found.nested.rmse_days < 1.2);
    assert_true(fit.search.found.nested.rmse_days < 0.5 * fit.search.found.calendar.rmse_days);
    assert_true(fabs(fit.search.found.nested.bias_days) < 0.5);
    assert_true(fit.grafts.selections.mae_days < fit.grafts.general.mae_days);
    assert_true(fit.spread_days > 0.4 && fit.spread_days < 1.6);
    assert_true(fit.clone_spread_days > 2);
    assert_int_equal(fit.label_count, 0);

    /* by its own clock the fit tells the day that the truth tells */
    record = fit_record_of(&world.fixture->orchard, fit.site, &world.fixture->arena);
    season = fit_season_of(&record, orchard_season_rule(&world.fixture->orchard, fit.site),
                           FIRST_SEASON + 3, &world.fixture->arena);
    for (size_t s = 0; s < 3; s++) {
        daynum told, true_day;

        sums = fit_sums_of(&season, &fit.search.clock, &world.fixture->arena);
        told = fit_day_met(&sums, fit.selections[s].units_c);
        sums = fit_sums_of(&season, &clock, &world.fixture->arena);
        true_day = fit_day_met(&sums, need_c + lateness[s]);
        assert_true(abs(told - true_day) <= 1);
        assert_int_equal(fit.selections[s].sights, 14 * GRAFTS);
        assert_int_equal(fit.selections[s].seasons, 14);
    }
}

static void few_seasons_keep_the_clock_of_the_folder(void **state)
{
    struct world world = {.fixture = *state};
    struct event_fit fit;

    add_threshold(world.fixture, EVENT_FIRST, NULL, NULL, NULL)->clock_name = "flat";
    add_world(&world, 4);
    look(&world, 2, NULL);
    fit = fit_world(&world);
    assert_int_equal(fit.used, 2);
    assert_true(fit.fitted && !fit.judged && !fit.search.searched);
    assert_string_equal(fit.search.clock.clock.name, "flat");
    assert_near(fit.residual_days, fit_prior_days().season_sd, 1e-9);

    world.sights = (struct sights){NULL, 0, 0, 0};
    look(&world, 4, NULL);
    fit = fit_world(&world);
    assert_int_equal(fit.used, 4);
    assert_true(fit.fitted && fit.judged && !fit.search.searched);
    assert_near(fit.search.found.nested.rmse_days, fit.search.found.left_out.rmse_days, 0);
}

static void seasons_without_weather_or_date_are_named(void **state)
{
    struct world world = {.fixture = *state};
    struct record *record;
    struct event_fit fit;

    add_world(&world, 8);
    record = &world.fixture->orchard.records.list[0];
    look(&world, 8, NULL);
    for (size_t i = 0; i < world.sights.count; i++) {
        if (world.sights.list[i].season == 2003)
            world.sights.list[i].after = DAY_NONE;
    }
    for (daynum day = fixture_day("2005-02-01"); day < fixture_day("2005-02-20"); day++)
        record->tmin_c[day - record->first_day] = NAN;
    fit = fit_world(&world);
    assert_int_equal(fit.used, 6);
    assert_int_equal(fit.season_count, 8);
    assert_int_equal(fit.seasons[2].state, FIT_SEASON_UNDATED);
    assert_int_equal(fit.seasons[4].state, FIT_SEASON_NO_WEATHER);
    assert_int_equal(fit.seasons[4].date, DAY_NONE);
    assert_true(fit.search.searched);
}

static void a_graft_that_runs_apart_from_its_name_is_pointed_out(void **state)
{
    struct world world = {.fixture = *state};
    struct event_fit fit;

    add_world(&world, 7);
    look(&world, 7, "G24");
    fit = fit_world(&world);
    assert_int_equal(fit.label_count, 1);
    assert_string_equal(fit.labels[0].subject, "G24");
    assert_string_equal(fit.labels[0].selection->name, "S2");
    assert_true(fit.labels[0].days > 4 && fit.labels[0].days < 16);
    assert_int_equal(fit.labels[0].sights, 7);
    assert_int_equal(fit.labels[0].others, 28);
}

static void southern_springs_are_fitted_from_may_on(void **state)
{
    struct world world = {.fixture = *state, .southern = true};
    struct event_fit fit;

    add_world(&world, 8);
    look(&world, 8, NULL);
    fit = fit_world(&world);
    assert_string_equal(fit.site->name, "Syd");
    assert_int_equal(fit.used, 8);
    assert_true(fit.search.searched);
    assert_in_range(fit.search.clock.clock.start.month, 5, 9);
    assert_true(fit.search.found.nested.rmse_days < 0.6 * fit.search.found.calendar.rmse_days);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_requirement_is_found_again_behind_its_visits),
        FIXTURE_TEST(few_seasons_keep_the_clock_of_the_folder),
        FIXTURE_TEST(seasons_without_weather_or_date_are_named),
        FIXTURE_TEST(southern_springs_are_fitted_from_may_on),
        FIXTURE_TEST(a_graft_that_runs_apart_from_its_name_is_pointed_out),
    };

    return cmocka_run_group_tests_name("fit", tests, NULL, NULL) != 0;
}
