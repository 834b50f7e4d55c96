#include "reading/reading.h"

#include "base/test.h"
#include "base/text.h"

#define C "\"uom\":\"wmoUnit:degC\""
#define F "\"uom\":\"wmoUnit:degF\""

struct folder {
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
};

/* Station HOLM five hours behind UTC. */
static void open_folder(struct folder *folder, double utc_offset_h)
{
    arena_init(&folder->arena, NULL);
    orchard_init(&folder->orchard, &folder->arena);
    diags_init(&folder->diags, &folder->arena);
    *ARENA_PUSH(&folder->arena, folder->orchard.stations.list, folder->orchard.stations.count,
                folder->orchard.stations.capacity) =
        (struct station){.name = "HOLM", .utc_offset_h = utc_offset_h};
}

static bool read_text(struct folder *folder, const char *text)
{
    struct memory_source memory;
    struct source source = source_of_memory("HOLM.forecast.json", &memory, strlen(text), text);
    return read_forecast(&folder->orchard, "HOLM", &source, &folder->diags);
}

static const char *grid(struct arena *arena, const char *issue, const char *minima,
                        const char *maxima)
{
    return arena_printf(arena,
                        "{\"properties\":{\"updateTime\":\"%s\",\"temperature\":7,"
                        "\"minTemperature\":{%s},\"maxTemperature\":{%s}}}",
                        issue, minima, maxima);
}

/* The forecast read, which must be without fault. */
static const struct forecast *read_grid(struct folder *folder, const char *minima,
                                        const char *maxima)
{
    open_folder(folder, -5);
    assert_true(
        read_text(folder, grid(&folder->arena, "2027-03-08T10:11:12+00:00", minima, maxima)));
    if (folder->diags.count > 0)
        fail_msg("told: %s", folder->diags.list[0].message);
    assert_int_equal(folder->orchard.forecasts.count, 1);
    return folder->orchard.forecasts.list;
}

static void expect_day(const struct forecast *forecast, const char *day, double tmin_c,
                       double tmax_c)
{
    daynum at;
    assert_true(day_parse(strlen(day), day, &at));
    assert_true(at >= forecast->first_day && at < forecast->first_day + (daynum)forecast->count);
    double got_tmin_c = forecast->tmin_c[at - forecast->first_day];
    double got_tmax_c = forecast->tmax_c[at - forecast->first_day];
    if (isnan(tmin_c))
        assert_true(isnan(got_tmin_c));
    else
        assert_near(got_tmin_c, tmin_c, 1e-9);
    if (isnan(tmax_c))
        assert_true(isnan(got_tmax_c));
    else
        assert_near(got_tmax_c, tmax_c, 1e-9);
}

static void a_night_belongs_to_its_morning_and_a_day_to_itself(void **state)
{
    (void)state;
    struct folder folder;
    const struct forecast *forecast = read_grid(
        &folder,
        C ",\"values\":[{\"validTime\":\"2027-03-09T00:00:00+00:00/PT14H\",\"value\":6.5}]",
        C ",\"values\":[{\"validTime\":\"2027-03-08T13:00:00+00:00/PT13H\",\"value\":18.25},"
          "{\"validTime\":\"2027-03-09T13:00:00+00:00/PT13H\",\"value\":null}]");
    char day[DAY_TEXT];
    assert_string_equal(forecast->station, "HOLM");
    assert_string_equal(forecast->place.file, "HOLM.forecast.json");
    assert_string_equal(day_text(forecast->issued, day), "2027-03-08");
    assert_int_equal(forecast->issued_minute, (int64_t)forecast->issued * 1440 + 5 * 60 + 11);
    assert_int_equal(forecast->count, 2);
    expect_day(forecast, "2027-03-08", NAN, 18.25);
    expect_day(forecast, "2027-03-09", 6.5, NAN);
    arena_release(&folder.arena);
}

static void equal_days_may_stand_as_one_interval(void **state)
{
    (void)state;
    struct folder folder;
    const struct forecast *forecast = read_grid(
        &folder, C ",\"values\":[{\"validTime\":\"2027-03-09T00:00:00Z/P2DT14H\",\"value\":4}]",
        C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/P1DT13H\",\"value\":15},"
          "{\"validTime\":\"2027-03-11T13:00:00Z/2027-03-12T02:00:00Z\",\"value\":20}]");
    assert_int_equal(forecast->count, 3);
    expect_day(forecast, "2027-03-09", 4, 15);
    expect_day(forecast, "2027-03-10", 4, 15);
    expect_day(forecast, "2027-03-11", 4, 20);
    arena_release(&folder.arena);
}

