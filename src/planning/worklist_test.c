#include "planning/worklist.h"

#include "base/check_character.h"
#include "planning/crossing_fixture.h"

/* Nine bags on nine trees: block B has rows 1 and 2 with three trees each, two have no row. */
static struct crossing_plan *add_plan(struct fixture *fixture, struct crossing_inputs *inputs)
{
    static const struct {
        const char *tree, *block;
        int row, position;
    } trees[] = {{"T1", NULL, -1, -1}, {"T2", NULL, -1, -1}, {"T3", "B", 1, 3},
                 {"T4", "B", 1, 2},    {"T5", "B", 1, 5},    {"T6", "B", 2, 1},
                 {"T7", "B", 2, 6},    {"T8", "B", 2, 4},    {"T9", "C", 1, 2}};

    add_crossing_world(fixture);
    fixture->orchard.crosses.list[0].seeds_wanted = 390; /* nine bags */
    fixture->orchard.lots.list[0].kept_at = "freezer 2";
    for (size_t i = 0; i < COUNT(trees); i++) {
        struct tree *tree =
            i == 0 ? &fixture->orchard.trees.list[0] : add_tree(fixture, trees[i].tree, "Nord");

        tree->block = trees[i].block;
        tree->row = trees[i].row;
        tree->position = trees[i].position;
        if (i == 0)
            continue;
        const char *tag = arena_printf(&fixture->arena, "A%zu", i + 1);
        add_graft(fixture, tag, "S1", trees[i].tree);
        note_on_tag(fixture, "2027-01-20", NOTE_STROBILI, tag, "3");
    }
    *inputs = crossing_inputs_on(fixture, "2027-02-01");
    struct crossing_plan *plan = ARENA_NEW(&fixture->arena, struct crossing_plan);
    *plan = plan_of(fixture, inputs);
    return plan;
}

static struct worklist list_between(const struct crossing_plan *plan,
                                    const struct crossing_inputs *inputs, daynum first, daynum last)
{
    return worklist_of(plan, inputs, &(struct work_asked){.first_day = first, .last_day = last});
}

static struct worklist list_of(struct fixture *fixture, const char *first, const char *last)
{
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);

    return list_between(plan, &inputs, fixture_day(first), fixture_day(last));
}

static const char *tree_of(const struct planned_bag *bag)
{
    return bag->group->graft->graft->tree->name;
}

static void assert_walk(const struct worklist *list, const char *trees)
{
    char walk[64] = "";

    assert_int_equal(list->page_count, 1);
    for (size_t i = 0; i < list->pages[0].row_count; i++)
        strcat(strcat(walk, i == 0 ? "" : " "), tree_of(list->pages[0].rows[i].bag));
    assert_string_equal(walk, trees);
}

static void rows_are_walked_there_and_back(void **state)
{
    struct worklist list = list_of(*state, "2027-02-22", "2027-02-28");

    assert_walk(&list, "T1 T2 T4 T3 T5 T7 T8 T6 T9");
}

static bool is_of_the_afternoon(const struct planned_bag *bag)
{
    return strcmp(tree_of(bag), "T4") == 0 || strcmp(tree_of(bag), "T7") == 0;
}

/* The plan above, but T4 and T7 are bagged in the afternoon. */
static struct crossing_plan *add_split_plan(struct fixture *fixture, struct crossing_inputs *inputs)
{
    struct crossing_plan *plan = add_plan(fixture, inputs);

    for (size_t i = 0; i < plan->bag_count; i++)
        plan->bags[i].tasks[TASK_BAG].half_day = is_of_the_afternoon(&plan->bags[i]);
    return plan;
}

static struct worklist list_of_bagging(const struct crossing_plan *plan,
                                       const struct crossing_inputs *inputs)
{
    return list_between(plan, inputs, fixture_day("2027-02-22"), fixture_day("2027-02-28"));
}

static void one_site_is_walked_once_a_day(void **state)
{
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_split_plan(*state, &inputs);
    struct worklist list = list_of_bagging(plan, &inputs);

    assert_walk(&list, "T1 T2 T4 T3 T5 T7 T8 T6 T9");
}

/* Birch may have the lift before noon or after it, so Aspen keeps to its half-days. */
static void a_lift_that_is_shared_keeps_its_half_days(void **state)
{
    struct crossing_inputs inputs;
    struct fixture *fixture = *state;
    struct crossing_plan *plan = add_split_plan(fixture, &inputs);

    for (size_t i = 0; i < plan->bag_count; i++)
        plan->bags[i].tasks[TASK_BAG].lift = "L1";
    fixture->orchard.crews.list[0].lift_name = "L1";
    add_crew(fixture, "Birch", "2027-01-01", "2027-06-30")->lift_name = "L1";
    struct worklist list = list_of_bagging(plan, &inputs);
    assert_walk(&list, "T1 T2 T3 T5 T8 T6 T9 T4 T7");
}

