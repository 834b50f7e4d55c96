/*
 * The calendar that ships against one that was worked out by hand for five places of the southern
 * United States, from a task list of common practice with its figures' sources (W.D. Boyer 1978,
 * Journal of Forestry 76(1), for the 23 days between years; Hopkins 1918 for 4 days a degree and
 * 400 feet; McConnell 1969, Barnett and McLemore 1967, Karrfalt 2001 and others for single dates).
 *
 * Where the shipped rows differ on purpose, the test says why.
 */
#include "cli/shipped.h"
#include "orchard/fixture.h"
#include "planning/task_audit.h"
#include "reading/reading.h"

static void read_shipped(struct fixture *fixture, const char *table)
{
    for (const struct shipped *row = shipped_tables; row->table != NULL; row++) {
        struct memory_source memory;
        struct source source =
            source_of_memory(row->table, &memory, row->length, (const char *)row->bytes);

        if (strcmp(row->table, table) == 0)
            assert_true(read_table(&fixture->orchard, row->table, &source, true, &fixture->diags));
    }
}

static void add_place(struct fixture *fixture, const char *name, double latitude, double feet)
{
    struct site *site = add_site(fixture, name);

    site->latitude = latitude;
    site->elevation_m = feet * 0.3048;
}

struct world {
    const struct state *state;
    struct dates *dates;
};

/* As of the summer before grafting; no weather, so that dates come from the calendar. */
static struct world world_of(struct fixture *fixture)
{
    struct world world;

    read_shipped(fixture, "thresholds.csv");
    read_shipped(fixture, "tasks.csv");
    add_record(fixture, "HOLM", "2026-01-01", 1);
    orchard_as_of(&fixture->orchard, fixture_day("2026-09-01"));
    orchard_link(&fixture->orchard, &fixture->diags);
    orchard_audit(&fixture->orchard, fixture_day("2026-09-01"), &fixture->diags);
    assert_int_equal(fixture->diags.errors, 0);
    world.state = state_of(&fixture->orchard, &fixture->arena, NULL);
    world.dates = dates_new(&fixture->orchard, &fixture->arena);
    return world;
}

static struct task_calendar calendar_of(struct fixture *fixture, struct world world,
                                        const char *site, int cycle)
{
    return task_calendar_of(world.state, world.dates, orchard_site(&fixture->orchard, site), cycle,
                            &fixture->arena);
}

static const struct task_days *row_of(const struct task_calendar *calendar, const char *task)
{
    for (size_t i = 0; i < calendar->count; i++)
        if (strcmp(calendar->list[i].kind->task, task) == 0)
            return &calendar->list[i];
    fail_msg("no row '%s'", task);
    return NULL;
}

static void expect_day(const char *task, const char *what, daynum day, const char *expected)
{
    char text[DAY_TEXT];

    if (expected != NULL && strncmp(day_text(day, text), expected, strlen(expected)) != 0)
        fail_msg("%s of '%s' is %s, expected %s", what, task, text, expected);
}

