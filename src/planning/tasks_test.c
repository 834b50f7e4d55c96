#include "planning/tasks.h"

#include "orchard/task_rules.h"

#include "planning/weather_fixture.h"

/* Trees N1 and N2 at Nord, S1 at Syd; peak on 8 March (north). */
static void add_world(struct fixture *fixture)
{
    add_weather_sites(fixture);
    add_calendar_events(fixture);
    add_tree(fixture, "N1", "Nord")->uses = USE_GRAFT;
    add_tree(fixture, "N2", "Nord")->uses = USE_GRAFT;
    add_tree(fixture, "Z1", "Syd")->uses = USE_GRAFT;
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
}

static struct graft *add_made(struct fixture *fixture, const char *tag, const char *tree,
                              const char *grafted_on)
{
    struct graft *graft = add_graft(fixture, tag, "S1", tree);
    graft->grafted_on = fixture_day(grafted_on);
    return graft;
}

static struct task_kind *add_row(struct fixture *fixture, const char *task, const char *per,
                                 const char *earliest, const char *latest)
{
    struct task_kind *row = add_task(fixture, task, per);
    row->earliest = earliest;
    row->latest = latest;
    return row;
}

static void add_bag(struct fixture *fixture, const char *bag, const char *cross,
                    const char *pollinated_on)
{
    note_on_bag(fixture, pollinated_on, NOTE_BAGGED, bag, "3")->cross = cross;
    note_on_bag(fixture, pollinated_on, NOTE_POLLINATED, bag, NULL)->lot = "P2";
}

static void add_note_of_task(struct fixture *fixture, const char *date, enum note_kind kind,
                             const char *task, const char *tag)
{
    struct note *note = add_note(fixture, date, kind, kind == NOTE_NOT_DONE ? "rain" : NULL);
    note->task = task;
    note->tag = tag;
}

/* As of a day, of the seven days from `from`, and of `ahead` days more. */
static struct task_instances ask(struct fixture *fixture, const char *as_of, const char *from,
                                 int ahead)
{
    struct dates *dates = dates_on(fixture, as_of);
    struct tasks_asked asked = {
        .state = state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
        .dates = dates,
        .from = fixture_day(from),
        .to = fixture_day(from) + 6,
        .ahead_days = ahead,
    };
    assert_nothing_told(fixture);
    (void)task_rules_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    assert_nothing_told(fixture);
    return tasks_of(&asked, &fixture->arena);
}

static const struct task_instance *found(const struct task_instances *instances, const char *task,
                                         const char *subject)
{
    for (size_t i = 0; i < instances->count; i++)
        if (strcmp(instances->list[i].kind->task, task) == 0 &&
            strcmp(instances->list[i].subject.name, subject) == 0)
            return &instances->list[i];
    return NULL;
}

static const struct task_instance *the(const struct task_instances *instances, const char *task,
                                       const char *subject)
{
    const struct task_instance *one = found(instances, task, subject);
    if (one == NULL)
        fail_msg("no '%s' of '%s' among %zu", task, subject, instances->count);
    return one;
}

#define assert_days(instance, first, last)                                                         \
    do {                                                                                           \
        assert_day((instance)->first_day, first);                                                  \
        assert_day((instance)->last_day, last);                                                    \
    } while (0)

static void a_check_counts_from_the_day_that_graft_was_made(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N1", "2027-02-14");
    add_row(fixture, "make", "graft", "graft_open", "graft_close")->closed_by = "grafted";
    add_row(fixture, "look", "graft", "make.done+10", "make.done+17");
    struct task_instances week = ask(fixture, "2027-02-19", "2027-02-22", 0);
    assert_int_equal(week.count, 2);
    assert_days(the(&week, "look", "A1"), "2027-02-20", "2027-02-27");
    const struct task_instance *second = the(&week, "look", "A2");
    assert_days(second, "2027-02-24", "2027-03-03");
    assert_int_equal(second->stand, TASK_DUE);
    assert_int_equal(second->cycle, 2027);
    assert_int_equal(second->season, 0);
    assert_false(second->expected);
    assert_string_equal(second->subject.tree->name, "N1");
    assert_string_equal(second->subject.site->name, "Nord");
    assert_string_equal(second->subject.selection->name, "S1");
    assert_ptr_equal(second->subject.graft->graft, orchard_graft(&fixture->orchard, "A2"));
}

static void a_row_of_flowering_comes_in_both_springs_of_a_graft(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "count", "graft", "Y2-01-01", "peak-39");
    add_row(fixture, "tend", "tree", "Y2-05-01", "Y2-10-31");
    struct task_instances first = ask(fixture, "2027-12-30", "2028-01-03", 0);
    assert_int_equal(first.count, 1);
    assert_days(the(&first, "count", "A1"), "2028-01-01", "2028-01-29");
    assert_int_equal(first.list[0].season, 2028);
    struct task_instances second = ask(fixture, "2028-12-30", "2029-01-02", 0);
    assert_days(the(&second, "count", "A1"), "2029-01-01", "2029-01-28");
    assert_int_equal(second.list[0].season, 2029);
    assert_int_equal(second.list[0].cycle, 2027);
    struct task_instances third = ask(fixture, "2029-12-30", "2030-01-02", 0);
    assert_int_equal(third.count, 0);
    struct task_instances summer = ask(fixture, "2029-06-01", "2029-06-04", 0);
    assert_int_equal(the(&summer, "tend", "N1")->season, 2029);
    assert_null(found(&summer, "tend", "N2"));
}

