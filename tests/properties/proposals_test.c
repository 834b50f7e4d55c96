/*
 * proposals_test.c - what holds of every proposal, over random pedigrees, orders already placed and
 * requests; and the arrangement of pairs against all there are.
 *
 * A case is its number.  How often what is worth testing occurred is printed, and too seldom fails.
 */
#include "orchard/fixture.h"
#include "planning/propose.h"
#include "writing/propose_page.h"

enum { CASES = 500, CLONES_MOST = 14, ROWS_MOST = CLONES_MOST + 3 };
static const double LEAST_SHARE = 0.05;

static uint64_t dice;

static int below(int limit)
{
    dice = dice * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((dice >> 33) % (uint64_t)limit);
}

enum seen {
    SEEN_KIN,
    SEEN_ASKED,
    SEEN_SELF,
    SEEN_WARNED,
    SEEN_WEIGHTED,
    SEEN_SMALL,
    SEEN_LIMITED,
    SEEN_PROVED,
    SEEN_REFUSED,
    SEEN_KINDS
};
static const char *const seen_words[SEEN_KINDS] = {
    "kin left out",     "asked for already",
    "selfs left out",   "warned of",
    "seed shared out",  "small shares left out",
    "crosses a parent", "arrangement proved the least akin",
    "requests not met",
};
static int seen[SEEN_KINDS];

static const char *name_of(struct fixture *fixture, int number)
{
    return arena_printf(&fixture->arena, "K%02d", number);
}

/* The rows of case `number`: clones, names that stand for others, crosses. */
static int add_folder(struct fixture *fixture, int number)
{
    int clones, rows;

    dice = (uint64_t)number * 7919 + 1;
    clones = 4 + below(CLONES_MOST - 3);
    rows = clones + below(4);
    for (int i = 0; i < rows; i++) {
        struct selection *row = add_selection(fixture, name_of(fixture, i), NULL, NULL);

        if (i >= clones) {
            row->same_as_name = name_of(fixture, below(clones));
            continue;
        }
        if (i > 2 && below(3) > 0)
            row->seed_parent_name = name_of(fixture, below(i));
        if (i > 2 && below(3) > 0)
            row->pollen_parent_name = name_of(fixture, below(i));
        if (below(12) > 0)
            row->breeding_value = below(40) / 2. - 3;
    }
    for (int i = below(5); i > 0; i--) {
        struct cross *row = add_cross(fixture, arena_printf(&fixture->arena, "old %d", i),
                                      name_of(fixture, below(rows)), name_of(fixture, below(rows)));
        row->state = (enum cross_state)below(3);
    }
    return rows;
}

static void turn_rows(struct fixture *fixture)
{
    struct orchard *orchard = &fixture->orchard;

    for (size_t i = 0; i < orchard->selections.count / 2; i++) {
        struct selection was = orchard->selections.list[i];
        size_t other = orchard->selections.count - 1 - i;

        orchard->selections.list[i] = orchard->selections.list[other];
        orchard->selections.list[other] = was;
    }
    for (size_t i = 0; i < orchard->crosses.count / 2; i++) {
        struct cross was = orchard->crosses.list[i];
        size_t other = orchard->crosses.count - 1 - i;

        orchard->crosses.list[i] = orchard->crosses.list[other];
        orchard->crosses.list[other] = was;
    }
}

/* Of all rows, in their order or turned round; a factorial of the first half by the rest and one.
 */
static struct propose_request make_request(struct fixture *fixture, int number, int rows,
                                           bool turned)
{
    struct propose_request request = {
        .parents = ARENA_ARRAY(&fixture->arena, ROWS_MOST, const struct selection *),
        .testers = ARENA_ARRAY(&fixture->arena, ROWS_MOST, const struct selection *),
        .seeds = 50 + number % 7,
        .coancestry_weight = NAN,
        .status_number = NAN,
    };

    dice = (uint64_t)number * 104729 + 5;
    request.design = (enum propose_design)below(PROPOSE_DESIGNS);
    request.crosses_per_parent =
        request.design == PROPOSE_SINGLE_PAIR || request.design == PROPOSE_CIRCULAR ? 0 : below(5);
    if (below(2))
        *(below(2) ? &request.coancestry_weight : &request.status_number) = 1.2 + below(30) / 10.;
    for (int i = 0; i < rows; i++) {
        int at = turned ? rows - 1 - i : i;
        const struct selection *row = orchard_selection(&fixture->orchard, name_of(fixture, at));

        if (request.design != PROPOSE_FACTORIAL || at <= rows / 2)
            request.parents[request.parent_count++] = row;
        if (request.design == PROPOSE_FACTORIAL && at >= rows / 2)
            request.testers[request.tester_count++] = row;
    }
    return request;
}

static struct proposal propose_case(struct fixture *fixture, int number, bool turned)
{
    int rows = add_folder(fixture, number);
    struct propose_request request;

