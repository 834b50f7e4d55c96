#include "planning/roster.h"

#include "orchard/fixture.h"
#include "planning/crews.h"
#include "planning/grafts_to_make.h"

/*
 * Crew Aspen works eight hours on weekdays: two half-days of 240 minutes.  A check takes 20 minutes
 * each, 10 to the tree and 30 to set up.  Monday is 1 March 2027.
 */
struct shop {
    struct fixture *fixture;
    struct task_instance instances[64];
    size_t count;
};

static struct task_kind *add_check(struct fixture *fixture, const char *task)
{
    struct task_kind *kind = add_task(fixture, task, "graft");

    kind->minutes_each = (struct decimal){20, 0};
    kind->minutes_per_tree = (struct decimal){10, 0};
    kind->minutes_per_site = (struct decimal){30, 0};
    return kind;
}

static struct shop shop_of(struct fixture *fixture)
{
    add_site(fixture, "Nord");
    add_site(fixture, "Syd");
    add_tree(fixture, "T1", "Nord")->block = "B";
    add_tree(fixture, "T2", "Nord");
    add_tree(fixture, "T3", "Syd");
    add_crew(fixture, "Aspen", "2027-01-01", "2027-12-31");
    return (struct shop){.fixture = fixture};
}

/* Everything is there: put it into order. */
static void open_shop(struct shop *shop)
{
    orchard_link(&shop->fixture->orchard, &shop->fixture->diags);
    assert_nothing_told(shop->fixture);
}

static struct task_instance *ask(struct shop *shop, const char *task, const char *tree,
                                 const char *first, const char *last)
{
    struct task_instance *instance = &shop->instances[shop->count++];
    const struct tree *at = orchard_tree(&shop->fixture->orchard, tree);

    *instance = (struct task_instance){
        .kind = orchard_task(&shop->fixture->orchard, task),
        .subject = {.kind = SUBJECT_TREE, .name = tree, .tree = at, .site = at->site},
        .cycle = 2026,
        .first_day = fixture_day(first),
        .last_day = fixture_day(last),
        .order_by = DAY_NONE,
        .stand = TASK_DUE,
        .done_on = DAY_NONE,
    };
    return instance;
}

static struct duties give(struct shop *shop, const char *first, const char *last)
{
    const struct orchard *orchard = &shop->fixture->orchard;
    struct task_instances instances = {shop->instances, shop->count};
    struct duties duties = duties_of(orchard, &instances, NULL, fixture_day(last));
    struct roster *roster = roster_of(orchard, fixture_day(first), fixture_day(last));

    roster_give(roster, &duties, false);
    return duties;
}

static size_t count_given(const struct duties *duties)
{
    size_t given = 0;

    for (size_t i = 0; i < duties->count; i++)
        given += duties->list[i].obstacle == OBSTACLE_NONE;
    return given;
}

static void minutes_are_paid_once_for_site_and_tree(void **state)
{
    struct shop shop = shop_of(*state);

    add_check(*state, "check");
    open_shop(&shop);
    for (int i = 0; i < 12; i++)
        ask(&shop, "check", "T2", "2027-03-01", "2027-03-01");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    /* 30 + 10 + 10 * 20 = 240 in the morning, then 10 + 2 * 20 with no set-up again */
    assert_int_equal(count_given(&duties), 12);
    assert_int_equal(duties.list[0].paid, 6000);
    assert_int_equal(duties.list[1].paid, 2000);
    assert_int_equal(duties.list[9].half_day, 0);
    assert_int_equal(duties.list[10].half_day, 1);
    assert_int_equal(duties.list[10].paid, 3000);
}

static void what_does_not_fit_is_pushed_out_for_minutes(void **state)
{
    struct shop shop = shop_of(*state);

    add_check(*state, "check");
    open_shop(&shop);
    for (int i = 0; i < 30; i++)
        ask(&shop, "check", "T2", "2027-03-01", "2027-03-01");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_int_equal(count_given(&duties), 21); /* 10, and (240 - 10) / 20 */
    assert_int_equal(duties.list[29].obstacle, OBSTACLE_MINUTES);
    assert_int_equal(duties.list[29].day, DAY_NONE);
    duties = give(&shop, "2027-03-01", "2027-03-02");
    assert_int_equal(count_given(&duties), 30);
    assert_int_equal(duties.list[29].day, fixture_day("2027-03-02"));
}