static void a_row_of_cones_comes_where_bags_bear_something(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_made(fixture, "A2", "N2", "2026-02-10");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    add_bag(fixture, "A1-28-1", "C", "2028-03-08");
    add_bag(fixture, "A2-27-1", "C", "2027-03-08");
    note_on_bag(fixture, "2027-07-01", NOTE_CONELETS, "A2-27-1", "0");
    add_row(fixture, "pick", "bag", "Y3-09-12", "Y3-10-20");
    add_row(fixture, "test", "tree", "Y3-09-05", "Y3-10-15");
    add_row(fixture, "lab", "cross", "Y3-09-05", "Y4-02-01");
    struct task_instances first = ask(fixture, "2028-09-01", "2028-09-18", 0);
    assert_int_equal(the(&first, "pick", "A1-27-1")->season, 2027);
    assert_int_equal(the(&first, "pick", "A1-27-1")->cycle, 2026);
    assert_null(found(&first, "pick", "A2-27-1")); /* nothing is left in it */
    assert_null(found(&first, "pick", "A1-28-1"));
    assert_int_equal(the(&first, "test", "N1")->cycle, 2026);
    assert_null(found(&first, "test", "N2"));
    assert_non_null(found(&first, "lab", "C"));
    struct task_instances second = ask(fixture, "2029-09-01", "2029-09-17", 0);
    assert_days(the(&second, "pick", "A1-28-1"), "2029-09-12", "2029-10-20");
    assert_int_equal(the(&second, "pick", "A1-28-1")->season, 2028);
    assert_int_equal(the(&second, "pick", "A1-28-1")->cycle, 2026);
    assert_null(found(&second, "pick", "A1-27-1"));
    assert_int_equal(the(&second, "test", "N1")->season, 2028);
}

static void notes_close_and_count(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N1", "2027-02-10");
    add_row(fixture, "prune", "graft", "Y1-06-01", "Y1-06-20");
    add_row(fixture, "stake", "graft", "Y1-06-01", "Y1-06-20");
    add_note_of_task(fixture, "2027-06-02", NOTE_NOT_DONE, "prune", "A1");
    add_note_of_task(fixture, "2027-06-03", NOTE_NOT_DONE, "prune", "A1");
    fixture->orchard.notes.list[1].value = "wind";
    add_note_of_task(fixture, "2027-06-04", NOTE_DONE, "prune", "A2");
    add_note_of_task(fixture, "2027-06-09", NOTE_DONE, "prune", "A2"); /* once more */
    struct task_instances before = ask(fixture, "2027-06-05", "2027-06-07", 0);
    assert_null(found(&before, "prune", "A2"));
    assert_int_equal(the(&before, "prune", "A1")->not_done, 2);
    assert_string_equal(the(&before, "prune", "A1")->not_done_reason, "wind");
    assert_int_equal(the(&before, "stake", "A1")->not_done, 0);
}

static void the_newest_done_counts(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "prune", "graft", "Y1-06-01", "Y1-06-20");
    add_row(fixture, "look", "graft", "prune.done+5", "prune.done+9");
    add_note_of_task(fixture, "2027-06-04", NOTE_DONE, "prune", "A1");
    add_note_of_task(fixture, "2027-06-09", NOTE_DONE, "prune", "A1");
    struct task_instances week = ask(fixture, "2027-06-10", "2027-06-07", 7);
    const struct task_instance *prune = the(&week, "prune", "A1");
    assert_int_equal(prune->stand, TASK_DONE);
    assert_day(prune->done_on, "2027-06-09");
    assert_days(the(&week, "look", "A1"), "2027-06-14", "2027-06-18");
    assert_int_equal(the(&week, "look", "A1")->stand, TASK_COMING);
}

/* A note of a kind that closes several rows closes those whose first day has come. */
static void a_survival_note_closes_the_checks_that_have_begun(void **state)
{
    static const struct {
        const char *seen;
        bool first, second;
    } cases[] = {
        {"2027-02-18", false, false}, {"2027-02-22", true, false}, {"2027-03-17", true, true}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;
        fixture_teardown(state);
        fixture_setup(state);
        add_world(fixture);
        add_made(fixture, "A1", "N1", "2027-02-10");
        add_row(fixture, "make", "graft", "graft_open", "graft_close")->closed_by = "grafted";
        add_row(fixture, "look", "graft", "make.done+10", "make.done+17")->closed_by = "survival";
        add_row(fixture, "look again", "graft", "make.done+28", "make.done+38")->closed_by =
            "survival";
        note_on_tag(fixture, cases[i].seen, NOTE_SURVIVAL, "A1", "alive");
        struct task_instances week = ask(fixture, "2027-03-17", "2027-03-18", 0);
        assert_int_equal(found(&week, "look", "A1") == NULL, cases[i].first);
        assert_int_equal(found(&week, "look again", "A1") == NULL, cases[i].second);
        if (!cases[i].first)
            assert_int_equal(the(&week, "look", "A1")->stand, TASK_OVERDUE);
    }
}

