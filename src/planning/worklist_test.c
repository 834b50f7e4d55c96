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
    for (size_t p = 0; p < list->page_count; p++)
        for (const char *const *caution = list->pages[p].cautions; *caution != NULL; caution++)
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

/* ---- work of other kinds --------------------------------------------------------------------- */

/* A kind of work that takes a crew 30 minutes a tree. */
static struct task_kind a_check(void)
{
    return (struct task_kind){.task = "check unions",
                              .per = "tree",
                              .closed_by = "survival",
                              .minutes_each = {30, 0},
                              .needs = "hand lens, saw, wax",
                              .caution = "mind the film",
                              .work = WORK_LIFT};
}

static struct task_instance instance_on(const struct fixture *fixture, const struct task_kind *kind,
                                        const char *tree, const char *first, const char *last)
{
    const struct tree *at = orchard_tree(&fixture->orchard, tree);

    return (struct task_instance){
        .kind = kind,
        .subject = {.kind = SUBJECT_TREE, .name = tree, .tree = at, .site = at->site},
        .cycle = 2026,
        .first_day = fixture_day(first),
        .last_day = fixture_day(last),
        .order_by = DAY_NONE,
        .stand = TASK_DUE,
        .done_on = DAY_NONE,
    };
}

static struct worklist list_with(const struct crossing_plan *plan,
                                 const struct crossing_inputs *inputs, const char *first,
                                 const char *last, const struct task_instances *tasks)
{
    return worklist_of(plan, inputs,
                       &(struct work_asked){.first_day = fixture_day(first),
                                            .last_day = fixture_day(last),
                                            .tasks = tasks});
}

/* Nine bags are hung on Friday 26 February; the check of T4 is done at the tree, in its turn. */
static void other_work_is_walked_with_the_bags(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    struct task_kind kind = a_check();
    struct task_instance one = instance_on(fixture, &kind, "T4", "2027-02-26", "2027-02-28");
    struct task_instances tasks = {&one, 1};

    one.because = "ten days after it was made";
    struct worklist list = list_with(plan, &inputs, "2027-02-22", "2027-02-28", &tasks);
    assert_int_equal(list.page_count, 1);
    const struct work_page *page = &list.pages[0];
    assert_int_equal(page->row_count, 10);
    assert_null(page->rows[3].bag); /* T1 T2 T4, and then its check */
    assert_string_equal(page->rows[3].tree->name, "T4");
    assert_string_equal(
        page->rows[3].brief,
        "look at bud and union; write alive, doubtful, dead or lost (ten days after "
        "it was made)");
    assert_string_equal(
        page->rows[3].decide,
        "look at bud and union; write alive, doubtful, dead or lost. mind the film");
    assert_true(check_character_holds(page->rows[3].entry));
    assert_int_equal(page->kind_count, 2); /* and the bagging */
    assert_int_equal(page->minutes, 3000 + 9 * 920 + 3000);
    assert_true(has_caution(&list, "Blades:"));
    assert_true(has_caution(&list, "Hot wax:"));
    assert_false(has_caution(&list, "Heat:")); /* in February */
    assert_int_equal(list.pushed.count, 0);
}

static void what_the_plan_leaves_no_minutes_for_is_pushed_out(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    struct task_kind kind = a_check();
    struct task_instance list_of_two[] = {
        instance_on(fixture, &kind, "T5", "2027-02-26", "2027-02-26"),
        instance_on(fixture, &kind, "T4", "2027-02-26", "2027-02-26")};
    struct task_instances tasks = {list_of_two, 2};

    kind.minutes_each = (struct decimal){230, 0}; /* of 240: fits the half-day without bags only */
    list_of_two[0].not_done = 2;
    list_of_two[0].not_done_reason = "rain";
    struct worklist list = list_with(plan, &inputs, "2027-02-26", "2027-02-26", &tasks);
    assert_int_equal(list.pages[0].row_count, 10);
    assert_int_equal(list.pushed.count, 1);
    const struct work_group *group = &list.pushed.list[0];
    assert_string_equal(group->task, "check unions");
    assert_int_equal(group->obstacle, OBSTACLE_MINUTES);
    assert_int_equal(group->count, 1);
    assert_string_equal(group->names[0], "T5");
    assert_int_equal(group->not_done, 2);
    assert_string_equal(group->reason, "rain");
}