/* The duty that is to be done first decides where the crew goes; the afternoon stays there. */
static void a_half_day_is_spent_at_one_site(void **state)
{
    struct shop shop = shop_of(*state);

    add_check(*state, "check");
    open_shop(&shop);
    ask(&shop, "check", "T2", "2027-03-01", "2027-03-05");
    ask(&shop, "check", "T3", "2027-03-01", "2027-03-02");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-05");
    assert_string_equal(duties.list[0].tree->name, "T3");
    assert_int_equal(duties.list[0].half_day, 0);
    assert_int_equal(duties.list[1].half_day, 1);
    assert_int_equal(duties.list[1].day, fixture_day("2027-03-01"));
    assert_int_equal(duties.list[1].paid, 6000); /* set-up at the second site too */
}

/* T1 comes up first, and its other work, which could wait, is done while the crew is there. */
static void work_on_one_tree_is_done_together(void **state)
{
    struct shop shop = shop_of(*state);

    add_check(*state, "check");
    add_check(*state, "tidy");
    open_shop(&shop);
    ask(&shop, "check", "T1", "2027-03-01", "2027-03-01");
    ask(&shop, "tidy", "T1", "2027-03-01", "2027-03-31");
    for (int i = 0; i < 20; i++)
        ask(&shop, "check", "T2", "2027-03-01", "2027-03-02");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    for (size_t i = 0; i < duties.count; i++)
        if (duties.list[i].tree->block != NULL) {
            assert_int_equal(duties.list[i].obstacle, OBSTACLE_NONE);
            assert_int_equal(duties.list[i].half_day, 0);
        }
}

static void nothing_is_done_before_it_opens(void **state)
{
    struct shop shop = shop_of(*state);

    add_check(*state, "check");
    open_shop(&shop);
    ask(&shop, "check", "T2", "2027-03-03", "2027-03-09");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-05");
    assert_int_equal(duties.list[0].day, fixture_day("2027-03-03"));
    assert_int_equal(give(&shop, "2027-03-01", "2027-03-02").count, 0);
}

static void obstacles_are_told(void **state)
{
    static const struct {
        const char *what;
        enum obstacle obstacle;
    } cases[] = {{"nobody", OBSTACLE_NOBODY},    {"weekend", OBSTACLE_NOBODY},
                 {"elsewhere", OBSTACLE_NOBODY}, {"ground crew", OBSTACLE_WORK},
                 {"lift down", OBSTACLE_WORK},   {"short lift", OBSTACLE_REACH},
                 {"sprayed", OBSTACLE_SPRAYED},  {"night", OBSTACLE_HOURS},
                 {"nothing", OBSTACLE_NONE}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        struct shop shop = shop_of(fixture);
        struct task_kind *kind = add_check(fixture, "check");
        struct crew_time *crew = &fixture->orchard.crews.list[0];
        struct tree *tree = &fixture->orchard.trees.list[0];
        const char *what = cases[i].what, *day = "2027-03-01";

        kind->work = WORK_LIFT;
        crew->lift_name = "L1";
        tree->reach_needed_m = 15;
        struct lift_time *lift = add_lift(fixture, "L1", "2027-01-01", "2027-12-31");
        lift->reach_m = 18;
        if (strcmp(what, "nobody") == 0)
            crew->to = fixture_day("2027-02-01");
        else if (strcmp(what, "weekend") == 0)
            day = "2027-03-06";
        else if (strcmp(what, "elsewhere") == 0)
            crew->site_name = "Syd";
        else if (strcmp(what, "ground crew") == 0)
            crew->work = WORK_GROUND;
        else if (strcmp(what, "lift down") == 0)
            lift->hours_per_day = 0;
        else if (strcmp(what, "short lift") == 0)
            lift->reach_m = 14;
        else if (strcmp(what, "night") == 0)
            kind->hours_from = "20:00", kind->hours_to = "23:00";
        else if (strcmp(what, "sprayed") == 0) {
            add_note(fixture, "2027-02-28", NOTE_SPRAYED, "12")->site = "Nord";
            add_note(fixture, "2027-02-28", NOTE_SPRAYED, "48")->site = "Nord";
        }
        open_shop(&shop);
        ask(&shop, "check", "T1", day, day);
        struct duties duties = give(&shop, day, day);
        if (duties.list[0].obstacle != cases[i].obstacle)
            fail_msg("%s: %d", what, (int)duties.list[0].obstacle);
        if (strcmp(what, "sprayed") == 0) /* of two products the longest: two days */
            assert_int_equal(duties.list[0].shut_until, fixture_day("2027-03-02"));
    }
}