static void work_waits_for_what_comes_before_while_that_has_time(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "one", "graft", "Y1-05-01", "Y1-05-20");
    add_row(fixture, "two", "graft", "Y1-05-10", "Y1-05-30")->after = "one+3";
    struct task_instances waiting = ask(fixture, "2027-05-12", "2027-05-10", 0);
    const struct task_instance *two = the(&waiting, "two", "A1");
    assert_int_equal(two->stand, TASK_WAITING);
    assert_true(two->expected);
    assert_days(two, "2027-05-15", "2027-05-30");
    assert_string_equal(two->because, "waits for: one");
    struct task_instances late = ask(fixture, "2027-05-22", "2027-05-17", 0);
    two = the(&late, "two", "A1");
    assert_int_equal(two->stand, TASK_DUE);
    assert_false(two->expected);
    assert_days(two, "2027-05-10", "2027-05-30");
    assert_string_equal(two->because, "one is not noted as done");
    add_note_of_task(fixture, "2027-05-31", NOTE_DONE, "one", "A1");
    struct task_instances done = ask(fixture, "2027-05-31", "2027-05-31", 0);
    two = the(&done, "two", "A1");
    assert_days(two, "2027-06-03", "2027-06-03"); /* it has to be done nevertheless */
    assert_null(two->because);
}

static void a_wide_row_follows_when_all_that_it_holds_is_done(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N2", "2027-02-10");
    add_row(fixture, "count", "graft", "Y1-07-01", "Y1-07-31");
    add_row(fixture, "replan", "programme", "count.done+1", "Y1-10-31");
    add_note_of_task(fixture, "2027-07-05", NOTE_DONE, "count", "A1");
    struct task_instances half = ask(fixture, "2027-07-06", "2027-07-05", 7);
    assert_int_equal(the(&half, "replan", "")->stand, TASK_WAITING);
    assert_true(the(&half, "replan", "")->expected);
    add_note_of_task(fixture, "2027-07-09", NOTE_DONE, "count", "A2");
    struct task_instances all = ask(fixture, "2027-07-12", "2027-07-12", 0);
    assert_int_equal(the(&all, "replan", "")->stand, TASK_DUE);
    assert_day(the(&all, "replan", "")->first_day, "2027-07-10");
}

static void a_graft_that_was_never_counted_holds_nothing_up_for_ever(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N2", "2027-02-10");
    add_row(fixture, "count", "graft", "Y1-07-01", "Y1-07-31");
    add_row(fixture, "replan", "programme", "count.done+1", "Y1-10-31");
    add_note_of_task(fixture, "2027-07-05", NOTE_DONE, "count", "A1");
    struct task_instances week = ask(fixture, "2027-09-20", "2027-09-20", 0);
    assert_null(found(&week, "count", "A2")); /* lapsed */
    assert_day(the(&week, "replan", "")->first_day, "2027-07-06");
    assert_false(the(&week, "replan", "")->expected);
}

static void a_narrow_row_follows_what_holds_it(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N2", "2027-02-10");
    add_row(fixture, "prop", "tree", "Y1-05-01", "Y1-05-31");
    add_row(fixture, "tie", "graft", "prop.done+2", "prop.done+9");
    struct note *note = add_note(fixture, "2027-05-05", NOTE_DONE, NULL);
    note->task = "prop";
    note->tree = "N1";
    struct task_instances week = ask(fixture, "2027-05-06", "2027-05-06", 0);
    assert_days(the(&week, "tie", "A1"), "2027-05-07", "2027-05-14");
    assert_int_equal(the(&week, "tie", "A1")->stand, TASK_DUE);
    assert_int_equal(the(&week, "tie", "A2")->stand, TASK_WAITING);
}

static void another_row_s_window_is_that_of_the_same_subject(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "one", "tree", "Y1-05-01", "Y1-05-20");
    add_row(fixture, "two", "graft", "one.open+2", "one.close-3");
    struct task_instances week = ask(fixture, "2027-05-04", "2027-05-03", 0);
    assert_days(the(&week, "two", "A1"), "2027-05-03", "2027-05-17");
}

static void a_condition_opens_a_row_that_comes_once(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "water", "site", "Y1-06-01", "Y1-08-31")->when = "tmax_c>=30|note:storm";
    struct task_instances cool = ask(fixture, "2027-06-20", "2027-06-14", 0);
    assert_int_equal(the(&cool, "water", "Nord")->stand, TASK_WAITING);
    assert_string_equal(the(&cool, "water", "Nord")->because, "waits for: tmax_c>=30|note:storm");
    add_note(fixture, "2027-05-30", NOTE_STORM, NULL)->site = "Nord"; /* too early */
    add_note(fixture, "2027-06-22", NOTE_STORM, NULL)->site = "Nord";
    struct task_instances hot = ask(fixture, "2027-06-25", "2027-06-21", 0);
    assert_int_equal(the(&hot, "water", "Nord")->stand, TASK_DUE);
    assert_days(the(&hot, "water", "Nord"), "2027-06-22", "2027-08-31");
    assert_string_equal(the(&hot, "water", "Nord")->because, "storm noted on 2027-06-22");
    struct task_instances over = ask(fixture, "2027-06-20", "2027-09-06", 0);
    assert_null(found(&over, "water", "Nord")); /* what was never asked for is not late */
}