/* The month in which each opens, and its last day, at 32.2 N and 200 feet; cycle 2027. */
static void the_calendar_of_the_base_site_month_by_month(void **state)
{
    static const struct {
        const char *task, *opens, *last;
    } rows[] = {
        {"fertilise interstock (optional)", "2026-07", "2026-08-15"},
        {"survey interstock", "2026-08", "2026-10-31"},
        {"settle the selection list", "2026-09", "2026-10-15"},
        {"first mating plan", "2026-10", "2026-11-15"},
        {"allocate scions to crowns", "2026-10", "2026-11-30"},
        {"test labels of trees by DNA", "2026-09", "2026-11-30"},
        {"order grafting supplies", "2026-10", "2026-12-03"},
        {"book and inspect lifts", "2026-10", "2026-12-18"},
        {"pot spare rootstock (optional)", "2026-11", "2026-12-31"},
        {"visit trees for scions", "2026-12", "2027-01-20"},
        {"collect scions", "2027-01", "2027-02-20"},
        {"label and store scions", "2027-01", "2027-02-21"},
        {"prepare host crowns", "2027-01", "2027-03-09"},
        {"graft", "2027-02", "2027-03-10"},
        {"graft spare pots (optional)", "2027-01", "2027-03-31"},
        {"reconcile map and tags", "2027-02", "2027-03-11"},
        {"frost watch of new grafts", "2027-02", "2027-04-09"},
        {"first check of grafts", "2027-02", "2027-03-27"},
        {"second check of grafts", "2027-03", "2027-04-17"},
        {"third check and opening of sleeves", "2027-03", "2027-05-14"},
        {"slit the film and hold back the host", "2027-04", "2027-06-13"},
        {"protect new shoots from tip moth", "2027-03", "2027-09-30"},
        {"cut the rubbers and read the tag", "2027-05", "2027-08-12"},
        {"feed or water grafts (optional)", "2027-06", "2027-08-31"},
        {"summer survival count", "2027-07", "2027-09-26"},
        {"plan again after the survival count", "2027-07", "2027-10-31"},
        {"test pollen in store", "2027-09", "2028-01-14"},
        {"order isolation bags", "2027-09", "2027-11-13"},
        /* Strobilus buds are counted from January: a November zero is no zero. */
        {"count survival and strobilus buds", "2028-01", "2028-01-29"},
        {"final crossing plan", "2028-01", "2028-01-30"},
        {"collect fresh pollen", "2028-02", "2028-03-13"},
        {"scout the stages of flowering", "2028-02", "2028-03-15"},
        /* Bags hang by the day before opening, not until 3 days before receptivity. */
        {"bag", "2028-02", "2028-02-29"},
        {"unbag", NULL, "2028-04-05"},
        {"first conelet count", "2028-03", "2028-04-12"},
        {"second conelet count", "2028-06", "2028-07-16"},
        {"protect conelets from insects", "2028-03", "2028-09-30"},
        {"cage conelets (optional)", "2028-04", "2028-06-06"},
        {"tend hosts and grafts", "2028-05", "2028-10-31"},
        {"protect cones from insects", "2029-04", "2029-09-30"},
        {"order sacks and labels for cones", "2029-07", "2029-07-29"},
        {"test ripeness", "2029-09", "2029-10-15"},
        {"harvest cones", "2029-09", "2029-10-20"},
        {"dry and extract cones", "2029-09", "2029-12-19"},
        {"test and count seed", "2029-09", "2030-01-10"},
        /* Sent so that its 28 days are over on 28 February. */
        {"test seed of crosses by DNA", "2029-09", "2030-01-31"},
        {"stratify and sow", "2030-01", "2030-04-30"},
        {"report on the crop", "2029-11", "2030-01-31"},
    };
    struct fixture *fixture = *state;

    add_place(fixture, "base", 32.2, 200);
    struct task_calendar calendar = calendar_of(fixture, world_of(fixture), "base", 2027);
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct task_days *row = row_of(&calendar, rows[i].task);

        expect_day(rows[i].task, "the first day", row->first, rows[i].opens);
        expect_day(rows[i].task, "the last day", row->last, rows[i].last);
        assert_false(row->rough); /* nothing moves at the base site */
    }
}

enum { PLACES = 5 };
static const char *const places[PLACES] = {"N Florida", "base", "NC coastal plain", "VA Piedmont",
                                           "1500 ft Tennessee"};

static void add_places(struct fixture *fixture)
{
    add_place(fixture, places[0], 29.65, 180);
    add_place(fixture, places[1], 32.2, 200);
    add_place(fixture, places[2], 35.4, 110);
    add_place(fixture, places[3], 37.3, 500);
    add_place(fixture, places[4], 35.5, 1500);
}

