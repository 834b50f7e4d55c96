/*
 * status_test.c - every status says something of its own.
 */
#include "conetide/status.h"

#include "base/test.h"

static const enum conetide_status every_status[] = {
    CONETIDE_OK,
    CONETIDE_NOT_REACHED,
    CONETIDE_MISSING,
    CONETIDE_REVERSED,
    CONETIDE_BAD_THRESHOLDS,
    CONETIDE_BAD_ARGUMENT,
    CONETIDE_NOT_IDENTIFIABLE,
};

static void every_status_has_a_sentence_of_its_own(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(every_status); i++) {
        const char *text = conetide_status_text(every_status[i]);

        assert_true(strlen(text) > 0);
        assert_true(text[strlen(text) - 1] != '.');
        for (size_t j = 0; j < i; j++)
            assert_string_not_equal(text, conetide_status_text(every_status[j]));
    }
}

static void a_number_that_is_no_status_is_told_so(void **state)
{
    (void)state;
    assert_string_equal(conetide_status_text((enum conetide_status)2), "no such status");
}

static void signs_tell_what_outputs_hold(void **state)
{
    (void)state;
    assert_int_equal(CONETIDE_OK, 0);
    assert_true(CONETIDE_NOT_REACHED > 0);
    for (size_t i = 2; i < COUNT(every_status); i++)
        assert_true(every_status[i] < 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_status_has_a_sentence_of_its_own),
        cmocka_unit_test(a_number_that_is_no_status_is_told_so),
        cmocka_unit_test(signs_tell_what_outputs_hold),
    };

    return cmocka_run_group_tests_name("status", tests, NULL, NULL) != 0;
}
