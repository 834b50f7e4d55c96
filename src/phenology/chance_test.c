/*
 * chance_test.c - chances of days against a plain enumeration of all futures.
 *
 * The enumeration moves every member by every shift and looks at the days one by one; it shares
 * nothing with the library but the weights of the shifts.
 */
#include "conetide/projection.h"

#include "conetide/normal.h"

#include "base/test.h"

enum { MEMBERS_MOST = 30 };

static uint32_t seed = 20270315;

/* 0 to n - 1, of a fixed sequence, so that the same cases come every time. */
static int32_t below(int32_t n)
{
    seed = seed * 1664525u + 1013904223u;
    return (int32_t)((seed >> 8) % (uint32_t)n);
}

/* What one future answers to the eight questions. */
struct answers {
    double chance, both, any, clean, clean_and, clean_both, clean_any;
};

static bool has_come(int32_t event, int j, int32_t d)
{
    return event != CONETIDE_NEVER && event + j <= d;
}

static bool is_receptive(const struct conetide_window *window, int j, int32_t d)
{
    return has_come(window->first, j, d) && !has_come(window->last, j, d - 1);
}

static void add_future(struct answers *sum, const struct conetide_window *window, int j,
                       const int32_t days[3], double weight)
{
    bool clean = !has_come(window->opening, j, days[0]);
    bool one = is_receptive(window, j, days[1]), other = is_receptive(window, j, days[2]);

    sum->chance += one ? weight : 0;
    sum->both += one && other ? weight : 0;
    sum->any += one || other ? weight : 0;
    sum->clean += clean ? weight : 0;
    sum->clean_and += clean && one ? weight : 0;
    sum->clean_both += clean && one && other ? weight : 0;
    sum->clean_any += clean && (one || other) ? weight : 0;
}

/* The same where some events stand and shifts are ruled out: what is left of each element. */
static void add_known_future(struct answers *sum, const struct conetide_window *window, int j,
                             const int32_t days[3], unsigned stands, double weight)
{
    struct conetide_window still = *window;

    if ((stands & CONETIDE_OPENING_STANDS) != 0 && still.opening != CONETIDE_NEVER)
        still.opening -= j;
    if ((stands & CONETIDE_FIRST_STANDS) != 0 && still.first != CONETIDE_NEVER)
        still.first -= j;
    add_future(sum, &still, j, days, weight);
}

/* Weights straight from the definition. */
static double shift_weight(double sigma, int j)
{
    if (sigma <= 0)
        return j == 0 ? 1 : 0;
    return conetide_normal_cumulative((j + 0.5) / sigma) -
           conetide_normal_cumulative((j - 0.5) / sigma);
}

static struct answers by_enumeration(size_t members, const struct conetide_window *windows,
                                     double sigma, const int32_t days[3])
{
    int reach = (int)ceil(4 * sigma);
    struct answers sum = {0};
    double total = 0;

    for (int j = -reach; j <= reach; j++)
        total += shift_weight(sigma, j);
    for (size_t m = 0; m < members; m++) {
        for (int j = -reach; j <= reach; j++)
            add_future(&sum, &windows[m], j, days,
                       shift_weight(sigma, j) / total / (double)members);
    }
    return sum;
}

static struct conetide_window random_window(void)
{
    struct conetide_window window;

    window.first = 60 + below(30);
    window.opening = window.first - below(4) + (below(10) == 0 ? 6 : 0);
    window.last = window.first + below(12) - (below(10) == 0 ? 4 : 0);
    if (below(8) == 0)
        window.last = CONETIDE_NEVER;
    if (below(12) == 0)
        window.first = window.last = CONETIDE_NEVER;
    if (below(10) == 0)
        window.opening = CONETIDE_NEVER;
    return window;
}

