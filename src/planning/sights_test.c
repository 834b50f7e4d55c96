/*
 * sights_test.c - between which looks an event came, by notes of every kind.
 */
#include "planning/sights.h"

#include "orchard/fixture.h"

static struct sights sights_in(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return sights_of_notes(state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
                           &fixture->arena);
}

static const struct sight *find(const struct sights *sights, enum event event, const char *subject,
                                int season)
{
    const struct sight *found = NULL;

    for (size_t i = 0; i < sights->count; i++) {
        const struct sight *sight = &sights->list[i];

        if (sight->event == event && sight->season == season &&
            strcmp(sight->subject, subject) == 0) {
            assert_null(found);
            found = sight;
        }
    }
    return found;
}

static void assert_between(const struct sight *sight, const char *after, const char *by)
{
    assert_non_null(sight);
    assert_int_equal(sight->after, after ? fixture_day(after) : DAY_NONE);
    assert_int_equal(sight->by, by ? fixture_day(by) : DAY_NONE);
}

static void an_event_came_between_two_looks(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;

    add_basis(fixture);
    note_on_tag(fixture, "2027-03-02", NOTE_STAGE, "A1", "1");
    note_on_tag(fixture, "2027-03-05", NOTE_STAGE, "A1", "2");
    note_on_tag(fixture, "2027-03-08", NOTE_STAGE, "A1", "2-4");
    note_on_tag(fixture, "2027-03-10", NOTE_STAGE, "A1", "3-5");
    note_on_tag(fixture, "2027-03-12", NOTE_STAGE, "A1", "5");
    note_on_tag(fixture, "2027-03-15", NOTE_STAGE, "A1", "5-6");
    sights = sights_in(fixture);
    assert_int_equal(sights.count, 4);
    assert_between(find(&sights, EVENT_OPENING, "A1", 2027), "2027-03-05", "2027-03-08");
    assert_between(find(&sights, EVENT_FIRST, "A1", 2027), "2027-03-05", "2027-03-08");
    assert_between(find(&sights, EVENT_PEAK, "A1", 2027), "2027-03-10", "2027-03-12");
    assert_between(find(&sights, EVENT_LAST, "A1", 2027), "2027-03-15", NULL);
    assert_string_equal(sights.list[0].selection->name, "S1");
    assert_string_equal(sights.list[0].site->name, "Nordhang");
}

static void a_first_look_that_saw_it_leaves_its_beginning_open(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;

    add_basis(fixture);
    note_on_tag(fixture, "2027-03-12", NOTE_STAGE, "A2", "6");
    sights = sights_in(fixture);
    assert_between(find(&sights, EVENT_LAST, "A2", 2027), NULL, "2027-03-12");
}

static void looks_at_bags_are_looks_at_their_graft(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;

    add_basis(fixture);
    note_on_tag(fixture, "2027-03-02", NOTE_STAGE, "A1", "2");
    note_on_bag(fixture, "2027-03-09", NOTE_STAGE, "A1-27-1", "3");
    note_on_bag(fixture, "2027-03-09", NOTE_STAGE, "A1-27-2", "5");
    note_on_bag(fixture, "2027-03-11", NOTE_STAGE, "A1-27-1", "5");
    sights = sights_in(fixture);
    assert_between(find(&sights, EVENT_FIRST, "A1", 2027), "2027-03-02", "2027-03-09");
    assert_between(find(&sights, EVENT_PEAK, "A1", 2027), "2027-03-09", "2027-03-11"); /* 3-5 */
}

static void a_season_of_its_own_for_every_spring(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;

    add_basis(fixture);
    note_on_tag(fixture, "2026-12-20", NOTE_STAGE, "A1", "1");
    note_on_tag(fixture, "2027-03-12", NOTE_STAGE, "A1", "4");
    note_on_tag(fixture, "2028-03-12", NOTE_STAGE, "A1", "4");
    sights = sights_in(fixture);
    assert_between(find(&sights, EVENT_FIRST, "A1", 2027), "2026-12-20", "2027-03-12");
    assert_between(find(&sights, EVENT_FIRST, "A1", 2028), NULL, "2028-03-12");
}

static void a_relabelled_graft_counts_for_what_it_is(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;

    add_basis(fixture);
    note_on_tag(fixture, "2027-03-05", NOTE_STAGE, "A1", "4");
    note_on_tag(fixture, "2027-03-05", NOTE_STAGE, "A2", "4");
    note_on_tag(fixture, "2027-05-05", NOTE_RELABELLED, "A1", "S2");
    note_on_tag(fixture, "2027-05-05", NOTE_RELABELLED, "A2", "unknown");
    sights = sights_in(fixture);
    assert_string_equal(find(&sights, EVENT_FIRST, "A1", 2027)->selection->name, "S2");
    assert_null(find(&sights, EVENT_FIRST, "A2", 2027));
    assert_int_equal(sights.unknown, 1);
}

static void catkins_shed_and_are_over(void **state)
{
    struct fixture *fixture = *state;
    struct sights sights;
    struct note *note;
    static const char *const looks[][2] = {
        {"2027-03-02", "not yet"}, {"2027-03-05", "shedding"}, {"2027-03-14", "over"}};

    add_basis(fixture);
    for (size_t i = 0; i < COUNT(looks); i++) {
        note = add_note(fixture, looks[i][0], NOTE_MALE_STAGE, looks[i][1]);
        note->tree = "T1";
    }
    fixture->orchard.trees.list[0].species = "shortleaf";
    sights = sights_in(fixture);
    assert_int_equal(sights.count, 2);
    assert_between(find(&sights, EVENT_SHED_FIRST, "T1", 2027), "2027-03-02", "2027-03-05");
    assert_between(find(&sights, EVENT_SHED_LAST, "T1", 2027), "2027-03-05", "2027-03-14");
    assert_null(sights.list[0].selection);
    assert_string_equal(sights.list[0].species, "shortleaf");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(an_event_came_between_two_looks),
        FIXTURE_TEST(a_first_look_that_saw_it_leaves_its_beginning_open),
        FIXTURE_TEST(looks_at_bags_are_looks_at_their_graft),
        FIXTURE_TEST(a_season_of_its_own_for_every_spring),
        FIXTURE_TEST(a_relabelled_graft_counts_for_what_it_is),
        FIXTURE_TEST(catkins_shed_and_are_over),
    };

    return cmocka_run_group_tests_name("sights", tests, NULL, NULL) != 0;
}
