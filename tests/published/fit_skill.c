/*
 * fit_skill - what `conetide fit` makes of published series of dates: thresholds and clock found
 * without a season, and the error with which they tell that season.
 *
 * Data: ../opendata/lodgepole (receptivity of lodgepole pine in two orchards, by visits 1 to 5 days
 * apart), ../opendata/washington (70 % of Yoshino cherry blossoms open, 1951 to 2025),
 * ../opendata/klein_altendorf (sweet cherry, 1999 to 2008), ../opendata/tudela (nectarine, start of
 * bloom, 2001 to 2010), each with a SOURCE.md.  The figures stand in docs/skill.md.
 */
#include "planning/fit.h"

#include "cli/files.h"
#include "oracle.h"
#include "orchard/fixture.h"
#include "planning/fit_group.h"

#include <time.h>

static struct site *add_weather_site(struct fixture *fixture, const char *name, const char *file)
{
    struct site *site = add_site(fixture, name);
    struct file_source open;
    struct source source;

    site->station_name = name;
    if (!file_open(oracle_path(file), &open)) {
        print_message("%s is not here\n", file);
        skip();
    }
    source = file_as_source(name, &open);
    assert_true(read_weather(&fixture->orchard, name, &source, &fixture->diags));
    file_close(&open);
    return site;
}

static void say(const char *what, const struct conetide_errors *errors)
{
    print_message("  %-34s MAE %5.2f  RMSE %5.2f  bias %+5.2f  worst %4.1f\n", what,
                  errors->mae_days, errors->rmse_days, errors->bias_days, errors->worst_days);
}

static void say_fit(const char *what, const struct event_fit *fit, double seconds)
{
    const struct fit_clock *clock = &fit->search.clock;

    print_message("%s: %zu seasons, %zu dates, %.0f ms\n", what, fit->used, fit->sights,
                  1000 * seconds);
    print_message("  clock %s over %.1f deg C from %02d-%02d, falling %.0f a day: %.1f deg C day, "
                  "%.1f a day\n",
                  clock->clock.rule.curve->name, clock->clock.rule.lower, clock->clock.start.month,
                  clock->clock.start.day, fabs(clock->per_day_c), fit->units_c,
                  fit->heat_per_day_c);
    print_message("  valley: %zu clocks, %.0f to %.0f deg C, %02d-%02d to %02d-%02d, falling %.0f "
                  "to %.0f, %s to %s; edges %u\n",
                  fit->search.found.valley_cells, fit->search.lower_least_c,
                  fit->search.lower_most_c, fit->search.start_first.month,
                  fit->search.start_first.day, fit->search.start_last.month,
                  fit->search.start_last.day, fabs(fit->search.per_day_most_c),
                  fabs(fit->search.per_day_least_c), fit->search.curve_first->name,
                  fit->search.curve_last->name, fit->search.found.edges);
    print_message("  residual %.1f, spread %.1f, clones %.1f days\n", fit->residual_days,
                  fit->spread_days, fit->clone_spread_days);
    say("fitted", &fit->search.found.fitted);
    say("left out, clock kept", &fit->search.found.left_out);
    say("left out, search nested", &fit->search.found.nested);
    say("calendar mean", &fit->search.found.calendar);
    if (fit->grafts.dates > 0) {
        say("trees, selection thresholds, nested", &fit->grafts.selections);
        say("trees, one threshold, nested", &fit->grafts.general);
        say("trees, calendar and lateness", &fit->grafts.calendar);
    }
}

static void push(struct fixture *fixture, struct dated_events *events, struct dated_event event)
{
    event.event = EVENT_FIRST;
    *ARENA_PUSH(&fixture->arena, events->list, events->count, events->capacity) = event;
}

struct asked {
    const char *what;
    const struct conetide_curve *curve; /* NULL: all */
};

static struct event_fit fit_one(struct fixture *fixture, struct dated_events *events,
                                const struct asked *asked, struct sights *sights)
{
    struct fits fits;
    clock_t began;
    double seconds;

    orchard_link(&fixture->orchard, &fixture->diags);
    dated_link(events, &fixture->orchard, &fixture->diags);
    *sights = sights_of_dates(events, &fixture->orchard, &fixture->arena);
    began = clock();
    fits = fits_of(sights, &fixture->orchard, asked->curve, &fixture->arena);
    seconds = (double)(clock() - began) / CLOCKS_PER_SEC;
    assert_true(fits.count > 0);
    say_fit(asked->what, &fits.list[fits.count - 1], seconds);
    return fits.list[fits.count - 1];
}

static struct event_fit fit_series(struct fixture *fixture, const char *what, const char *weather,
                                   const char *dates, const char *year, const char *doy, int from)
{
    struct dated_events events = {NULL, 0, 0};
    struct sights sights;
    struct oracle oracle;

    add_weather_site(fixture, what, weather);
    oracle_open(&oracle, dates);
    while (oracle_next(&oracle)) {
        int season = (int)oracle_number(&oracle, year);
        daynum day = day_from_civil(season, 1, 1) - 1;

        if (season < from)
            continue;
        day += (daynum)oracle_number(&oracle, doy);
        push(fixture, &events,
             (struct dated_event){.site_name = what, .date = day, .not_before = day - 1});
    }
    return fit_one(fixture, &events, &(struct asked){what, NULL}, &sights);
}

