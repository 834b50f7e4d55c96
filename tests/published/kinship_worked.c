/*
 * kinship_worked - relationship matrices, coancestries, status numbers and cross values against
 * printed and textbook figures.
 *
 * Sources: Mrode, Linear Models for the Prediction of Animal Breeding Values, 3rd ed., table 2.1
 * (the block of 1, 4, 5 and F of 5 are printed, the rest follows by the tabular rule); a teaching
 * pedigree of seven (F printed as .125, .125, .218); textbook coancestries of relatives; group
 * coancestries worked by hand; Sci. Rep. 2021, s41598-021-84566-2, table 1: a white spruce orchard,
 * group coancestry printed to three digits beside the status number.
 */
#include "orchard/fixture.h"
#include "orchard/pedigree.h"
#include "planning/propose.h"

static const struct pedigree *pedigree_now(struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    assert_nothing_told(fixture);
    return pedigree_of(&fixture->orchard, &fixture->arena, &fixture->diags);
}

static const struct selection *named(struct fixture *fixture, const char *name)
{
    const struct selection *selection = orchard_selection(&fixture->orchard, name);
    assert_non_null(selection);
    return selection;
}

static double theta(struct fixture *fixture, const struct pedigree *pedigree, const char *a,
                    const char *b)
{
    return pedigree_coancestry(pedigree, named(fixture, a), named(fixture, b));
}

static double inbreeding(struct fixture *fixture, const struct pedigree *pedigree, const char *name)
{
    return pedigree_inbreeding(pedigree, named(fixture, name));
}

static void mrode_table_2_1(void **state)
{
    static const double relationship[6][6] = {
        {1, 0, .5, .5, .5, .25},
        {0, 1, .5, 0, .25, .625},
        {.5, .5, 1, .25, .625, .5625},
        {.5, 0, .25, 1, .625, .3125},
        {.5, .25, .625, .625, 1.125, .6875},
        {.25, .625, .5625, .3125, .6875, 1.125},
    };
    static const char *const names[] = {"1", "2", "3", "4", "5", "6"};
    struct fixture *fixture = *state;
    add_selection(fixture, "1", NULL, NULL);
    add_selection(fixture, "2", NULL, NULL);
    add_selection(fixture, "3", "1", "2");
    add_selection(fixture, "4", "1", NULL);
    add_selection(fixture, "5", "4", "3");
    add_selection(fixture, "6", "5", "2");
    const struct pedigree *pedigree = pedigree_now(fixture);
    for (size_t i = 0; i < COUNT(names); i++)
        for (size_t j = 0; j < COUNT(names); j++)
            assert_near(2 * theta(fixture, pedigree, names[i], names[j]), relationship[i][j], 0);
    assert_near(inbreeding(fixture, pedigree, "5"), .125, 0);
    assert_near(inbreeding(fixture, pedigree, "6"), .125, 0);
}

static void a_teaching_pedigree_of_seven(void **state)
{
    struct fixture *fixture = *state;
    add_selection(fixture, "1", NULL, NULL);
    add_selection(fixture, "2", "1", NULL);
    add_selection(fixture, "3", "1", NULL);
    add_selection(fixture, "4", "1", NULL);
    add_selection(fixture, "5", "2", "3");
    add_selection(fixture, "6", "4", "3");
    add_selection(fixture, "7", "5", "6");
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_near(inbreeding(fixture, pedigree, "5"), .125, 0);
    assert_near(inbreeding(fixture, pedigree, "6"), .125, 0);
    assert_near(inbreeding(fixture, pedigree, "7"), .21875, 0);
    assert_near(2 * theta(fixture, pedigree, "5", "7"), .78125, 0);
    assert_near(2 * theta(fixture, pedigree, "6", "7"), .78125, 0);
    assert_near(2 * theta(fixture, pedigree, "7", "7"), 1.21875, 0);
    assert_near(2 * theta(fixture, pedigree, "2", "7"), .4375, 0);
    assert_near(2 * theta(fixture, pedigree, "3", "7"), .625, 0);
}

