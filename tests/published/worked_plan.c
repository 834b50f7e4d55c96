/*
 * worked_plan - the worked page of docs/handbook.md on value, chance, bound and remedy, recomputed.
 *
 * The orchard of the page is made here, planned by the program, and every figure that the page
 * prints of it is looked for in the page; then chance and value are reckoned again by hand.
 */
#include "planning/crossing_fixture.h"
#include "planning/remedies.h"

#include <stdio.h>

/* Cold, middling and warm springs take turns. */
static double spring_c(int season, daynum day)
{
    (void)day;
    return 4.0 + 0.6 * (season % 3);
}

static void add_page_orchard(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2012, 2027, spring_c);
    without_spread(add_sum(fixture, EVENT_OPENING, "flat", 300));
    without_spread(add_after(fixture, EVENT_FIRST, EVENT_OPENING, 4));
    without_spread(add_after(fixture, EVENT_PEAK, EVENT_FIRST, 3));
    without_spread(add_after(fixture, EVENT_LAST, EVENT_FIRST, 6));
    without_spread(add_after(fixture, EVENT_CLOSED, EVENT_LAST, 4));
    add_jobs_and_rates(fixture);
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    for (int i = 0; i < 4; i++) {
        static const char *const trees[] = {"T1", "T2", "T3", "T4"}, *const tags[] = {"A1", "A2",
                                                                                      "A3", "A4"};

        add_tree(fixture, trees[i], "Nord");
        add_graft(fixture, tags[i], "S1", trees[i]);
        note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, tags[i], "9");
    }
    add_lot(fixture, "P2", "S2")->volume_ml = 10;
    add_cross(fixture, "C1", "S1", "S2")->seeds_wanted = 510;
    struct crew_time *crew = add_crew(fixture, "Aspen", "2027-01-01", "2027-06-30");
    crew->weekdays = 1U << 2;
    crew->hours_per_day = 2;
}

/* The page: a part of the handbook. */
static char *page_of_handbook(struct fixture *fixture)
{
    char *text = arena_alloc(&fixture->arena, 400000, 1);
    FILE *file = fopen("docs/handbook.md", "r");

    assert_non_null(file);
    text[fread(text, 1, 399999, file)] = '\0';
    fclose(file);
    char *page = strstr(text, "**A plan worked out.**");
    assert_non_null(page);
    char *end = strstr(page, "\n**Bags already pollinated");
    assert_non_null(end);
    *end = '\0';
    return page;
}

static void assert_told(const char *page, const char *line)
{
    if (strstr(page, line) == NULL)
        fail_msg("the page does not say: %s", line);
}

/* January was as warm as it was; then come springs of each kind.  Strobili open when 300 units
 * are full, are receptive from 4 days later and for 6 more. */
static int kinds_receptive_on(const char *visit)
{
    const daynum january = fixture_day("2027-01-01"), february = fixture_day("2027-02-01");
    int kinds = 0;

    for (int kind = 0; kind < 3; kind++) {
        double sum = 0;
        daynum day = january - 1;

        while (sum < 300 - 1e-9) {
            day++;
            sum += spring_c(day < february ? 2027 : kind, day);
        }
        kinds += fixture_day(visit) >= day + 4 && fixture_day(visit) <= day + 10;
    }
    return kinds;
}

static void the_handbook_page_is_what_the_program_says(void **state)
{
    struct fixture *fixture = *state;

    add_page_orchard(fixture);
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-01");
    struct crossing_plan plan = plan_of(fixture, &inputs);
    const struct planned_bag *bag = &plan.bags[0];
    const struct shortfall *row = &plan.shortfalls[0];
    const char *page = page_of_handbook(fixture);
    int bags = 0;

    remedies_fill(&inputs, &plan);
    for (size_t i = 0; i < plan.bag_count; i++)
        bags += !plan.bags[i].pencilled;
    assert_string_equal(option_text(fixture, bag), "2027-02-23 2027-03-09 - 2027-03-23");
    assert_told(page,
                arena_printf(&fixture->arena,
                             "bag 23 Feb, visit 9 Mar, off 23 Mar: chance %.0f %%, %.2f seeds "
                             "expected, worth %.2f\n",
                             100 * bag->chance_any, bag->seeds_expected, bag->value));
    assert_told(page,
                arena_printf(&fixture->arena, "%d bags: value %.1f, bound %.1f, gap %.1f %%\n",
                             bags, plan.season.value, plan.season.bound,
                             100 * (1 - plan.season.value / plan.season.bound)));
    assert_told(page, arena_printf(&fixture->arena, "%d bags wanted, %d planned, %d short: %s\n",
                                   (int)row->bags_wanted, (int)row->bags_planned,
                                   (int)row->bags_short, cause_words[row->cause]));
    assert_told(page, arena_printf(&fixture->arena, "remedy: %s\n", row->remedy));
}

static void the_figures_of_the_page_by_hand(void **state)
{
    struct fixture *fixture = *state;

    add_page_orchard(fixture);
    const struct crossing_plan plan = plan_on(fixture, "2027-02-01");
    const struct planned_bag *bag = &plan.bags[0];
    const double minutes = 2 * 60 - 30, of_a_bag = 3.2 + 6;

    assert_int_equal(kinds_receptive_on("2027-03-02"), 0);
    assert_int_equal(kinds_receptive_on("2027-03-09"), 2);
    assert_int_equal(kinds_receptive_on("2027-03-16"), 1);
    assert_near(bag->chance_any, 2 / 3., 1e-12);
    assert_near(bag->seeds_expected, 3 * 0.5 * 30 * (0.86 * 2 / 3) / 0.92, 1e-9);
    assert_near(bag->value, 0.5 * bag->seeds_expected, 1e-12);
    assert_near(plan.season.value, floor(minutes / of_a_bag) * bag->value, 1e-9);
    assert_near(plan.season.bound, minutes * (bag->value / of_a_bag), 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_handbook_page_is_what_the_program_says),
        FIXTURE_TEST(the_figures_of_the_page_by_hand),
    };
    return cmocka_run_group_tests_name("worked_plan", tests, NULL, NULL) != 0;
}