static void a_condition_asks_again_each_time_it_comes_true(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N1", "2026-02-10"); /* several cycles, one storm */
    add_row(fixture, "look", "site", "when+0", "when+3")->when = "note:storm";
    add_note(fixture, "2027-06-07", NOTE_STORM, NULL)->site = "Nord";
    add_note(fixture, "2027-06-09", NOTE_STORM, NULL)->site = "Nord";
    struct task_instances one = ask(fixture, "2027-06-09", "2027-06-07", 0);
    assert_int_equal(one.count, 1);
    assert_days(the(&one, "look", "Nord"), "2027-06-07", "2027-06-10");
    assert_string_equal(one.list[0].because, "storm noted on 2027-06-07");
    struct note *done = add_note(fixture, "2027-06-08", NOTE_DONE, NULL);
    done->task = "look";
    done->site = "Nord";
    struct task_instances two = ask(fixture, "2027-06-09", "2027-06-07", 0);
    assert_int_equal(two.count, 2);
    assert_int_equal(two.list[0].stand, TASK_DONE);
    assert_int_equal(two.list[1].stand, TASK_DUE);
    assert_days(&two.list[1], "2027-06-09", "2027-06-12");
}

static double cold_snap_c(int season, daynum day)
{
    (void)season;
    return day == day_from_civil(2027, 3, 3) ? -1.5 : 10;
}

static void a_cold_night_asks_within_the_days_that_matter(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2027, 2027, cold_snap_c);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_row(fixture, "count again", "site", "when+0", "when+2")->when =
        "tmin_c<=-3;day>=peak-10;day<=peak+10";
    add_row(fixture, "in autumn", "site", "when+0", "when+2")->when =
        "tmin_c<=-3;day>=peak+100;day<=peak+120";
    struct task_instances week = ask(fixture, "2027-03-05", "2027-03-01", 0);
    assert_int_equal(week.count, 1);
    assert_days(the(&week, "count again", "Nord"), "2027-03-03", "2027-03-05");
    assert_string_equal(week.list[0].because, "-4.5 deg C on 2027-03-03");
    assert_int_equal(week.list[0].season, 2027);
}

static void cones_of_a_dead_graft_are_worth_something_once_they_are_counted(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    add_bag(fixture, "A1-28-1", "C", "2028-03-08");
    add_row(fixture, "extract", "bag", "Y3-09-12", "Y3-12-20");
    add_row(fixture, "tend", "graft", "Y2-05-01", "Y2-12-31");
    note_on_bag(fixture, "2028-09-25", NOTE_CONES, "A1-27-1", "2");
    note_on_tag(fixture, "2028-10-01", NOTE_SURVIVAL, "A1", "dead");
    struct task_instances week = ask(fixture, "2028-10-02", "2028-10-02", 0);
    assert_int_equal(week.count, 1);
    assert_non_null(found(&week, "extract", "A1-27-1"));
    struct task_instances next = ask(fixture, "2029-10-02", "2029-10-02", 0);
    assert_int_equal(next.count, 0);
}

static double warm_spell_c(int season, daynum day)
{
    (void)season;
    return day == day_from_civil(2027, 6, 8) ? 32 : day == day_from_civil(2027, 6, 9) ? 2 : 20;
}

