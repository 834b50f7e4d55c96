#include "planning/identity.h"

#include "planning/weather_fixture.h"

static struct identity_list list_on(struct fixture *fixture, const char *day)
{
    fixture->orchard.as_of = fixture_day(day);
    orchard_link(&fixture->orchard, &fixture->diags);
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, NULL);
    return identity_of(now, IDENTITY_MONTHS, &fixture->arena);
}

/* The rows of a concern; the first is given. */
static size_t rows_of(const struct identity_list *list, enum identity_concern concern,
                      const struct identity_row **first)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (list->list[i].concern != concern)
            continue;
        if (count == 0)
            *first = &list->list[i];
        count++;
    }
    return count;
}

static const struct identity_row *only(const struct identity_list *list,
                                       enum identity_concern concern)
{
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(list, concern, &row), 1);
    return row;
}

static size_t how_many(const struct identity_list *list, enum identity_concern concern)
{
    const struct identity_row *row = NULL;
    return rows_of(list, concern, &row);
}

static struct graft *add_identified(struct fixture *fixture, const char *tag,
                                    enum identity identity)
{
    struct graft *graft = add_graft(fixture, tag, "S1", "T1");
    graft->identity = identity;
    graft->identity_on = fixture_day("2026-03-01");
    graft->identity_how = "markers";
    return graft;
}

static void every_label_is_told_by_its_newest_word(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture); /* A1, A2 unchecked */
    add_identified(fixture, "B1", IDENTITY_CHECKED);
    add_identified(fixture, "B2", IDENTITY_WRONG);
    add_identified(fixture, "B3", IDENTITY_DISPUTED);
    add_identified(fixture, "B4", IDENTITY_DISPUTED); /* settled below */
    add_identified(fixture, "B5", IDENTITY_WRONG);    /* found out below */
    note_on_tag(fixture, "2026-04-01", NOTE_VERIFIED, "B4", "cones");
    note_on_tag(fixture, "2026-04-01", NOTE_RELABELLED, "B5", "S2");
    note_on_tag(fixture, "2026-02-20", NOTE_VERIFIED, "B3", "eye"); /* before it was disputed */
    struct identity_list list = list_on(fixture, "2026-06-01");
    const struct identity_row *row = NULL;

    assert_int_equal(rows_of(&list, CONCERN_NEVER_CHECKED, &row), 2);
    assert_string_equal(row->subject, "A1");
    assert_int_equal(row->since, fixture_day("2026-02-10"));
    assert_int_equal(rows_of(&list, CONCERN_CHECKED, &row), 2);
    assert_string_equal(row->subject, "B1");
    assert_string_equal(row->what, "checked by markers");
    assert_string_equal(row[1].what, "checked by cones");
    assert_int_equal(rows_of(&list, CONCERN_DOUBTED, &row), 2);
    assert_string_equal(row->subject, "B2");
    assert_null(row->selection_name);
    assert_string_equal(row[1].subject, "B3");
    assert_int_equal(list.grafts, 7);
    assert_int_equal(list.checked, 4); /* B1, B2, B4, B5 */
    assert_int_equal(list.wrong, 2);   /* B2, B5 */
}

static void what_is_gone_is_left_out(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "dead");
    struct identity_list list = list_on(fixture, "2028-06-01");
    assert_int_equal(list.grafts, 1);
    assert_string_equal(only(&list, CONCERN_NEVER_CHECKED)->subject, "A2");
    assert_string_equal(only(&list, CONCERN_NOT_SEEN)->subject, "A2");
}

static void a_verified_or_confirmed_label_is_right(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-04-01", NOTE_VERIFIED, "A1", NULL);
    note_on_tag(fixture, "2026-04-01", NOTE_RELABELLED, "A2", "S2"); /* as the table says */
    struct identity_list list = list_on(fixture, "2026-06-01");
    assert_string_equal(only(&list, CONCERN_CHECKED)->what, "checked");
    assert_int_equal(list.checked, 2);
    assert_int_equal(list.wrong, 0);
}

