/*
 * record_open_data - days filled from a neighbour, moved to another elevation, and put on the day
 * to which a morning reader's maximum belongs, against what other stations observed.
 *
 * Data: ../opendata/south (Griffin, Watkinsville, Plains, Tifton, Calhoun, Blairsville: daily
 * extremes of automated stations in Georgia, 1996 to 2021), ../opendata/belle_mina (a co-operative
 * station in Alabama that reads at 07:00, 2003 to 2024), each with a SOURCE.md.  The figures
 * expected are those of facts/degreedays.md 5.6 and 5.7, found by another program on the same data.
 */
#include "conetide/heat.h"
#include "oracle.h"
#include "planning/observed_days.h"
#include "planning/record_fixture.h"

enum { DAYS_MOST = 12000 };

/* A record of all days of a table; the test is skipped when there is none. */
static struct record *read_station(struct fixture *fixture, const char *name, const char *table)
{
    struct oracle oracle;
    struct record *record = NULL;

    oracle_open(&oracle, table);
    while (oracle_next(&oracle)) {
        const char *date = oracle_text(&oracle, "date");
        daynum day = fixture_day(date);
        double tmin_c = oracle_number(&oracle, "tmin_c"), tmax_c = oracle_number(&oracle, "tmax_c");

        if (record == NULL) {
            record = add_record(fixture, name, date, DAYS_MOST);
            for (size_t i = 0; i < DAYS_MOST; i++)
                record->tmin_c[i] = record->tmax_c[i] = NAN;
            record->count = 0;
        }
        assert_true(day >= record->first_day && day - record->first_day < DAYS_MOST);
        record->count = (size_t)(day - record->first_day) + 1;
        record->tmin_c[day - record->first_day] = tmin_c;
        record->tmax_c[day - record->first_day] = tmax_c;
    }
    assert_non_null(record);
    return record;
}

static struct fixture *fresh(void **state)
{
    fixture_teardown(state);
    fixture_setup(state);
    return *state;
}

/* ---- the neighbour --------------------------------------------------------------------------- */

/* Griffin without 2005 to 2014, filled from the neighbour; means of |error| of both extremes. */
static void fill_griffin(struct fixture *fixture, const char *table, double mae_c[2])
{
    struct station *station;
    struct record *own, kept;
    struct station_record filled;
    daynum first = fixture_day("2005-01-01"), last = fixture_day("2014-12-31");
    double sum_c[2] = {0, 0};
    size_t days = 0;

    add_site(fixture, "Orchard")->station_name = "GRIFFIN";
    add_station(fixture, "OTHER");
    station = add_station(fixture, "GRIFFIN");
    station->neighbour = "OTHER";
    read_station(fixture, "OTHER", table);
    own = read_station(fixture, "GRIFFIN", "../opendata/south/griffin_ga_daily.csv");
    kept = *own;
    own->tmin_c = ARENA_ARRAY(&fixture->arena, own->count, double);
    own->tmax_c = ARENA_ARRAY(&fixture->arena, own->count, double);
    memcpy(own->tmin_c, kept.tmin_c, own->count * sizeof *own->tmin_c);
    memcpy(own->tmax_c, kept.tmax_c, own->count * sizeof *own->tmax_c);
    lose(own, "2005-01-01", "2014-12-31");
    orchard_link(&fixture->orchard, &fixture->diags);
    filled = station_record_of(&fixture->orchard, &fixture->orchard.sites.list[0],
                               fixture_day("2021-12-31"), &fixture->arena);
    for (daynum day = first; day <= last; day++) {
        daynum i = day - filled.series.first_day, k = day - kept.first_day;

        if (station_record_kind(&filled, day) != DAY_NEIGHBOUR || isnan(kept.tmin_c[k]) ||
            isnan(kept.tmax_c[k]))
            continue;
        sum_c[0] += fabs(filled.series.tmin_c[i] - kept.tmin_c[k]);
        sum_c[1] += fabs(filled.series.tmax_c[i] - kept.tmax_c[k]);
        days++;
    }
    assert_true(days > 3400);
    mae_c[0] = sum_c[0] / (double)days;
    mae_c[1] = sum_c[1] / (double)days;
}

static void a_neighbour_fills_ten_years_of_griffin(void **state)
{
    static const struct {
        const char *name, *table;
        double tmin_c, tmax_c;
    } cases[] = {{"Watkinsville", "../opendata/south/watkinsville_daily.csv", 1.05, 0.96},
                 {"Plains", "../opendata/south/plains_daily.csv", 1.27, 1.22},
                 {"Tifton", "../opendata/south/tifton_ga_daily.csv", 1.55, 1.64}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        double mae_c[2];

        fill_griffin(fresh(state), cases[i].table, mae_c);
        print_message("  from %-12s MAE %.3f C minimum, %.3f C maximum\n", cases[i].name, mae_c[0],
                      mae_c[1]);
        /* offsets here come from the other sixteen years alone */
        assert_near(mae_c[0], cases[i].tmin_c, 0.04);
        assert_near(mae_c[1], cases[i].tmax_c, 0.04);
    }
}

/* ---- elevation ------------------------------------------------------------------------------- */