static void washington(void **state)
{
    struct event_fit fit =
        fit_series(*state, "Washington", "../opendata/washington/weather.csv",
                   "../opendata/washington/bloom.csv", "year", "bloom_doy", 1951);

    assert_int_equal(fit.used, 75);
    assert_true(fit.search.found.nested.rmse_days <= 3.8);
    assert_true(fabs(fit.search.found.nested.bias_days) <= 0.5);
}

static void klein_altendorf(void **state)
{
    struct event_fit fit =
        fit_series(*state, "Klein-Altendorf", "../opendata/klein_altendorf/ka_daily.csv",
                   "../opendata/klein_altendorf/ka_bloom.csv", "Year", "pheno", 1999);

    assert_int_equal(fit.used, 10);
    assert_true(fit.search.found.nested.rmse_days <= 1.8);
    assert_true(fabs(fit.search.found.nested.bias_days) <= 0.5);
}

static void tudela(void **state)
{
    struct event_fit fit =
        fit_series(*state, "Tudela", "../opendata/tudela/tudela_daily.csv",
                   "../opendata/tudela/bigtop_phenology.csv", "Year", "sbloom", 2001);

    assert_int_equal(fit.used, 10);
    assert_true(fit.search.found.nested.rmse_days <= 2.4);
    assert_true(fabs(fit.search.found.nested.bias_days) <= 0.5);
}

/* ---- lodgepole pine ------------------------------------------------------------------------- */

static const char *keep(struct fixture *fixture, const char *text)
{
    return arena_text(&fixture->arena, strlen(text), text);
}

static daynum day_of(const char *text)
{
    daynum day;

    return day_parse(strlen(text), text, &day) ? day : DAY_NONE;
}

static void know_clone(struct fixture *fixture, const char *clone)
{
    for (size_t i = 0; i < fixture->orchard.selections.count; i++)
        if (strcmp(fixture->orchard.selections.list[i].name, clone) == 0)
            return;
    add_selection(fixture, keep(fixture, clone), NULL, NULL);
}

static void read_trees(struct fixture *fixture, struct dated_events *events)
{
    struct oracle oracle;

    oracle_open(&oracle, "../opendata/lodgepole/dates.csv");
    while (oracle_next(&oracle)) {
        if (strcmp(oracle_text(&oracle, "sex"), "female") != 0)
            continue;
        know_clone(fixture, oracle_text(&oracle, "clone"));
        push(fixture, events,
             (struct dated_event){.site_name = keep(fixture, oracle_text(&oracle, "site")),
                                  .selection_name = keep(fixture, oracle_text(&oracle, "clone")),
                                  .tag = keep(fixture, oracle_text(&oracle, "tree")),
                                  .date = day_of(oracle_text(&oracle, "first_seen")),
                                  .not_before = day_of(oracle_text(&oracle, "last_not_yet"))});
    }
}

/* Errors as they are added. */
struct adding {
    double absolute, squares, total, worst;
    size_t n;
};

static void add_error(struct adding *adding, double error)
{
    adding->absolute += fabs(error);
    adding->squares += error * error;
    adding->total += error;
    adding->worst = fmax(adding->worst, fabs(error));
    adding->n++;
}

static struct conetide_errors errors_of(const struct adding *adding)
{
    double n = (double)adding->n;

    return (struct conetide_errors){sqrt(adding->squares / n), adding->absolute / n,
                                    adding->total / n, adding->worst};
}

static double middle_x(const struct sight *sight, daynum new_year)
{
    return (sight->after + 1 + sight->by) / 2.0 - new_year + 1;
}

/* The plain mean of the trees that were seen before and after. */
static double plain_x(const struct sights *sights, const struct event_fit *fit, size_t season)
{
    daynum new_year = day_from_civil(fit->seasons[season].season, 1, 1);
    double total = 0;
    size_t n = 0;

    for (size_t i = 0; i < sights->count; i++) {
        const struct sight *sight = &sights->list[i];

        if (sight->site == fit->site && sight->season == fit->seasons[season].season &&
            fit_is_dated(sight)) {
            total += middle_x(sight, new_year);
            n++;
        }
    }
    return total / (double)n;
}

static void against_plain_means(const struct event_fit *fit, const struct sights *sights)
{
    struct adding adding = {0};
    struct conetide_errors errors;

    for (size_t s = 0; s < fit->season_count; s++) {
        const struct fit_left_out *left_out = &fit->search.left_out[s];
        double plain = plain_x(sights, fit, s);

        add_error(&adding, left_out->observed_x + left_out->error_days - plain);
        print_message("  %d: orchard day %.1f (plain mean of trees seen twice %.1f), nested error "
                      "%+.1f by %s over %.0f from %02d-%02d\n",
                      fit->seasons[s].season, left_out->observed_x, plain, left_out->error_days,
                      left_out->clock.clock.rule.curve->name, left_out->clock.clock.rule.lower,
                      left_out->clock.clock.start.month, left_out->clock.clock.start.day);
    }
    errors = errors_of(&adding);
    say("nested, against plain means", &errors);
}