static void chances_are_those_of_all_futures_counted(void **state)
{
    static const double sigmas_days[] = {0, 0.2, 0.7, 1.5, 3.3, 8};
    size_t between = 0, clean_matters = 0;

    (void)state;
    for (int round = 0; round < 6000; round++) {
        double sigma = sigmas_days[below((int32_t)COUNT(sigmas_days))];
        struct conetide_window windows[MEMBERS_MOST];
        struct conetide_shifts shifts;
        struct conetide_futures futures = {
            .members = (size_t)below(MEMBERS_MOST) + 1, .windows = windows, .shifts = &shifts};
        int32_t days[3];
        struct answers expected;

        days[1] = 50 + below(60);
        days[0] = days[1] - 20 + below(25);
        days[2] = days[1] + below(15) - 4;
        assert_int_equal(conetide_shifts_of(sigma, &shifts), CONETIDE_OK);
        for (size_t m = 0; m < futures.members; m++)
            windows[m] = random_window();
        expected = by_enumeration(futures.members, windows, sigma, days);
        assert_near(conetide_chance(&futures, days[1]), expected.chance, 1e-13);
        assert_near(conetide_chance_both(&futures, days[1], days[2]), expected.both, 1e-13);
        assert_near(conetide_chance_any(&futures, days[1], days[2]), expected.any, 1e-13);
        assert_near(conetide_chance_clean(&futures, days[0]), expected.clean, 1e-13);
        assert_near(conetide_chance_clean_and(&futures, days[0], days[1]), expected.clean_and,
                    1e-13);
        assert_near(conetide_chance_clean_both(&futures, days[0], days[1], days[2]),
                    expected.clean_both, 1e-13);
        assert_near(conetide_chance_clean_any(&futures, days[0], days[1], days[2]),
                    expected.clean_any, 1e-13);
        between += expected.both > 0.01 && expected.both + 0.01 < expected.any;
        clean_matters += expected.clean_any > 0.01 && expected.clean_any + 0.01 < expected.any;
    }
    print_message("both days differ from either in %zu of 6000 cases, the bag matters in %zu\n",
                  between, clean_matters);
    assert_true(between > 2000 && clean_matters > 1500);
}

static void check_answers(const struct conetide_futures *futures, const struct answers *expected,
                          const int32_t days[3])
{
    assert_near(conetide_chance(futures, days[1]), expected->chance, 1e-12);
    assert_near(conetide_chance_both(futures, days[1], days[2]), expected->both, 1e-12);
    assert_near(conetide_chance_any(futures, days[1], days[2]), expected->any, 1e-12);
    assert_near(conetide_chance_clean(futures, days[0]), expected->clean, 1e-12);
    assert_near(conetide_chance_clean_and(futures, days[0], days[1]), expected->clean_and, 1e-12);
    assert_near(conetide_chance_clean_both(futures, days[0], days[1], days[2]),
                expected->clean_both, 1e-12);
    assert_near(conetide_chance_clean_any(futures, days[0], days[1], days[2]), expected->clean_any,
                1e-12);
}