/* Mornings end and afternoons begin at noon. */
static void work_keeps_to_its_hours(void **state)
{
    struct shop shop = shop_of(*state);
    struct task_kind *kind = add_check(*state, "check");

    kind->hours_from = "12:30";
    kind->hours_to = "15:00";
    open_shop(&shop);
    ask(&shop, "check", "T2", "2027-03-01", "2027-03-01");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_int_equal(duties.list[0].half_day, 1);
}

/* Birch has no lift, and chooses before Aspen, who would have done it too. */
static void who_has_no_lift_chooses_first(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;

    add_check(fixture, "check");
    add_lift(fixture, "L1", "2027-01-01", "2027-12-31");
    fixture->orchard.crews.list[0].lift_name = "L1";
    add_crew(fixture, "Birch", "2027-01-01", "2027-12-31")->work = WORK_GROUND;
    open_shop(&shop);
    ask(&shop, "check", "T2", "2027-03-01", "2027-03-01");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_string_equal(duties.list[0].crew, "Birch");
    assert_null(duties.list[0].lift);
}

/* 240 minutes and 30 of set-up: the day goes on after noon, with 210 minutes left for others. */
static void long_work_goes_on_after_noon(void **state)
{
    struct shop shop = shop_of(*state);
    struct task_kind *kind = add_check(*state, "spray");

    add_check(*state, "check");
    kind = &shop.fixture->orchard.tasks.list[0];
    kind->minutes_each = (struct decimal){240, 0};
    kind->minutes_per_tree = (struct decimal){0, 0};
    open_shop(&shop);
    ask(&shop, "spray", "T1", "2027-03-01", "2027-03-01");
    for (int i = 0; i < 12; i++)
        ask(&shop, "check", "T2", "2027-03-01", "2027-03-02");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_int_equal(duties.list[0].half_day, 0);
    assert_int_equal(duties.list[0].paid, 27000);
    assert_int_equal(count_given(&duties), 1 + 10); /* 10 + 10 * 20 = 210 */
    kind = &shop.fixture->orchard.tasks.list[1];
    kind->minutes_each = (struct decimal){500, 0}; /* more than any day has */
    duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_int_equal(duties.list[0].obstacle, OBSTACLE_MINUTES);
}

/* Two crews name one lift: while Aspen is up, Birch waits for the afternoon. */
static void one_lift_is_in_one_place(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;

    add_check(fixture, "check")->work = WORK_LIFT;
    add_lift(fixture, "L1", "2027-01-01", "2027-12-31");
    fixture->orchard.crews.list[0].lift_name = "L1";
    fixture->orchard.crews.list[0].site_name = "Nord";
    struct crew_time *birch = add_crew(fixture, "Birch", "2027-01-01", "2027-12-31");
    birch->lift_name = "L1";
    birch->site_name = "Syd";
    open_shop(&shop);
    ask(&shop, "check", "T2", "2027-03-01", "2027-03-01");
    ask(&shop, "check", "T3", "2027-03-01", "2027-03-01");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-01");
    assert_string_equal(duties.list[0].crew, "Aspen");
    assert_string_equal(duties.list[0].lift, "L1");
    assert_int_equal(duties.list[0].half_day, 0);
    assert_string_equal(duties.list[1].crew, "Birch");
    assert_int_equal(duties.list[1].half_day, 1);
}

/* Grafts to be made, then what a look closes, then the rest, each by its last day. */
static void duties_have_a_stated_order(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;

    add_check(fixture, "sweep");
    add_check(fixture, "look")->closed_by = "survival";
    add_check(fixture, "graft")->closed_by = "grafted";
    open_shop(&shop);
    ask(&shop, "sweep", "T2", "2027-03-01", "2027-03-02");
    ask(&shop, "look", "T2", "2027-03-01", "2027-03-09");
    ask(&shop, "look", "T1", "2027-03-01", "2027-03-05");
    ask(&shop, "graft", "T2", "2027-03-01", "2027-03-31");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-31");
    assert_string_equal(duties.list[0].instance->kind->task, "graft");
    assert_string_equal(duties.list[1].tree->name, "T1");
    assert_string_equal(duties.list[2].instance->kind->task, "look");
    assert_string_equal(duties.list[3].instance->kind->task, "sweep");
}