/* Syd in the morning, Nord in the afternoon. */
static void of_two_sites_that_of_the_morning_is_first(void **state)
{
    struct crossing_inputs inputs;
    struct fixture *fixture = *state;
    struct crossing_plan *plan = add_split_plan(fixture, &inputs);
    const struct site *syd = orchard_site(&fixture->orchard, "Syd");

    for (size_t i = 0; i < plan->bag_count; i++)
        if (!is_of_the_afternoon(&plan->bags[i]))
            plan->groups[plan->bags[i].group - plan->groups].site = syd;
    struct worklist list = list_of_bagging(plan, &inputs);
    assert_walk(&list, "T1 T2 T3 T5 T8 T6 T9 T4 T7");
}

/* With T5 in a third row of block B the first row of block C is still walked forward. */
static void each_block_begins_at_its_first_tree(void **state)
{
    struct crossing_inputs inputs;
    struct fixture *fixture = *state;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    struct tree *trees = fixture->orchard.trees.list;

    for (size_t i = 0; i < fixture->orchard.trees.count; i++) {
        if (strcmp(trees[i].name, "T5") == 0)
            trees[i].row = 3;
        if (strcmp(trees[i].name, "T6") == 0) {
            trees[i].block = "C";
            trees[i].row = 1;
        }
    }
    struct worklist list = list_of_bagging(plan, &inputs);
    assert_walk(&list, "T1 T2 T4 T3 T7 T8 T5 T6 T9");
}

static void codes_begin_with_the_day_and_check(void **state)
{
    struct worklist list = list_of(*state, "2027-03-05", "2027-03-21");
    const char *before = "";

    assert_int_equal(list.page_count, 3);
    assert_day(list.pages[0].day, "2027-03-05");
    assert_day(list.pages[1].day, "2027-03-08");
    assert_day(list.pages[2].day, "2027-03-18");
    for (size_t p = 0; p < list.page_count; p++)
        for (size_t i = 0; i < list.pages[p].row_count; i++) {
            const char *entry = list.pages[p].rows[i].entry;
            size_t length = strlen(entry);

            assert_int_equal(length, strlen("2027-W09-A-501X"));
            assert_true(check_character_holds(entry));
            assert_null(strchr("IO*", entry[length - 1]));
            assert_true(strcmp(before, entry) < 0);
            before = entry;
        }
    assert_memory_equal(list.pages[0].rows[0].entry, "2027-W09-A-5", 12);
    assert_memory_equal(list.pages[1].rows[0].entry, "2027-W10-A-1", 12);
    assert_memory_equal(list.pages[2].rows[0].entry, "2027-W11-A-4", 12);
}

static void a_day_has_the_codes_of_its_week(void **state)
{
    struct worklist week = list_of(*state, "2027-03-01", "2027-03-07");
    char entry[32];

    strcpy(entry, week.pages[0].rows[3].entry); /* the arena goes with its orchard */
    fixture_teardown(state);
    fixture_setup(state);
    struct worklist day = list_of(*state, "2027-03-05", "2027-03-05");
    assert_string_equal(day.pages[0].rows[3].entry, entry);
}

static double amount_of(const struct work_page *page, const char *what)
{
    for (size_t i = 0; i < page->material_count; i++)
        if (strcmp(page->materials[i].what, what) == 0)
            return page->materials[i].amount;
    return 0;
}

static void pages_tell_what_to_take_and_how_long_it_takes(void **state)
{
    struct worklist list = list_of(*state, "2027-02-22", "2027-03-21");

    assert_int_equal(list.page_count, 4);
    assert_near(amount_of(&list.pages[0], "isolation bags"), 10, 0); /* 9 and 5 % */
    assert_near(amount_of(&list.pages[0], "ties"), 10, 0);
    assert_near(amount_of(&list.pages[0], "pollen lot P2"), 0, 0);
    assert_near(amount_of(&list.pages[1], "pollen lot P2"), 4.5, 1e-12);
    assert_near(amount_of(&list.pages[3], "branch labels"), 9, 0);
    assert_string_equal(list.pages[1].materials[0].kept_at, "freezer 2");
    assert_null(list.pages[0].materials[0].kept_at);
    assert_int_equal(list.pages[0].minutes, 3000 + 9 * 920);
    assert_int_equal(list.pages[1].minutes, 3000 + 9 * 520);
    assert_int_equal(list.pages[0].minutes_given, 8 * 6000);
    assert_int_equal(list.pages[0].lift_minutes, 8 * 6000);
    assert_string_equal(list.pages[0].crew, "Aspen");
}

/* Friday 26 February is the last day of Aspen's before Sunday the 28th, the last safe one; the bags
 * that hang on A1 were not clean, or were never pollinated. */
