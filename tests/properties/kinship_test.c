/*
 * kinship_test.c - coancestries of random pedigrees against dropping genes down them: every way in
 * which every offspring can take one of two genes of each parent is gone through, all being alike
 * likely, and genes that are copies of one founder's are counted.
 *
 * Nothing here knows of the tabular method.
 */
#include "orchard/fixture.h"
#include "orchard/pedigree.h"

enum { MEMBERS = 9, FOUNDERS_LEAST = 3, BITS_MOST = 2 * (MEMBERS - FOUNDERS_LEAST), ROUNDS = 120 };

struct family {
    size_t members;
    int parents[MEMBERS][2]; /* -1: not known */
};

static unsigned long long seed = 1; /* of all rounds, one after the other */

static unsigned pick(unsigned below)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (unsigned)(seed >> 33) % below;
}

/* The first are founders; the others have one or two parents before them, now and then one twice.
 */
static struct family random_family(void)
{
    struct family family = {.members = FOUNDERS_LEAST + 2 + pick(MEMBERS - FOUNDERS_LEAST - 1)};
    for (size_t i = 0; i < family.members; i++) {
        for (int side = 0; side < 2; side++)
            family.parents[i][side] =
                i < FOUNDERS_LEAST || pick(8) == 0 ? -1 : (int)pick((unsigned)i);
    }
    return family;
}

/* Give every member its two genes; bit by bit of `choice`, one for each known parent. */
static void drop_genes(const struct family *family, unsigned long long choice,
                       int genes[MEMBERS][2])
{
    int next = 0;
    for (size_t i = 0; i < family->members; i++) {
        for (int side = 0; side < 2; side++) {
            int parent = family->parents[i][side];
            if (parent < 0) {
                genes[i][side] = next++; /* a gene like no other */
                continue;
            }
            genes[i][side] = genes[parent][choice & 1];
            choice >>= 1;
        }
    }
}

static size_t known_parents(const struct family *family)
{
    size_t known = 0;
    for (size_t i = 0; i < family->members; i++)
        known += (size_t)(family->parents[i][0] >= 0) + (size_t)(family->parents[i][1] >= 0);
    return known;
}

static void enumerate(const struct family *family, double coancestry[MEMBERS][MEMBERS],
                      double inbreeding[MEMBERS])
{
    unsigned long long choices = 1ULL << known_parents(family);
    memset(coancestry, 0, sizeof(double[MEMBERS][MEMBERS]));
    memset(inbreeding, 0, sizeof(double[MEMBERS]));
    for (unsigned long long choice = 0; choice < choices; choice++) {
        int genes[MEMBERS][2];
        drop_genes(family, choice, genes);
        for (size_t i = 0; i < family->members; i++) {
            inbreeding[i] += genes[i][0] == genes[i][1];
            for (size_t j = 0; j < family->members; j++)
                for (int pair = 0; pair < 4; pair++)
                    coancestry[i][j] += genes[i][pair & 1] == genes[j][pair >> 1];
        }
    }
    for (size_t i = 0; i < family->members; i++) {
        inbreeding[i] /= (double)choices;
        for (size_t j = 0; j < family->members; j++)
            coancestry[i][j] /= 4 * (double)choices;
    }
}

static void coancestry_is_the_share_of_genes_in_common(void **state)
{
    static const char *const names[MEMBERS] = {"I", "H", "G", "F", "E", "D", "C", "B", "A"};
    size_t inbred = 0;
    (void)state;
    for (int round = 0; round < ROUNDS; round++) {
        struct family family = random_family();
        double coancestry[MEMBERS][MEMBERS], inbreeding[MEMBERS];
        void *pointer;
        fixture_setup(&pointer);
        struct fixture *fixture = pointer;
        for (size_t i = 0; i < family.members; i++) {
            const int *parents = family.parents[i];
            add_selection(fixture, names[i], parents[0] < 0 ? NULL : names[parents[0]],
                          parents[1] < 0 ? NULL : names[parents[1]]);
        }
        assert_true(known_parents(&family) <= BITS_MOST);
        enumerate(&family, coancestry, inbreeding);
        orchard_link(&fixture->orchard, &fixture->diags);
        const struct pedigree *pedigree =
            pedigree_of(&fixture->orchard, &fixture->arena, &fixture->diags);
        double group = 0;
        struct contribution all[MEMBERS];
        for (size_t i = 0; i < family.members; i++) {
            const struct selection *a = orchard_selection(&fixture->orchard, names[i]);
            all[i] = (struct contribution){a, 2};
            inbred += inbreeding[i] > 0;
            assert_near(pedigree_inbreeding(pedigree, a), inbreeding[i], 0);
            for (size_t j = 0; j < family.members; j++) {
                const struct selection *b = orchard_selection(&fixture->orchard, names[j]);
                assert_near(pedigree_coancestry(pedigree, a, b), coancestry[i][j], 0);
                group += coancestry[i][j];
            }
        }
        group /= (double)(family.members * family.members);
        assert_near(pedigree_group_coancestry(pedigree, family.members, all), group, 1e-12);
        fixture_teardown(&pointer);
    }
    print_message("%zu inbred members in %d families\n", inbred, (int)ROUNDS);
    assert_true(inbred >= ROUNDS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coancestry_is_the_share_of_genes_in_common),
    };
    return cmocka_run_group_tests_name("kinship", tests, NULL, NULL) != 0;
}
