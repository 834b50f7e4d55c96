/* Proposals among a few parents, by hand. */
#include "planning/propose.h"

#include "orchard/fixture.h"

enum { NAMED_MOST = 16 };

static const struct propose_request plain = {
    .seeds = 100, .coancestry_weight = NAN, .status_number = NAN};

static const struct selection **listed(struct fixture *fixture, const char *names, size_t *count)
{
    const struct selection **list =
        ARENA_ARRAY(&fixture->arena, NAMED_MOST, const struct selection *);

    for (*count = 0; *names;) {
        size_t length = strcspn(names, " ");
        const char *name = arena_text(&fixture->arena, length, names);
        const struct selection *found = orchard_selection(&fixture->orchard, name);

        if (!found)
            fail_msg("no selection %s", name);
        list[(*count)++] = found;
        names += length + (names[length] == ' ');
    }
    return list;
}

/* Of parents by their names, "A B C"; testers NULL: none. */
static struct proposal proposed(struct fixture *fixture, struct propose_request request,
                                const char *parents, const char *testers)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    request.parents = listed(fixture, parents, &request.parent_count);
    if (testers)
        request.testers = listed(fixture, testers, &request.tester_count);
    return propose(&request, &fixture->orchard,
                   pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
}

static struct propose_request request_of(enum propose_design design, int each)
{
    struct propose_request request = plain;

    request.design = design;
    request.crosses_per_parent = each;
    return request;
}

static void add_valued(struct fixture *fixture, const char *name, double value)
{
    add_selection(fixture, name, NULL, NULL)->breeding_value = value;
}

/* A and B are full sibs, C is half sib of both, D is not akin. */
static void add_kin(struct fixture *fixture)
{
    add_selection(fixture, "P1", NULL, NULL);
    add_selection(fixture, "P2", NULL, NULL);
    add_selection(fixture, "P3", NULL, NULL);
    add_selection(fixture, "A", "P1", "P2")->breeding_value = 12;
    add_selection(fixture, "B", "P1", "P2")->breeding_value = 10;
    add_selection(fixture, "C", "P1", "P3")->breeding_value = 8;
    add_selection(fixture, "D", NULL, NULL)->breeding_value = 6;
}

static void assert_names(const struct proposal *found, size_t count, const char *const *names)
{
    assert_null(found->fault);
    assert_int_equal(found->crosses.count, count);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(found->crosses.list[i].name, names[i]);
}

static const struct proposed_parent *parent_of(const struct proposal *found, const char *name)
{
    for (size_t i = 0; i < found->parents.count; i++)
        if (strcmp(found->parents.list[i].selection->name, name) == 0)
            return &found->parents.list[i];
    fail_msg("%s is no candidate", name);
    return NULL;
}

static void near_kin_is_left_out_and_less_near_kin_warned_of(void **state)
{
    static const char *const names[] = {"AxC", "AxD", "BxC", "BxD", "CxD"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "D C B A", NULL);
    assert_names(&found, COUNT(names), names);
    assert_int_equal(found.left_out.count, 1);
    assert_string_equal(found.left_out.list[0].words, "coancestry 0.25 is above 0.125");
    assert_true(found.crosses.list[0].warned);
    assert_near(found.crosses.list[0].coancestry, 0.125, 0);
    assert_near(found.crosses.list[0].value, 10, 0);
    assert_false(found.crosses.list[1].warned);
    assert_int_equal(found.crosses.list[0].seeds, 100);
    assert_int_equal(found.crosses_most, 5);
}

/* By hand: theta of the four [.5 .25 .125 0; .25 .5 .125 0; .125 .125 .5 0; 0 0 0 .5]; crosses by
 * equal seed give A 2, B 2, C 3, D 3 of ten gametes. */
static void groups_are_told_with_their_kinship(void **state)
{
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "A B C D", NULL);
    assert_int_equal(found.candidates.parents, 4);
    assert_near(found.candidates.breeding_value, 9, 1e-12);
    assert_near(found.candidates.group_coancestry, (2 + 2 * (.25 + .125 + .125)) / 16, 1e-12);
    assert_near(found.candidates.status_number, 16. / 6, 1e-12);
    assert_near(parent_of(&found, "A")->share, .2, 1e-12);
    assert_near(parent_of(&found, "D")->share, .3, 1e-12);
    assert_near(found.proposed.breeding_value, 2.4 + 2 + 2.4 + 1.8, 1e-12);
    assert_near(found.proposed.group_coancestry,
                .5 * (.04 + .04 + .09 + .09) + 2 * (.25 * .04 + 2 * .125 * .06), 1e-12);
    assert_true(isnan(found.merit) && isnan(found.merit_most) && isnan(found.weight));
}

