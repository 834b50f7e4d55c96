/*
 * tasks_test.c - one graft from scion to seed by the calendar that ships, week by week: every kind
 * of work comes up in its weeks, in both crops; and no day knows of a later one.
 */
#include "cli/shipped.h"
#include "orchard/fixture.h"
#include "planning/tasks.h"
#include "reading/reading.h"

#include <stdlib.h>

/* What was typed in so far. */
struct typed {
    daynum day;
    enum note_kind kind;
    const char *task;    /* of done */
    const char *subject; /* what its task is about */
    const char *value;
    enum subject_kind per;
};

enum { TYPED_MOST = 2000, WEEKS = 52 * 5 + 10 };

struct life {
    struct typed typed[TYPED_MOST];
    size_t count;
    bool cut, grafted; /* its batch and its graft are in the tables */
    daynum cut_on, grafted_on;
};

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

static void add_typed(struct fixture *fixture, const struct typed *typed)
{
    char text[DAY_TEXT];
    struct note *note = add_note(fixture, day_text(typed->day, text), typed->kind, typed->value);
    const char **cells[SUBJECT_KINDS] = {&note->tag,       &note->bag,   &note->tree,
                                         &note->lot,       &note->batch, &note->site,
                                         &note->selection, &note->cross, NULL};

    note->task = typed->task;
    if (cells[typed->per] != NULL)
        *cells[typed->per] = typed->subject;
    if (typed->kind == NOTE_BAGGED)
        note->cross = "S1xS2";
    if (typed->kind == NOTE_POLLINATED)
        note->lot = "27-S2";
}

/* A tree to graft on and one for pollen at the base site, two selections, a cross that wants seed,
 * a lot still to be gathered. */
static void build(struct fixture *fixture, const struct life *life)
{
    struct site *site = add_site(fixture, "Base");
    struct tree *tree;

    site->latitude = 32.2;
    site->elevation_m = 200 * 0.3048;
    add_record(fixture, "HOLM", "2026-01-01", 1);
    tree = add_tree(fixture, "T1", "Base");
    tree->uses = USE_GRAFT;
    tree = add_tree(fixture, "T2", "Base");
    tree->uses = USE_POLLEN;
    tree->selection_name = "S2";
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_cross(fixture, "S1xS2", "S1", "S2");
    add_lot(fixture, "27-S2", "S2")->state = LOT_PLANNED;
    if (life->cut) {
        struct batch *batch = add_batch(fixture, "B1", "S1", "2027-01-01");
        batch->cut_on = life->cut_on;
    }
    if (life->grafted) {
        struct graft *graft = add_graft(fixture, "A1", "S1", "T1");
        graft->grafted_on = life->grafted_on;
        graft->batch_name = "B1";
        graft = add_graft(fixture, "A2", "S1", "T1"); /* it fails */
        graft->grafted_on = life->grafted_on;
    }
    for (size_t i = 0; i < life->count; i++)
        add_typed(fixture, &life->typed[i]);
    read_shipped(fixture, "thresholds.csv");
    read_shipped(fixture, "tasks.csv");
}

static struct task_instances ask(struct fixture *fixture, daynum as_of, daynum from, int ahead)
{
    struct tasks_asked asked = {.from = from, .to = from + 6, .ahead_days = ahead};

    orchard_as_of(&fixture->orchard, as_of);
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_int_equal(fixture->diags.errors, 0);
    asked.state = state_of(&fixture->orchard, &fixture->arena, NULL);
    asked.dates = dates_new(&fixture->orchard, &fixture->arena);
    return tasks_of(&asked, &fixture->arena);
}

static void type(struct life *life, struct typed typed)
{
    assert_true(life->count < TYPED_MOST);
    life->typed[life->count++] = typed;
}

