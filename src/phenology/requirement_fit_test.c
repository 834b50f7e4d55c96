/*
 * requirement_fit_test.c - requirements put in and found again, the table against a search done
 * season by season, and what is refused.
 */
#include "conetide/requirement_fit.h"

#include "conetide/sum.h"

#include "base/test.h"

enum { SEASONS = 13, DAYS = 150, LOWERS = 7, STARTS = 6 };

static double tmin[SEASONS * DAYS], tmax[SEASONS * DAYS], workspace[20000];
static struct conetide_visits events[SEASONS];
static const double lower[LOWERS] = {1, 2, 3, 4, 5, 6, 7};
static const int32_t start[STARTS] = {5, 15, 25, 35, 45, 55};
static const double constant[] = {0}, declines[] = {0, -1, -2, -3};
static const struct conetide_curve *const sine[] = {&conetide_sine};
static const struct conetide_curve *const curves[] = {&conetide_average, &conetide_sine};

static double next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u;
    return (double)(*state >> 8) / (1 << 24);
}

/* Springs that warm at their own time, with days up and down. */
static void make_weather(uint32_t seed)
{
    for (int s = 0; s < SEASONS; s++) {
        double early = 30 * next_random(&seed), swing = 0;

        for (int d = 0; d < DAYS; d++) {
            double mean = -4 + 0.13 * (d + early);

            swing = 0.7 * swing + 4 * (next_random(&seed) - 0.5) * 2;
            tmin[s * DAYS + d] = mean + swing - 5 - 3 * next_random(&seed);
            tmax[s * DAYS + d] = mean + swing + 5 + 3 * next_random(&seed);
        }
    }
}

static struct conetide_fit_task task_of(struct conetide_fit_rule rule)
{
    return (struct conetide_fit_task){
        {SEASONS, DAYS, tmin, tmax, events},
        {1, LOWERS, STARTS, 1, sine, lower, start, constant, CONETIDE_CUTOFF_NONE, NAN},
        rule};
}

/* The day a rule gives for a season, DAYS when none; heat is summed from the start on. */
static size_t day_by(const struct conetide_heat_rule *rule, size_t season, size_t from,
                     struct conetide_need need)
{
    double heat[DAYS];
    size_t bad_day, index;

    assert_int_equal(conetide_heat_days(rule, DAYS - from, tmin + season * DAYS + from,
                                        tmax + season * DAYS + from, heat, &bad_day),
                     CONETIDE_OK);
    conetide_heat_sum(DAYS - from, heat, heat);
    need.x_of_first = (double)from;
    if (conetide_need_reached(DAYS - from, heat, need, &index) != CONETIDE_OK)
        return DAYS;
    return from + index;
}

/* Events as a rule without error would have them. */
static void make_events(const struct conetide_heat_rule *rule, size_t from,
                        struct conetide_need need)
{
    for (size_t s = 0; s < SEASONS; s++) {
        size_t day = day_by(rule, s, from, need);

        assert_true(day > from && day < DAYS);
        events[s] = (struct conetide_visits){(int32_t)day - 1, (int32_t)day};
    }
}

static struct conetide_requirement fit_of(const struct conetide_fit_task *task,
                                          struct conetide_left_out *nested)
{
    struct conetide_requirement found;

    assert_true(conetide_fit_workspace(task) <= COUNT(workspace));
    assert_int_equal(conetide_fit_requirement(task, workspace, nested, &found), CONETIDE_OK);
    assert_int_equal(found.bad_season, task->past.seasons);
    return found;
}