static void names_of_one_clone_are_one_candidate(void **state)
{
    static const char *const names[] = {"SxT"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_valued(fixture, "T", 3);
    add_selection(fixture, "S", NULL, NULL); /* its value stands under its other name */
    add_valued(fixture, "OLD", 4);
    fixture->orchard.selections.list[2].same_as_name = "S";
    fixture->orchard.selections.list[2].species = "pine";
    fixture->orchard.selections.list[0].species = "pine";
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "OLD S T S", NULL);
    assert_names(&found, 1, names);
    assert_near(found.crosses.list[0].value, 3.5, 0);
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "OLD S", NULL);
    assert_non_null(strstr(found.fault, "one candidate"));
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "", NULL);
    assert_non_null(strstr(found.fault, "no candidate"));
}

static void a_factorial_has_no_selfs_and_no_pair_twice(void **state)
{
    static const char *const names[] = {"AxC", "AxD", "CxD"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    found = proposed(fixture, request_of(PROPOSE_FACTORIAL, 0), "A C", "D C A");
    assert_names(&found, COUNT(names), names);
    assert_int_equal(found.left_out.count, 3);
    assert_string_equal(found.left_out.list[0].words, "would be selfed");
    assert_string_equal(found.left_out.list[2].words, "proposed the other way round");
    assert_string_equal(found.left_out.list[2].seed_parent->name, "C");
    assert_true(parent_of(&found, "D")->tester);
    assert_false(parent_of(&found, "A")->tester);
    found = proposed(fixture, request_of(PROPOSE_FACTORIAL, 1), "A C", "D C");
    assert_int_equal(found.crosses.count, 1);
    assert_int_equal(found.crosses_most, 1);
    assert_int_equal(found.pairs_not_chosen, 2);
}

static void what_the_folder_asks_for_is_not_proposed_again(void **state)
{
    static const char *const names[] = {"AxC", "CxD"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    add_cross(fixture, "old", "D", "A")->state = CROSS_CANCELLED;
    add_cross(fixture, "older", "B", "D")->state = CROSS_CANCELLED;
    add_cross(fixture, "this", "D", "B");
    add_cross(fixture, "that", "B", "C")->state = CROSS_HOLD;
    add_cross(fixture, "mix", "A", "MIX");
    add_cross(fixture, "parents", "P1", "P2");
    add_lot(fixture, "MIX", NULL);
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "A B C D", NULL);
    assert_names(&found, COUNT(names), names);
    assert_int_equal(found.left_out.count, 4);
    assert_int_equal(found.left_out.list[0].reason, PROPOSE_KIN);
    assert_string_equal(found.left_out.list[1].words,
                        "asked for and cancelled by cross old of crosses.csv");
    assert_string_equal(found.left_out.list[2].words,
                        "asked for already by cross that of crosses.csv");
    assert_string_equal(found.left_out.list[3].words,
                        "asked for already by cross this of crosses.csv");
    assert_string_equal(parent_of(&found, "B")->why, "all its crosses are left out");
}

static void clones_of_two_species_are_not_mated(void **state)
{
    struct fixture *fixture = *state;
    struct proposal found;

    add_valued(fixture, "A", 3);
    add_valued(fixture, "B", 2);
    add_valued(fixture, "C", 1);
    fixture->orchard.selections.list[0].species = "loblolly";
    fixture->orchard.selections.list[1].species = "slash";
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "A B C", NULL);
    assert_int_equal(found.crosses.count, 2);
    assert_string_equal(found.left_out.list[0].words, "of two species");
}