static void hours_make_the_extremes_of_their_day(void **state)
{
    (void)state;
    struct folder folder;
    const struct forecast *forecast =
        read_grid(&folder,
                  F ",\"values\":[{\"validTime\":\"2027-03-09T10:00:00Z/PT1H\",\"value\":41},"
                    "{\"validTime\":\"2027-03-09T11:00:00Z/PT1H\",\"value\":32},"
                    "{\"validTime\":\"2027-03-10T04:00:00Z/PT1H\",\"value\":50},"
                    "{\"validTime\":\"PT1H/2027-03-10T06:00:00Z\",\"value\":33.8}]",
                  "\"unitCode\":\"degF\",\"values\":[{\"validTime\":\"2027-03-09T20:00:00Z/"
                  "PT1H\",\"value\":59},"
                  "{\"validTime\":\"2027-03-09T21:00:00Z/PT1H\",\"value\":60.8},"
                  "{\"validTime\":\"2027-03-09T22:00:00Z/PT1H\",\"value\":57.2}]");
    assert_int_equal(forecast->count, 2); /* 06:00 UTC is past midnight there, 05:00 is not */
    expect_day(forecast, "2027-03-09", 0, 16);
    expect_day(forecast, "2027-03-10", 1, NAN);
    arena_release(&folder.arena);
}