/* Elements of unequal weight, by their own shifts of which some are ruled out. */
static void chances_of_what_is_known_are_those_of_the_futures_left(void **state)
{
    size_t between = 0;

    (void)state;
    for (int round = 0; round < 3000; round++) {
        struct conetide_window windows[MEMBERS_MOST];
        struct conetide_given given[MEMBERS_MOST];
        struct conetide_shifts shifts[3];
        struct conetide_futures futures = {.members = (size_t)below(6) + 1,
                                           .windows = windows,
                                           .shifts = &shifts[0],
                                           .given = given,
                                           .stands = (unsigned)below(4)};
        struct answers expected = {0};
        double total = 0;
        int32_t days[3];

        days[1] = 50 + below(60);
        days[0] = days[1] - 20 + below(25);
        days[2] = days[1] + below(15) - 4;
        assert_int_equal(conetide_shifts_of(2, &shifts[0]), CONETIDE_OK);
        for (int k = 1; k < 3; k++)
            assert_int_equal(conetide_shifts_after(2, 0.6, below(17) - 8, &shifts[k]), CONETIDE_OK);
        for (size_t m = 0; m < futures.members; m++) {
            windows[m] = random_window();
            given[m].weight = 1 + below(5);
            total += given[m].weight;
            given[m].shifts = &shifts[below(3)];
            given[m].least = -8 + below(9);
            given[m].most = given[m].least + below(8 - given[m].least + 1);
        }
        for (size_t m = 0; m < futures.members; m++) {
            const double *cumulative = given[m].shifts->cumulative + given[m].shifts->reach;
            double left = 0;

            given[m].weight /= total;
            for (int j = given[m].least; j <= given[m].most; j++)
                left += cumulative[j] - (j > -8 ? cumulative[j - 1] : 0);
            if (left < 1e-9) { /* a rule that leaves nothing: ask for all of it */
                given[m].least = -8;
                given[m].most = 8;
                left = 1;
            }
            for (int j = given[m].least; j <= given[m].most; j++)
                add_known_future(&expected, &windows[m], j, days, futures.stands,
                                 given[m].weight / left *
                                     (cumulative[j] - (j > -8 ? cumulative[j - 1] : 0)));
        }
        check_answers(&futures, &expected, days);
        between += expected.clean_any > 0.01 && expected.clean_any < 0.99;
    }
    assert_true(between > 300);
}

/* The later shift is normal about correlation times the earlier, and over all of these as wide. */
static void later_shifts_follow_earlier_ones_and_spread_no_less(void **state)
{
    struct conetide_shifts earlier, later;
    double variance = 0, product = 0;

    (void)state;
    assert_int_equal(conetide_shifts_of(3, &earlier), CONETIDE_OK);
    for (int j = -12; j <= 12; j++) {
        double share = earlier.cumulative[12 + j] - (j > -12 ? earlier.cumulative[11 + j] : 0);

        assert_int_equal(conetide_shifts_after(3, 0.7, j, &later), CONETIDE_OK);
        assert_int_equal(later.reach, 12);
        for (int i = -12; i <= 12; i++) {
            double both =
                share * (later.cumulative[12 + i] - (i > -12 ? later.cumulative[11 + i] : 0));

            variance += both * i * i;
            product += both * i * j;
        }
    }
    /* rounding adds a twelfth of a day^2, and a correlated share of the earlier one's */
    assert_near(variance, 9 + 1 / 12.0, 0.06);
    assert_near(product / 9, 0.7, 0.01);
    assert_int_equal(conetide_shifts_after(3, 1, -2, &later), CONETIDE_OK);
    assert_near(conetide_shift_cumulative(&later, -3), 0, 0);
    assert_near(conetide_shift_cumulative(&later, -2), 1, 0);
    assert_int_equal(conetide_shifts_after(0, 0.5, 0, &later), CONETIDE_OK);
    assert_near(conetide_shift_cumulative(&later, 0), 1, 0);
    assert_int_equal(conetide_shifts_after(3, 0.7, 13, &later), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_shifts_after(3, 1.1, 0, &later), CONETIDE_BAD_ARGUMENT);
    assert_int_equal(conetide_shifts_after(NAN, 0.5, 0, &later), CONETIDE_BAD_ARGUMENT);
    assert_true(isnan(later.cumulative[0]));
}