static void a_requirement_put_in_is_found_again(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4, NAN};
    const struct conetide_fit_task task = task_of((struct conetide_fit_rule){.valley_days = 0});
    struct conetide_requirement found;

    (void)state;
    make_weather(11);
    make_events(&rule, 25, (struct conetide_need){180, 0, 0});
    found = fit_of(&task, NULL);
    assert_int_equal(found.chosen.lower, 3);
    assert_near((double)start[found.chosen.start], 25, 10);
    assert_near(found.units, 180, 8);
    assert_true(found.fitted.rmse_days < 0.5 && found.nested.rmse_days < 1);
    assert_true(found.nested.rmse_days >= found.fitted.rmse_days);
    assert_true(found.calendar.rmse_days > 3);
    assert_near(found.calendar.bias_days, 0, 1e-9);
    assert_int_equal(found.edges, 0);
}

static void a_declining_requirement_put_in_is_found_again(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4, NAN};
    struct conetide_fit_task task = task_of((struct conetide_fit_rule){.valley_days = 0});
    struct conetide_requirement found;

    (void)state;
    make_weather(12);
    make_events(&rule, 25, (struct conetide_need){390, -2, 0});
    task.grid.declines = COUNT(declines);
    task.grid.per_day = declines;
    found = fit_of(&task, NULL);
    assert_int_equal(found.chosen.decline, 2);
    assert_near(found.units, 390, 12);
    assert_true(found.fitted.rmse_days < 0.5);
    assert_int_equal(found.edges & CONETIDE_EDGE_DECLINE, 0);
}

/* Of the cells within the rim the middle one, from squares found by brute force. */
struct table {
    double squares[2 * LOWERS * STARTS];
    double left_out[2 * LOWERS * STARTS];
};

/* Everything anew with the seasons that `left` is not among, by the library's public functions. */
static void search_without(size_t left, struct table *table)
{
    for (size_t c = 0; c < 2 * LOWERS * STARTS; c++) {
        const struct conetide_heat_rule rule = {curves[c / (LOWERS * STARTS)],
                                                CONETIDE_CUTOFF_HORIZONTAL,
                                                lower[c / STARTS % LOWERS], 18};
        size_t from = (size_t)start[c % STARTS], kept = 0;
        double heat[SEASONS][DAYS], need = 0, total = 0;

        for (size_t s = 0; s < SEASONS; s++) {
            size_t bad_day;

            for (size_t d = 0; d < from; d++)
                heat[s][d] = 0;
            assert_int_equal(conetide_heat_days(&rule, DAYS - from, tmin + s * DAYS + from,
                                                tmax + s * DAYS + from, heat[s] + from, &bad_day),
                             CONETIDE_OK);
            conetide_heat_sum(DAYS, heat[s], heat[s]);
            if (s != left) {
                need += (heat[s][events[s].after] + heat[s][events[s].by]) / 2;
                kept++;
            }
        }
        need /= (double)kept;
        table->left_out[c] = 0;
        for (size_t s = 0; s < SEASONS; s++) {
            double observed = (events[s].after + 1 + events[s].by) / 2.0, before, moment;
            size_t day = day_by(&rule, s, from, (struct conetide_need){need, 0, 0});

            if (s == left) {
                table->left_out[c] = (double)day - observed;
                continue;
            }
            before = day > from && day < DAYS ? heat[s][day - 1] : 0;
            moment =
                day == DAYS ? DAYS + 0.5 : (double)day + (need - before) / (heat[s][day] - before);
            total += (moment - observed - 0.5) * (moment - observed - 0.5);
        }
        table->squares[c] = total;
    }
}