/* What is listed before the kinds that the crossing plan places gets its minutes before them. */
static void a_manager_may_rank_otherwise(void **state)
{
    static const char *const order[] = {"sweep", "hang", "look"};
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;

    add_check(fixture, "sweep");
    add_check(fixture, "look")->closed_by = "survival";
    add_check(fixture, "graft")->closed_by = "grafted";
    add_task(fixture, "hang", "bag")->closed_by = "bagged";
    fixture->orchard.program.task_order = order;
    fixture->orchard.program.task_order_count = COUNT(order);
    open_shop(&shop);
    ask(&shop, "graft", "T2", "2027-03-01", "2027-03-02");
    ask(&shop, "look", "T2", "2027-03-01", "2027-03-02");
    ask(&shop, "sweep", "T2", "2027-03-01", "2027-03-02");
    ask(&shop, "hang", "T2", "2027-03-01", "2027-03-02");
    struct duties duties = give(&shop, "2027-03-01", "2027-03-02");
    assert_int_equal(duties.count, 3); /* the crossing plan has its own bags */
    assert_string_equal(duties.list[0].instance->kind->task, "sweep");
    assert_true(duties.list[0].early);
    assert_int_equal(duties.list[0].day, DAY_NONE); /* not in this round */
    assert_string_equal(duties.list[1].instance->kind->task, "look");
    assert_false(duties.list[1].early);
    assert_string_equal(duties.list[2].instance->kind->task, "graft");
}

/* What comes before the crossing plan keeps its crew at its site, with less time for the rest. */
static void what_comes_first_is_taken_off_the_day(void **state)
{
    static const char *const order[] = {"sweep", "hang"};
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;
    struct orchard *orchard = &fixture->orchard;

    add_check(fixture, "sweep")->work = WORK_LIFT;
    add_task(fixture, "hang", "bag")->closed_by = "bagged";
    orchard->program.task_order = order;
    orchard->program.task_order_count = COUNT(order);
    add_lift(fixture, "L1", "2027-01-01", "2027-12-31");
    orchard->crews.list[0].lift_name = "L1";
    add_crew(fixture, "Birch", "2027-01-01", "2027-12-31")->lift_name = "L1";
    open_shop(&shop);
    ask(&shop, "sweep", "T2", "2027-03-01", "2027-03-01");
    ask(&shop, "sweep", "T3", "2027-03-01", "2027-03-01");
    struct task_instances instances = {shop.instances, shop.count};
    daynum monday = fixture_day("2027-03-01");
    struct duties duties = duties_of(orchard, &instances, NULL, monday);
    struct roster *roster = roster_of(orchard, monday, monday);
    roster_give(roster, &duties, true);
    assert_int_equal(duties.list[0].obstacle, OBSTACLE_NONE); /* at Nord, all day */
    assert_string_equal(duties.list[1].crew, "Birch");        /* in the afternoon at Syd */
    roster_tell_taken(roster, orchard);
    assert_int_equal(orchard->taken.count, 2);
    struct crew_day aspen = crew_day_of(orchard, "Aspen", monday);
    assert_int_equal(aspen.half_minutes, 24000 - 6000);
    assert_int_equal(crew_half_minutes(&aspen, orchard_site(orchard, "Nord"), WORK_ANY), 18000);
    assert_int_equal(crew_half_minutes(&aspen, orchard_site(orchard, "Syd"), WORK_ANY), 0);
    assert_int_equal(crew_half_minutes(&aspen, orchard_site(orchard, "Nord"), WORK_LIFT), 0);
    assert_int_equal(crew_day_of(orchard, "Aspen", monday + 1).half_minutes, 24000);
    assert_int_equal(crew_whole_day_of(orchard, "Aspen", monday).half_minutes, 24000);
}