/* What the crossing plan places, and what the weather does. */
static void type_what_comes(struct life *life, daynum monday)
{
    static const struct {
        int year, month, day;
        enum note_kind kind;
        const char *subject;
        enum subject_kind per;
    } rows[] = {
        {2027, 2, 27, NOTE_SURVIVAL, "A2", SUBJECT_GRAFT},
        {2027, 7, 6, NOTE_STORM, "Base", SUBJECT_SITE},
        {2027, 3, 2, NOTE_FROST, "Base", SUBJECT_SITE},
        {2028, 2, 28, NOTE_BAGGED, "A1-28-1", SUBJECT_BAG},
        {2028, 3, 7, NOTE_POLLINATED, "A1-28-1", SUBJECT_BAG},
        {2028, 3, 14, NOTE_FROST, "Base", SUBJECT_SITE},
        {2028, 3, 27, NOTE_UNBAGGED, "A1-28-1", SUBJECT_BAG},
        {2029, 2, 28, NOTE_BAGGED, "A1-29-1", SUBJECT_BAG},
        {2029, 3, 7, NOTE_POLLINATED, "A1-29-1", SUBJECT_BAG},
        {2029, 3, 27, NOTE_UNBAGGED, "A1-29-1", SUBJECT_BAG},
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        daynum day = day_from_civil(rows[i].year, rows[i].month, rows[i].day);

        if (day >= monday - 7 && day < monday)
            type(life, (struct typed){.day = day,
                                      .kind = rows[i].kind,
                                      .subject = rows[i].subject,
                                      .value = rows[i].kind == NOTE_FROST      ? "-4"
                                               : rows[i].kind == NOTE_SURVIVAL ? "dead"
                                                                               : NULL,
                                      .per = rows[i].per});
    }
}

static bool closes(const struct task_instance *instance, enum note_kind kind)
{
    return instance->kind->closed_by != NULL &&
           strcmp(instance->kind->closed_by, note_names[kind]) == 0;
}

/* Texts that outlive the week they were made in. */
static struct arena memory;

static const char *kept(const char *text)
{
    return arena_text(&memory, strlen(text), text);
}

/* The crew does what is due on the Wednesday, or on its first day if that is later, and types in
 * what closes it. */
static void do_it(struct life *life, const struct task_instance *instance, daynum monday)
{
    static const struct {
        enum note_kind kind;
        const char *value;
    } closers[] = {{NOTE_SURVIVAL, "alive"}, {NOTE_STROBILI, "4"},    {NOTE_CONELETS, "2"},
                   {NOTE_CONES, "2"},        {NOTE_SEEDS, "57"},      {NOTE_RIPENESS, "19/20"},
                   {NOTE_GERMINATION, "80"}, {NOTE_COLLECTED, "12.5"}};
    daynum day = instance->first_day > monday + 2 ? instance->first_day : monday + 2;
    struct typed typed = {.day = day,
                          .kind = NOTE_DONE,
                          .task = kept(instance->kind->task),
                          .subject = kept(instance->subject.name),
                          .per = instance->subject.kind};

    if (instance->kind->closed_by != NULL && strcmp(instance->kind->closed_by, "scions") == 0 &&
        !life->cut) {
        life->cut = true;
        life->cut_on = day;
        return;
    }
    for (size_t i = 0; i < sizeof closers / sizeof *closers; i++)
        if (closes(instance, closers[i].kind)) {
            typed.kind = closers[i].kind;
            typed.value = closers[i].value;
            typed.task = NULL;
        }
    type(life, typed);
}

/* The weeks in which work was due first, by its first day, and that of its crop. */
struct came {
    const char *task;
    int season; /* 0: none */
    const char *monday;
};

static const struct came *came_of(const char *task, int season);

struct walk {
    struct life life;
    struct {
        const char *task;
        int season;
    } seen[400];
    size_t seen_count;
};

static bool seen_before(struct walk *walk, const struct task_instance *instance)
{
    for (size_t i = 0; i < walk->seen_count; i++)
        if (strcmp(walk->seen[i].task, instance->kind->task) == 0 &&
            walk->seen[i].season == instance->season)
            return true;
    assert_true(walk->seen_count < COUNT(walk->seen));
    walk->seen[walk->seen_count].task = kept(instance->kind->task);
    walk->seen[walk->seen_count++].season = instance->season;
    return false;
}

