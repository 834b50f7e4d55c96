#include "base/check_character.h"

#include "base/test.h"

static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

static void published_values_are_met(void **state)
{
    (void)state;
    /* the worked donation number of ISBT 128, which uses ISO/IEC 7064 MOD 37-2 */
    assert_int_equal(check_character("G123498654321"), 'H');
    assert_true(check_character_holds("G123498654321H"));
    assert_true(check_character_holds("G1234 98 654321 H"));
}

static void tags_worked_by_hand_have_their_character(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        char check;
    } rows[] = {
        {"0012", 'U'}, {"12", 'U'},    {"IS0142", 'Y'},    {"P07R12", 'Q'}, {"LP2027A", 'P'},
        {"BX17", 'O'}, {"bx-17", 'O'}, {" B X\t17 ", 'O'}, {"I", '2'}, /* 18 * 2 is 36, and 36 + 2
                                                                          is 1 over 37 */
        {"0", '1'},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(check_character(rows[i].text), rows[i].check);
}

static void other_characters_have_no_check(void **state)
{
    (void)state;
    static const char *const refused[] = {"", " ", "--", "A_1", "A.1", "A*", "Ä1", "A\n1", "A/1"};
    for (size_t i = 0; i < COUNT(refused); i++)
        assert_int_equal(check_character(refused[i]), 0);
    static const char *const not_holding[] = {"",     " ", "-",   "1", "U",
                                              "A_1X", "*", "12-", "Ä", "**"};
    for (size_t i = 0; i < COUNT(not_holding); i++)
        assert_false(check_character_holds(not_holding[i]));
}

static void case_hyphens_and_blanks_do_not_count(void **state)
{
    (void)state;
    assert_true(check_character_holds("BX17O"));
    assert_true(check_character_holds("bx17o"));
    assert_true(check_character_holds("BX-17-O"));
    assert_true(check_character_holds(" bx 17 o "));
    assert_false(check_character_holds("BX170")); /* zero for the letter O */
}

/* What a hand or an eye gets wrong, tried on tags of every kind. */
static void one_wrong_character_or_a_swap_of_neighbours_is_caught(void **state)
{
    (void)state;
    unsigned random = 1;
    int starred = 0;
    for (int n = 0; n < 3000; n++) {
        char tag[9] = "";
        for (size_t i = 0; i < 7; i++) {
            random = random * 1664525u + 1013904223u;
            tag[i] = alphabet[(random >> 16) % 36];
        }
        tag[7] = check_character(tag);
        starred += tag[7] == '*';
        assert_true(check_character_holds(tag));
        for (size_t i = 0; i < 8; i++) {
            char right = tag[i];
            for (size_t other = 0; other < (i < 7 ? 36 : 37); other++) {
                tag[i] = alphabet[other];
                assert_int_equal(check_character_holds(tag), alphabet[other] == right);
            }
            tag[i] = right;
        }
        for (size_t i = 0; i + 1 < 8; i++) {
            char left = tag[i], right = tag[i + 1];
            if (left == right)
                continue;
            tag[i] = right;
            tag[i + 1] = left;
            assert_false(check_character_holds(tag));
            tag[i] = left;
            tag[i + 1] = right;
        }
    }
    assert_in_range(starred, 40, 130); /* one in 37 */
}

static void all_characters_come_up_as_checks(void **state)
{
    (void)state;
    int seen[128] = {0};
    for (int n = 0; n < 36 * 36; n++) {
        char text[3] = {alphabet[n / 36], alphabet[n % 36], '\0'};
        int check = check_character(text);
        assert_in_range(check, 1, 127);
        seen[check]++;
    }
    for (size_t i = 0; i < 37; i++)
        assert_true(seen[(int)alphabet[i]] > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_values_are_met),
        cmocka_unit_test(tags_worked_by_hand_have_their_character),
        cmocka_unit_test(other_characters_have_no_check),
        cmocka_unit_test(case_hyphens_and_blanks_do_not_count),
        cmocka_unit_test(one_wrong_character_or_a_swap_of_neighbours_is_caught),
        cmocka_unit_test(all_characters_come_up_as_checks),
    };
    return cmocka_run_group_tests_name("check_character", tests, NULL, NULL) != 0;
}