/* One row a planned graft of the site and the cycle; without any the work stays whole. */
static void grafts_to_be_made_come_from_the_placement(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;
    struct selection *selection = add_selection(fixture, "S1", NULL, NULL);

    add_check(fixture, "graft")->closed_by = "grafted";
    open_shop(&shop);
    selection = &fixture->orchard.selections.list[0];
    struct task_instance *instance = ask(&shop, "graft", "T2", "2027-03-01", "2027-03-05");
    const struct tree *t1 = orchard_tree(&fixture->orchard, "T1");
    const struct tree *t3 = orchard_tree(&fixture->orchard, "T3");
    struct placed_graft grafts[] = {{.tag = "N1", .selection = selection, .tree = t1},
                                    {.tag = "N2", .selection = selection, .tree = t3},
                                    {.tag = "N3", .selection = selection, .tree = t1}};
    struct placement placement = {.season = 2026, .grafts = {grafts, 3, 3}};
    struct task_instances instances = {shop.instances, shop.count};

    instance->subject = (struct task_subject){
        .kind = SUBJECT_SITE, .name = "Nord", .site = orchard_site(&fixture->orchard, "Nord")};
    struct duties duties =
        duties_of(&fixture->orchard, &instances, &placement, fixture_day("2027-03-05"));
    assert_int_equal(duties.count, 2);
    assert_string_equal(duties.list[0].planned->tag, "N1");
    assert_string_equal(duties.list[1].planned->tag, "N3");
    placement.season = 2027;
    duties = duties_of(&fixture->orchard, &instances, &placement, fixture_day("2027-03-05"));
    assert_int_equal(duties.count, 1);
    assert_null(duties.list[0].planned);
}

static void a_subject_is_sought_through_what_it_hangs_on(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;

    add_check(fixture, "check");
    add_task(fixture, "audit", "programme");
    open_shop(&shop);
    const struct tree *tree = orchard_tree(&fixture->orchard, "T3");
    struct graft graft = {.tag = "A1", .tree = tree};
    struct bag bag = {.name = "A1-27-1", .graft = &graft};
    struct batch batch = {.name = "B1", .source_tree = tree};
    struct lot lot = {.name = "P1", .source_tree = tree};
    struct task_instance one = *ask(&shop, "check", "T3", "2027-03-01", "2027-03-05");
    const struct task_subject subjects[] = {{.kind = SUBJECT_BAG, .bag = &bag},
                                            {.kind = SUBJECT_BATCH, .batch = &batch},
                                            {.kind = SUBJECT_LOT, .lot = &lot}};

    for (size_t i = 0; i < COUNT(subjects); i++) {
        one.subject = subjects[i];
        struct task_instances instances = {&one, 1};
        struct duties duties =
            duties_of(&fixture->orchard, &instances, NULL, fixture_day("2027-03-05"));
        assert_int_equal(duties.count, 1);
        assert_ptr_equal(duties.list[0].tree, tree);
    }
    one.subject = (struct task_subject){.kind = SUBJECT_PROGRAMME};
    assert_false(duty_wants_crew(&one)); /* it has no place */
    one.subject = subjects[0];
    one.kind = orchard_task(&fixture->orchard, "audit");
    assert_false(duty_wants_crew(&one)); /* it takes no minutes */
}

static void the_result_is_the_first_note_that_closes(void **state)
{
    (void)state;
    static const struct {
        const char *closed_by;
        enum note_kind note;
    } cases[] = {{NULL, NOTE_DONE},
                 {"survival", NOTE_SURVIVAL},
                 {"cones;ripeness", NOTE_CONES},
                 {"ripeness, cones", NOTE_RIPENESS},
                 {"something", NOTE_DONE}};

    for (size_t i = 0; i < COUNT(cases); i++) {
        struct task_kind kind = {.task = "t", .per = "bag", .closed_by = cases[i].closed_by};
        assert_int_equal(duty_result(&kind), cases[i].note);
    }
}