static void lists_are_gathered_by_task_site_and_cycle(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    struct task_kind kind = a_check();
    struct task_instance all[] = {
        instance_on(fixture, &kind, "T5", "2027-02-10", "2027-02-12"),
        instance_on(fixture, &kind, "T4", "2027-02-09", "2027-02-11"),
        instance_on(fixture, &kind, "T6", "2027-02-09", "2027-02-11"),
        instance_on(fixture, &kind, "T7", "2027-02-20", "2027-02-24"),
        instance_on(fixture, &kind, "T8", "2027-03-20", "2027-03-24"),
        instance_on(fixture, &kind, "T9", "2027-01-20", "2027-01-24"),
        instance_on(fixture, &kind, "T3", "2027-01-20", "2027-01-24"),
    };
    struct task_instances tasks = {all, COUNT(all)};

    for (size_t i = 0; i < 5; i++)
        all[i].stand = TASK_COMING;
    all[2].cycle = 2025;
    all[0].rough = true;
    all[1].order_by = fixture_day("2027-02-10");
    all[5].stand = all[6].stand = TASK_OVERDUE;
    all[6].kind = &(struct task_kind){.task = "take off", .per = "bag", .closed_by = "unbagged"};
    struct worklist list = list_with(plan, &inputs, "2027-02-01", "2027-02-07", &tasks);
    assert_int_equal(list.coming.count, 3); /* two cycles, and bags that are to be hung */
    const struct work_group *group = &list.coming.list[0];
    assert_int_equal(group->cycle, 2025);
    group = &list.coming.list[1];
    assert_int_equal(group->count, 3);
    assert_string_equal(group->names[0], "T4");
    assert_string_equal(group->names[2], "T7");
    assert_day(group->first, "2027-02-09");
    assert_day(group->last, "2027-02-11");
    assert_day(group->order_by, "2027-02-10");
    assert_true(group->rough);
    assert_string_equal(list.coming.list[2].task, "bag");
    assert_int_equal(list.coming.list[2].count, 9);
    assert_int_equal(list.overdue.count, 1); /* bags are the crossing plan's own */
    assert_string_equal(list.overdue.list[0].names[0], "T9");
}

/* Work of the programme has codes of its own, which begin with the day from which it is listed. */
static void work_without_minutes_needs_no_crew(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    struct task_kind order = {.task = "order bags", .per = "programme"},
                     audit = {.task = "audit", .per = "tree"};
    struct task_instance all[] = {
        instance_on(fixture, &audit, "T4", "2027-02-01", "2027-02-20"),
        instance_on(fixture, &order, "T4", "2027-02-01", "2027-02-10"),
        instance_on(fixture, &audit, "T3", "2027-02-01", "2027-02-20"),
    };
    struct task_instances tasks = {all, COUNT(all)};

    all[1].subject = (struct task_subject){.kind = SUBJECT_PROGRAMME, .name = ""};
    struct worklist list = list_with(plan, &inputs, "2027-02-01", "2027-02-07", &tasks);
    assert_int_equal(list.office_count, 3);
    assert_string_equal(list.office[0].instance->kind->task, "order bags");
    assert_string_equal(list.office[1].instance->subject.name, "T3");
    assert_memory_equal(list.office[0].entry, "2027-W05-ZZ-1", 13);
    assert_true(check_character_holds(list.office[0].entry));
    list = list_with(plan, &inputs, "2027-01-25", "2027-01-31", &tasks);
    assert_int_equal(list.office_count, 0); /* those days are over */
}

/* ---- weather, sprays, an earlier page ----------------------------------------------------------
 */