static void what_was_relabelled_tells_what_hangs_on_it(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_cross(fixture, "C1", "S1", "S2");
    struct tree *bank = add_tree(fixture, "T3", "Nordhang");
    bank->selection_name = "S1";
    add_batch(fixture, "B1", "S1", "2026-02-01")->source_tree_name = "T3";
    fixture->orchard.grafts.list[1].batch_name = "B1";
    add_lot(fixture, "L1", "S1")->source_tree_name = "T3";
    add_lot(fixture, "L2", "S2");
    note_on_bag(fixture, "2026-03-01", NOTE_BAGGED, "A1-26-1", "3")->cross = "C1";
    note_on_bag(fixture, "2026-03-09", NOTE_POLLINATED, "A1-26-1", NULL)->lot = "L2";
    note_on_tag(fixture, "2026-04-01", NOTE_RELABELLED, "A1", "unknown");
    add_note(fixture, "2026-04-02", NOTE_RELABELLED, "S2")->tree = "T3";
    note_on_lot(fixture, "2026-04-03", NOTE_RELABELLED, "L2", "S1");
    struct identity_list list = list_on(fixture, "2026-06-01");
    const struct identity_row *row = NULL;

    assert_int_equal(rows_of(&list, CONCERN_CHANGED, &row), 3);
    assert_string_equal(row[0].subject, "A1");
    assert_int_equal(row[0].bags, 1);
    assert_string_equal(row[0].what, "was taken for S1 and is something that is not known; 1 bag "
                                     "hung under the old name");
    assert_string_equal(row[1].subject, "T3");
    assert_string_equal(row[1].what,
                        "was taken for S1 and is S2; 1 graft of its scions, 1 lot of its pollen");
    assert_string_equal(row[2].subject, "L2");
    assert_string_equal(row[2].what, "was taken for S2 and is S1; 1 bag pollinated from it");
}

static void counts_that_cannot_be_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_rate(fixture, "seeds_per_cone", 30, 0);
    static const struct {
        int strobili, conelets, cones, seeds; /* -1: not noted */
        size_t told;
    } bags[] = {
        {3, 2, 2, 60, 0},   {3, 4, -1, -1, 1}, {3, 2, 3, -1, 1}, {3, -1, 4, -1, 1},
        {3, 3, 1, 120, 0},  {3, 3, 1, 121, 1}, {3, 3, 0, 5, 1},  {3, -1, -1, 500, 0},
        {-1, 5, 4, 100, 0}, {2, 4, 5, 700, 3},
    };
    size_t expected = 0;
    for (size_t i = 0; i < COUNT(bags); i++) {
        const char *bag = arena_printf(&fixture->arena, "A1-27-%zu", i + 1);
        const enum note_kind kinds[] = {NOTE_BAGGED, NOTE_CONELETS, NOTE_CONES, NOTE_SEEDS};
        const int counts[] = {bags[i].strobili, bags[i].conelets, bags[i].cones, bags[i].seeds};
        static const char *const days[] = {"2027-03-01", "2027-07-01", "2028-09-01", "2028-10-01"};
        for (size_t k = 0; k < COUNT(kinds); k++)
            if (k == 0 || counts[k] >= 0)
                note_on_bag(fixture, days[k], kinds[k], bag,
                            counts[k] < 0 ? NULL : arena_printf(&fixture->arena, "%d", counts[k]));
        expected += bags[i].told;
    }
    struct identity_list list = list_on(fixture, "2028-12-01");
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(&list, CONCERN_COUNTS, &row), expected);
    assert_string_equal(row->subject, "A1-27-10");
    assert_string_equal(row->what, "4 conelets of 2 strobili");
    assert_int_equal(row->kind, IDENTITY_BAG);
}

static void more_strobili_in_bags_than_on_the_graft_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2027-02-20", NOTE_STROBILI, "A1", "5");
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A1-27-1", "3");
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A1-27-2", "3");
    note_on_tag(fixture, "2027-02-20", NOTE_STROBILI, "A2", "3");
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A2-27-1", "3");
    note_on_bag(fixture, "2027-03-02", NOTE_BAG_LOST, "A2-27-1", "wind");
    note_on_bag(fixture, "2027-03-03", NOTE_BAGGED, "A2-27-2", "3"); /* the same strobili */
    note_on_bag(fixture, "2028-03-03", NOTE_BAGGED, "A2-28-1", "9"); /* never counted */
    struct identity_list list = list_on(fixture, "2028-06-01");
    const struct identity_row *row = only(&list, CONCERN_COUNTS);
    assert_string_equal(row->subject, "A1");
    assert_string_equal(row->what, "6 strobili in bags of 2027, and 5 were counted on it");
}

/* What hangs already is not counted on the graft. */
static void strobili_counted_after_bagging_are_others(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A1-27-1", "4");
    note_on_tag(fixture, "2027-03-05", NOTE_STROBILI, "A1", "2");
    note_on_bag(fixture, "2027-03-06", NOTE_BAGGED, "A1-27-2", "2");
    struct identity_list list = list_on(fixture, "2027-06-01");
    assert_int_equal(how_many(&list, CONCERN_COUNTS), 0);
}

