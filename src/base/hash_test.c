#include "base/hash.h"

#include "base/test.h"

/* Published test vectors of the 64-bit FNV-1a (from memory). */
static void known_texts_have_their_published_hash(void **state)
{
    (void)state;
    assert_true(hash_bytes(HASH_START, 0, "") == UINT64_C(0xcbf29ce484222325));
    assert_true(hash_bytes(HASH_START, 1, "a") == UINT64_C(0xaf63dc4c8601ec8c));
    assert_true(hash_bytes(HASH_START, 6, "foobar") == UINT64_C(0x85944171f73967e8));
}

static void where_a_text_ends_counts(void **state)
{
    (void)state;
    uint64_t apart = hash_text(hash_text(HASH_START, "a"), "b");
    assert_true(apart != hash_text(hash_text(HASH_START, "ab"), ""));
    assert_true(hash_text(HASH_START, NULL) != hash_text(HASH_START, ""));
    assert_true(apart == hash_text(hash_text(HASH_START, "a"), "b"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_texts_have_their_published_hash),
        cmocka_unit_test(where_a_text_ends_counts),
    };
    return cmocka_run_group_tests_name("base: hash", tests, NULL, NULL) != 0;
}