static void expect_in_its_week(struct walk *walk, const struct task_instance *instance,
                               daynum monday)
{
    const struct came *came;
    char text[DAY_TEXT];

    /* The next cycles of grafting are wanted all the same: this walk follows the first. */
    if ((instance->season == 0 && instance->cycle != 2027 && instance->kind->when == NULL) ||
        instance->season > 2029)
        return;
    assert_true(instance->first_day <= monday + 6 && instance->last_day >= monday - 7);
    if (seen_before(walk, instance))
        return;
    came = came_of(instance->kind->task, instance->season);
    day_text(monday, text);
    if (came == NULL)
        fail_msg("'%s' of %d came up in the week of %s, expected never", instance->kind->task,
                 instance->season, text);
    else if (strcmp(came->monday, text) != 0)
        fail_msg("'%s' of %d came up first in the week of %s, expected %s", instance->kind->task,
                 instance->season, text, came->monday);
}

static void walk_week(struct fixture *fixture, struct walk *walk, daynum monday)
{
    struct task_instances week;

    type_what_comes(&walk->life, monday);
    build(fixture, &walk->life);
    week = ask(fixture, monday, monday, 0);
    for (size_t i = 0; i < week.count; i++) {
        const struct task_instance *instance = &week.list[i];

        /* Whoever does what is due is late only with what began since the last page. */
        if (instance->stand == TASK_OVERDUE && instance->first_day < monday - 7)
            fail_msg("'%s' of '%s' is overdue", instance->kind->task, instance->subject.name);
        if (instance->stand != TASK_DUE && instance->stand != TASK_OVERDUE)
            continue;
        expect_in_its_week(walk, instance, monday);
        do_it(&walk->life, instance, monday);
    }
    if (!walk->life.grafted && monday + 7 > day_from_civil(2027, 2, 17)) {
        walk->life.grafted = true;
        walk->life.grafted_on = day_from_civil(2027, 2, 17);
    }
}

/* Two grafts of 17 February 2027, one dead on the 27th; frost on 2 March 2027 and 14 March 2028, a
 * storm on 6 July 2027; bags hung, pollinated and taken off by 27 March of 2028 and of 2029.
 * "graft" is asked of a place, not of a graft that is made; scions are stored on the day they are
 * cut, as their batch tells. */
static const struct came came_weeks[] = {
    {"fertilise interstock (optional)", 0, "2026-07-06"},
    {"survey interstock", 0, "2026-08-10"},
    {"settle the selection list", 0, "2026-08-31"},
    {"test labels of trees by DNA", 0, "2026-08-31"},
    {"first mating plan", 0, "2026-09-28"},
    {"allocate scions to crowns", 0, "2026-10-12"},
    {"order grafting supplies", 0, "2026-10-12"},
    {"book and inspect lifts", 0, "2026-10-12"},
    {"pot spare rootstock (optional)", 0, "2026-11-09"},
    {"visit trees for scions", 0, "2026-11-30"},
    {"collect scions", 0, "2027-01-04"},
    {"prepare host crowns", 0, "2027-01-04"},
    {"graft spare pots (optional)", 0, "2027-01-18"},
    {"frost watch of new grafts", 0, "2027-02-01"},
    {"graft again what failed", 0, "2027-03-01"},
    {"reconcile map and tags", 0, "2027-02-22"},
    {"first check of grafts", 0, "2027-02-22"},
    {"protect new shoots from tip moth", 0, "2027-03-01"},
    {"look at new grafts after frost", 0, "2027-03-08"},
    {"second check of grafts", 0, "2027-03-15"},
    {"third check and opening of sleeves", 0, "2027-03-29"},
    {"slit the film and hold back the host", 0, "2027-04-12"},
    {"cut the rubbers and read the tag", 0, "2027-05-17"},
    {"feed or water grafts (optional)", 0, "2027-06-14"},
    {"inspect after a storm", 0, "2027-07-12"},
    {"summer survival count", 0, "2027-07-12"},
    {"plan again after the survival count", 0, "2027-07-19"},
    {"order isolation bags", 2028, "2027-08-30"},
    {"test pollen in store", 2028, "2027-08-30"},
    {"count survival and strobilus buds", 2028, "2027-12-27"},
    {"final crossing plan", 2028, "2028-01-03"},
    {"collect fresh pollen", 2028, "2028-02-07"},
    {"scout the stages of flowering", 2028, "2028-02-07"},
    {"protect conelets from insects", 2028, "2028-03-13"},
    {"inspect flowers after frost", 2028, "2028-03-20"},
    {"first conelet count", 2028, "2028-04-03"},
    {"cage conelets (optional)", 2028, "2028-04-10"},
    {"tend hosts and grafts", 2028, "2028-05-01"},
    {"second conelet count", 2028, "2028-06-12"},
    {"order isolation bags", 2029, "2028-08-28"},
    {"test pollen in store", 2029, "2028-08-28"},
    {"count survival and strobilus buds", 2029, "2029-01-01"},
    {"final crossing plan", 2029, "2029-01-08"},
    {"scout the stages of flowering", 2029, "2029-02-05"},
    {"protect conelets from insects", 2029, "2029-03-12"},
    {"protect cones from insects", 2028, "2029-03-26"},
    {"first conelet count", 2029, "2029-04-02"},
    {"cage conelets (optional)", 2029, "2029-04-09"},
    {"tend hosts and grafts", 2029, "2029-04-30"},
    {"second conelet count", 2029, "2029-06-11"},
    {"order sacks and labels for cones", 2028, "2029-06-25"},
    {"test ripeness", 2028, "2029-09-03"},
    {"harvest cones", 2028, "2029-09-10"},
    {"dry and extract cones", 2028, "2029-09-17"},
    {"test and count seed", 2028, "2029-09-17"},
    {"test seed of crosses by DNA", 2028, "2029-09-17"},
    {"report on the crop", 2028, "2029-10-29"},
    {"stratify and sow", 2028, "2029-12-31"},
    {"protect cones from insects", 2029, "2030-04-01"},
    {"order sacks and labels for cones", 2029, "2030-07-01"},
    {"test ripeness", 2029, "2030-09-02"},
    {"harvest cones", 2029, "2030-09-09"},
    {"dry and extract cones", 2029, "2030-09-16"},
    {"test and count seed", 2029, "2030-09-16"},
    {"test seed of crosses by DNA", 2029, "2030-09-16"},
    {"report on the crop", 2029, "2030-10-28"},
    {"stratify and sow", 2029, "2030-12-30"},
};