static void every_sense_and_every_site_is_asked(void **state)
{
    static const struct {
        const char *when, *because;
    } cases[] = {{"tmax_c>34", "35.0 deg C on 2027-06-08"},
                 {"tmax_c>=35", "35.0 deg C on 2027-06-08"},
                 {"tmin_c<0", "-1.0 deg C on 2027-06-09"},
                 {"tmin_c<=-1", "-1.0 deg C on 2027-06-09"},
                 {"day>=Y1-06-08;day<Y1-06-09", "since 2027-06-08"},
                 {"note:storm|tmax_c>50", "storm noted on 2027-06-07"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;
        fixture_teardown(state);
        fixture_setup(state);
        add_world(fixture);
        add_seasons(fixture, "NORD", fixture_north, 2027, 2027, warm_spell_c);
        add_made(fixture, "A1", "N1", "2027-02-10");
        add_note(fixture, "2027-06-07", NOTE_STORM, NULL)->site = "Nord";
        add_row(fixture, "see", "programme", "Y1-06-01", "Y1-06-30")->when = cases[i].when;
        struct task_instances week = ask(fixture, "2027-06-12", "2027-06-07", 0);
        assert_int_equal(the(&week, "see", "")->stand, TASK_DUE);
        assert_string_equal(the(&week, "see", "")->because, cases[i].because);
    }
}

/* A graft that failed is made again only while the window is open: a first look comes ten days
 * after grafting, so what is made up to ten days before the close can be. */
static void a_dead_graft_asks_for_another_while_the_window_is_open(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-28");
    add_made(fixture, "A2", "N1", "2027-03-01");
    add_row(fixture, "again", "graft", "when+0", "graft_close+0")->when =
        "note:survival=dead|note:survival=lost";
    add_row(fixture, "tend", "graft", "Y1-03-01", "Y1-04-30");
    note_on_tag(fixture, "2027-03-10", NOTE_SURVIVAL, "A1", "dead");
    note_on_tag(fixture, "2027-03-11", NOTE_SURVIVAL, "A2", "lost");
    struct task_instances week = ask(fixture, "2027-03-11", "2027-03-08", 0);
    assert_days(the(&week, "again", "A1"), "2027-03-10", "2027-03-10");
    assert_null(found(&week, "again", "A2"));
    assert_null(found(&week, "tend", "A1"));
    assert_string_equal(the(&week, "again", "A1")->because, "survival noted on 2027-03-10");
}

static void an_order_must_go_out_in_time_for_the_earliest_selection(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_made(fixture, "A2", "N1", "2027-02-10")->selection_name = "S2";
    fixture->orchard.selections.list[1].days_late = -9;
    struct task_kind *row = add_row(fixture, "order", "programme", "Y1-09-01", "order_by");
    row->lead_days = 90;
    row->needed_by = "peak-26";
    struct task_instances week = ask(fixture, "2027-10-01", "2027-10-04", 0);
    const struct task_instance *order = the(&week, "order", "");
    /* 125 days before 8 March 2028. */
    assert_day(order->order_by, "2027-11-04");
    assert_days(order, "2027-09-01", "2027-11-04");
    assert_int_equal(order->season, 2028);
}

static void work_only_tells_when_what_it_uses_must_be_ordered(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    struct task_kind *row = add_row(fixture, "spray", "site", "Y1-06-15", "Y1-08-31");
    row->lead_days = 60;
    row->needed_by = "Y1-06-15";
    struct task_instances early = ask(fixture, "2027-04-10", "2027-04-12", 0);
    assert_int_equal(the(&early, "spray", "Nord")->stand, TASK_COMING);
    assert_day(the(&early, "spray", "Nord")->order_by, "2027-04-16");
    assert_days(the(&early, "spray", "Nord"), "2027-06-15", "2027-08-31");
    struct task_instances later = ask(fixture, "2027-04-20", "2027-04-19", 0);
    assert_null(found(&later, "spray", "Nord"));
}

static void an_order_of_its_own_latest_day_goes_out_no_later_than_order_by(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    struct task_kind *row = add_row(fixture, "order", "programme", "Y1-03-20", "Y1-06-10");
    row->lead_days = 60;
    row->needed_by = "Y1-06-15";
    row = add_row(fixture, "hopeless", "programme", "Y1-05-01", "order_by");
    row->lead_days = 60;
    row->needed_by = "Y1-06-15";
    struct task_instances week = ask(fixture, "2027-04-10", "2027-04-12", 0);
    assert_days(the(&week, "order", ""), "2027-03-20", "2027-04-16");
    assert_days(the(&week, "hopeless", ""), "2027-04-16", "2027-04-16");
}

static void dates_move_with_the_site_only_where_the_row_says_so(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    fixture->orchard.sites.list[0].latitude = 35.2; /* 12 days */
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "stays", "graft", "Y1-05-10", "Y1-05-20");
    add_row(fixture, "spring", "graft", "Y1-05-01", "Y1-05-20")->shift = "spring";
    add_row(fixture, "autumn", "graft", "Y1-05-20", "Y1-06-05")->shift = "autumn";
    add_row(fixture, "after", "graft", "spring.open+1", "Y1-06-05");
    struct task_instances week = ask(fixture, "2027-05-14", "2027-05-10", 7);
    assert_days(the(&week, "stays", "A1"), "2027-05-10", "2027-05-20");
    assert_false(the(&week, "stays", "A1")->rough);
    assert_days(the(&week, "spring", "A1"), "2027-05-13", "2027-06-01");
    assert_true(the(&week, "spring", "A1")->rough);
    assert_days(the(&week, "autumn", "A1"), "2027-05-08", "2027-05-24");
    assert_true(the(&week, "after", "A1")->rough);
}

static void a_southern_site_has_its_months_half_a_year_on(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "Z", "Z1", "2027-08-10");
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "tend", "graft", "Y1-03-01", "Y1-03-31");
    add_row(fixture, "both", "programme", "Y1-03-01", "Y1-03-31");
    struct task_instances week = ask(fixture, "2027-09-05", "2027-09-06", 0);
    assert_days(the(&week, "tend", "Z"), "2027-09-01", "2027-09-30");
    assert_days(the(&week, "both", ""), "2027-03-01", "2027-09-30"); /* first to last of sites */
    assert_null(found(&week, "tend", "A1"));
}

static void work_stands_as_its_days_and_the_days_asked_for_tell(void **state)
{
    static const struct {
        const char *from;
        int stand; /* -1: not told */
    } cases[] = {
        {"2027-04-19", -1},       {"2027-04-20", TASK_COMING},  {"2027-05-05", TASK_DUE},
        {"2027-05-20", TASK_DUE}, {"2027-05-21", TASK_OVERDUE}, {"2027-07-04", TASK_OVERDUE},
        {"2027-07-05", -1}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fixture *fixture = *state;
        fixture_teardown(state);
        fixture_setup(state);
        add_world(fixture);
        add_made(fixture, "A1", "N1", "2027-02-10");
        add_row(fixture, "tie", "graft", "Y1-05-10", "Y1-05-20");
        add_row(fixture, "paint (optional)", "graft", "Y1-05-10", "Y1-05-20");
        struct task_instances week = ask(fixture, cases[i].from, cases[i].from, 14);
        const struct task_instance *tie = found(&week, "tie", "A1");
        assert_int_equal(tie == NULL ? -1 : (int)tie->stand, cases[i].stand);
        tie = found(&week, "paint (optional)", "A1");
        assert_int_equal(tie == NULL ? -1 : (int)tie->stand,
                         cases[i].stand == TASK_OVERDUE ? -1 : cases[i].stand);
    }
}

