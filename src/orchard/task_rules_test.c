#include "orchard/task_rules.h"

#include "orchard/fixture.h"

static struct task_kind *add_row(struct fixture *fixture, const char *task, const char *earliest,
                                 const char *latest)
{
    struct task_kind *row = add_task(fixture, task, "graft");
    row->earliest = earliest;
    row->latest = latest;
    for (int cell = 0; cell < TASK_CELLS; cell++)
        row->cells[cell] = (struct place){
            .file = "tasks.csv", .line = row->place.line, .cell = 3 + (unsigned)cell};
    return row;
}

static struct task_rules rules_of(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return task_rules_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static const struct task_rule *rule_of(const struct task_rules *rules, const char *task)
{
    for (size_t i = 0; i < rules->count; i++)
        if (strcmp(rules->list[i].kind->task, task) == 0)
            return &rules->list[i];
    fail_msg("no row '%s'", task);
    return NULL;
}

static size_t place_in_order(const struct task_rules *rules, const char *task)
{
    for (size_t i = 0; i < rules->count; i++)
        if (strcmp(rules->list[rules->order[i]].kind->task, task) == 0)
            return i;
    fail_msg("no row '%s'", task);
    return 0;
}

static void what_a_row_hangs_on_comes_before_it(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "b.done+1", "c.close+0");
    add_row(fixture, "b", "d.open+0", "Y1-05-01");
    add_row(fixture, "c", "Y1-01-01", "Y1-02-01")->after = "b ; d+14";
    add_row(fixture, "d", "Y1-01-01", "Y1-02-01");
    struct task_rules rules = rules_of(fixture);
    assert_nothing_told(fixture);
    assert_true(place_in_order(&rules, "d") < place_in_order(&rules, "b"));
    assert_true(place_in_order(&rules, "b") < place_in_order(&rules, "c"));
    assert_true(place_in_order(&rules, "c") < place_in_order(&rules, "a"));
    const struct task_rule *c = rule_of(&rules, "c");
    assert_int_equal(c->after_count, 2);
    assert_int_equal(c->after[0].lag_days, 0);
    assert_int_equal(c->after[1].lag_days, 14);
    assert_string_equal(rules.list[c->after[1].task].kind->task, "d");
}

static void a_row_is_of_what_its_anchors_reach_at_the_latest(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "grafting", "graft_open+0", "graft_close+0");
    add_row(fixture, "check", "grafting.done+10", "grafting.done+17");
    add_row(fixture, "order", "Y1-09-01", "order_by")->needed_by = "peak-26";
    fixture->orchard.tasks.list[2].lead_days = 90;
    add_row(fixture, "harvest", "Y3-09-01", "Y3-10-01");
    add_row(fixture, "extract", "harvest.done+0", "Y5-01-01");
    add_row(fixture, "storm", "when+0", "when+3")->when = "note:storm";
    add_row(fixture, "cold", "when+0", "when+3")->when = "note:frost;day>=peak-10";
    struct task_rules rules = rules_of(fixture);
    assert_nothing_told(fixture);
    assert_int_equal(rule_of(&rules, "check")->part, PART_GRAFTING);
    assert_int_equal(rule_of(&rules, "order")->part, PART_FLOWERING);
    assert_int_equal(rule_of(&rules, "harvest")->part, PART_CONES);
    assert_int_equal(rule_of(&rules, "extract")->part, PART_CONES);
    assert_int_equal(rule_of(&rules, "storm")->part, PART_ANY);
    assert_int_equal(rule_of(&rules, "cold")->part, PART_FLOWERING);
    assert_true(rule_of(&rules, "storm")->per_occurrence);
    assert_false(rule_of(&rules, "check")->per_occurrence);
    assert_int_equal(rules.last_year, 5);
    assert_true(rules.events & 1u << EVENT_PEAK && rules.events & 1u << EVENT_GRAFT_OPEN);
    assert_false(rules.events & 1u << EVENT_FIRST);
}