/* Of four in two families the order by value would mate sibs; the other two ways do not. */
static void pairs_are_the_least_akin(void **state)
{
    struct fixture *fixture = *state;
    struct proposal found;

    add_selection(fixture, "P1", NULL, NULL);
    add_selection(fixture, "P2", NULL, NULL);
    add_selection(fixture, "A", "P1", NULL)->breeding_value = 4;
    add_selection(fixture, "B", "P1", NULL)->breeding_value = 3;
    add_selection(fixture, "C", "P2", NULL)->breeding_value = 2;
    add_selection(fixture, "D", "P2", NULL)->breeding_value = 1;
    found = proposed(fixture, request_of(PROPOSE_SINGLE_PAIR, 0), "A B C D", NULL);
    assert_int_equal(found.crosses.count, 2);
    assert_near(found.coancestry, 0, 0);
    assert_near(found.coancestry_best, 0, 0);
    assert_int_equal(found.left_out.count, 0);
}

static void an_odd_parent_finds_no_mate(void **state)
{
    static const char *const names[] = {"AxB"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_valued(fixture, "A", 3);
    add_valued(fixture, "B", 2);
    add_valued(fixture, "C", 1);
    found = proposed(fixture, request_of(PROPOSE_SINGLE_PAIR, 1), "A B C", NULL);
    assert_names(&found, 1, names);
    assert_string_equal(parent_of(&found, "C")->why, "no mate was left for it");
    assert_near(parent_of(&found, "C")->share, 0, 0);
    assert_int_equal(found.proposed.parents, 2);
}

static void a_ring_needs_three(void **state)
{
    static const char *const names[] = {"AxB", "BxC", "CxA"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_valued(fixture, "A", 3);
    add_valued(fixture, "B", 2);
    add_valued(fixture, "C", 1);
    found = proposed(fixture, request_of(PROPOSE_CIRCULAR, 0), "A B C", NULL);
    assert_names(&found, COUNT(names), names);
    found = proposed(fixture, request_of(PROPOSE_CIRCULAR, 2), "A B", NULL);
    assert_non_null(strstr(found.fault, "three parents"));
    found = proposed(fixture, request_of(PROPOSE_PARTIAL_DIALLEL, 1), "A B C", NULL);
    assert_non_null(strstr(found.fault, "expected an even number below 3"));
    found = proposed(fixture, request_of(PROPOSE_PARTIAL_DIALLEL, 0), "A B C", NULL);
    assert_int_equal(found.crosses.count, 3); /* two each */
}

/* The best four of six would take all crosses of each other and leave the last two with one. */
static void a_limit_of_crosses_leaves_no_parent_short(void **state)
{
    static const char *const names[] = {"A", "B", "C", "D", "E", "F"};
    struct fixture *fixture = *state;
    struct proposal found;

    for (size_t i = 0; i < COUNT(names); i++)
        add_valued(fixture, names[i], 6 - (double)i);
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 3), "A B C D E F", NULL);
    assert_int_equal(found.crosses.count, 9);
    assert_int_equal(found.crosses_most, 9);
    assert_int_equal(found.pairs_not_chosen, 6);
    for (size_t i = 0; i < COUNT(names); i++)
        assert_int_equal(parent_of(&found, names[i])->crosses, 3);
}

static void groups_are_as_even_as_can_be(void **state)
{
    static const char *const names[] = {"A", "B", "C", "D", "E"};
    struct fixture *fixture = *state;
    struct proposal found;

    for (size_t i = 0; i < COUNT(names); i++)
        add_selection(fixture, names[i], NULL, NULL); /* no value is known */
    found = proposed(fixture, request_of(PROPOSE_DISCONNECTED_DIALLEL, 0), "A B C D E", NULL);
    assert_int_equal(found.crosses.count, 3 + 1);
    assert_true(isnan(found.crosses.list[0].value));
    assert_true(isnan(found.proposed.breeding_value));
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 2), "A B C D E", NULL);
    assert_int_equal(found.crosses.count, 5);
}

static void no_name_is_like_another(void **state)
{
    static const char *const names[] = {"new cross 2", "cross", "new cross 3"};
    static const char longest[] =
        "L123456789012345678901234567890123456789012345678901234567890123";
    struct fixture *fixture = *state;
    struct proposal found;

    add_valued(fixture, "A", 3);
    add_valued(fixture, "B", 2);
    add_valued(fixture, longest, 1);
    add_cross(fixture, "a-x B", "P1", "P2");
    add_cross(fixture, "New Cross 1", "P1", "P2");
    found = proposed(fixture, request_of(PROPOSE_HALF_DIALLEL, 0), "A B", NULL);
    assert_names(&found, 1, names);
    found = proposed(fixture, request_of(PROPOSE_SINGLE_PAIR, 0),
                     arena_printf(&fixture->arena, "A %s", longest), NULL);
    assert_names(&found, 1, names + 1);
    add_cross(fixture, "CROSS", "P1", "P2");
    add_cross(fixture, "CROSS", "P1", "P2");
    found = proposed(fixture, request_of(PROPOSE_SINGLE_PAIR, 0),
                     arena_printf(&fixture->arena, "A %s", longest), NULL);
    assert_names(&found, 1, names);
}