static void a_manager_s_own_row_works_for_every_subject_and_a_removed_one_is_gone(void **state)
{
    static const char *const names[SUBJECT_KINDS] = {"A1",   "A1-27-1", "N1", "P2", "B1",
                                                     "Nord", "S1",      "C",  ""};
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_batch(fixture, "B1", "S1", "2026-02-01");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    for (int per = 0; per < SUBJECT_KINDS; per++)
        add_row(fixture, arena_printf(&fixture->arena, "our own %s", subject_words[per]),
                subject_words[per], per == SUBJECT_BATCH ? "Y1-03-01" : "Y2-03-01",
                per == SUBJECT_BATCH ? "Y2-04-30" : "Y2-04-30");
    struct task_instances week = ask(fixture, "2027-03-10", "2027-03-08", 0);
    for (int per = 0; per < SUBJECT_KINDS; per++) {
        const struct task_instance *one =
            the(&week, arena_printf(&fixture->arena, "our own %s", subject_words[per]), names[per]);
        assert_int_equal(one->subject.kind, per);
        assert_int_equal(one->stand, TASK_DUE);
    }
    fixture->orchard.tasks.count = 0;
    assert_int_equal(ask(fixture, "2027-03-10", "2027-03-08", 0).count, 0);
}

static void rows_that_the_crossing_plan_places_only_lend_their_days(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    add_row(fixture, "pollen in", "bag", "first", "last")->closed_by = "pollinated";
    add_row(fixture, "bag off", "bag", "pollen in.done+10", "pollen in.done+24")->closed_by =
        "unbagged";
    add_row(fixture, "count", "bag", "bag off.done+2", "bag off.done+9")->closed_by = "conelets";
    struct task_instances hanging = ask(fixture, "2027-03-16", "2027-03-15", 14);
    assert_int_equal(hanging.count, 1);
    assert_days(the(&hanging, "count", "A1-27-1"), "2027-03-20", "2027-03-27");
    assert_true(hanging.list[0].expected);
    note_on_bag(fixture, "2027-03-25", NOTE_UNBAGGED, "A1-27-1", "2");
    struct task_instances off = ask(fixture, "2027-03-26", "2027-03-22", 0);
    assert_days(the(&off, "count", "A1-27-1"), "2027-03-27", "2027-04-03");
    assert_false(off.list[0].expected);
}

static void notes_of_a_tree_or_a_cross_close_the_row_of_each_bag(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_made(fixture, "A2", "N2", "2026-02-10");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    add_bag(fixture, "A2-27-1", "C", "2027-03-08");
    add_row(fixture, "float", "bag", "Y3-09-01", "Y3-10-15")->closed_by = "ripeness";
    add_row(fixture, "seed", "bag", "Y3-09-01", "Y3-12-15")->closed_by = "seeds";
    add_note(fixture, "2027-09-05", NOTE_RIPENESS, "1/20")->tree = "N2"; /* of another year */
    add_note(fixture, "2028-09-05", NOTE_RIPENESS, "19/20")->tree = "N1";
    struct task_instances ripe = ask(fixture, "2028-09-11", "2028-09-11", 0);
    assert_null(found(&ripe, "float", "A1-27-1"));
    assert_non_null(found(&ripe, "float", "A2-27-1"));
    add_note(fixture, "2028-09-20", NOTE_SEEDS, "60")->cross = "C";
    struct task_instances seeds = ask(fixture, "2028-09-25", "2028-09-25", 0);
    assert_null(found(&seeds, "seed", "A1-27-1"));
    assert_null(found(&seeds, "seed", "A2-27-1"));
}

static void dated_cells_close_as_notes_do(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    struct graft *graft = add_made(fixture, "A1", "N1", "2027-02-10");
    graft->condition = CONDITION_ALIVE;
    graft->condition_on = fixture_day("2027-06-03");
    graft->identity = IDENTITY_CHECKED;
    graft->identity_on = fixture_day("2027-06-03");
    fixture->orchard.trees.list[0].label_checked_on = fixture_day("2027-06-03");
    struct lot *lot = add_lot(fixture, "P1", "S1");
    lot->ready_on = fixture_day("2025-03-20");
    lot->germination_pct = 80;
    lot->tested_on = fixture_day("2027-06-03");
    add_lot(fixture, "P2", "S1")->state = LOT_PLANNED;
    add_row(fixture, "alive", "graft", "Y1-06-01", "Y1-06-30")->closed_by = "survival";
    add_row(fixture, "name", "graft", "Y1-06-01", "Y1-06-30")->closed_by = "verified";
    add_row(fixture, "tree name", "tree", "Y1-06-01", "Y1-06-30")->closed_by = "verified";
    add_row(fixture, "test", "lot", "Y2-06-01", "Y2-06-30")->closed_by = "germination";
    add_row(fixture, "collect", "lot", "Y2-06-01", "Y2-06-30")->closed_by = "collected";
    add_made(fixture, "A0", "N2", "2026-02-10"); /* something that flowers in 2027 */
    struct task_instances week = ask(fixture, "2027-06-08", "2027-06-07", 0);
    assert_null(found(&week, "alive", "A1"));
    assert_null(found(&week, "name", "A1"));
    assert_null(found(&week, "tree name", "N1"));
    assert_null(found(&week, "test", "P1"));
    assert_null(found(&week, "collect", "P1")); /* long ago, and once for good */
    assert_non_null(found(&week, "test", "P2"));
    assert_non_null(found(&week, "collect", "P2"));
}