static struct forecast *add_cold(struct fixture *fixture, const char *first, size_t days,
                                 double tmin_c)
{
    struct forecast *row = FIXTURE_PUSH(fixture, forecasts);

    *row = (struct forecast){.station = "NORD",
                             .issued = fixture_day("2027-02-20"),
                             .issued_minute = (int64_t)fixture_day("2027-02-20") * 1440,
                             .first_day = fixture_day(first),
                             .count = days,
                             .tmin_c = ARENA_ARRAY(&fixture->arena, days, double),
                             .tmax_c = ARENA_ARRAY(&fixture->arena, days, double)};
    for (size_t i = 0; i < days; i++) {
        row->tmin_c[i] = tmin_c;
        row->tmax_c[i] = 10 - tmin_c; /* so that the mean stays at 5 degrees */
    }
    return row;
}

/* Bags are to be hung on Friday the 26th; the nights to the 27th and 28th are cold. */
static void a_cold_night_after_bagging_puts_the_choice(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_cold(fixture, "2027-02-21", 6, 1);
    struct forecast *cold = add_cold(fixture, "2027-02-27", 2, -5);
    cold->tmin_c[1] = -6;
    cold->tmax_c[1] = 16;
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-20");
    struct crossing_plan plan = plan_of(fixture, &inputs);
    struct worklist list =
        list_between(&plan, &inputs, fixture_day("2027-02-22"), fixture_day("2027-02-28"));
    assert_day(plan.bags[0].tasks[TASK_BAG].day, "2027-02-26");
    assert_int_equal(list.watch.spell_count, 1);
    const struct cold_spell *spell = &list.watch.spells[0];
    assert_day(spell->first, "2027-02-27");
    assert_day(spell->last, "2027-02-28");
    assert_near(spell->lowest_c, -6, 1e-9);
    assert_int_equal(spell->to_hang_count, 1);
    assert_near(spell->clean_planned, 1, 1e-9);
    assert_near(spell->clean_waiting, 1, 1e-9); /* the 28th is the last clean day */
    assert_int_equal(spell->hang_closed + spell->hang_open + spell->new_grafts, 0);
    assert_int_equal(list.watch.outlook_count, 1);
    assert_day(list.watch.outlooks[0].first_day, "2027-02-22");
    assert_int_equal(list.watch.outlooks[0].count, 7);
}

/* One bag hangs, and stays closed until 1 March; the cold of 3 March finds it open. */
static void cold_is_told_by_stage(void **state)
{
    static const struct {
        const char *cold;
        size_t closed, open, grafts;
    } cases[] = {{"2027-02-27", 1, 0, 1}, {"2027-03-03", 0, 1, 1}, {"2027-03-16", 0, 0, 0}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;

        add_crossing_world(fixture);
        add_graft(fixture, "A2", "S2", "T1")->grafted_on = fixture_day("2027-02-10");
        note_on_bag(fixture, "2027-02-24", NOTE_BAGGED, "A1-27-1", "3")->cross = "C1";
        for (daynum day = fixture_day("2027-02-25"); day < fixture_day(cases[i].cold); day += 14) {
            struct forecast *mild = add_cold(fixture, "2027-02-25", 14, 1);
            mild->first_day = day;
        }
        add_cold(fixture, cases[i].cold, 1, -5)->issued_minute++;
        struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-02-24");
        struct crossing_plan plan = plan_of(fixture, &inputs);
        struct worklist list =
            list_between(&plan, &inputs, fixture_day("2027-02-24"), fixture_day("2027-02-28"));

        assert_int_equal(list.watch.spell_count, 1);
        assert_int_equal(list.watch.spells[0].hang_closed, cases[i].closed);
        assert_int_equal(list.watch.spells[0].hang_open, cases[i].open);
        assert_int_equal(list.watch.spells[0].new_grafts, cases[i].grafts);
    }
}

