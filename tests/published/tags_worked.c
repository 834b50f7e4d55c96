/*
 * tags_worked - the check character of new tags and the arithmetic of wrong labels.
 *
 * Sources: check character, ISO/IEC 7064:2003 MOD 37-2 as in the worked donation number of ISBT 128
 * (annex at transfusionguidelines.org): G1234 98 654321 has H.  Wrong labels: the binomial, worked
 * outside this repository; intervals by Wilson 1927 (J. Am. Stat. Assoc. 22:209-212) of two
 * published counts: 15 of 81 trees of Acacia clones wrong on sites that were suspected already, 3
 * of 37 eucalypts that could not be told again (Vaillancourt, Skabo and Gore 1998, Aust. For.
 * 61:207-210).
 */
#include "base/check_character.h"
#include "conetide/binomial.h"
#include "orchard/fixture.h"
#include "orchard/new_tags.h"
#include "planning/identity.h"

static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

static void the_published_check_character_is_met(void **state)
{
    (void)state;
    assert_int_equal(check_character("G123498654321"), 'H');
    assert_true(check_character_holds("G123498654321H"));
}

/* Every other character of the alphabet in every place. */
static size_t try_substitutions(const char *tag, size_t length)
{
    char typed[16];
    size_t tried = 0;

    memcpy(typed, tag, length + 1);
    for (size_t at = 0; at < length; at++) {
        for (size_t other = 0; other < 37; other++) {
            typed[at] = alphabet[other];
            if (typed[at] == tag[at])
                continue;
            if (check_character_holds(typed))
                fail_msg("%s typed for %s goes unseen", typed, tag);
            tried++;
        }
        typed[at] = tag[at];
    }
    return tried;
}

static size_t try_swaps(const char *tag, size_t length)
{
    char typed[16];
    size_t tried = 0;

    for (size_t at = 0; at + 1 < length; at++) {
        if (tag[at] == tag[at + 1])
            continue;
        memcpy(typed, tag, length + 1);
        typed[at] = tag[at + 1];
        typed[at + 1] = tag[at];
        if (check_character_holds(typed))
            fail_msg("%s typed for %s goes unseen", typed, tag);
        tried++;
    }
    return tried;
}

static void no_single_error_and_no_swap_goes_unseen_on_ten_thousand_tags(void **state)
{
    struct fixture *fixture = *state;
    struct new_tags tags;
    size_t substitutions = 0, swaps = 0;
    static const char *const letters[] = {"A", "V", "ZB", "E"};

    orchard_link(&fixture->orchard, &fixture->diags);
    for (size_t series = 0; series < COUNT(letters); series++) {
        new_tags_begin(&tags, &fixture->orchard, 2027, letters[series], &fixture->arena);
        for (int i = 0; i < 2500; i++) {
            const char *tag = new_tags_next(&tags);
            size_t length = strlen(tag);

            assert_true(check_character_holds(tag));
            substitutions += try_substitutions(tag, length);
            swaps += try_swaps(tag, length);
        }
    }
    print_message("seen: %zu wrong characters and %zu swaps on 10000 tags, none went unseen\n",
                  substitutions, swaps);
    assert_true(substitutions > 2000000);
    assert_true(swaps > 40000);
}

static void shares_of_wrong_labels_as_worked(void **state)
{
    (void)state;
    assert_near(labels_all_right(.05, 2), .9025, 1e-12);
    assert_near(labels_all_right(.05, 3), .857375, 1e-12);
    assert_near(labels_all_right(.10, 2), .81, 1e-12);
    assert_near(labels_all_right(.10, 3), .729, 1e-12);
    assert_int_equal(mislabelled_tests(.05, .95), 59);
    assert_int_equal(mislabelled_tests(.10, .95), 29);
    assert_int_equal(mislabelled_tests(.05, 1), -1);
}

static void intervals_of_published_shares(void **state)
{
    static const struct {
        int64_t n, k;
        double low, high;
    } rows[] = {{81, 15, .1156, .2833}, {37, 3, .0280, .2130}};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        double low, high;
        assert_int_equal(conetide_wilson(rows[i].n, rows[i].k, 1.959964, &low, &high), CONETIDE_OK);
        assert_near(low, rows[i].low, 5e-5);
        assert_near(high, rows[i].high, 5e-5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_published_check_character_is_met),
        FIXTURE_TEST(no_single_error_and_no_swap_goes_unseen_on_ten_thousand_tags),
        cmocka_unit_test(shares_of_wrong_labels_as_worked),
        cmocka_unit_test(intervals_of_published_shares),
    };
    return cmocka_run_group_tests_name("tags_worked", tests, NULL, NULL) != 0;
}
