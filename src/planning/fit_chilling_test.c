/*
 * fit_chilling_test.c - winters that start early or late, and an event that waits for them.
 */
#include "planning/fit_chilling.h"

#include "planning/clock_sums.h"
#include "planning/weather_fixture.h"

enum { FIRST_SEASON = 2001 };

/* Warm until the winter comes, 5 to 60 days after 1 November by its own year; then 6 degrees. */
static daynum winter_of(int season)
{
    return day_from_civil(season - 1, 11, 1) + 5 + season * 23 % 56;
}

static double late_winters_c(int season, daynum day)
{
    return day < winter_of(season) ? 18 : 6 + (day + season) % 3 * 0.25;
}

static const struct clock truth = {.name = "truth",
                                   .rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 3, NAN},
                                   .start = {11, 1},
                                   .end_days = 240,
                                   .place = {"program.json", 1, 0}};

/* The day of 150 degree-days after 600 chilling hours. */
static daynum waits_for_winter(const struct fit_season *season, double latitude_deg,
                               struct arena *arena)
{
    struct clock clock = truth;
    daynum start = day_from_civil(season->season - 1, 11, 1);
    size_t first = (size_t)(start - season->first_day);
    struct clock_days given = {season->first_day, season->known, season->tmin_c, season->tmax_c,
                               latitude_deg};
    struct clock_sums sums;

    clock.after_chilling =
        (struct chilling_need){conetide_count_named("chilling-hours-0-8"), 600, {11, 1}};
    sums = clock_sums_of(&clock, &given, (struct clock_span){first, season->known, first}, arena);
    return season->first_day +
           (daynum)conetide_first_at_least(sums.sums, first, season->known, 150);
}

/* Seen on the very day. */
static struct event_fit fit_of(struct fixture *fixture, int seasons, mean_c_function *mean_c)
{
    struct sights sights = {0};
    const struct site *site;
    struct station_record record;
    struct fits fits;

    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, FIRST_SEASON, FIRST_SEASON + seasons - 1, mean_c);
    orchard_link(&fixture->orchard, &fixture->diags);
    site = orchard_site(&fixture->orchard, "Nord");
    record = fit_record_of(&fixture->orchard, site, &fixture->arena);
    for (int y = FIRST_SEASON; y < FIRST_SEASON + seasons; y++) {
        const struct fit_season season = fit_season_of(
            &record, orchard_season_rule(&fixture->orchard, site), y, &fixture->arena);
        daynum day = waits_for_winter(&season, site->latitude, &fixture->arena);

        *ARENA_PUSH(&fixture->arena, sights.list, sights.count, sights.capacity) = (struct sight){
            .site = site, .event = EVENT_FIRST, .season = y, .after = day - 1, .by = day};
    }
    fits = fits_of(&sights, &fixture->orchard, NULL, &fixture->arena);
    assert_int_equal(fits.count, 1);
    return fits.list[0];
}

static void a_need_of_chilling_is_found_again_and_offered(void **state)
{
    struct fixture *fixture = *state;
    struct event_fit fit = fit_of(fixture, 14, late_winters_c);
    struct fit_chilling found = fit_chilling_of(&fit, &fixture->orchard, &fixture->arena);

    assert_true(found.tried);
    assert_true(found.helps);
    assert_int_equal(found.hours, 600);
    assert_near(found.clock.clock.after_chilling.units, 600, 0);
    assert_int_equal(found.clock.clock.after_chilling.start.month, 11);
    assert_true(found.nested.rmse_days < 2 && found.plain.rmse_days > 4);
    assert_true(fabs(found.nested.bias_days) <= found.nested.worst_days);
}

/* 8 to 12 degrees all winter: in no season is there chilling enough before the event. */
static double mild_c(int season, daynum day)
{
    (void)season;
    return day_of_year(day) < 150 || day_of_year(day) > 300 ? 12 + day % 3 : 25;
}

static void winters_without_chilling_offer_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct event_fit fit = fit_of(fixture, 8, late_winters_c);
    struct fit_chilling found;
    struct record *record = &fixture->orchard.records.list[0];

    for (size_t i = 0; i < record->count; i++) {
        double mean = mild_c(0, record->first_day + (daynum)i);

        record->tmin_c[i] = mean - 3;
        record->tmax_c[i] = mean + 3;
    }
    found = fit_chilling_of(&fit, &fixture->orchard, &fixture->arena);
    assert_true(found.tried);
    assert_false(found.helps);
    assert_int_equal(found.hours, 0);
}

static void what_cannot_be_tried_says_why(void **state)
{
    struct fixture *fixture = *state;
    struct event_fit fit = fit_of(fixture, 8, late_winters_c);
    struct fit_chilling found;

    ((struct site *)(uintptr_t)fit.site)->latitude = NAN;
    found = fit_chilling_of(&fit, &fixture->orchard, &fixture->arena);
    assert_false(found.tried);
    assert_string_equal(found.reason, "no latitude of the site or its station");
    fit.used = 5;
    assert_string_equal(fit_chilling_of(&fit, &fixture->orchard, &fixture->arena).reason,
                        "fewer than 6 seasons");
    fit.judged = false;
    assert_string_equal(fit_chilling_of(&fit, &fixture->orchard, &fixture->arena).reason,
                        "no clock was searched");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_need_of_chilling_is_found_again_and_offered),
        FIXTURE_TEST(winters_without_chilling_offer_nothing),
        FIXTURE_TEST(what_cannot_be_tried_says_why),
    };

    return cmocka_run_group_tests_name("heat after chilling", tests, NULL, NULL) != 0;
}