static void what_rises_from_the_dead_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "dead");
    note_on_tag(fixture, "2026-06-01", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A2", "lost"); /* lost and found */
    note_on_tag(fixture, "2026-06-01", NOTE_SURVIVAL, "A2", "alive");
    struct identity_list list = list_on(fixture, "2026-07-01");
    assert_string_equal(only(&list, CONCERN_COUNTS)->what,
                        "alive, and it was noted dead on 2026-05-01");
    note_on_tag(fixture, "2026-08-01", NOTE_SURVIVAL, "A2", "removed");
    note_on_tag(fixture, "2026-09-01", NOTE_SURVIVAL, "A2", "doubtful");
    list = list_on(fixture, "2026-10-01");
    assert_int_equal(how_many(&list, CONCERN_COUNTS), 2);
}

static void tags_that_the_table_does_not_list_are_told(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct note *made = note_on_tag(fixture, "2026-02-12", NOTE_GRAFTED, "N1", NULL);
    made->tree = "T1";
    made->selection = "S1";
    note_on_tag(fixture, "2026-05-01", NOTE_RETAGGED, "A1", "N2");
    struct identity_list list = list_on(fixture, "2026-06-01");
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(&list, CONCERN_NOT_LISTED, &row), 2);
    assert_string_equal(row[0].subject, "N1");
    assert_string_equal(row[1].subject, "N2");
    assert_string_equal(row[1].what, "was tagged A1 and became N2");
}

static void a_clone_under_two_names_is_told_with_what_bears_them(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_selection(fixture, "OLD", NULL, NULL)->same_as_name = "S1";
    add_graft(fixture, "A3", "OLD", "T1");
    add_lot(fixture, "L1", "OLD");
    add_cross(fixture, "C1", "S2", "OLD");
    struct identity_list list = list_on(fixture, "2026-06-01");
    const struct identity_row *row = only(&list, CONCERN_TWO_NAMES);
    assert_string_equal(row->subject, "OLD");
    assert_string_equal(row->selection_name, "S1");
    assert_string_equal(row->what, "another name of S1; grafts under it: 1, lots: 1, crosses: 1");
}

static void nobody_wrote_of_it_for_twelve_months(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    struct graft *looked_at = &fixture->orchard.grafts.list[1];
    looked_at->condition = CONDITION_ALIVE;
    looked_at->condition_on = fixture_day("2026-03-30");
    struct identity_list list = list_on(fixture, "2027-02-10");
    assert_int_equal(how_many(&list, CONCERN_NOT_SEEN), 0); /* to the day */
    list = list_on(fixture, "2027-02-11");
    assert_string_equal(only(&list, CONCERN_NOT_SEEN)->what, "the last word on it: grafted");
    list = list_on(fixture, "2027-03-31");
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(&list, CONCERN_NOT_SEEN, &row), 2);
    assert_string_equal(row[1].what, "the last word on it: its condition");
    note_on_tag(fixture, "2027-03-01", NOTE_STROBILI, "A1", "0");
    fixture->orchard.grafts.list[1].identity_on = fixture_day("2026-04-30");
    list = list_on(fixture, "2027-05-31");
    assert_string_equal(only(&list, CONCERN_NOT_SEEN)->what, "the last word on it: its identity");
}

/* 31 March less 13 months is 29 February of a leap year; before year 1 there is nothing. */
static void months_are_those_of_the_calendar(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    fixture->orchard.grafts.list[0].grafted_on = fixture_day("2028-02-28");
    fixture->orchard.grafts.list[1].grafted_on = fixture_day("2028-02-29");
    orchard_link(&fixture->orchard, &fixture->diags);
    fixture->orchard.as_of = fixture_day("2029-03-31");
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, NULL);
    struct identity_list list = identity_of(now, 13, &fixture->arena);
    assert_string_equal(only(&list, CONCERN_NOT_SEEN)->subject, "A1");
    list = identity_of(now, 99 * 12 * 99, &fixture->arena);
    assert_int_equal(how_many(&list, CONCERN_NOT_SEEN), 0);
}