/* A row of tasks.csv that is per graft and makes one has an instance for each planned graft. */
static void planned_grafts_are_due_in_the_window_of_their_tree(void **state)
{
    struct shop shop = shop_of(*state);
    struct fixture *fixture = *state;
    struct task_kind *kind = add_check(fixture, "top graft");

    kind->closed_by = "grafted";
    kind->earliest = "graft_open+2";
    kind->latest = "graft_close-1";
    add_selection(fixture, "S1", NULL, NULL);
    orchard_as_of(&fixture->orchard, fixture_day("2027-02-20"));
    open_shop(&shop);
    struct orchard *orchard = &fixture->orchard;
    const struct selection *selection = orchard_selection(orchard, "S1");
    struct batch batch = {.name = "B1"};
    struct placed_graft grafts[] = {
        {.tag = "N1", .selection = selection, .tree = orchard_tree(orchard, "T1"), .batch = &batch},
        {.tag = "N2", .selection = selection, .tree = orchard_tree(orchard, "T3")},
        {.tag = "N3", .selection = selection, .tree = orchard_tree(orchard, "T2")}};
    struct placement placement = {.season = 2027, .grafts = {grafts, 3, 3}};
    daynum open = fixture_day("2027-02-25");
    struct grafting_row rows[] = {{.site = orchard_site(orchard, "Nord"),
                                   .season = 2027,
                                   .opens = {open - 5, open, open + 5},
                                   .closes = {open + 10, open + 14, open + 20}}};
    struct grafting_rows windows = {rows, 1}; /* none of Syd */
    struct task_instances none = {0};
    struct tasks_asked asked = {.state = &(struct state){.orchard = orchard},
                                .from = fixture_day("2027-02-20"),
                                .to = fixture_day("2027-02-28"),
                                .ahead_days = 21};
    struct task_instances all = with_grafts_to_make(&none, &placement, &windows, &asked);

    assert_int_equal(all.count, 2);
    assert_string_equal(all.list[0].subject.name, "N1");
    assert_ptr_equal(all.list[0].subject.batch, &batch);
    assert_int_equal(all.list[0].first_day, open + 2);
    assert_int_equal(all.list[0].last_day, open + 13);
    assert_int_equal(all.list[0].stand, TASK_DUE);
    assert_int_equal(all.list[0].cycle, 2027);
    struct duties duties = duties_of(orchard, &all, &placement, asked.to);
    assert_int_equal(duties.count, 2);
    for (size_t i = 0; i < 2; i++)
        assert_string_equal(duties.list[i].planned->tag, duties.list[i].instance->subject.name);
    asked.to = asked.from;
    all = with_grafts_to_make(&none, &placement, &windows, &asked);
    assert_int_equal(all.list[0].stand, TASK_COMING);
    asked.ahead_days = 3;
    assert_int_equal(with_grafts_to_make(&none, &placement, &windows, &asked).count, 0);
    orchard->as_of = open + 14; /* over */
    asked.ahead_days = 21;
    assert_int_equal(with_grafts_to_make(&none, &placement, &windows, &asked).count, 0);
    kind = &orchard->tasks.list[0];
    orchard->as_of = fixture_day("2027-02-20");
    kind->earliest = "Y1-02-24";
    kind->latest = "somewhen.done+3"; /* not to be told: the edge of the window stands */
    all = with_grafts_to_make(&none, &placement, &windows, &asked);
    assert_int_equal(all.list[0].first_day, fixture_day("2027-02-24"));
    assert_int_equal(all.list[0].last_day, open + 14);
    assert_true(grafting_near(&windows, open, open));
    assert_false(grafting_near(&windows, open - 9, open - 1));
    assert_false(grafting_near(&windows, open + 15, open + 20));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(minutes_are_paid_once_for_site_and_tree),
        FIXTURE_TEST(what_does_not_fit_is_pushed_out_for_minutes),
        FIXTURE_TEST(a_half_day_is_spent_at_one_site),
        FIXTURE_TEST(work_on_one_tree_is_done_together),
        FIXTURE_TEST(nothing_is_done_before_it_opens),
        FIXTURE_TEST(obstacles_are_told),
        FIXTURE_TEST(work_keeps_to_its_hours),
        FIXTURE_TEST(who_has_no_lift_chooses_first),
        FIXTURE_TEST(long_work_goes_on_after_noon),
        FIXTURE_TEST(one_lift_is_in_one_place),
        FIXTURE_TEST(duties_have_a_stated_order),
        FIXTURE_TEST(a_manager_may_rank_otherwise),
        FIXTURE_TEST(what_comes_first_is_taken_off_the_day),
        FIXTURE_TEST(grafts_to_be_made_come_from_the_placement),
        FIXTURE_TEST(planned_grafts_are_due_in_the_window_of_their_tree),
        FIXTURE_TEST(a_subject_is_sought_through_what_it_hangs_on),
        FIXTURE_TEST(the_result_is_the_first_note_that_closes),
    };

    return cmocka_run_group_tests_name("rosters", tests, NULL, NULL) != 0;
}