/* Its own spread is held between its neighbours, and nothing comes by the last look. */
static void an_event_with_a_spread_of_its_own_is_counted_out(void **state)
{
    size_t held = 0;

    (void)state;
    for (int round = 0; round < 800; round++) {
        int32_t days[4], sooner[4], later[4];
        struct conetide_shifts shifts, own;
        struct conetide_event event = {.members = (size_t)below(4) + 1,
                                       .days = days,
                                       .shifts = &shifts,
                                       .own = &own,
                                       .no_sooner = below(4) > 0 ? sooner : NULL,
                                       .no_later = below(4) > 0 ? later : NULL,
                                       .not_by = below(3) > 0 ? INT32_MIN : 70};
        int32_t d = 60 + below(30), first;
        double by = 0;

        assert_int_equal(conetide_shifts_of(1.5, &shifts), CONETIDE_OK);
        assert_int_equal(conetide_shifts_of(below(2) + 0.7, &own), CONETIDE_OK);
        for (size_t m = 0; m < event.members; m++) {
            days[m] = 70 + below(8);
            sooner[m] = days[m] - below(4);
            later[m] = days[m] + below(4);
            days[m] = below(10) == 0 ? CONETIDE_NEVER : days[m];
        }
        for (size_t m = 0; m < event.members; m++) {
            for (int j = -shifts.reach; j <= shifts.reach; j++) {
                for (int i = -own.reach; i <= own.reach; i++) {
                    int32_t day = days[m];

                    if (day == CONETIDE_NEVER)
                        continue;
                    day += i;
                    day = event.no_later != NULL && day > later[m] ? later[m] : day;
                    day = event.no_sooner != NULL && day < sooner[m] ? sooner[m] : day;
                    held += day != days[m] + i;
                    day += j;
                    day = event.not_by != INT32_MIN && day <= event.not_by ? event.not_by + 1 : day;
                    by += day <= d ? (conetide_shift_cumulative(&shifts, j) -
                                      conetide_shift_cumulative(&shifts, j - 1)) *
                                         (conetide_shift_cumulative(&own, i) -
                                          conetide_shift_cumulative(&own, i - 1)) /
                                         (double)event.members
                                   : 0;
                }
            }
        }
        assert_near(conetide_known_event_by(&event, d), by, 1e-12);
        if (conetide_known_event_date(&event, 0.5, &first) == CONETIDE_OK)
            assert_true(conetide_known_event_by(&event, first) >= 0.5 - 1e-12 &&
                        conetide_known_event_by(&event, first - 1) < 0.5);
    }
    assert_true(held > 1000);
}

static void an_event_by_a_day_and_its_date_are_those_of_all_futures_counted(void **state)
{
    static const double sigmas_days[] = {0, 0.4, 2, 6.5};
    static const double chances[] = {0.1, 0.5, 0.9, 0.95, 1};
    size_t reached = 0, unreached = 0;

    (void)state;
    for (int round = 0; round < 1500; round++) {
        double sigma = sigmas_days[below((int32_t)COUNT(sigmas_days))];
        int32_t events[MEMBERS_MOST], day, walk;
        size_t n = (size_t)below(MEMBERS_MOST) + 1;
        struct conetide_shifts shifts;
        double p = chances[below((int32_t)COUNT(chances))];

        assert_int_equal(conetide_shifts_of(sigma, &shifts), CONETIDE_OK);
        for (size_t i = 0; i < n; i++)
            events[i] = below(12) == 0 ? CONETIDE_NEVER : 70 + below(25);
        for (walk = 0; walk < 200; walk++) {
            double by = 0, total = 0;

            for (int j = -shifts.reach; j <= shifts.reach; j++)
                total += shift_weight(sigma, j);
            for (size_t i = 0; i < n; i++) {
                for (int j = -shifts.reach; j <= shifts.reach; j++)
                    by += has_come(events[i], j, walk) ? shift_weight(sigma, j) / total / (double)n
                                                       : 0;
            }
            assert_near(conetide_event_by(n, events, &shifts, walk), by, 1e-12);
            if (conetide_event_by(n, events, &shifts, walk) >= p - 1e-12)
                break;
        }
        assert_int_equal(conetide_event_date(n, events, &shifts, p, &day),
                         walk < 200 ? CONETIDE_OK : CONETIDE_NOT_REACHED);
        assert_int_equal(day, walk < 200 ? walk : CONETIDE_NEVER);
        *(walk < 200 ? &reached : &unreached) += 1;
    }
    assert_true(reached > 700 && unreached > 200);
}