static void key_tasks_at_five_places(void **state)
{
    static const struct {
        const char *task;
        const char *first[PLACES], *last[PLACES];
        bool rough; /* off the base site */
    } rows[] = {
        {"test labels of trees by DNA",
         {"2026-09-01", "2026-09-01", "2026-09-01", "2026-09-01", "2026-09-01"},
         {"2026-11-20", "2026-11-30", "2026-12-12", "2026-12-23", "2026-12-26"},
         false},
        {"order grafting supplies",
         {"2026-10-15", "2026-10-15", "2026-10-15", "2026-10-15", "2026-10-15"},
         {"2026-11-23", "2026-12-03", "2026-12-15", "2026-12-26", "2026-12-29"},
         false},
        {"collect scions",
         {"2026-12-26", "2027-01-05", "2027-01-17", "2027-01-28", "2027-01-31"},
         {"2027-02-10", "2027-02-20", "2027-03-04", "2027-03-15", "2027-03-18"},
         true},
        {"graft",
         {"2027-01-22", "2027-02-01", "2027-02-13", "2027-02-24", "2027-02-27"},
         {"2027-02-28", "2027-03-10", "2027-03-22", "2027-04-02", "2027-04-05"},
         false},
        {"count survival and strobilus buds",
         {NULL, NULL, NULL, NULL, NULL}, /* from January, wherever it is */
         {"2028-01-19", "2028-01-29", "2028-02-10", "2028-02-21", "2028-02-24"},
         false},
        {"final crossing plan",
         {NULL, NULL, NULL, NULL, NULL},
         {"2028-01-20", "2028-01-30", "2028-02-11", "2028-02-22", "2028-02-25"},
         false},
        {"order isolation bags",
         {"2027-09-01", "2027-09-01", "2027-09-01", "2027-09-01", "2027-09-01"},
         {"2027-11-03", "2027-11-13", "2027-11-25", "2027-12-06", "2027-12-09"},
         false},
        {"collect fresh pollen",
         {"2028-02-02", "2028-02-12", "2028-02-24", "2028-03-06", "2028-03-09"},
         {"2028-03-03", "2028-03-13", "2028-03-25", "2028-04-05", "2028-04-08"},
         false},
        {"unbag",
         {NULL, NULL, NULL, NULL, NULL},
         {"2028-03-26", "2028-04-05", "2028-04-17", "2028-04-28", "2028-05-01"},
         false},
        {"second conelet count",
         {"2028-06-06", "2028-06-16", "2028-06-28", "2028-07-09", "2028-07-12"},
         {"2028-07-06", "2028-07-16", "2028-07-28", "2028-08-08", "2028-08-11"},
         false},
    };
    struct fixture *fixture = *state;

    add_places(fixture);
    struct world world = world_of(fixture);
    for (size_t p = 0; p < PLACES; p++) {
        struct task_calendar calendar = calendar_of(fixture, world, places[p], 2027);

        for (size_t i = 0; i < COUNT(rows); i++) {
            const struct task_days *row = row_of(&calendar, rows[i].task);

            expect_day(rows[i].task, places[p], row->first, rows[i].first[p]);
            expect_day(rows[i].task, places[p], row->last, rows[i].last[p]);
            assert_int_equal(row->rough, rows[i].rough && p != 1);
        }
    }
}

/* The second spring of a graft is the first of the same rows a year later. */
static void the_second_crop_comes_a_year_later(void **state)
{
    struct fixture *fixture = *state;

    add_place(fixture, "base", 32.2, 200);
    struct task_calendar calendar = calendar_of(fixture, world_of(fixture), "base", 2028);
    expect_day("count", "the last day",
               row_of(&calendar, "count survival and strobilus buds")->last, "2029-01-28");
    expect_day("harvest", "the first day", row_of(&calendar, "harvest cones")->first, "2030-09-12");
}

/* Six months on, the same seasons. */
static void the_south_has_its_own_spring(void **state)
{
    struct fixture *fixture = *state;

    add_place(fixture, "south", -32.2, 200);
    struct task_calendar calendar = calendar_of(fixture, world_of(fixture), "south", 2026);
    expect_day("graft", "the first day", row_of(&calendar, "graft")->first, "2026-08-01");
    expect_day("harvest", "the first day", row_of(&calendar, "harvest cones")->first, "2029-03-12");
}

/* Nothing that ships is told at any of the five places. */
static void the_calendar_that_ships_holds_together_at_five_places(void **state)
{
    struct fixture *fixture = *state;

    add_places(fixture);
    struct world world = world_of(fixture);
    fixture->diags.count = 0;
    task_audit(world.state, world.dates, &fixture->arena, &fixture->diags);
    assert_nothing_told(fixture);
}

/* Bags ordered on 30 November with 90 days to deliver come on 28 February 2028: 5 days after the
 * first bagging, 14 days before the peak. */
static void an_order_that_comes_five_days_late_is_told(void **state)
{
    struct fixture *fixture = *state;

    add_place(fixture, "base", 32.2, 200);
    struct task_kind *row = add_task(fixture, "our own order of bags", "programme");
    row->earliest = "Y1-09-01";
    row->latest = "Y1-11-30";
    row->lead_days = 90;
    row->needed_by = "peak-14";
    struct world world = world_of(fixture);
    fixture->diags.count = 0;
    task_audit(world.state, world.dates, &fixture->arena, &fixture->diags);
    assert_only_told(fixture, "order-too-late");
    assert_non_null(strstr(fixture->diags.list[0].message,
                           "ordered on its last day, 2027-11-30, it comes on 2028-02-28, 5 days "
                           "after it is needed on 2028-02-23"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_calendar_of_the_base_site_month_by_month),
        FIXTURE_TEST(key_tasks_at_five_places),
        FIXTURE_TEST(the_second_crop_comes_a_year_later),
        FIXTURE_TEST(the_south_has_its_own_spring),
        FIXTURE_TEST(the_calendar_that_ships_holds_together_at_five_places),
        FIXTURE_TEST(an_order_that_comes_five_days_late_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