static void conditions_are_clauses_of_alternatives(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "cold", "when+0", "when+3")->when =
        " note:frost | tmin_f<=14 ; day>=peak-10; note:survival=dead ;tmax_c>30.5|day<Y2-05-01";
    struct task_rules rules = rules_of(fixture);
    assert_nothing_told(fixture);
    const struct task_rule *rule = &rules.list[0];
    assert_int_equal(rule->when_count, 6);
    assert_int_equal(rule->when[0].kind, TERM_NOTE);
    assert_int_equal(rule->when[0].note, NOTE_FROST);
    assert_int_equal(rule->when[1].kind, TERM_TMIN);
    assert_int_equal(rule->when[1].sense, AT_MOST);
    assert_near(rule->when[1].limit_c, -10, 1e-9);
    assert_int_equal(rule->when[1].clause, 0);
    assert_int_equal(rule->when[2].kind, TERM_DAY);
    assert_int_equal(rule->when[2].clause, 1);
    assert_int_equal(rule->when[2].day.days, -10);
    assert_memory_equal(rule->when[3].value, "dead", 4);
    assert_int_equal(rule->when[4].sense, ABOVE);
    assert_int_equal(rule->when[5].sense, BELOW);
    assert_int_equal(rule->when[5].clause, 3);
}

static void rows_are_known_by_the_notes_that_close_them(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "hang", "bag_by-7", "bag_by")->closed_by = "bagged";
    fixture->orchard.tasks.list[0].per = "bag";
    add_row(fixture, "look", "Y1-03-01", "Y1-04-01")->closed_by = "survival;verified";
    add_row(fixture, "look again", "Y1-05-01", "Y1-06-01")->closed_by = "survival";
    add_row(fixture, "cut", "Y1-01-01", "Y1-02-01")->closed_by = "scions";
    struct task_rules rules = rules_of(fixture);
    assert_nothing_told(fixture);
    assert_true(rule_of(&rules, "hang")->of_crossing_plan);
    assert_false(rule_of(&rules, "look")->of_crossing_plan);
    assert_int_equal(rule_of(&rules, "look")->closed_once, 1u << NOTE_VERIFIED);
    assert_int_equal(rule_of(&rules, "look again")->closed_once, 0);
    assert_int_equal(rule_of(&rules, "cut")->closed_by, 1u << CLOSED_BY_SCIONS);
    assert_string_equal(task_closed_by(&fixture->orchard, "bag", NOTE_BAGGED)->task, "hang");
    assert_null(task_closed_by(&fixture->orchard, "graft", NOTE_BAGGED));
    assert_string_equal(task_closed_by(&fixture->orchard, NULL, NOTE_SURVIVAL)->task, "look");
    assert_null(task_closed_by(&fixture->orchard, NULL, NOTE_SEEDS));
}

static void start_again(void **state)
{
    fixture_teardown(state);
    fixture_setup(state);
}

/* What one faulty cell of an otherwise good row tells. */
static void expect(struct fixture *fixture, unsigned cell, const char *code, const char *words)
{
    rules_of(fixture);
    assert_only_told(fixture, code);
    const struct diag *diag = &fixture->diags.list[0];
    assert_string_equal(diag->place.file, "tasks.csv");
    assert_int_equal(diag->place.cell, cell);
    if (strstr(diag->message, words) == NULL)
        fail_msg("'%s' does not say '%s'", diag->message, words);
}

static void an_anchor_that_is_none_is_told_with_the_nearest_event(void **state)
{
    add_row(*state, "a", "peek+1", "peak+2");
    expect(*state, 3, "task-anchor", "write 'peak'");
}

static void a_task_of_an_anchor_that_is_not_there_is_told_with_the_nearest(void **state)
{
    add_row(*state, "graft", "Y1-01-01", "Y1-02-01");
    add_row(*state, "b", "Y1-01-01", "graff.done+2");
    expect(*state, 4, "unknown-task", "write 'graft'");
}

static void conditions_that_are_none_are_told(void **state)
{
    add_row(*state, "a", "when", "when+2")->when = "note:frosts";
    expect(*state, 5, "task-when", "write 'frost'");
}