/* The cell in the middle of those within a standard error of the best. */
static size_t choose(const struct table *table, double seasons, size_t *best)
{
    double rim, count = 0, mean_lower = 0, mean_start = 0, nearest = INFINITY;
    size_t chosen = 0, curve = 2;

    *best = 0;
    for (size_t c = 0; c < 2 * LOWERS * STARTS; c++)
        *best = table->squares[c] < table->squares[*best] ? c : *best;
    rim = sqrt(table->squares[*best] / seasons) * (1 + 1 / sqrt(2 * seasons));
    for (size_t c = 0; c < 2 * LOWERS * STARTS && curve == 2; c++)
        curve = sqrt(table->squares[c] / seasons) <= rim ? c / (LOWERS * STARTS) : curve;
    for (size_t c = curve * LOWERS * STARTS; c < (curve + 1) * LOWERS * STARTS; c++) {
        if (sqrt(table->squares[c] / seasons) <= rim) {
            mean_lower += (double)(c / STARTS % LOWERS);
            mean_start += (double)(c % STARTS);
            count++;
        }
    }
    for (size_t c = curve * LOWERS * STARTS; c < (curve + 1) * LOWERS * STARTS; c++) {
        double off = hypot((double)(c / STARTS % LOWERS) - mean_lower / count,
                           (double)(c % STARTS) - mean_start / count);

        if (sqrt(table->squares[c] / seasons) <= rim &&
            (off < nearest - 1e-9 ||
             (off < nearest + 1e-9 && table->squares[c] < table->squares[chosen]))) {
            nearest = off;
            chosen = c;
        }
    }
    return chosen;
}

static void the_table_agrees_with_a_search_season_by_season(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4.4, NAN};

    (void)state;
    for (uint32_t seed = 1; seed <= 12; seed++) {
        struct conetide_fit_task task = task_of(conetide_usual_fit);
        struct conetide_requirement found;
        struct table table;
        struct conetide_left_out nested[SEASONS];
        size_t best, chosen;

        make_weather(seed);
        make_events(&rule, 20, (struct conetide_need){150, 0, 0});
        for (size_t s = 0; s < SEASONS; s++) { /* seen late, by visits of up to five days */
            int late = (int)(seed * 7 + s * 5) % 6, every = 1 + (int)(s + seed) % 5;

            events[s].by += late;
            events[s].after = events[s].by - every;
        }
        task.grid.curves = 2;
        task.grid.curve = curves;
        task.grid.cutoff = CONETIDE_CUTOFF_HORIZONTAL;
        task.grid.upper = 18;
        found = fit_of(&task, nested);
        search_without(SEASONS, &table);
        chosen = choose(&table, SEASONS, &best);
        assert_int_equal(found.best.curve * LOWERS * STARTS + found.best.lower * STARTS +
                             found.best.start,
                         best);
        assert_int_equal(found.chosen.curve * LOWERS * STARTS + found.chosen.lower * STARTS +
                             found.chosen.start,
                         chosen);
        assert_near(found.best_rmse_days, sqrt(table.squares[best] / SEASONS), 1e-6);
        for (size_t left = 0; left < SEASONS; left++) {
            search_without(left, &table);
            chosen = choose(&table, SEASONS - 1, &best);
            assert_near(nested[left].error_days, table.left_out[chosen], 0);
            assert_int_equal(nested[left].chosen.curve * LOWERS * STARTS +
                                 nested[left].chosen.lower * STARTS + nested[left].chosen.start,
                             chosen);
        }
    }
}

static void the_edge_of_the_search_is_told(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4, NAN};
    static const double high[] = {6, 6.5, 7}, low[] = {-9, -8, -7};
    struct conetide_fit_task task = task_of((struct conetide_fit_rule){.valley_days = 0});

    (void)state;
    make_weather(11);
    make_events(&rule, 25, (struct conetide_need){180, 0, 0});
    task.grid.lowers = 3;
    task.grid.lower = high;
    assert_true(fit_of(&task, NULL).edges & CONETIDE_EDGE_LOWER_LEAST);
    task.grid.lower = low;
    assert_true(fit_of(&task, NULL).edges & CONETIDE_EDGE_LOWER_MOST);
    task = task_of((struct conetide_fit_rule){.valley_days = 0});
    task.grid.starts = 1;
    task.grid.lowers = 1;
    assert_int_equal(fit_of(&task, NULL).edges, 0); /* what is not searched has no edge */
}