static const struct came *came_of(const char *task, int season)
{
    for (size_t i = 0; i < COUNT(came_weeks); i++)
        if (came_weeks[i].season == season && strcmp(came_weeks[i].task, task) == 0)
            return &came_weeks[i];
    return NULL;
}

static void every_kind_of_work_comes_up_in_its_week_in_both_crops(void **state)
{
    static struct walk walk;
    daynum monday = day_of_iso_week(2026, 27);
    double seeds = 0;

    for (int week = 0; week < WEEKS; week++, monday += 7) {
        fixture_teardown(state);
        fixture_setup(state);
        walk_week(*state, &walk, monday);
    }
    for (size_t i = 0; i < COUNT(came_weeks); i++) {
        bool seen = false;

        for (size_t j = 0; j < walk.seen_count; j++)
            seen |= walk.seen[j].season == came_weeks[i].season &&
                    strcmp(walk.seen[j].task, came_weeks[i].task) == 0;
        if (!seen)
            fail_msg("'%s' of %d never came up", came_weeks[i].task, came_weeks[i].season);
    }
    for (size_t i = 0; i < walk.life.count; i++)
        if (walk.life.typed[i].kind == NOTE_SEEDS)
            seeds += strtod(walk.life.typed[i].value, NULL);
    assert_near(seeds, 2 * 57, 0); /* one bag in each of two crops */
}

/* The rows that have no week of their own above. */
static void every_row_that_ships_is_looked_at(void **state)
{
    static const char *const elsewhere[] = {"bag", "pollinate", "unbag", "graft",
                                            "label and store scions"};
    struct fixture *fixture = *state;

    read_shipped(fixture, "tasks.csv");
    assert_true(fixture->orchard.tasks.count >= 50);
    for (size_t i = 0; i < fixture->orchard.tasks.count; i++) {
        const struct task_kind *row = &fixture->orchard.tasks.list[i];
        bool looked_at = came_of(row->task, 0) != NULL || came_of(row->task, 2028) != NULL;

        for (size_t j = 0; j < COUNT(elsewhere); j++)
            looked_at |= strcmp(row->task, elsewhere[j]) == 0;
        if (!looked_at)
            fail_msg("'%s' has no week in this test", row->task);
        if (row->source == NULL)
            fail_msg("'%s' has no source mark", row->task);
    }
}

