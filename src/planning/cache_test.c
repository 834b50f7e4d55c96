#include "planning/cache.h"

#include "base/test.h"

static void a_new_key_has_no_value(void **state)
{
    struct arena arena;
    struct cache cache;
    struct cache_key key = {{1, 2, 3, 4, 5, 6}};

    (void)state;
    arena_init(&arena, NULL);
    cache_init(&cache, &arena);
    assert_null(*cache_at(&cache, key));
    arena_release(&arena);
}

/* 20 000 keys that differ in one word each, so that slots grow many times. */
static void every_key_keeps_its_own_value(void **state)
{
    enum { KEYS = 20000 };
    static int values[KEYS];
    struct arena arena;
    struct cache cache;

    (void)state;
    arena_init(&arena, NULL);
    cache_init(&cache, &arena);
    for (size_t i = 0; i < KEYS; i++) {
        struct cache_key key = {{0}};

        key.word[i % CACHE_WORDS] = (i / CACHE_WORDS + 1) << (i % 2 * 40);
        assert_null(*cache_at(&cache, key));
        *cache_at(&cache, key) = &values[i];
    }
    assert_int_equal(cache.count, KEYS);
    for (size_t i = 0; i < KEYS; i++) {
        struct cache_key key = {{0}};

        key.word[i % CACHE_WORDS] = (i / CACHE_WORDS + 1) << (i % 2 * 40);
        assert_ptr_equal(*cache_at(&cache, key), &values[i]);
    }
    arena_release(&arena);
}

static void numbers_that_differ_in_the_last_bit_are_two_keys(void **state)
{
    (void)state;
    assert_true(cache_double(0.1) != cache_double(nextafter(0.1, 1)));
    assert_true(cache_double(300) == cache_double(300.0));
    assert_true(cache_pointer(NULL) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_new_key_has_no_value),
        cmocka_unit_test(every_key_keeps_its_own_value),
        cmocka_unit_test(numbers_that_differ_in_the_last_bit_are_two_keys),
    };
    return cmocka_run_group_tests_name("cache", tests, NULL, NULL) != 0;
}