static void other_conditions_that_are_none_are_told(void **state)
{
    static const char *const wrong[] = {"tmin_c=-3", "tmin_c<=cold", "tmin_c<=-300", "cold", "day"};
    for (size_t i = 0; i < COUNT(wrong); i++) {
        struct fixture *fixture = *state;
        start_again(state);
        add_row(fixture, "a", "when", "when+2")->when = wrong[i];
        expect(fixture, 5, "task-when", "tmin_c<=-3");
    }
}

static void a_faulty_day_of_a_condition_is_told(void **state)
{
    add_row(*state, "a", "when", "when+2")->when = "note:storm;day>=pek";
    expect(*state, 5, "task-anchor", "write 'peak'");
}

static void a_predecessor_that_is_not_there_is_told(void **state)
{
    add_row(*state, "allocate", "Y1-01-01", "Y1-02-01");
    add_row(*state, "b", "Y1-01-01", "Y1-02-01")->after = "alocate+3";
    expect(*state, 6, "unknown-task", "write 'allocate'");
}

static void lead_and_needed_by_go_together(void **state)
{
    add_row(*state, "a", "Y1-01-01", "Y1-02-01")->lead_days = 3;
    expect(*state, 8, "task-lead", "together");
}

static void needed_by_without_lead_is_told(void **state)
{
    add_row(*state, "a", "Y1-01-01", "Y1-02-01")->needed_by = "peak";
    expect(*state, 7, "task-lead", "together");
}

static void order_by_needs_what_it_is_counted_from(void **state)
{
    add_row(*state, "a", "Y1-01-01", "order_by");
    expect(*state, 4, "task-anchor", "lead_days and needed_by");
}

static void when_needs_a_condition(void **state)
{
    add_row(*state, "a", "Y1-01-01", "when+2");
    expect(*state, 4, "task-anchor", "a condition in 'when'");
}

static void words_that_close_and_shift_are_checked(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "Y1-01-01", "Y1-02-01")->closed_by = "survivel";
    expect(fixture, 9, "task-closed-by", "write 'survival'");
    start_again(state);
    add_row(fixture, "a", "Y1-01-01", "Y1-02-01")->shift = "sprung";
    expect(fixture, 10, "task-shift", "write 'spring'");
}

static void a_circle_is_told_with_all_that_is_in_it_and_cut(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "b.done+1", "Y1-02-01");
    add_row(fixture, "b", "Y1-01-01", "Y1-02-01")->after = "c";
    add_row(fixture, "c", "Y1-01-01", "a.close+2");
    struct task_rules rules = rules_of(fixture);
    assert_only_told(fixture, "task-circle");
    assert_non_null(strstr(fixture->diags.list[0].message,
                           "'a', which hangs on 'b', which hangs on 'c', which hangs on 'a'"));
    assert_int_equal(fixture->diags.list[0].place.cell, 4);
    assert_int_equal(rule_of(&rules, "c")->latest.kind, ANCHOR_NONE);
}

static void a_row_that_comes_after_itself_is_a_circle(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "Y1-01-01", "Y1-02-01")->after = "a";
    struct task_rules rules = rules_of(fixture);
    assert_only_told(fixture, "task-circle");
    assert_int_equal(rules.list[0].after_count, 0);
}

static void nothing_counts_from_what_comes_many_times(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "storm.done+1", "Y1-02-01");
    add_row(fixture, "storm", "when", "when+3")->when = "note:storm";
    expect(fixture, 3, "task-anchor", "comes once");
}

static void a_day_of_a_condition_may_hang_on_a_row(void **state)
{
    struct fixture *fixture = *state;
    add_row(fixture, "a", "when", "when+2")->when = "note:storm;day>=z.open";
    add_row(fixture, "z", "Y1-01-01", "Y1-02-01");
    struct task_rules rules = rules_of(fixture);
    assert_nothing_told(fixture);
    assert_true(place_in_order(&rules, "z") < place_in_order(&rules, "a"));
}

