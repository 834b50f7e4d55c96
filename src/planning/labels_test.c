#include "planning/labels.h"

#include "orchard/fixture.h"

static struct labels labels_now(struct fixture *fixture, const char *site, daynum from)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    const struct state *now = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
    struct labels_wanted wanted = {orchard_site(&fixture->orchard, site), from};
    return labels_of(now, &wanted, &fixture->arena);
}

static struct tree *add_standing(struct fixture *fixture, const char *name, int row, int position)
{
    struct tree *tree = add_tree(fixture, name, "Nordhang");
    tree->row = row;
    tree->position = position;
    return tree;
}

static void labels_come_as_one_walks(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture); /* A1 on T1 and A2 on T2, which stand nowhere in particular */
    add_site(fixture, "Moor");
    add_tree(fixture, "M1", "Moor");
    add_standing(fixture, "R2", 2, 1)->block = "b";
    add_standing(fixture, "R1P2", 1, 2)->block = "b";
    add_standing(fixture, "R1P1", 1, 1)->block = "b";
    add_standing(fixture, "A9", 1, 1)->block = "a";
    static const struct {
        const char *tag, *tree;
        enum crown crown;
    } grafts[] = {{"G1", "R2", CROWN_TOP},     {"G2", "R1P2", CROWN_LOW},
                  {"G3", "R1P2", CROWN_TOP},   {"G5", "R1P1", CROWN_TOP},
                  {"G4", "R1P1", CROWN_TOP},   {"G6", "A9", CROWN_TOP},
                  {"G7", "M1", CROWN_UNKNOWN}, {"G0", NULL, CROWN_UNKNOWN}};
    for (size_t i = 0; i < COUNT(grafts); i++)
        add_graft(fixture, grafts[i].tag, "S1", grafts[i].tree)->crown = grafts[i].crown;
    struct labels labels = labels_now(fixture, NULL, DAY_NONE);
    static const char *const expected[] = {"G0", "G7", "A1", "A2", "G6",
                                           "G4", "G5", "G3", "G2", "G1"};
    assert_int_equal(labels.count, COUNT(expected));
    for (size_t i = 0; i < COUNT(expected); i++)
        assert_string_equal(labels.list[i].tag, expected[i]);
}

static void what_is_gone_needs_no_label(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_graft(fixture, "A3", "S1", "T1");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A1", "dead");
    note_on_tag(fixture, "2026-05-01", NOTE_SURVIVAL, "A2", "doubtful");
    struct labels labels = labels_now(fixture, NULL, DAY_NONE);
    assert_int_equal(labels.count, 2);
    assert_string_equal(labels.list[0].tag, "A3");
    assert_string_equal(labels.list[1].tag, "A2");
}

static void a_site_or_a_day_narrows_them(void **state)
{
    struct fixture *fixture = *state;
    add_basis(fixture);
    add_site(fixture, "Moor");
    add_tree(fixture, "M1", "Moor");
    add_graft(fixture, "A3", "S1", "M1")->grafted_on = fixture_day("2026-02-11");
    struct labels labels = labels_now(fixture, "Moor", DAY_NONE);
    assert_int_equal(labels.count, 1);
    assert_string_equal(labels.list[0].tag, "A3");
    assert_int_equal(labels_now(fixture, NULL, fixture_day("2026-02-11")).count, 1);
    assert_int_equal(labels_now(fixture, NULL, fixture_day("2026-02-10")).count, 3);
    assert_int_equal(labels_now(fixture, "Nordhang", fixture_day("2026-02-11")).count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(labels_come_as_one_walks),
        FIXTURE_TEST(what_is_gone_needs_no_label),
        FIXTURE_TEST(a_site_or_a_day_narrows_them),
    };
    return cmocka_run_group_tests_name("labels", tests, NULL, NULL) != 0;
}