static void too_many_candidates_are_refused(void **state)
{
    struct fixture *fixture = *state;
    struct propose_request request = request_of(PROPOSE_SINGLE_PAIR, 0);
    struct proposal found;

    for (int i = 0; i <= PROPOSE_PARENTS_MOST; i++)
        add_selection(fixture, arena_printf(&fixture->arena, "S%d", i), NULL, NULL);
    orchard_link(&fixture->orchard, &fixture->diags);
    request.parent_count = fixture->orchard.selections.count;
    request.parents = ARENA_ARRAY(&fixture->arena, request.parent_count, const struct selection *);
    for (size_t i = 0; i < request.parent_count; i++)
        request.parents[i] = &fixture->orchard.selections.list[i];
    found = propose(&request, &fixture->orchard,
                    pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
    assert_string_equal(found.fault, "there are 301 candidates, expected at most 300");
}

static struct proposal weighted(struct fixture *fixture, double weight, const char *parents)
{
    struct propose_request request = request_of(PROPOSE_HALF_DIALLEL, 0);

    request.coancestry_weight = weight;
    return proposed(fixture, request, parents, NULL);
}

/* Every way to share forty parts among the five crosses that A, B, C and D may make. */
static void no_other_shares_have_more_merit(void **state)
{
    static const double weights[] = {0.5, 5, 20, 60, 1000};
    static const double value[] = {12, 10, 8, 6};
    static const double theta[4][4] = {
        {.5, .25, .125, 0}, {.25, .5, .125, 0}, {.125, .125, .5, 0}, {0, 0, 0, .5}};
    struct fixture *fixture = *state;

    add_kin(fixture);
    for (size_t row = 0; row < COUNT(weights); row++) {
        struct proposal found = weighted(fixture, weights[row], "A B C D");
        double most = -INFINITY;
        int ac, ad, bc, bd;

        for (ac = 0; ac <= 40; ac++)
            for (ad = 0; ac + ad <= 40; ad++)
                for (bc = 0; ac + ad + bc <= 40; bc++)
                    for (bd = 0; ac + ad + bc + bd <= 40; bd++) {
                        int cd = 40 - ac - ad - bc - bd;
                        int part[4] = {ac + ad, bc + bd, ac + bc + cd, ad + bd + cd};
                        double merit = 0;

                        for (int i = 0; i < 4; i++) {
                            merit += part[i] / 80. * value[i];
                            for (int j = 0; j < 4; j++)
                                merit -= weights[row] * theta[i][j] * part[i] * part[j] / 6400;
                        }
                        most = fmax(most, merit);
                    }
        assert_null(found.fault);
        assert_true(found.merit_most >= most - 1e-9);
        assert_true(found.merit_most < most + 0.001 * weights[row] + 1e-6);
        assert_true(found.merit <= found.merit_most + 1e-9);
        assert_true(found.merit >= most - 0.02 * weights[row]);
    }
}

static void shares_follow_the_weight(void **state)
{
    static const char *const names[] = {"AxC"};
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    add_selection(fixture, "E", NULL, NULL);
    found = weighted(fixture, 0.5, "A B C D E");
    assert_names(&found, 1, names); /* A x B are sibs */
    assert_string_equal(parent_of(&found, "E")->why, "its breeding value is not known");
    assert_string_equal(parent_of(&found, "D")->why,
                        "its breeding value is too low for the weight on kinship");
    assert_true(isnan(parent_of(&found, "E")->best_share));
    assert_near(parent_of(&found, "C")->best_share, 0.5, 1e-6);
    found = weighted(fixture, 10, "A B C D E");
    assert_true(parent_of(&found, "A")->share > parent_of(&found, "D")->share);
    found = weighted(fixture, 10, "A E");
    assert_non_null(strstr(found.fault, "fewer than two"));
}

static void where_nothing_is_allowed_nothing_is_proposed(void **state)
{
    struct fixture *fixture = *state;
    struct proposal found;

    add_kin(fixture);
    found = weighted(fixture, 10, "A B");
    assert_null(found.fault);
    assert_int_equal(found.crosses.count, 0);
    assert_int_equal(found.left_out.count, 1);
    assert_int_equal(found.proposed.parents, 0);
    assert_true(isnan(found.proposed.status_number) && isnan(found.merit));
    assert_true(isnan(found.coancestry));
    assert_string_equal(parent_of(&found, "A")->why, "all its crosses are left out");
}

/* Four unrelated parents, the weight so great that the cross of the two best is worth little more
 * than any other: what is below a tenth of the average goes, and the sum of seeds stays. */
static void seed_adds_up_and_small_shares_go(void **state)
{
    struct fixture *fixture = *state;
    struct proposal found;
    int seeds = 0;

    add_valued(fixture, "A", 12);
    add_valued(fixture, "B", 11);
    add_valued(fixture, "C", 10);
    add_valued(fixture, "D", 6);
    found = weighted(fixture, 16, "A B C D");
    for (size_t i = 0; i < found.crosses.count; i++) {
        seeds += found.crosses.list[i].seeds;
        assert_true(found.crosses.list[i].seeds * 10 >= 100);
    }
    assert_int_equal(seeds, 100 * (int)found.crosses.count);
    assert_true(found.left_out.count > 0);
    assert_int_equal(found.left_out.list[0].reason, PROPOSE_SMALL);
    assert_int_equal(found.left_out.count + found.crosses.count, 6);
}

static void a_weight_is_found_for_a_status_number(void **state)
{
    struct fixture *fixture = *state;
    struct propose_request request = request_of(PROPOSE_HALF_DIALLEL, 0);
    struct proposal found;

    add_kin(fixture);
    request.status_number = 2.5;
    found = proposed(fixture, request, "A B C D", NULL);
    assert_null(found.fault);
    assert_near(found.best.status_number, 2.5, 1e-6);
    request.coancestry_weight = found.weight;
    request.status_number = NAN;
    found = proposed(fixture, request, "A B C D", NULL);
    assert_near(found.best.status_number, 2.5, 1e-6);
    request.status_number = 3.5;
    found = proposed(fixture, request, "A B C D", NULL);
    assert_non_null(strstr(found.fault, "a status number of 3.5 was asked for"));
    request.status_number = 1;
    found = proposed(fixture, request, "P1 P2", NULL);
    assert_non_null(strstr(found.fault, "fewer than two"));
    found = proposed(fixture, request, "A B", NULL);
    assert_non_null(strstr(found.fault, "reach 0 at most"));
    for (size_t i = 0; i < fixture->orchard.selections.count; i++)
        fixture->orchard.selections.list[i].breeding_value = 7;
    request.status_number = 2;
    found = proposed(fixture, request, "P1 P2", NULL);
    assert_null(found.fault);
    assert_near(found.best.status_number, 2, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(near_kin_is_left_out_and_less_near_kin_warned_of),
        FIXTURE_TEST(groups_are_told_with_their_kinship),
        FIXTURE_TEST(names_of_one_clone_are_one_candidate),
        FIXTURE_TEST(a_factorial_has_no_selfs_and_no_pair_twice),
        FIXTURE_TEST(what_the_folder_asks_for_is_not_proposed_again),
        FIXTURE_TEST(clones_of_two_species_are_not_mated),
        FIXTURE_TEST(pairs_are_the_least_akin),
        FIXTURE_TEST(an_odd_parent_finds_no_mate),
        FIXTURE_TEST(a_ring_needs_three),
        FIXTURE_TEST(a_limit_of_crosses_leaves_no_parent_short),
        FIXTURE_TEST(groups_are_as_even_as_can_be),
        FIXTURE_TEST(no_name_is_like_another),
        FIXTURE_TEST(too_many_candidates_are_refused),
        FIXTURE_TEST(no_other_shares_have_more_merit),
        FIXTURE_TEST(shares_follow_the_weight),
        FIXTURE_TEST(where_nothing_is_allowed_nothing_is_proposed),
        FIXTURE_TEST(seed_adds_up_and_small_shares_go),
        FIXTURE_TEST(a_weight_is_found_for_a_status_number),
    };
    return cmocka_run_group_tests_name("propose", tests, NULL, NULL) != 0;
}