static void a_table_of_too_many_rows_is_refused(void **state)
{
    struct fixture *fixture = *state;
    for (int i = 0; i <= TASKS_MOST; i++)
        add_row(fixture, arena_printf(&fixture->arena, "row%d", i),
                arena_printf(&fixture->arena, "row%d.open+1", i + 1), "Y1-01-01");
    struct task_rules rules = rules_of(fixture);
    assert_only_told(fixture, "task-too-many");
    assert_int_equal(rules.count, 0);
}

/* Whatever stands in the cells, every row has its place in the order, and no row hangs on a later
 * one. */
static void any_text_in_any_cell_leaves_an_order(void **state)
{
    static const char *const pieces[] = {
        "r0",       "r1",       "r2", "r3",   ".done",    ".open",    ".close",
        "+",        "-",        "7",  "3660", "Y1-02-01", "Y3-09-12", "peak",
        "when",     "order_by", ";",  "|",    "note:",    "frost",    "=dead",
        "tmin_c<=", "day>=",    "-3", " ",    "\xc3\xa9", ".",        "graft_open"};
    uint32_t random = 1;
    for (int trial = 0; trial < 400; trial++) {
        struct fixture *fixture = *state;
        start_again(state);
        for (int row = 0; row < 4; row++) {
            const char *cells[5];
            for (size_t cell = 0; cell < COUNT(cells); cell++) {
                struct text text;
                text_init(&text, &fixture->arena);
                for (random = random * 1664525u + 1013904223u; random >> 30 != 0;
                     random = random * 1664525u + 1013904223u)
                    text_add(&text, pieces[(random >> 12) % COUNT(pieces)]);
                cells[cell] = text.length > 0 ? text.bytes : NULL;
            }
            struct task_kind *kind =
                add_row(fixture, arena_printf(&fixture->arena, "r%d", row), cells[0], cells[1]);
            kind->when = cells[2];
            kind->after = cells[3];
            kind->needed_by = cells[4];
            kind->lead_days = 7;
        }
        struct task_rules rules = rules_of(fixture);
        size_t at[4];
        for (size_t i = 0; i < 4; i++)
            at[rules.order[i]] = i;
        for (size_t i = 0; i < 4; i++) {
            if (rules.list[i].earliest.task_name != NULL)
                assert_true(at[rules.list[i].earliest.task] < at[i]);
            for (size_t j = 0; j < rules.list[i].after_count; j++)
                assert_true(at[rules.list[i].after[j].task] < at[i]);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(what_a_row_hangs_on_comes_before_it),
        FIXTURE_TEST(a_row_is_of_what_its_anchors_reach_at_the_latest),
        FIXTURE_TEST(conditions_are_clauses_of_alternatives),
        FIXTURE_TEST(rows_are_known_by_the_notes_that_close_them),
        FIXTURE_TEST(an_anchor_that_is_none_is_told_with_the_nearest_event),
        FIXTURE_TEST(a_task_of_an_anchor_that_is_not_there_is_told_with_the_nearest),
        FIXTURE_TEST(conditions_that_are_none_are_told),
        FIXTURE_TEST(other_conditions_that_are_none_are_told),
        FIXTURE_TEST(a_faulty_day_of_a_condition_is_told),
        FIXTURE_TEST(a_predecessor_that_is_not_there_is_told),
        FIXTURE_TEST(lead_and_needed_by_go_together),
        FIXTURE_TEST(needed_by_without_lead_is_told),
        FIXTURE_TEST(order_by_needs_what_it_is_counted_from),
        FIXTURE_TEST(when_needs_a_condition),
        FIXTURE_TEST(words_that_close_and_shift_are_checked),
        FIXTURE_TEST(a_circle_is_told_with_all_that_is_in_it_and_cut),
        FIXTURE_TEST(a_row_that_comes_after_itself_is_a_circle),
        FIXTURE_TEST(nothing_counts_from_what_comes_many_times),
        FIXTURE_TEST(a_table_of_too_many_rows_is_refused),
        FIXTURE_TEST(any_text_in_any_cell_leaves_an_order),
        FIXTURE_TEST(a_day_of_a_condition_may_hang_on_a_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