static void a_date_with_a_tenth_of_ten_members_is_the_earliest(void **state)
{
    static const int32_t days[] = {40, 41, 42, 43, 44, 45, 46, 47, 48, CONETIDE_NEVER};
    struct conetide_shifts none;
    int32_t day;

    (void)state;
    assert_int_equal(conetide_shifts_of(0, &none), CONETIDE_OK);
    assert_int_equal(conetide_event_date(10, days, &none, 0.1, &day), CONETIDE_OK);
    assert_int_equal(day, 40);
    assert_int_equal(conetide_event_date(10, days, &none, 0.1 + 1e-9, &day), CONETIDE_OK);
    assert_int_equal(day, 41);
    assert_int_equal(conetide_event_date(10, days, &none, 0.9, &day), CONETIDE_OK);
    assert_int_equal(day, 48);
    assert_int_equal(conetide_event_date(10, days, &none, 0.91, &day), CONETIDE_NOT_REACHED);
    assert_int_equal(day, CONETIDE_NEVER);
}

static void senseless_chances_are_refused(void **state)
{
    static const int32_t days[] = {40};
    static const double chances[] = {0, -0.5, 1.01, NAN};
    struct conetide_shifts none;
    int32_t day;

    (void)state;
    assert_int_equal(conetide_shifts_of(0, &none), CONETIDE_OK);
    for (size_t i = 0; i < COUNT(chances); i++) {
        day = 1;
        assert_int_equal(conetide_event_date(1, days, &none, chances[i], &day),
                         CONETIDE_BAD_ARGUMENT);
        assert_int_equal(day, CONETIDE_NEVER);
    }
    assert_int_equal(conetide_event_date(0, days, &none, 0.5, &day), CONETIDE_BAD_ARGUMENT);
}

static void spread_is_of_the_members_that_reach_it(void **state)
{
    static const int32_t days[] = {20500, CONETIDE_NEVER, 20502, 20507, CONETIDE_NEVER, 20511};
    static const int32_t never[] = {CONETIDE_NEVER, CONETIDE_NEVER};
    double mean, sd_days;

    (void)state;
    conetide_event_spread(COUNT(days), days, &mean, &sd_days);
    assert_near(mean, 20505, 1e-9);
    assert_near(sd_days, sqrt((25 + 9 + 4 + 36) / 3.0), 1e-12);
    conetide_event_spread(2, days, &mean, &sd_days);
    assert_near(mean, 20500, 0);
    assert_true(isnan(sd_days));
    conetide_event_spread(2, never, &mean, &sd_days);
    assert_true(isnan(mean) && isnan(sd_days));
}

static void a_narrow_date_is_widened_to_the_least_spread(void **state)
{
    static const int32_t days[] = {100, 104, CONETIDE_NEVER}; /* population variance 4 */
    static const int32_t never[] = {CONETIDE_NEVER};

    (void)state;
    assert_near(conetide_sigma_at_least(3, days, 1, 0), 1, 0);
    assert_near(conetide_sigma_at_least(3, days, 1, sqrt(5)), 1, 1e-12);
    assert_near(conetide_sigma_at_least(3, days, 1, 3), sqrt(5), 1e-12);
    assert_near(conetide_sigma_at_least(3, days, 0, 2), 0, 1e-7);
    assert_near(conetide_sigma_at_least(1, never, 1, 3), 3, 1e-12);
    assert_near(conetide_sigma_at_least(1, never, 4, 3), 4, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chances_are_those_of_all_futures_counted),
        cmocka_unit_test(chances_of_what_is_known_are_those_of_the_futures_left),
        cmocka_unit_test(later_shifts_follow_earlier_ones_and_spread_no_less),
        cmocka_unit_test(an_event_with_a_spread_of_its_own_is_counted_out),
        cmocka_unit_test(an_event_by_a_day_and_its_date_are_those_of_all_futures_counted),
        cmocka_unit_test(a_date_with_a_tenth_of_ten_members_is_the_earliest),
        cmocka_unit_test(senseless_chances_are_refused),
        cmocka_unit_test(spread_is_of_the_members_that_reach_it),
        cmocka_unit_test(a_narrow_date_is_widened_to_the_least_spread),
    };

    return cmocka_run_group_tests_name("chance", tests, NULL, NULL) != 0;
}