/* Heat units above 10 deg C from January to April; NaN: days are missing. */
static double spring_heat(const struct record *record, int year)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 10, NAN};
    daynum first = day_from_civil(year, 1, 1), at = first - record->first_day;
    size_t bad_day, count = (size_t)(day_from_civil(year, 5, 1) - first);
    double units[130], sum = 0;

    if (at < 0 || at + (daynum)count > (daynum)record->count ||
        conetide_heat_days(&rule, count, record->tmin_c + at, record->tmax_c + at, units,
                           &bad_day) != CONETIDE_OK)
        return NAN;
    for (size_t i = 0; i < count; i++)
        sum += units[i];
    return sum;
}

/* By how much the one has more than the other, over the springs that both have whole. */
static double more_percent(const struct record *moved, const struct record *there)
{
    double sums[2] = {0, 0};
    int years = 0;

    for (int year = 1996; year <= 2021; year++) {
        double one = spring_heat(moved, year), other = spring_heat(there, year);

        if (isnan(one + other))
            continue;
        sums[0] += one;
        sums[1] += other;
        years++;
    }
    print_message("  %d springs, ", years);
    assert_true(years >= 15);
    return 100 * (sums[0] / sums[1] - 1);
}

static void calhoun_moved_up_to_blairsville_has_its_heat(void **state)
{
    static const struct {
        double c_per_km, error_percent;
    } cases[] = {{0, 35.6}, {5, -0.8}, {6.5, -10.3}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = fresh(state);
        struct site *site = add_site(fixture, "Orchard");
        struct station *station = add_station(fixture, "CALHOUN");
        struct station_record moved;
        struct record there;
        double percent;

        site->station_name = "CALHOUN";
        site->elevation_m = 384;
        station->elevation_m = 0;
        station->tmin_lapse_c_per_km = station->tmax_lapse_c_per_km = cases[i].c_per_km;
        read_station(fixture, "CALHOUN", "../opendata/south/calhoun_daily.csv");
        there = *read_station(fixture, "BLAIR", "../opendata/south/blairsville_daily.csv");
        orchard_link(&fixture->orchard, &fixture->diags);
        moved = station_record_of(&fixture->orchard, &fixture->orchard.sites.list[0],
                                  fixture_day("2021-12-31"), &fixture->arena);
        percent = more_percent(&moved.series, &there);
        print_message("by %.1f C/km: heat %+.1f %%\n", cases[i].c_per_km, percent);
        /* how the source weighs years and its cut-off are not told */
        assert_near(percent, cases[i].error_percent, 0.7);
    }
}

/* ---- the reading hour ------------------------------------------------------------------------ */

static double correlation(const struct record *a, const double *a_c, const struct record *b,
                          const double *b_c)
{
    double n = 0, sum_a = 0, sum_b = 0, squares_a = 0, squares_b = 0, products = 0;

    for (size_t i = 0; i < a->count; i++) {
        int64_t at = (int64_t)a->first_day + (int64_t)i - b->first_day;

        if (at < 0 || at >= (int64_t)b->count || isnan(a_c[i]) || isnan(b_c[at]))
            continue;
        n++;
        sum_a += a_c[i];
        sum_b += b_c[at];
        squares_a += a_c[i] * a_c[i];
        squares_b += b_c[at] * b_c[at];
        products += a_c[i] * b_c[at];
    }
    assert_true(n > 5000);
    return (products - sum_a * sum_b / n) /
           sqrt((squares_a - sum_a * sum_a / n) * (squares_b - sum_b * sum_b / n));
}

static void belle_mina_agrees_with_griffin_once_its_maxima_are_put_right(void **state)
{
    struct fixture *fixture = fresh(state);
    struct station *station = add_station(fixture, "BELLE");
    struct record days[2], griffin;
    double minimum[2], maximum[2];

    read_station(fixture, "BELLE", "../opendata/belle_mina/USC00010655_daily.csv");
    griffin = *read_station(fixture, "GRIFFIN", "../opendata/south/griffin_ga_daily.csv");
    for (int morning = 0; morning < 2; morning++) {
        station->reads_morning = morning == 1;
        days[morning] = observed_days_of(&fixture->orchard.records.list[0], station,
                                         fixture_day("2024-12-31"), &fixture->arena);
        minimum[morning] =
            correlation(&days[morning], days[morning].tmin_c, &griffin, griffin.tmin_c);
        maximum[morning] =
            correlation(&days[morning], days[morning].tmax_c, &griffin, griffin.tmax_c);
    }
    print_message("  maximum %.3f as read, %.3f put right; minimum %.3f\n", maximum[0], maximum[1],
                  minimum[1]);
    assert_near(maximum[0], 0.919, 0.0015);
    assert_near(maximum[1], 0.935, 0.0015);
    assert_near(minimum[1], 0.947, 0.0015);
    assert_near(minimum[1], minimum[0], 0.0005); /* the minimum stays on its day */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_neighbour_fills_ten_years_of_griffin),
        FIXTURE_TEST(calhoun_moved_up_to_blairsville_has_its_heat),
        FIXTURE_TEST(belle_mina_agrees_with_griffin_once_its_maxima_are_put_right),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