static void the_station_has_its_own_midnight(void **state)
{
    (void)state;
    static const struct {
        double utc_offset_h;
        const char *day;
    } cases[] = {{-5, "2027-03-08"}, {0, "2027-03-08"}, {9.5, "2027-03-09"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct folder folder;
        char day[DAY_TEXT];
        open_folder(&folder, cases[i].utc_offset_h);
        assert_true(read_text(
            &folder,
            grid(&folder.arena, "2027-03-08T20:00:00Z", C ",\"values\":[]",
                 C ",\"values\":[{\"validTime\":\"2027-03-08T20:00:00Z/PT1H\",\"value\":9}]")));
        assert_int_equal(folder.orchard.forecasts.count, 1);
        assert_string_equal(day_text(folder.orchard.forecasts.list[0].first_day, day),
                            cases[i].day);
        assert_string_equal(day_text(folder.orchard.forecasts.list[0].issued, day), cases[i].day);
        arena_release(&folder.arena);
    }
}

static void add_site(struct folder *folder, const char *name, const char *station, double offset_h)
{
    *ARENA_PUSH(&folder->arena, folder->orchard.sites.list, folder->orchard.sites.count,
                folder->orchard.sites.capacity) =
        (struct site){.name = name, .station_name = station, .utc_offset_h = offset_h};
}

static void a_station_without_an_offset_takes_that_of_its_site(void **state)
{
    (void)state;
    struct folder folder;
    const char *text;
    open_folder(&folder, NAN);
    text = grid(&folder.arena, "2027-03-08T20:00:00Z", C ",\"values\":[]",
                C ",\"values\":[{\"validTime\":\"2027-03-08T20:00:00Z/PT1H\",\"value\":9}]");
    assert_true(read_text(&folder, text));
    assert_int_equal(folder.orchard.forecasts.count, 0);
    assert_string_equal(folder.diags.list[0].code, "no-utc-offset");
    add_site(&folder, "Ost", "HOLM", -5);
    add_site(&folder, "Nord", "HOLM", 9);
    add_site(&folder, "Alt", "TARN", -9);
    add_site(&folder, "Bach", "HOLM", NAN);
    add_site(&folder, "Cent", NULL, 3);
    assert_true(read_text(&folder, text));
    assert_int_equal(folder.orchard.forecasts.list[0].first_day, day_from_civil(2027, 3, 9));
    arena_release(&folder.arena);
}

#define GOOD_MIN C ",\"values\":[{\"validTime\":\"2027-03-09T00:00:00Z/PT14H\",\"value\":6}]"
#define GOOD_MAX C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/PT13H\",\"value\":18}]"

static void expect_told(const char *text, const char *expected)
{
    struct folder folder;
    struct text told;
    open_folder(&folder, -5);
    assert_true(read_text(&folder, text));
    text_init(&told, &folder.arena);
    diags_sort(&folder.diags);
    diags_write(&folder.diags, &told);
    if (strstr(told.bytes, expected) == NULL)
        fail_msg("expected '%s' in: %s", expected, told.bytes);
    assert_int_equal(folder.diags.errors, 1);
    assert_int_equal(folder.orchard.forecasts.count, 0);
    arena_release(&folder.arena);
}

static void a_file_that_is_no_forecast_is_refused_by_name(void **state)
{
    (void)state;
    expect_told("{", "[bad-json]");
    expect_told("[1]", "no form of forecast that is read");
    expect_told("{\"title\":\"Not Found\",\"status\":404}",
                "an error that the weather service answered with ('Not Found')");
    expect_told("{\"title\":404,\"status\":404}", "(without a title)");
    expect_told("{\"properties\":{\"periods\":[]}}", "expected the grid-point form");
}

static void every_fault_is_told_by_its_path(void **state)
{
    static const struct {
        const char *issue, *minima, *maxima, *expected;
    } cases[] = {
        {"yesterday", GOOD_MIN, GOOD_MAX, "properties.updateTime: 'yesterday' is no moment"},
        {"2027-03-08T10:00:00Z", "\"values\":[]", GOOD_MAX,
         "properties.minTemperature.uom: is not there"},
        {"2027-03-08T10:00:00Z", "\"uom\":5,\"values\":[]", GOOD_MAX,
         "properties.minTemperature.uom is a number"},
        {"2027-03-08T10:00:00Z", GOOD_MIN, "\"uom\":\"wmoUnit:K\",\"values\":[]",
         "properties.maxTemperature.uom: 'wmoUnit:K' is not known"},
        {"2027-03-08T10:00:00Z", GOOD_MIN, C, "properties.maxTemperature.values: is no list"},
        {"2027-03-08T10:00:00Z", GOOD_MIN, C ",\"values\":[3]",
         "properties.maxTemperature.values[0] is a number"},
        {"2027-03-08T10:00:00Z", GOOD_MIN, C ",\"values\":[{\"value\":3}]",
         "properties.maxTemperature.values[0].validTime: is not there"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"NOW/PT1H\",\"value\":3}]",
         "properties.maxTemperature.values[0].validTime: 'NOW/PT1H' is no interval"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/PT13H\"}]",
         "properties.maxTemperature.values[0].value: is not there"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/PT13H\",\"value\":\"18\"}]",
         "properties.maxTemperature.values[0].value is a text"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/PT13H\",\"value\":291}]",
         "properties.maxTemperature.values[0].value lies outside its range"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/P17D\",\"value\":18}]",
         "properties.maxTemperature.values[0].value: one value for more than 16 days"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-25T13:00:00Z/PT13H\",\"value\":18}]",
         "days from 2027-03-09 to 2027-03-25, expected no more than 16"},
        {"2027-03-08T10:00:00Z", C ",\"values\":[]", C ",\"values\":[]", "no value of any day"},
        {"2027-03-08T10:00:00Z", GOOD_MIN,
         C ",\"values\":[{\"validTime\":\"2027-03-09T13:00:00Z/PT13H\",\"value\":5}]",
         "properties.minTemperature.values[0].value: the minimum of 2027-03-09 is 6.0 and its "
         "maximum 5.0 deg C"},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        expect_told(grid(&arena, cases[i].issue, cases[i].minima, cases[i].maxima),
                    cases[i].expected);
        arena_release(&arena);
    }
    expect_told(
        "{\"properties\":{\"updateTime\":\"2027-03-08T10:00:00Z\",\"minTemperature\":{" GOOD_MIN
        "}}}",
        "properties.maxTemperature: is not there");
    expect_told(
        "{\"properties\":{\"updateTime\":\"2027-03-08T10:00:00Z\",\"minTemperature\":{" GOOD_MIN
        "},\"maxTemperature\":3}}",
        "properties.maxTemperature is a number");
    expect_told("{\"properties\":{\"minTemperature\":{" GOOD_MIN "},\"maxTemperature\":{" GOOD_MAX
                "}}}",
                "properties.updateTime: is not there");
}

static long refuse(void *context, size_t size, char *bytes)
{
    (void)context;
    (void)size;
    (void)bytes;
    return -1;
}

static void a_source_that_fails_is_told_to_the_caller(void **state)
{
    (void)state;
    struct folder folder;
    struct source source = {"HOLM.forecast.json", NULL, refuse};
    open_folder(&folder, -5);
    assert_false(read_forecast(&folder.orchard, "HOLM", &source, &folder.diags));
    assert_int_equal(folder.orchard.forecasts.count, 0);
    arena_release(&folder.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_night_belongs_to_its_morning_and_a_day_to_itself),
        cmocka_unit_test(equal_days_may_stand_as_one_interval),
        cmocka_unit_test(hours_make_the_extremes_of_their_day),
        cmocka_unit_test(the_station_has_its_own_midnight),
        cmocka_unit_test(a_station_without_an_offset_takes_that_of_its_site),
        cmocka_unit_test(a_file_that_is_no_forecast_is_refused_by_name),
        cmocka_unit_test(every_fault_is_told_by_its_path),
        cmocka_unit_test(a_source_that_fails_is_told_to_the_caller),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