static void trees_that_give_scions_or_pollen_want_a_checked_label(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    static const struct {
        const char *name;
        unsigned uses;
        const char *checked_on;
    } trees[] = {{"K1", USE_SCIONS, NULL}, {"K2", USE_POLLEN | USE_GRAFT, "2025-01-01"},
                 {"K3", USE_GRAFT, NULL},  {"K4", USE_POLLEN, NULL},
                 {"K5", USE_POLLEN, NULL}, {"K6", USE_POLLEN, NULL}};
    for (size_t i = 0; i < COUNT(trees); i++) {
        struct tree *tree = add_tree(fixture, trees[i].name, "Nordhang");
        tree->uses = trees[i].uses;
        if (trees[i].checked_on != NULL)
            tree->label_checked_on = fixture_day(trees[i].checked_on);
        if (strcmp(trees[i].name, "K6") == 0)
            tree->health = HEALTH_DEAD;
    }
    add_note(fixture, "2026-03-01", NOTE_VERIFIED, "markers")->tree = "K4";
    note_on_tag(fixture, "2026-03-01", NOTE_VERIFIED, "A1", "markers")->tree = "K5";
    note_on_tag(fixture, "2026-03-01", NOTE_VERIFIED, "A2", "markers");
    struct identity_list list = list_on(fixture, "2026-06-01");
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(&list, CONCERN_NEVER_CHECKED, &row), 2);
    assert_string_equal(row[0].subject, "K1");
    assert_string_equal(row[1].subject, "K5");
}

static void the_label_that_bears_most_bags_comes_first(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, "A2-27-1", "3");
    struct identity_list list = list_on(fixture, "2027-06-01");
    const struct identity_row *row = NULL;
    assert_int_equal(rows_of(&list, CONCERN_NEVER_CHECKED, &row), 2);
    assert_string_equal(row->subject, "A2");
    assert_int_equal(row->bags, 1);
}

static double mild_c(int season, daynum day)
{
    return 8 + 0.1 * (double)(season % 3) + 0.02 * (double)(day % 7);
}

/* Seven springs, five grafts of one selection seen every second day; the last is always late. */
static void a_graft_that_flowers_apart_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_weather_sites(fixture);
    add_seasons(fixture, "NORD", fixture_north, 2001, 2007, mild_c);
    add_selection(fixture, "S1", NULL, NULL);
    add_tree(fixture, "T1", fixture->orchard.sites.list[0].name);
    static const char *const tags[] = {"G1", "G2", "G3", "G4", "G5"};
    for (size_t g = 0; g < COUNT(tags); g++) {
        add_graft(fixture, tags[g], "S1", "T1")->grafted_on = day_from_civil(1999, 2, 1);
        for (int season = 2001; season <= 2007; season++) {
            daynum opens = day_from_civil(season, 3, 10 + season % 4) + (g == 4 ? 12 : (int)g % 2);
            for (daynum day = opens - 6; day <= opens + 2; day += 2) {
                char text[DAY_TEXT];
                note_on_tag(fixture, day_text(day, text), NOTE_STAGE, tags[g],
                            day < opens ? "2" : "3");
            }
        }
    }
    struct identity_list list = list_on(fixture, "2007-06-01");
    const struct identity_row *row = only(&list, CONCERN_APART);
    assert_string_equal(row->subject, "G5");
    assert_string_equal(row->selection_name, "S1");
    assert_non_null(strstr(row->what, "days later than on the others, by 7 dates against 28"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(every_label_is_told_by_its_newest_word),
        FIXTURE_TEST(what_is_gone_is_left_out),
        FIXTURE_TEST(a_verified_or_confirmed_label_is_right),
        FIXTURE_TEST(what_was_relabelled_tells_what_hangs_on_it),
        FIXTURE_TEST(counts_that_cannot_be_are_told),
        FIXTURE_TEST(more_strobili_in_bags_than_on_the_graft_are_told),
        FIXTURE_TEST(strobili_counted_after_bagging_are_others),
        FIXTURE_TEST(what_rises_from_the_dead_is_told),
        FIXTURE_TEST(tags_that_the_table_does_not_list_are_told),
        FIXTURE_TEST(a_clone_under_two_names_is_told_with_what_bears_them),
        FIXTURE_TEST(nobody_wrote_of_it_for_twelve_months),
        FIXTURE_TEST(months_are_those_of_the_calendar),
        FIXTURE_TEST(trees_that_give_scions_or_pollen_want_a_checked_label),
        FIXTURE_TEST(the_label_that_bears_most_bags_comes_first),
        FIXTURE_TEST(a_graft_that_flowers_apart_is_told),
    };
    return cmocka_run_group_tests_name("identity", tests, NULL, NULL) != 0;
}
