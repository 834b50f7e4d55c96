/*
 * designs_worked - mating designs and contributions against worked examples.
 *
 * The circulant is the partial diallel of Kempthorne and Curnow 1961 (from memory; the lists were
 * made outside this repository by another generator).  Numbers of crosses follow from the designs.
 * Linear deployment, shares in proportion to what the breeding value is above a cut-off, is that of
 * Lindgren, Libby and Bondesson 1989 (abstract); its numbers are arithmetic.
 */
#include "orchard/fixture.h"
#include "planning/propose.h"

static const char *const names[] = {"01", "02", "03", "04", "05", "06", "07", "08",
                                    "09", "10", "11", "12", "13", "14", "15", "16",
                                    "17", "18", "19", "20", "21", "22", "23", "24"};

/* Unrelated parents 01 to count, of equal value; those from `testers` on are testers. */
static struct proposal proposed(struct fixture *fixture, enum propose_design design, size_t count,
                                int each, size_t testers)
{
    struct propose_request request = {
        .design = design,
        .parents = ARENA_ARRAY(&fixture->arena, count, const struct selection *),
        .testers = ARENA_ARRAY(&fixture->arena, count, const struct selection *),
        .crosses_per_parent = each,
        .seeds = 100,
        .coancestry_weight = NAN,
        .status_number = NAN,
    };

    fixture->orchard.selections.count = 0;
    for (size_t i = 0; i < count; i++)
        add_selection(fixture, names[i], NULL, NULL)->breeding_value = 5;
    orchard_link(&fixture->orchard, &fixture->diags);
    for (size_t i = 0; i < count; i++) {
        const struct selection *selection = orchard_selection(&fixture->orchard, names[i]);

        if (i < testers)
            request.parents[request.parent_count++] = selection;
        else
            request.testers[request.tester_count++] = selection;
    }
    return propose(&request, &fixture->orchard,
                   pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
}

static void numbers_of_crosses(void **state)
{
    static const struct {
        enum propose_design design;
        size_t parents, testers;
        int each;
        size_t crosses, of_each; /* of_each 0: not alike */
    } rows[] = {
        {PROPOSE_HALF_DIALLEL, 6, 6, 0, 15, 5},
        {PROPOSE_DISCONNECTED_DIALLEL, 24, 24, 5, 60, 5}, /* four groups of six */
        {PROPOSE_DISCONNECTED_DIALLEL, 24, 24, 3, 36, 3}, /* six groups of four */
        {PROPOSE_FACTORIAL, 9, 4, 0, 20, 0},              /* 4 x 5 */
        {PROPOSE_SINGLE_PAIR, 24, 24, 0, 12, 1},
        {PROPOSE_CIRCULAR, 24, 24, 0, 24, 2},
        {PROPOSE_PARTIAL_DIALLEL, 8, 8, 3, 12, 3},
        {PROPOSE_PARTIAL_DIALLEL, 9, 9, 4, 18, 4},
        {PROPOSE_PARTIAL_DIALLEL, 12, 12, 3, 18, 3},
    };
    struct fixture *fixture = *state;

    for (size_t i = 0; i < COUNT(rows); i++) {
        struct proposal found =
            proposed(fixture, rows[i].design, rows[i].parents, rows[i].each, rows[i].testers);

        assert_null(found.fault);
        assert_int_equal(found.crosses.count, rows[i].crosses);
        assert_int_equal(found.left_out.count, 0);
        for (size_t j = 0; j < found.parents.count && rows[i].of_each; j++)
            assert_int_equal(found.parents.list[j].crosses, rows[i].of_each);
    }
}

static void assert_crosses(const struct proposal *found, size_t count, const char *const *expected)
{
    assert_null(found->fault);
    assert_int_equal(found->crosses.count, count);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(found->crosses.list[i].name, expected[i]);
}

static void circulants_of_six_and_seven(void **state)
{
    static const char *const six[] = {"01x03", "01x04", "01x05", "02x04", "02x05",
                                      "02x06", "03x05", "03x06", "04x06"};
    static const char *const seven[] = {"01x04", "01x05", "02x05", "02x06",
                                        "03x06", "03x07", "04x07"};
    struct proposal found = proposed(*state, PROPOSE_PARTIAL_DIALLEL, 6, 3, 6);

    assert_crosses(&found, COUNT(six), six);
    found = proposed(*state, PROPOSE_PARTIAL_DIALLEL, 7, 2, 7);
    assert_crosses(&found, COUNT(seven), seven);
}

static void six_parents_cannot_all_have_two_crosses_of_a_circulant(void **state)
{
    struct proposal found = proposed(*state, PROPOSE_PARTIAL_DIALLEL, 6, 2, 6);

    assert_non_null(found.fault);
    assert_non_null(strstr(found.fault, "expected an odd number below 6"));
    assert_non_null(proposed(*state, PROPOSE_PARTIAL_DIALLEL, 7, 3, 7).fault);
    assert_non_null(proposed(*state, PROPOSE_PARTIAL_DIALLEL, 6, 7, 6).fault);
}

/* Unrelated parents: group coancestry is half the sum of squared shares, and the merit is greatest
 * where shares are (value - cut-off) / weight, the weight being the sum of what is above. */
static void best_shares_of_unrelated_parents_are_linear_in_breeding_value(void **state)
{
    static const double values[] = {12, 10, 8, 6, 5, 3};
    static const struct {
        double weight;
        double shares[6], value, status_number;
    } rows[] = {
        {21, {.38095, .28571, .19048, .09524, .04762, 0}, 9.7619, 3.64463}, /* cut-off 4 */
        {12, {.5, .33333, .16667, 0, 0, 0}, 10.6667, 2.57143},              /* cut-off 6 */
    };
    struct fixture *fixture = *state;
    struct propose_request request = {
        .design = PROPOSE_HALF_DIALLEL,
        .parents = ARENA_ARRAY(&fixture->arena, 6, const struct selection *),
        .parent_count = 6,
        .seeds = 1000000,
        .status_number = NAN,
    };

    for (size_t i = 0; i < 6; i++)
        add_selection(fixture, names[i], NULL, NULL)->breeding_value = values[i];
    orchard_link(&fixture->orchard, &fixture->diags);
    for (size_t i = 0; i < 6; i++)
        request.parents[i] = orchard_selection(&fixture->orchard, names[i]);
    for (size_t row = 0; row < COUNT(rows); row++) {
        struct proposal found;

        request.coancestry_weight = rows[row].weight;
        found = propose(&request, &fixture->orchard,
                        pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
        assert_null(found.fault);
        for (size_t i = 0; i < 6; i++)
            assert_near(found.parents.list[i].best_share, rows[row].shares[i], 6e-6);
        assert_near(found.best.breeding_value, rows[row].value, 6e-5);
        assert_near(found.best.status_number, rows[row].status_number, 6e-6);
        assert_true(found.merit <= found.merit_most + 1e-9);
        assert_near(found.merit, found.merit_most, row == 0 ? 0.02 : 1e-5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(numbers_of_crosses),
        FIXTURE_TEST(circulants_of_six_and_seven),
        FIXTURE_TEST(six_parents_cannot_all_have_two_crosses_of_a_circulant),
        FIXTURE_TEST(best_shares_of_unrelated_parents_are_linear_in_breeding_value),
    };
    return cmocka_run_group_tests_name("designs_worked", tests, NULL, NULL) != 0;
}
