/*
 * Names, mixes, loops and lines; a dense tabular matrix built here beside random pedigrees. Printed
 * matrices are checks of tests/published/kinship_worked.c, gene drops of
 * tests/properties/kinship_test.c.
 */
#include "orchard/pedigree.h"

#include "orchard/fixture.h"

static const struct pedigree *pedigree_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return pedigree_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static double theta(struct fixture *fixture, const struct pedigree *pedigree, const char *a,
                    const char *b)
{
    return pedigree_coancestry(pedigree, orchard_selection(&fixture->orchard, a),
                               orchard_selection(&fixture->orchard, b));
}

static void names_of_one_clone_are_one_row(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "P1", NULL, NULL);
    add_selection(fixture, "P2", NULL, NULL);
    add_selection(fixture, "K", NULL, NULL)->same_as_name = "old K";
    add_selection(fixture, "old K", NULL, NULL);
    add_selection(fixture, "alias", "P1", "P2")->same_as_name = "K"; /* parents stand here only */
    add_selection(fixture, "sib", "P1", "P2");
    add_cross(fixture, "C1", "K", "alias");
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_nothing_told(fixture);
    assert_near(theta(fixture, pedigree, "K", "old K"), 0.5, 0);
    assert_near(theta(fixture, pedigree, "old K", "sib"), 0.25, 0);
    bool selfs;
    assert_near(pedigree_cross_coancestry(pedigree, orchard_cross(&fixture->orchard, "C1"), &selfs),
                0.5, 0);
    assert_true(selfs);
}

static void a_mix_counts_by_its_shares(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "P1", NULL, NULL);
    add_selection(fixture, "P2", NULL, NULL);
    add_selection(fixture, "kid", "P1", "P2");
    struct mix_part parts[] = {{.selection_name = "P1", .share = 0.25},
                               {.selection_name = "P2", .share = 0.75}};
    struct lot *mix = add_lot(fixture, "MIX", NULL);
    mix->parts = parts;
    mix->part_count = COUNT(parts);
    add_cross(fixture, "C1", "kid", "MIX");
    add_cross(fixture, "C2", "P1", "MIX");
    const struct pedigree *pedigree = pedigree_now(fixture);
    bool selfs;
    assert_near(pedigree_cross_coancestry(pedigree, orchard_cross(&fixture->orchard, "C1"), &selfs),
                0.25, 0);
    assert_false(selfs);
    assert_near(pedigree_cross_coancestry(pedigree, orchard_cross(&fixture->orchard, "C2"), &selfs),
                0.125, 0);
    assert_true(selfs);
}

static void a_loop_is_told_with_its_path_and_has_no_parents(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "A", "B", "F");
    add_selection(fixture, "B", "C", NULL);
    add_selection(fixture, "C", "F", "A");
    add_selection(fixture, "F", NULL, NULL);
    add_selection(fixture, "kid", "A", "F");
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_only_told(fixture, "pedigree-loop");
    assert_non_null(strstr(fixture->diags.list[0].message, "'A' from 'B' from 'C' from 'A'"));
    assert_near(theta(fixture, pedigree, "A", "B"), 0, 0);
    assert_near(theta(fixture, pedigree, "C", "F"), 0, 0);
    assert_near(theta(fixture, pedigree, "kid", "A"), 0.25, 0);
}

static void a_selection_that_is_its_own_parent_is_told(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "A", NULL, "other A");
    add_selection(fixture, "other A", NULL, NULL)->same_as_name = "A";
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_only_told(fixture, "own-parent");
    assert_near(theta(fixture, pedigree, "A", "A"), 0.5, 0);
}

static void unknown_selections_are_related_to_nothing(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "A", NULL, NULL);
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_near(pedigree_coancestry(pedigree, NULL, orchard_selection(&fixture->orchard, "A")), 0,
                0);
    assert_near(pedigree_inbreeding(pedigree, NULL), 0, 0);
}

/* A dense matrix filled row by row, parents first, beside cells made on demand. */
static void random_pedigrees_agree_with_a_dense_matrix(void **state)
{
    enum { MOST = 60, TRIALS = 20 };
    uint32_t seed = 12345;
    for (int trial = 0; trial < TRIALS; trial++) {
        fixture_teardown(state);
        fixture_setup(state);
        struct fixture *fixture = *state;
        static double dense[MOST][MOST];
        const char *names[MOST];
        for (size_t i = 0; i < MOST; i++) {
            size_t parents[2];
            for (size_t p = 0; p < 2; p++) {
                seed = seed * 1664525u + 1013904223u;
                parents[p] = (seed >> 8) % (i + 3); /* beyond i: unknown */
            }
            /* Names are not in the order of birth. */
            names[i] = arena_printf(&fixture->arena, "S%02zu", i * 37 % 97);
            add_selection(fixture, names[i], parents[0] < i ? names[parents[0]] : NULL,
                          parents[1] < i ? names[parents[1]] : NULL);
            for (size_t j = 0; j < i; j++) {
                double sum = 0;
                for (size_t p = 0; p < 2; p++)
                    sum += parents[p] < i ? dense[parents[p]][j] : 0;
                dense[i][j] = dense[j][i] = 0.5 * sum;
            }
            bool both = parents[0] < i && parents[1] < i;
            dense[i][i] = 1 + (both ? 0.5 * dense[parents[0]][parents[1]] : 0);
        }
        const struct pedigree *pedigree = pedigree_now(fixture);
        assert_nothing_told(fixture);
        for (size_t i = 0; i < MOST; i++)
            for (size_t j = 0; j < MOST; j++)
                assert_near(2 * theta(fixture, pedigree, names[i], names[j]), dense[i][j], 1e-12);
    }
}

static void a_line_of_ten_thousand_is_followed(void **state)
{
    enum { LINE = 10000 };
    struct fixture *fixture = *state;
    const char *before = NULL;
    for (int i = 0; i < LINE; i++) {
        const char *name = arena_printf(&fixture->arena, "S%05d", LINE - i);
        add_selection(fixture, name, before, NULL);
        before = name;
    }
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_near(theta(fixture, pedigree, "S10000", "S09998"), 0.125, 0);
    assert_near(theta(fixture, pedigree, "S10000", "S00001"), 0, 1e-300);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(names_of_one_clone_are_one_row),
        FIXTURE_TEST(a_mix_counts_by_its_shares),
        FIXTURE_TEST(a_loop_is_told_with_its_path_and_has_no_parents),
        FIXTURE_TEST(a_selection_that_is_its_own_parent_is_told),
        FIXTURE_TEST(unknown_selections_are_related_to_nothing),
        FIXTURE_TEST(random_pedigrees_agree_with_a_dense_matrix),
        FIXTURE_TEST(a_line_of_ten_thousand_is_followed),
    };
    return cmocka_run_group_tests_name("pedigree", tests, NULL, NULL) != 0;
}