/* ---- later rows, and the order of rows ------------------------------------------------------- */

static const char *told(struct fixture *fixture, const struct task_instances *instances)
{
    struct text text;

    text_init(&text, &fixture->arena);
    for (size_t i = 0; i < instances->count; i++) {
        const struct task_instance *one = &instances->list[i];

        text_addf(&text, "%s|%s|%d|%d|%d|%d|%d|%d%d|%d|%d|%d|%s|%s\n", one->kind->task,
                  one->subject.name, one->cycle, one->season, one->first_day, one->last_day,
                  one->order_by, one->expected, one->rough, one->stand, one->done_on, one->not_done,
                  one->not_done_reason != NULL ? one->not_done_reason : "-",
                  one->because != NULL ? one->because : "-");
    }
    return kept(text.bytes);
}

/* The whole life, with all its notes to the end, told as of one day; `spoil`: what is later says
 * other things; `shuffle`: rows stand in another order. */
enum change { NOTHING, LATER_GONE, LATER_OTHER, SHUFFLED };

static uint32_t random_state;
static uint32_t random_below(uint32_t bound)
{
    random_state = random_state * 1664525u + 1013904223u;
    return (random_state >> 8) % bound;
}

#define SHUFFLE(type, rows)                                                                        \
    for (size_t i_ = (rows).count; i_ > 1; i_--) {                                                 \
        size_t j_ = random_below((uint32_t)i_);                                                    \
        struct type kept_ = (rows).list[i_ - 1];                                                   \
        (rows).list[i_ - 1] = (rows).list[j_];                                                     \
        (rows).list[j_] = kept_;                                                                   \
    }

static void change_notes(struct fixture *fixture, enum change change, daynum day)
{
    struct orchard *orchard = &fixture->orchard;
    size_t count = 0;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        struct note *note = &orchard->notes.list[i];

        if (note->date > day && change == LATER_GONE)
            continue;
        if (note->date > day && change == LATER_OTHER)
            note->date += 3 + (daynum)random_below(200);
        orchard->notes.list[count++] = *note;
    }
    orchard->notes.count = count;
    if (change == SHUFFLED) {
        SHUFFLE(note, orchard->notes)
        SHUFFLE(task_kind, orchard->tasks)
        SHUFFLE(tree, orchard->trees)
        SHUFFLE(selection, orchard->selections)
        SHUFFLE(graft, orchard->grafts)
    }
}

static const char *life_on(void **state, const struct life *life, enum change change, daynum day)
{
    struct fixture *fixture;
    struct task_instances week;

    fixture_teardown(state);
    fixture_setup(state);
    fixture = *state;
    build(fixture, life);
    change_notes(fixture, change, day);
    week = ask(fixture, day, day, 30);
    return told(fixture, &week);
}

static void no_day_knows_of_a_later_one_nor_of_the_order_of_rows(void **state)
{
    static struct walk walk;
    daynum monday = day_of_iso_week(2026, 27);
    size_t differ = 0;

    for (int week = 0; week < WEEKS; week++, monday += 7) {
        fixture_teardown(state);
        fixture_setup(state);
        walk_week(*state, &walk, monday);
    }
    random_state = 7;
    for (int i = 0; i < 120; i++) {
        daynum day = day_of_iso_week(2026, 27) + (daynum)random_below(7 * WEEKS);
        const char *plain = life_on(state, &walk.life, NOTHING, day);

        for (int change = LATER_GONE; change <= SHUFFLED; change++)
            assert_string_equal(life_on(state, &walk.life, (enum change)change, day), plain);
        differ += strcmp(plain, life_on(state, &walk.life, NOTHING, day + 40)) != 0;
    }
    assert_true(differ > 100); /* or nothing was compared */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(every_kind_of_work_comes_up_in_its_week_in_both_crops),
        FIXTURE_TEST(every_row_that_ships_is_looked_at),
        FIXTURE_TEST(no_day_knows_of_a_later_one_nor_of_the_order_of_rows),
    };
    int failed;

    arena_init(&memory, NULL);
    failed = cmocka_run_group_tests(tests, NULL, NULL);
    arena_release(&memory);
    return failed;
}
