#include "planning/site_calendar.h"

#include "base/test.h"

static const double m_per_ft = 0.3048;

/* Latitude in degrees, elevation in feet, days: the rule of Hopkins 1918 by hand. */
static void dates_move_with_latitude_and_elevation(void **state)
{
    static const struct {
        double latitude, elevation_ft;
        int days;
    } cases[] = {{32.2, 200, 0},  {29.65, 180, -10}, {30.9, 250, -5}, {31.1, 100, -5},
                 {33.9, 750, 12}, {34.0, 450, 10},   {34.3, 350, 10}, {35.4, 110, 12},
                 {37.3, 500, 23}, {35.5, 1500, 26}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct site site = {.latitude = cases[i].latitude,
                            .elevation_m = cases[i].elevation_ft * m_per_ft};

        assert_int_equal(calendar_shift_days(&site), cases[i].days);
        site.latitude = -site.latitude; /* towards the other pole */
        assert_int_equal(calendar_shift_days(&site), cases[i].days);
    }
}

static void what_is_unknown_of_a_site_moves_nothing(void **state)
{
    struct site nowhere = {.latitude = NAN, .elevation_m = NAN};
    struct site high = {.latitude = NAN, .elevation_m = 60.96 + 10 * 121.92};
    struct site northern = {.latitude = 33.2, .elevation_m = NAN};

    (void)state;
    assert_int_equal(calendar_shift_days(&nowhere), 0);
    assert_int_equal(calendar_shift_days(&high), 40);
    assert_int_equal(calendar_shift_days(&northern), 4);
}

static void the_other_hemisphere_is_six_months_on(void **state)
{
    static const struct {
        struct month_day day, other;
    } cases[] = {{{3, 8}, {9, 8}},   {{2, 1}, {8, 1}},   {{12, 31}, {6, 30}},
                 {{8, 31}, {2, 28}}, {{7, 1}, {1, 1}},   {{6, 30}, {12, 30}},
                 {{1, 17}, {7, 17}}, {{2, 29}, {8, 29}}, {{3, 31}, {9, 30}}};

    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct month_day other = other_hemisphere(cases[i].day);

        assert_int_equal(other.month, cases[i].other.month);
        assert_int_equal(other.day, cases[i].other.day);
    }
}

static void a_calendar_date_falls_in_the_season_of_its_spring(void **state)
{
    const struct season_rule north = {{7, 1}, true}, south = {{1, 1}, false};
    struct site base = {.latitude = 32.2, .elevation_m = 60.96};
    struct site upland = {.latitude = 33.9, .elevation_m = 750 * m_per_ft};
    struct site southern = {.latitude = -32.2, .elevation_m = 60.96};
    const struct month_day spring = {3, 8}, autumn = {10, 1};

    (void)state;
    assert_int_equal(site_calendar_day(&base, north, spring, 2028), day_from_civil(2028, 3, 8));
    assert_int_equal(site_calendar_day(&base, north, autumn, 2028), day_from_civil(2027, 10, 1));
    assert_int_equal(site_calendar_day(&upland, north, spring, 2028), day_from_civil(2028, 3, 20));
    assert_int_equal(site_calendar_day(&southern, south, spring, 2028), day_from_civil(2028, 9, 8));
    assert_int_equal(site_calendar_day(&southern, south, autumn, 2028), day_from_civil(2028, 4, 1));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dates_move_with_latitude_and_elevation),
        cmocka_unit_test(what_is_unknown_of_a_site_moves_nothing),
        cmocka_unit_test(the_other_hemisphere_is_six_months_on),
        cmocka_unit_test(a_calendar_date_falls_in_the_season_of_its_spring),
    };
    return cmocka_run_group_tests_name("site calendar", tests, NULL, NULL) != 0;
}