static void a_row_remarks_what_sets_its_bag_apart(void **state)
{
    static const struct {
        const char *as_of, *first, *stage;
        enum bag_task task;
        const char *begins;
    } cases[] = {{"2027-02-01", "2027-02-26", NULL, TASK_BAG, "no later day: stage 1-2: hang it"},
                 {"2027-02-01", "2027-03-05", NULL, TASK_POLLINATE_1, "stage 4-5: pollinate;"},
                 {"2027-03-01", "2027-03-01", "3", TASK_POLLINATE_1, "not clean, label it so. "},
                 {"2027-03-01", "2027-03-03", "3", TASK_POLLINATE_2, "not clean, label it so. "},
                 {"2027-03-01", "2027-03-15", "3", TASK_UNBAG, "not clean, label it so. "},
                 {"2027-03-13", "2027-03-15", "2", TASK_UNBAG, "never pollinated. "}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;

        add_crossing_world(fixture);
        if (cases[i].stage != NULL) {
            note_on_bag(fixture, "2027-02-24", NOTE_STAGE, "A1-27-1", cases[i].stage);
            note_on_bag(fixture, "2027-02-24", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
        }
        struct crossing_inputs inputs = crossing_inputs_on(fixture, cases[i].as_of);
        struct crossing_plan plan = plan_of(fixture, &inputs);
        daynum day = fixture_day(cases[i].first);
        struct worklist list = list_between(&plan, &inputs, day, day);

        assert_int_equal(list.page_count, 1);
        assert_int_equal(list.pages[0].rows[0].task, cases[i].task);
        assert_ptr_equal(strstr(list.pages[0].rows[0].brief, cases[i].begins),
                         list.pages[0].rows[0].brief);
        assert_in_range(strlen(list.pages[0].rows[0].brief), 20, 76);
    }
}

/* Planned for the Friday, and Aspen could still come on the Sunday. */
static void a_bag_that_could_be_hung_later_is_not_the_last(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-01");
    struct crossing_plan plan = plan_of(fixture, &inputs);
    daynum day = plan.bags[0].option.bag;

    fixture->orchard.crews.list[0].weekdays = 0xfe;
    struct worklist list = list_between(&plan, &inputs, day, day);
    assert_ptr_equal(strstr(list.pages[0].rows[0].brief, "stage 1-2: hang it"),
                     list.pages[0].rows[0].brief);
}

static bool has_caution(const struct worklist *list, const char *begins)
{
    for (const char *const *caution = list->cautions; *caution != NULL; caution++)
        if (strncmp(*caution, begins, strlen(begins)) == 0)
            return true;
    return false;
}

static void cautions_are_those_of_the_work_at_hand(void **state)
{
    static const struct {
        const char *first, *last;
        bool lift, pollen, blades;
    } cases[] = {{"2027-02-22", "2027-02-28", true, false, false},
                 {"2027-03-05", "2027-03-08", true, true, false},
                 {"2027-03-15", "2027-03-21", true, false, true},
                 {"2027-06-01", "2027-06-02", false, false, false}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct worklist list = list_of(*state, cases[i].first, cases[i].last);

        assert_int_equal(has_caution(&list, "Lift:"), cases[i].lift);
        assert_int_equal(has_caution(&list, "Thunder:"), cases[i].lift);
        assert_int_equal(has_caution(&list, "Pollen dust:"), cases[i].pollen);
        assert_int_equal(has_caution(&list, "Blades:"), cases[i].blades);
        assert_false(has_caution(&list, "Sprays:"));
    }
}

static void each_row_says_what_decides(void **state)
{
    static const char *const decides[BAG_TASKS] = {
        "stage 1 or 2: hang it", "stage 4 or 5: pollinate.", "any at stage 4 or 5: pollinate again",
        "all at stage 6: take it off"};
    struct worklist list = list_of(*state, "2027-02-22", "2027-03-21");

    for (size_t p = 0; p < list.page_count; p++)
        for (size_t i = 0; i < list.pages[p].row_count; i++) {
            assert_int_equal(list.pages[p].rows[i].task, p);
            assert_ptr_equal(strstr(list.pages[p].rows[i].decide, decides[p]),
                             list.pages[p].rows[i].decide);
            assert_in_range(strlen(list.pages[p].rows[i].brief), 20, 76);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(rows_are_walked_there_and_back),
        FIXTURE_TEST(one_site_is_walked_once_a_day),
        FIXTURE_TEST(a_lift_that_is_shared_keeps_its_half_days),
        FIXTURE_TEST(of_two_sites_that_of_the_morning_is_first),
        FIXTURE_TEST(each_block_begins_at_its_first_tree),
        FIXTURE_TEST(codes_begin_with_the_day_and_check),
        FIXTURE_TEST(a_day_has_the_codes_of_its_week),
        FIXTURE_TEST(pages_tell_what_to_take_and_how_long_it_takes),
        FIXTURE_TEST(cautions_are_those_of_the_work_at_hand),
        FIXTURE_TEST(each_row_says_what_decides),
        FIXTURE_TEST(a_row_remarks_what_sets_its_bag_apart),
        FIXTURE_TEST(a_bag_that_could_be_hung_later_is_not_the_last),
    };

    return cmocka_run_group_tests_name("worklists", tests, NULL, NULL) != 0;
}