static void grafting_to_come_is_asked_for_while_crosses_are_wanted(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_cross(fixture, "C", "S1", "S2");
    add_row(fixture, "survey", "tree", "Y0-08-15", "Y0-10-31");
    add_row(fixture, "cut", "selection", "Y1-01-05", "Y1-02-20")->closed_by = "scions";
    add_row(fixture, "order", "programme", "Y0-10-15", "Y0-12-03");
    struct task_instances autumn = ask(fixture, "2026-10-20", "2026-10-19", 0);
    assert_int_equal(the(&autumn, "survey", "N1")->cycle, 2027);
    assert_non_null(found(&autumn, "order", ""));
    struct task_instances winter = ask(fixture, "2027-01-11", "2027-01-11", 0);
    assert_non_null(found(&winter, "cut", "S1"));
    assert_null(found(&winter, "cut", "S2")); /* gives pollen only */
    struct task_instances spring = ask(fixture, "2027-05-01", "2027-02-08", 0);
    assert_null(found(&spring, "cut", "S1")); /* that winter is over */
    fixture->orchard.crosses.list[0].either_way = true;
    add_batch(fixture, "B1", "S1", "2027-01-20");
    struct task_instances both = ask(fixture, "2027-01-25", "2027-01-25", 0);
    assert_non_null(found(&both, "cut", "S2"));
    assert_null(found(&both, "cut", "S1"));
    fixture->orchard.crosses.list[0].state = CROSS_CANCELLED;
    assert_null(found(&(struct task_instances){both.list, 0}, "cut", "S2"));
    struct task_instances none = ask(fixture, "2027-01-25", "2027-01-25", 0);
    assert_null(found(&none, "cut", "S2"));
}

static void wide_subjects_count_from_the_first_and_to_the_last_they_hold(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_made(fixture, "A2", "N1", "2026-02-10")->selection_name = "S2";
    fixture->orchard.selections.list[1].days_late = 6;
    add_cross(fixture, "C", "S1", "S2")->either_way = true;
    add_row(fixture, "scout", "site", "peak-3", "peak+2");
    add_row(fixture, "see", "cross", "peak-3", "peak+2");
    add_row(fixture, "plan", "programme", "peak-30", "peak-6");
    struct task_instances week = ask(fixture, "2027-03-01", "2027-03-01", 7);
    assert_days(the(&week, "scout", "Nord"), "2027-03-05", "2027-03-16");
    assert_days(the(&week, "see", "C"), "2027-03-05", "2027-03-16");
    assert_days(the(&week, "plan", ""), "2027-02-06", "2027-03-02");
}

static void a_row_with_days_that_cannot_be_told_does_not_come(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "never", "graft", "shed_first+0", "Y5-01-01"); /* no threshold says when */
    add_row(fixture, "after it", "graft", "never.done+1", "Y5-01-01");
    add_row(fixture, "turned round", "graft", "Y1-05-20", "Y1-05-10");
    add_row(fixture, "after that", "graft", "Y1-05-01", "Y1-05-31")->after = "turned round";
    struct task_kind *order = add_row(fixture, "order", "programme", "Y1-05-01", "Y1-05-31");
    order->lead_days = 10;
    order->needed_by = "shed_first+0";
    struct task_instances week = ask(fixture, "2027-05-12", "2027-05-10", 0);
    assert_int_equal(week.count, 2);
    assert_int_equal(the(&week, "after that", "A1")->stand, TASK_DUE);
    assert_int_equal(the(&week, "order", "")->order_by, DAY_NONE);
}

static void what_is_unknown_of_a_graft_a_bag_or_a_batch_leaves_it_out(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A1", "N1", "2026-02-10");
    add_made(fixture, "A2", "N1", "2026-02-10")->grafted_on = DAY_NONE;
    add_batch(fixture, "B1", "S1", "2027-01-20")->source_tree_name = "N1";
    add_batch(fixture, "B2", "S1", "2027-01-20")->discarded_on = fixture_day("2027-02-01");
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2");
    add_lot(fixture, "P3", "S2")->state = LOT_DISCARDED;
    add_bag(fixture, "A1-27-1", "C", "2027-03-08");
    add_bag(fixture, "A1-27-2", "C", "2027-03-08");
    note_on_bag(fixture, "2027-03-09", NOTE_BAG_LOST, "A1-27-2", "wind");
    for (int per = SUBJECT_GRAFT; per <= SUBJECT_BATCH; per++)
        add_row(fixture, arena_printf(&fixture->arena, "see %s", subject_words[per]),
                subject_words[per], "Y1-01-01", "Y2-12-31");
    struct task_instances week = ask(fixture, "2027-03-10", "2027-03-08", 0);
    assert_non_null(found(&week, "see graft", "A1"));
    assert_null(found(&week, "see graft", "A2"));
    assert_non_null(found(&week, "see bag", "A1-27-1"));
    assert_null(found(&week, "see bag", "A1-27-2"));
    assert_non_null(found(&week, "see batch", "B1"));
    assert_null(found(&week, "see batch", "B2"));
    assert_non_null(found(&week, "see lot", "P2"));
    assert_null(found(&week, "see lot", "P3"));
}