static double threshold_of(const struct event_fit *fit, const struct selection *selection)
{
    for (size_t i = 0; i < fit->selection_count; i++)
        if (fit->selections[i].selection == selection)
            return fit->selections[i].units_c;
    return fit->units_c;
}

/* Thresholds of one orchard, unchanged, in the weather of another: MAE of the orchard's days. */
static double carry(struct fixture *fixture, const struct event_fit *from,
                    const struct event_fit *to, const struct sights *sights)
{
    const struct station_record record =
        fit_record_of(&fixture->orchard, to->site, &fixture->arena);
    const struct season_rule rule = orchard_season_rule(&fixture->orchard, to->site);
    struct adding orchard = {0}, trees = {0}, calendar = {0};
    struct conetide_errors errors;
    double from_x = 0;

    for (size_t s = 0; s < from->season_count; s++)
        from_x += from->search.left_out[s].observed_x / (double)from->season_count;
    for (size_t s = 0; s < to->season_count; s++) {
        const struct fit_season season =
            fit_season_of(&record, rule, to->seasons[s].season, &fixture->arena);
        const struct fit_sums sums = fit_sums_of(&season, &from->search.clock, &fixture->arena);

        add_error(&orchard, fit_day_met(&sums, from->units_c) - to->seasons[s].date);
        add_error(&calendar, from_x - (to->seasons[s].date - season.new_year + 1));
        for (size_t i = 0; i < sights->count; i++) {
            const struct sight *sight = &sights->list[i];

            if (sight->site == to->site && sight->season == season.season && fit_is_dated(sight))
                add_error(&trees, fit_day_met(&sums, threshold_of(from, sight->selection)) -
                                      (sight->after + 1 + sight->by) / 2.0);
        }
    }
    errors = errors_of(&calendar);
    say("calendar mean carried there", &errors);
    errors = errors_of(&trees);
    say("carried to Kalamalka, trees", &errors);
    errors = errors_of(&orchard);
    say("carried to Kalamalka, orchard", &errors);
    return errors.mae_days;
}

/* The fit at Prince George, and its thresholds at Kalamalka: MAE of the orchard's days there. */
static struct event_fit lodgepole(struct fixture *fixture, const struct asked *asked,
                                  double *carried_days)
{
    struct dated_events events = {NULL, 0, 0};
    struct sights sights;
    struct event_fit fit;
    struct fits fits;

    add_weather_site(fixture, "PGTIS", "../opendata/lodgepole/weather_PGTIS.csv");
    add_weather_site(fixture, "Kalamalka", "../opendata/lodgepole/weather_Kalamalka.csv");
    read_trees(fixture, &events);
    fit = fit_one(fixture, &events, asked, &sights);
    assert_int_equal(fit.used, 10);
    assert_string_equal(fit.site->name, "PGTIS");
    against_plain_means(&fit, &sights);
    fits = fits_of(&sights, &fixture->orchard, asked->curve, &fixture->arena);
    assert_int_equal(fits.count, 2);
    assert_string_equal(fits.list[0].site->name, "Kalamalka");
    *carried_days = carry(fixture, &fit, &fits.list[0], &sights);
    return fit;
}

static void lodgepole_pine(void **state)
{
    double carried_days;
    struct event_fit fit =
        lodgepole(*state, &(struct asked){"lodgepole pine, PGTIS", NULL}, &carried_days);

    assert_true(fit.search.found.left_out.mae_days <= 1.5);
    assert_true(fit.search.found.nested.mae_days <= 1.8);
    assert_true(fit.search.found.nested.mae_days < 0.3 * fit.search.found.calendar.mae_days);
    assert_true(fit.grafts.selections.mae_days <= 2.4);
    assert_true(fit.grafts.selections.mae_days < fit.grafts.general.mae_days);
    assert_true(carried_days <= 3.5); /* 2.2 was the goal: docs/skill.md */
}

static void lodgepole_pine_by_the_sine(void **state)
{
    double carried_days;
    struct event_fit fit =
        lodgepole(*state, &(struct asked){"lodgepole pine, PGTIS, sine alone", &conetide_sine},
                  &carried_days);

    assert_true(fit.search.found.nested.mae_days < 0.4 * fit.search.found.calendar.mae_days);
    assert_true(carried_days <= 2.2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(washington),
        FIXTURE_TEST(klein_altendorf),
        FIXTURE_TEST(tudela),
        FIXTURE_TEST(lodgepole_pine),
        FIXTURE_TEST(lodgepole_pine_by_the_sine),
    };

    return cmocka_run_group_tests_name("skill of the fit", tests, NULL, NULL) != 0;
}