static void days_after_the_event_may_be_missing(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4, NAN};
    const struct conetide_fit_task task = task_of(conetide_usual_fit);
    struct conetide_requirement whole, cut, found;

    (void)state;
    make_weather(11);
    make_events(&rule, 25, (struct conetide_need){180, 0, 0});
    whole = fit_of(&task, NULL);
    tmin[4 * DAYS + 2] = NAN; /* before the first start */
    tmax[6 * DAYS + events[6].by + 8] = NAN;
    cut = fit_of(&task, NULL);
    assert_memory_equal(&cut.chosen, &whole.chosen, sizeof cut.chosen);
    assert_near(cut.nested.rmse_days, whole.nested.rmse_days, 0);
    tmax[6 * DAYS + events[6].by] = NAN;
    assert_int_equal(conetide_fit_requirement(&task, workspace, NULL, &found), CONETIDE_MISSING);
    assert_int_equal(found.bad_season, 6);
    assert_true(isnan(found.units) && isnan(found.nested.rmse_days));
    tmax[6 * DAYS + events[6].by] = -90;
    assert_int_equal(conetide_fit_requirement(&task, workspace, NULL, &found), CONETIDE_REVERSED);
    assert_int_equal(found.bad_season, 6);
}

static void what_cannot_be_searched_is_refused(void **state)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_NONE, 4, NAN};
    static const double falling[] = {5, 4}, rising_need[] = {0, 1};
    static const int32_t negative[] = {-1, 5}, late[] = {5, DAYS};
    struct conetide_fit_task tasks[11];
    struct conetide_requirement found;

    (void)state;
    make_weather(11);
    make_events(&rule, 25, (struct conetide_need){180, 0, 0});
    for (size_t i = 0; i < COUNT(tasks); i++)
        tasks[i] = task_of(conetide_usual_fit);
    tasks[0].past.seasons = 2;
    tasks[1].grid.lower = falling;
    tasks[1].grid.lowers = 2;
    tasks[2].grid.starts = 0;
    tasks[3].grid.start = negative;
    tasks[3].grid.starts = 2;
    tasks[4].grid.start = late;
    tasks[4].grid.starts = 2;
    tasks[5].grid.per_day = rising_need;
    tasks[5].grid.declines = 2;
    tasks[6].grid.curves = 0;
    tasks[7].rule.valley_days = -1;
    tasks[8].rule.valley_standard_errors = NAN;
    tasks[9].rule.middle = (enum conetide_middle)9;
    tasks[10].grid.lowers = 0;
    for (size_t i = 0; i < COUNT(tasks); i++) {
        assert_int_equal(conetide_fit_requirement(&tasks[i], workspace, NULL, &found),
                         CONETIDE_BAD_ARGUMENT);
        assert_true(isnan(found.units) && isnan(found.best_rmse_days));
    }
    tasks[0] = task_of(conetide_usual_fit);
    tasks[0].grid.cutoff = CONETIDE_CUTOFF_HORIZONTAL; /* and no upper threshold */
    assert_int_equal(conetide_fit_requirement(&tasks[0], workspace, NULL, &found),
                     CONETIDE_BAD_THRESHOLDS);
    tasks[0] = task_of(conetide_usual_fit);
    events[3].after = events[3].by;
    assert_int_equal(conetide_fit_requirement(&tasks[0], workspace, NULL, &found),
                     CONETIDE_BAD_ARGUMENT);
    assert_int_equal(found.bad_season, 3);
    events[3] = (struct conetide_visits){DAYS - 1, DAYS};
    assert_int_equal(conetide_fit_requirement(&tasks[0], workspace, NULL, &found),
                     CONETIDE_BAD_ARGUMENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_requirement_put_in_is_found_again),
        cmocka_unit_test(a_declining_requirement_put_in_is_found_again),
        cmocka_unit_test(the_table_agrees_with_a_search_season_by_season),
        cmocka_unit_test(the_edge_of_the_search_is_told),
        cmocka_unit_test(days_after_the_event_may_be_missing),
        cmocka_unit_test(what_cannot_be_searched_is_refused),
    };

    return cmocka_run_group_tests_name("requirement fit", tests, NULL, NULL) != 0;
}