static void pollen_counts_from_the_trees_it_is_taken_from(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_after(fixture, EVENT_SHED_FIRST, EVENT_PEAK, 2)->shipped = true;
    fixture->orchard.thresholds.list[fixture->orchard.thresholds.count - 1].basis = BASIS_CALENDAR;
    add_made(fixture, "A1", "N1", "2026-02-10");
    struct tree *bank = add_tree(fixture, "BANK", "Nord");
    bank->uses = USE_POLLEN;
    bank->selection_name = "S2";
    fixture->orchard.selections.list[1].days_late = 5;
    add_cross(fixture, "C", "S1", "S2");
    add_lot(fixture, "P2", "S2")->state = LOT_PLANNED;
    add_lot(fixture, "P1", "S1")->state = LOT_PLANNED;
    add_lot(fixture, "MIX", NULL)->state = LOT_PLANNED;
    add_row(fixture, "collect", "lot", "shed_first-2", "shed_first+3")->closed_by = "collected";
    add_row(fixture, "pollen flies", "site", "shed_first+0", "shed_first+0");
    struct task_instances week = ask(fixture, "2027-03-05", "2027-03-08", 14);
    assert_days(the(&week, "pollen flies", "Nord"), "2027-03-10", "2027-03-15");
    assert_days(the(&week, "collect", "P2"), "2027-03-13", "2027-03-18");  /* of the tree */
    assert_days(the(&week, "collect", "P1"), "2027-03-08", "2027-03-13");  /* of the graft */
    assert_days(the(&week, "collect", "MIX"), "2027-03-08", "2027-03-18"); /* of all */
}

static void the_order_of_instances_is_total(void **state)
{
    struct fixture *fixture = *state;
    add_world(fixture);
    add_made(fixture, "A2", "N2", "2027-02-10");
    add_made(fixture, "A1", "N1", "2027-02-10");
    add_row(fixture, "b", "graft", "Y1-05-01", "Y1-05-20");
    add_row(fixture, "a", "graft", "Y1-05-01", "Y1-05-20");
    add_row(fixture, "c", "graft", "Y1-05-01", "Y1-05-10");
    add_row(fixture, "d", "graft", "Y1-04-30", "Y1-05-20");
    struct task_instances week = ask(fixture, "2027-05-03", "2027-05-03", 0);
    static const char *const want[] = {"c A1", "c A2", "d A1", "d A2",
                                       "a A1", "a A2", "b A1", "b A2"};
    assert_int_equal(week.count, COUNT(want));
    for (size_t i = 0; i < COUNT(want); i++) {
        assert_string_equal(arena_printf(&fixture->arena, "%s %s", week.list[i].kind->task,
                                         week.list[i].subject.name),
                            want[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_check_counts_from_the_day_that_graft_was_made),
        FIXTURE_TEST(a_row_of_flowering_comes_in_both_springs_of_a_graft),
        FIXTURE_TEST(a_row_of_cones_comes_where_bags_bear_something),
        FIXTURE_TEST(notes_close_and_count),
        FIXTURE_TEST(the_newest_done_counts),
        FIXTURE_TEST(a_survival_note_closes_the_checks_that_have_begun),
        FIXTURE_TEST(work_waits_for_what_comes_before_while_that_has_time),
        FIXTURE_TEST(a_wide_row_follows_when_all_that_it_holds_is_done),
        FIXTURE_TEST(a_graft_that_was_never_counted_holds_nothing_up_for_ever),
        FIXTURE_TEST(a_narrow_row_follows_what_holds_it),
        FIXTURE_TEST(another_row_s_window_is_that_of_the_same_subject),
        FIXTURE_TEST(a_condition_opens_a_row_that_comes_once),
        FIXTURE_TEST(a_condition_asks_again_each_time_it_comes_true),
        FIXTURE_TEST(a_cold_night_asks_within_the_days_that_matter),
        FIXTURE_TEST(cones_of_a_dead_graft_are_worth_something_once_they_are_counted),
        FIXTURE_TEST(every_sense_and_every_site_is_asked),
        FIXTURE_TEST(a_dead_graft_asks_for_another_while_the_window_is_open),
        FIXTURE_TEST(an_order_must_go_out_in_time_for_the_earliest_selection),
        FIXTURE_TEST(work_only_tells_when_what_it_uses_must_be_ordered),
        FIXTURE_TEST(an_order_of_its_own_latest_day_goes_out_no_later_than_order_by),
        FIXTURE_TEST(dates_move_with_the_site_only_where_the_row_says_so),
        FIXTURE_TEST(a_southern_site_has_its_months_half_a_year_on),
        FIXTURE_TEST(work_stands_as_its_days_and_the_days_asked_for_tell),
        FIXTURE_TEST(a_manager_s_own_row_works_for_every_subject_and_a_removed_one_is_gone),
        FIXTURE_TEST(rows_that_the_crossing_plan_places_only_lend_their_days),
        FIXTURE_TEST(notes_of_a_tree_or_a_cross_close_the_row_of_each_bag),
        FIXTURE_TEST(dated_cells_close_as_notes_do),
        FIXTURE_TEST(grafting_to_come_is_asked_for_while_crosses_are_wanted),
        FIXTURE_TEST(wide_subjects_count_from_the_first_and_to_the_last_they_hold),
        FIXTURE_TEST(a_row_with_days_that_cannot_be_told_does_not_come),
        FIXTURE_TEST(what_is_unknown_of_a_graft_a_bag_or_a_batch_leaves_it_out),
        FIXTURE_TEST(pollen_counts_from_the_trees_it_is_taken_from),
        FIXTURE_TEST(the_order_of_instances_is_total),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
