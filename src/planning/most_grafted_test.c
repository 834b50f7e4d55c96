#include "planning/most_grafted.h"

#include "orchard/fixture.h"

static void add_nouns(struct fixture *fixture)
{
    add_site(fixture, "Nord");
    add_site(fixture, "Syd");
    add_tree(fixture, "T1", "Nord")->species = "slash";
    add_tree(fixture, "T2", "Syd")->species = "slash";
    add_selection(fixture, "S1", NULL, NULL)->species = "shortleaf";
    add_selection(fixture, "S2", NULL, NULL)->species = "longleaf";
    add_selection(fixture, "S3", NULL, NULL)->species = NULL;
}

static const char *most_at(struct fixture *fixture, const char *site)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    return most_grafted_species(&fixture->orchard, orchard_site(&fixture->orchard, site),
                                &fixture->arena);
}

static void the_species_of_most_grafts_of_the_site_counts(void **state)
{
    struct fixture *fixture = *state;

    add_nouns(fixture);
    add_graft(fixture, "A1", "S2", "T1");
    add_graft(fixture, "A2", "S1", "T1");
    add_graft(fixture, "A3", "S1", "T1");
    add_graft(fixture, "A4", "S2", "T2");
    add_graft(fixture, "A5", "S2", "T2");
    assert_string_equal(most_at(fixture, "Nord"), "shortleaf");
    assert_string_equal(most_at(fixture, "Syd"), "longleaf");
}

static void of_equals_the_first_by_name_counts(void **state)
{
    struct fixture *fixture = *state;

    add_nouns(fixture);
    add_graft(fixture, "A1", "S1", "T1");
    add_graft(fixture, "A2", "S2", "T1");
    assert_string_equal(most_at(fixture, "Nord"), "longleaf");
}

static void grafts_of_unknown_species_do_not_count(void **state)
{
    struct fixture *fixture = *state;

    add_nouns(fixture);
    add_graft(fixture, "A1", "S3", "T1");
    add_graft(fixture, "A2", "S3", "T1");
    assert_null(most_at(fixture, "Nord"));
    assert_null(most_at(fixture, "Syd"));
    add_graft(fixture, "A3", "S1", "T1");
    assert_string_equal(most_at(fixture, "Nord"), "shortleaf");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_species_of_most_grafts_of_the_site_counts),
        FIXTURE_TEST(of_equals_the_first_by_name_counts),
        FIXTURE_TEST(grafts_of_unknown_species_do_not_count),
    };
    return cmocka_run_group_tests_name("most grafted", tests, NULL, NULL) != 0;
}