    if (turned)
        turn_rows(fixture);
    orchard_link(&fixture->orchard, &fixture->diags);
    request = make_request(fixture, number, rows, turned);
    return propose(&request, &fixture->orchard,
                   pedigree_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
}

static bool mates(const struct selection *a, const struct selection *b, const struct selection *c,
                  const struct selection *d)
{
    return (selection_same(a, c) && selection_same(b, d)) ||
           (selection_same(a, d) && selection_same(b, c));
}

static void check_cross(const struct fixture *fixture, const struct proposal *found, size_t at,
                        const struct pedigree *pedigree)
{
    const struct proposed_cross *cross = &found->crosses.list[at];
    double theta = pedigree_coancestry(pedigree, cross->seed_parent, cross->pollen_parent);

    assert_false(selection_same(cross->seed_parent, cross->pollen_parent));
    assert_near(cross->coancestry, theta, 1e-12);
    assert_true(theta <= fixture->orchard.program.coancestry_refuse + 1e-9);
    assert_true(cross->warned == (theta > fixture->orchard.program.coancestry_warn + 1e-9));
    assert_true(cross->seeds > 0);
    seen[SEEN_WARNED] += cross->warned;
    for (size_t i = 0; i < at; i++) {
        const struct proposed_cross *other = &found->crosses.list[i];

        assert_false(mates(cross->seed_parent, cross->pollen_parent, other->seed_parent,
                           other->pollen_parent));
        assert_string_not_equal(cross->name, other->name);
    }
    for (size_t i = 0; i < fixture->orchard.crosses.count; i++) {
        const struct cross *old = &fixture->orchard.crosses.list[i];

        assert_false(
            mates(cross->seed_parent, cross->pollen_parent, old->seed_parent, old->pollen_parent));
        assert_string_not_equal(cross->name, old->name);
    }
}

/* How many crosses each parent may have and, where nothing is left out, has. */
static void check_parents(const struct proposal *found)
{
    const struct propose_request *request = &found->request;
    size_t most = (size_t)request->crosses_per_parent;
    double shares = 0;

    if (request->design == PROPOSE_SINGLE_PAIR)
        most = 1;
    else if (request->design == PROPOSE_CIRCULAR)
        most = 2;
    else if (most == 0 && request->design >= PROPOSE_PARTIAL_DIALLEL)
        most = 3;
    for (size_t i = 0; i < found->parents.count; i++) {
        const struct proposed_parent *parent = &found->parents.list[i];

        assert_true(most == 0 || parent->crosses <= most);
        if (request->design == PROPOSE_PARTIAL_DIALLEL && found->left_out.count == 0 &&
            !parent->why)
            assert_true(parent->crosses == most ||
                        (request->crosses_per_parent == 0 && parent->crosses == 2));
        assert_true((parent->crosses == 0) == (parent->why != NULL));
        shares += parent->share;
    }
    assert_near(shares, found->crosses.count ? 1 : 0, 1e-9);
    seen[SEEN_LIMITED] += found->pairs_not_chosen > 0;
}

static void check_group(const struct fixture *fixture, const struct proposal *found,
                        const struct pedigree *pedigree)
{
    struct contribution given[2 * CLONES_MOST * CLONES_MOST] = {{NULL, 0}};
    double theta, seeds = 0;
    size_t count = 0;

    for (size_t i = 0; i < found->crosses.count; i++) {
        const struct proposed_cross *cross = &found->crosses.list[i];

        given[count++] = (struct contribution){cross->seed_parent, cross->seeds};
        given[count++] = (struct contribution){cross->pollen_parent, cross->seeds};
        seeds += cross->seeds;
    }
    theta = pedigree_group_coancestry(pedigree, count, given);
    (void)fixture;
    assert_near(seeds, (double)found->crosses.count * found->request.seeds, 0);
    if (count == 0)
        return;
    assert_near(found->proposed.group_coancestry, theta, 1e-9);
    assert_near(found->proposed.status_number, 1 / (2 * theta), 1e-6);
    if (isnan(found->weight))
        return;
    seen[SEEN_WEIGHTED]++;
    assert_true(found->merit <= found->merit_most + 1e-6);
}

static void check_choice(const struct proposal *found)
{
    assert_true(found->crosses.count <= found->crosses_most);
    for (size_t i = 0; i < found->left_out.count; i++) {
        enum propose_reason reason = found->left_out.list[i].reason;

        assert_non_null(found->left_out.list[i].words);
        seen[SEEN_KIN] += reason == PROPOSE_KIN;
        seen[SEEN_ASKED] += reason == PROPOSE_ASKED;
        seen[SEEN_SELF] += reason == PROPOSE_SELF;
        seen[SEEN_SMALL] += reason == PROPOSE_SMALL;
    }
    if (isnan(found->coancestry_best) || isnan(found->coancestry) || found->left_out.count)
        return;
    assert_true(found->coancestry >= found->coancestry_best - 1e-9);
    seen[SEEN_PROVED] += found->coancestry < found->coancestry_best + 1e-9;
}

/* Every form of what is printed. */
static void print(struct fixture *fixture, const struct proposal *found, struct text *out)
{
    const struct page_run run = {
        .orchard = &fixture->orchard, .as_of = fixture_day("2027-03-02"), .arena = &fixture->arena};
    const struct sheet_style style = {.columns = 100, .digits = -1};
    struct sheet rows;

    if (found->fault) {
        text_add(out, found->fault);
        return;
    }
    rows = propose_rows_sheet(found, &run);
    sheet_write_csv(&rows, style, out);
    for (int table = 0; table < PROPOSE_TABLES; table++) {
        struct sheet sheet = propose_sheet(found, (enum propose_table)table, &run);

        sheet_write_text(&sheet, style, out);
        sheet_write_json(&sheet, style, out);
    }
}

static const char *run_case(struct fixture *fixture, int number, bool turned)
{
    struct proposal found = propose_case(fixture, number, turned);
    struct text out;

    text_init(&out, &fixture->arena);
    print(fixture, &found, &out);
    if (found.fault) {
        seen[SEEN_REFUSED]++;
        return out.bytes;
    }
    const struct pedigree *pedigree = pedigree_of(&fixture->orchard, &fixture->arena, NULL);
    for (size_t i = 0; i < found.crosses.count; i++)
        check_cross(fixture, &found, i, pedigree);
    check_parents(&found);
    check_group(fixture, &found, pedigree);
    check_choice(&found);
    return out.bytes;
}

static void limits_hold_and_the_order_of_rows_never_shows(void **state)
{
    (void)state;
    for (int number = 0; number < CASES; number++) {
        struct fixture one = {.line = 1}, two = {.line = 1};

        for (int turned = 0; turned < 2; turned++) {
            struct fixture *fixture = turned ? &two : &one;

            arena_init(&fixture->arena, NULL);
            orchard_init(&fixture->orchard, &fixture->arena);
            diags_init(&fixture->diags, &fixture->arena);
        }
        assert_string_equal(run_case(&one, number, false), run_case(&two, number, true));
        arena_release(&one.arena);
        arena_release(&two.arena);
    }
    for (int kind = 0; kind < SEEN_KINDS; kind++) {
        printf("%s: %d times in %d proposals\n", seen_words[kind], seen[kind], 2 * CASES);
        assert_true(seen[kind] >= LEAST_SHARE * 2 * CASES);
    }
}

/* The least sum of coancestry, and the fewest left out before it, of any pairing of six. */
static double least_of_all(const struct proposal *found, const struct pedigree *pedigree,
                           unsigned left)
{
    size_t first = 0;
    double least = INFINITY;

    if (left == 0)
        return 0;
    while (!(left & 1U << first))
        first++;
    for (size_t other = first + 1; other < 6; other++) {
        double theta;

        if (!(left & 1U << other))
            continue;
        theta = pedigree_coancestry(pedigree, found->parents.list[first].selection,
                                    found->parents.list[other].selection);
        if (theta > 0.125 + 1e-9)
            theta = 1000;
        least = fmin(least,
                     theta + least_of_all(found, pedigree, left & ~(1U << first) & ~(1U << other)));
    }
    return least;
}

static void pairs_against_all_pairings(void **state)
{
    int alike = 0, cases = 0;

    (void)state;
    for (int number = 0; number < CASES; number++) {
        struct fixture fixture = {.line = 1};
        struct propose_request request = {.design = PROPOSE_SINGLE_PAIR,
                                          .seeds = 10,
                                          .coancestry_weight = NAN,
                                          .status_number = NAN};
        const struct pedigree *pedigree;
        const struct selection *list[6];
        struct proposal found;
        double most;

        arena_init(&fixture.arena, NULL);
        orchard_init(&fixture.orchard, &fixture.arena);
        diags_init(&fixture.diags, &fixture.arena);
        dice = (uint64_t)number * 31 + 3;
        for (int i = 0; i < 10; i++) {
            struct selection *row = add_selection(&fixture, name_of(&fixture, i), NULL, NULL);

            if (i >= 4) {
                row->seed_parent_name = name_of(&fixture, below(i < 6 ? 4 : i));
                row->pollen_parent_name = name_of(&fixture, below(4));
            }
            row->breeding_value = below(20);
        }
        orchard_link(&fixture.orchard, &fixture.diags);
        for (int i = 0; i < 6; i++)
            list[i] = orchard_selection(&fixture.orchard, name_of(&fixture, i + 4));
        request.parents = list;
        request.parent_count = 6;
        pedigree = pedigree_of(&fixture.orchard, &fixture.arena, NULL);
        found = propose(&request, &fixture.orchard, pedigree, &fixture.arena);
        most = (double)found.left_out.count * 1000;
        for (size_t i = 0; i < found.crosses.count; i++)
            most += found.crosses.list[i].coancestry;
        assert_true(most >= least_of_all(&found, pedigree, 0x3f) - 1e-9);
        alike += most < least_of_all(&found, pedigree, 0x3f) + 1e-9;
        cases++;
        arena_release(&fixture.arena);
    }
    printf("pairs are the least akin of all: %d of %d\n", alike, cases);
    assert_true(alike >= 0.97 * cases);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_hold_and_the_order_of_rows_never_shows),
        cmocka_unit_test(pairs_against_all_pairings),
    };
    return cmocka_run_group_tests_name("proposals", tests, NULL, NULL) != 0;
}