/* Two products at 12 and 48 hours on 6 April: shut through the 8th, the longest of both. */
static void shut_places_are_told_by_the_longest(void **state)
{
    struct fixture *fixture = *state;

    add_crossing_world(fixture);
    add_note(fixture, "2027-04-06", NOTE_SPRAYED, "12")->site = "Nord";
    add_note(fixture, "2027-04-06", NOTE_SPRAYED, "48")->site = "Nord";
    struct note *block = add_note(fixture, "2027-04-05", NOTE_SPRAYED, "24");
    block->site = "Nord";
    block->block = "B";
    add_note(fixture, "2027-03-05", NOTE_SPRAYED, "24")->site = "Syd"; /* long over */
    struct crossing_inputs inputs = crossing_inputs_on(fixture, "2027-04-06");
    struct crossing_plan plan = plan_of(fixture, &inputs);
    struct worklist list =
        list_between(&plan, &inputs, fixture_day("2027-04-05"), fixture_day("2027-04-11"));
    assert_int_equal(list.watch.shut_count, 2);
    assert_null(list.watch.shut[0].block);
    assert_day(list.watch.shut[0].until, "2027-04-08");
    assert_near(list.watch.shut[0].hours, 48, 0);
    assert_string_equal(list.watch.shut[1].block, "B");
    assert_day(list.watch.shut[1].until, "2027-04-06");
}

/* The earlier page had A1 on Thursday and a bag that is no more; the rest is new on its days. */
static void an_earlier_page_is_compared(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_inputs inputs;
    struct crossing_plan *plan = add_plan(fixture, &inputs);
    daynum friday = fixture_day("2027-02-26");
    struct typed_row rows[] = {
        {.task = "bag", .bag = "A1-27-1", .date = friday - 1, .as_of = friday - 20, .note = -1},
        {.task = "bag", .bag = "A2-27-1", .date = friday, .note = -1},
        {.task = "bag", .bag = "A99-27-1", .date = friday, .note = -1},
        {.task = "unbag", .bag = "A1-27-1", .date = friday, .note = -1},
        {.task = "bag", .bag = "A98-27-1", .date = friday, .note = -1, .entry = "2027-W08-A-501X"},
        {.note = NOTE_FROST, .date = friday},
    };
    struct typed_page earlier = {.list = rows, .count = COUNT(rows)};

    add_note(fixture, "2027-02-01", NOTE_DONE, NULL)->entry = "2027-W08-A-501X";
    struct worklist list = worklist_of(
        plan, &inputs,
        &(struct work_asked){.first_day = friday, .last_day = friday, .earlier = &earlier});
    assert_true(list.moves.given);
    assert_day(list.moves.printed, "2027-02-06");
    assert_int_equal(list.moves.count, 1 + 1 + 1 + 7);
    const struct page_move *move = list.moves.list;
    assert_string_equal(move[0].name, "A1-27-1");
    assert_day(move[0].from, "2027-02-25");
    assert_day(move[0].to, "2027-02-26");
    assert_string_equal(move[1].name, "A3-27-1"); /* new: no day before */
    assert_int_equal(move[1].from, DAY_NONE);
    assert_string_equal(move[8].name, "A99-27-1");
    assert_int_equal(move[8].to, DAY_NONE);
    assert_string_equal(move[9].task, "unbag");
    assert_day(move[9].to, "2027-03-18"); /* where the plan has it */
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
        FIXTURE_TEST(other_work_is_walked_with_the_bags),
        FIXTURE_TEST(what_the_plan_leaves_no_minutes_for_is_pushed_out),
        FIXTURE_TEST(lists_are_gathered_by_task_site_and_cycle),
        FIXTURE_TEST(work_without_minutes_needs_no_crew),
        FIXTURE_TEST(a_cold_night_after_bagging_puts_the_choice),
        FIXTURE_TEST(cold_is_told_by_stage),
        FIXTURE_TEST(shut_places_are_told_by_the_longest),
        FIXTURE_TEST(an_earlier_page_is_compared),
    };

    return cmocka_run_group_tests_name("worklists", tests, NULL, NULL) != 0;
}