static void add_family(struct fixture *fixture)
{
    static const char *const rows[][3] = {
        {"P1", NULL, NULL}, {"P2", NULL, NULL}, {"P3", NULL, NULL}, {"P4", NULL, NULL},
        {"A", "P1", "P2"},  {"B", "P1", "P2"},  {"C", "P1", "P3"},  {"D", "P3", "P4"},
        {"K1", "A", "P3"},  {"K2", "B", "P4"},  {"FS", "A", "B"},   {"HS", "A", "C"},
        {"SELF", "A", "A"}, {"OUT", "P2", "D"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        add_selection(fixture, rows[i][0], rows[i][1], rows[i][2]);
}

static void coancestries_of_relatives(void **state)
{
    struct fixture *fixture = *state;
    add_family(fixture);
    const struct pedigree *pedigree = pedigree_now(fixture);
    assert_near(theta(fixture, pedigree, "A", "B"), .25, 0);     /* full sibs */
    assert_near(theta(fixture, pedigree, "A", "C"), .125, 0);    /* half sibs */
    assert_near(theta(fixture, pedigree, "P1", "A"), .25, 0);    /* parent and offspring */
    assert_near(theta(fixture, pedigree, "K1", "K2"), .0625, 0); /* first cousins */
    assert_near(theta(fixture, pedigree, "A", "A"), .5, 0);
    assert_near(theta(fixture, pedigree, "FS", "FS"), .625, 0); /* F = .25 */
    assert_near(theta(fixture, pedigree, "A", "D"), 0, 0);
    assert_near(inbreeding(fixture, pedigree, "FS"), .25, 0);
    assert_near(inbreeding(fixture, pedigree, "HS"), .125, 0);
    assert_near(inbreeding(fixture, pedigree, "SELF"), .5, 0);
}

static double group(struct fixture *fixture, const struct pedigree *pedigree, size_t count,
                    const char *const *names, const double *weights)
{
    struct contribution contributions[16];
    assert_true(count <= COUNT(contributions));
    for (size_t i = 0; i < count; i++)
        contributions[i] =
            (struct contribution){named(fixture, names[i]), weights ? weights[i] : 1};
    return pedigree_group_coancestry(pedigree, count, contributions);
}

static void group_coancestry_and_status_number(void **state)
{
    static const char *const four[] = {"A", "B", "C", "D"};
    static const char *const founders[] = {"P1", "P2", "P3", "P4"};
    static const double rising[] = {.1, .2, .3, .4}, falling[] = {4, 3, 2, 1};
    static const char *const full[] = {"F0", "F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8", "F9"};
    static const char *const half[] = {"H0", "H1", "H2", "H3", "H4", "H5", "H6", "H7", "H8", "H9"};
    static const char *const none[] = {"N0", "N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "N9"};
    struct fixture *fixture = *state;
    add_family(fixture);
    for (size_t i = 0; i < 10; i++) {
        add_selection(fixture, full[i], "P1", "P2");
        add_selection(fixture, half[i], "P1", none[i]);
        add_selection(fixture, none[i], NULL, NULL);
    }
    const struct pedigree *pedigree = pedigree_now(fixture);
    const struct {
        size_t count;
        const char *const *names;
        const double *weights;
        double theta, status;
    } rows[] = {
        {4, four, NULL, .203125, 2.461538},    {4, four, rising, .2125, 2.352941},
        {4, founders, falling, .15, 3.333333}, {10, none, NULL, .05, 10},
        {4, full, NULL, .3125, 1.6},           {10, full, NULL, .275, 1.818182},
        {10, half, NULL, .1625, 3.076923},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        double found = group(fixture, pedigree, rows[i].count, rows[i].names, rows[i].weights);
        assert_near(found, rows[i].theta, 1e-12);
        assert_near(pedigree_status_number(found), rows[i].status, 5e-7);
    }
    assert_true(isnan(group(fixture, pedigree, 0, four, NULL)));
}

/* Breeding values of A to D. */
static void add_values(struct fixture *fixture)
{
    static const double value[] = {12, 10, 8, 6};

    for (size_t i = 0; i < fixture->orchard.selections.count; i++) {
        struct selection *selection = &fixture->orchard.selections.list[i];

        if (selection->name[0] <= 'D' && selection->name[1] == '\0')
            selection->breeding_value = value[selection->name[0] - 'A'];
    }
}

/* Of the one cross of a pair, as the program proposes it: mean breeding value less c times group
 * coancestry. */
static struct proposal pair_proposed(struct fixture *fixture, const struct pedigree *pedigree,
                                     const char *const *pair, double c)
{
    const struct selection *parents[] = {named(fixture, pair[0]), named(fixture, pair[1])};
    const struct propose_request request = {
        .design = PROPOSE_HALF_DIALLEL,
        .parents = parents,
        .parent_count = 2,
        .seeds = 100,
        .coancestry_weight = c,
        .status_number = NAN,
    };

    return propose(&request, &fixture->orchard, pedigree, &fixture->arena);
}

static void group_merit_weighs_gain_against_kinship(void **state)
{
    static const struct {
        const char *pair[2];
        double merit;
    } rows[] = {
        {{"A", "D"}, 4.0}, {{"A", "C"}, 3.75}, {{"A", "B"}, 3.5},
        {{"B", "D"}, 3.0}, {{"B", "C"}, 2.75}, {{"C", "D"}, 0.75},
    };
    struct fixture *fixture = *state;

    add_family(fixture);
    add_values(fixture);
    fixture->orchard.program.coancestry_refuse = 1;
    const struct pedigree *pedigree = pedigree_now(fixture);
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct proposal found = pair_proposed(fixture, pedigree, rows[i].pair, 20);

        assert_null(found.fault);
        assert_int_equal(found.crosses.count, 1);
        assert_near(found.merit, rows[i].merit, 1e-9);
        assert_true(found.proposed.breeding_value <= 11); /* without kinship A and B come first */
    }
    assert_near(pair_proposed(fixture, pedigree, rows[2].pair, 20).proposed.breeding_value, 11,
                1e-9);
    assert_near(pair_proposed(fixture, pedigree, rows[0].pair, 50).merit, -3.5, 1e-9);
}

/* Per cent gain of a cross with 6 % of height lost for each tenth of inbreeding (Sorensen 1997,
 * Douglas-fir, from memory of the year). */
static double adjusted(double mean_pct, double coancestry)
{
    return ((1 + mean_pct / 100) * (1 - 0.6 * coancestry) - 1) * 100;
}

static void the_value_of_a_cross_is_the_mean_of_its_parents(void **state)
{
    static const struct {
        const char *name, *a, *b;
        double mean, adjusted;
    } rows[] = {
        {"AB", "A", "B", 11, -5.65},
        {"AC", "A", "C", 10, 1.75},
        {"AD", "A", "D", 9, 9},
    };
    static struct mix_part parts[2] = {{"B", NULL, 0.25}, {"D", NULL, 0.75}};
    struct fixture *fixture = *state;
    add_family(fixture);
    for (size_t i = 0; i < COUNT(rows); i++)
        add_cross(fixture, rows[i].name, rows[i].a, rows[i].b);
    add_values(fixture);
    add_selection(fixture, "OLD", NULL, NULL)->same_as_name = "B"; /* has no value of its own */
    add_cross(fixture, "A-OLD", "A", "OLD");
    struct lot *mix = add_lot(fixture, "MIX", NULL);
    mix->parts = parts;
    mix->part_count = 2;
    add_cross(fixture, "A-MIX", "A", "MIX");
    add_cross(fixture, "A-P4", "A", "P4");
    const struct pedigree *pedigree = pedigree_now(fixture);
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct cross *cross = orchard_cross(&fixture->orchard, rows[i].name);
        bool selfs;
        double coancestry = pedigree_cross_coancestry(pedigree, cross, &selfs);
        assert_near(pedigree_cross_value(cross), rows[i].mean, 0);
        assert_near(adjusted(pedigree_cross_value(cross), coancestry), rows[i].adjusted, 1e-9);
    }
    assert_near(pedigree_cross_value(orchard_cross(&fixture->orchard, "A-OLD")), 11, 0);
    assert_near(pedigree_cross_value(orchard_cross(&fixture->orchard, "A-MIX")), 9.5, 0);
    assert_true(isnan(pedigree_cross_value(orchard_cross(&fixture->orchard, "A-P4"))));
    assert_true(isnan(pedigree_cross_value(&(struct cross){.seed_parent = NULL})));
}

static void status_numbers_of_a_published_orchard(void **state)
{
    static const struct {
        double theta, exact, printed;
    } rows[] = {
        {.001, 500, 500}, {.003, 166.67, 158}, {.003, 166.67, 166}, {.005, 100, 96},
        {.008, 62.5, 59}, {.016, 31.25, 31},   {.040, 12.5, 12},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_near(pedigree_status_number(rows[i].theta), rows[i].exact, 0.005);
        /* The printed coancestry has three digits: the status number printed beside it leads back
         * to it within one and a half of its last, .042 to .040 being the loosest. */
        double back = 1 / (2 * rows[i].printed);
        assert_near(back, rows[i].theta, rows[i].theta < .04 ? .001 : .002);
        assert_near(pedigree_status_number(back), rows[i].printed, 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(mrode_table_2_1),
        FIXTURE_TEST(a_teaching_pedigree_of_seven),
        FIXTURE_TEST(coancestries_of_relatives),
        FIXTURE_TEST(group_coancestry_and_status_number),
        FIXTURE_TEST(group_merit_weighs_gain_against_kinship),
        FIXTURE_TEST(the_value_of_a_cross_is_the_mean_of_its_parents),
        FIXTURE_TEST(status_numbers_of_a_published_orchard),
    };
    return cmocka_run_group_tests_name("kinship_worked", tests, NULL, NULL) != 0;
}
