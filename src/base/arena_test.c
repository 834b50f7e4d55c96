#include "base/arena.h"

#include "base/test.h"

#include <stdalign.h>

#if defined(__SANITIZE_ADDRESS__)
static const bool under_address_sanitizer = true;
#elif defined(__has_feature)
static const bool under_address_sanitizer = __has_feature(address_sanitizer);
#else
static const bool under_address_sanitizer = false;
#endif

static jmp_buf out_of_memory;
static size_t refused_bytes;

static void refused(size_t bytes)
{
    refused_bytes = bytes;
    longjmp(out_of_memory, 1);
}

static int setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, refused);
    *state = &arena;
    return 0;
}

static int teardown(void **state)
{
    arena_release(*state);
    return 0;
}

static void memory_is_zeroed_aligned_and_apart(void **state)
{
    unsigned char *last = NULL;
    for (size_t size = 0; size < 3000; size++) {
        unsigned char *bytes = arena_alloc(*state, 1, size);
        assert_non_null(bytes);
        assert_int_equal((uintptr_t)bytes % alignof(max_align_t), 0);
        assert_ptr_not_equal(bytes, last);
        for (size_t i = 0; i < size; i++)
            assert_int_equal(bytes[i], 0);
        memset(bytes, 0xa5, size); /* the next one must not see it */
        last = bytes;
    }
}

static void large_pieces_leave_the_room_of_the_newest_block(void **state)
{
    char *before = arena_alloc(*state, 1, 16);
    char *large = arena_alloc(*state, 1, 1000000);
    char *after = arena_alloc(*state, 1, 16);
    memset(large, 1, 1000000);
    if (!under_address_sanitizer) /* there every piece is a block */
        assert_ptr_equal(after, before + 16);
    assert_int_equal(before[0], 0);
    assert_int_equal(after[0], 0);
}

static void a_large_piece_may_come_first(void **state)
{
    char *large = arena_alloc(*state, 1000, 1000);
    large[999999] = 'x';
    char *small = arena_alloc(*state, 1, 1);
    assert_int_equal(*small, 0);
    assert_int_equal(large[999999], 'x');
}

static void used_bytes_are_counted_and_released(void **state)
{
    struct arena *arena = *state;
    assert_int_equal(arena->used_bytes, 0);
    arena_alloc(arena, 3, 100);
    assert_true(arena->used_bytes >= 300 && arena->used_bytes < 300 + 2 * alignof(max_align_t));
    arena_release(arena);
    assert_int_equal(arena->used_bytes, 0);
    assert_null(arena->newest);
    assert_non_null(arena_alloc(arena, 1, 1));
}

static void overflowing_products_are_refused(void **state)
{
    static const struct {
        size_t count, size;
    } rows[] = {
        {SIZE_MAX, 1},
        {1, SIZE_MAX},
        {SIZE_MAX / 2 + 2, 2},
        {SIZE_MAX / 16 + 1, 16},
        {PTRDIFF_MAX, 2},
        {PTRDIFF_MAX, 1},
        {(size_t)1 << 33, 1000000000000},
        {SIZE_MAX, SIZE_MAX},
    };
    for (volatile size_t i = 0; i < COUNT(rows); i++) {
        if (setjmp(out_of_memory) == 0) {
            arena_alloc(*state, rows[i].count, rows[i].size);
            fail_msg("row %zu was given", i);
        }
        assert_true(refused_bytes > 0);
    }
    assert_non_null(arena_alloc(*state, 4, 4)); /* still sound */
}

static void the_hook_is_told_what_the_system_refused(void **state)
{
    const size_t petabyte = (size_t)1 << 50;
    if (under_address_sanitizer)
        skip(); /* it ends the program itself */
    if (setjmp(out_of_memory) == 0) {
        arena_alloc(*state, petabyte, 1);
        fail_msg("a petabyte was given");
    }
    assert_int_equal(refused_bytes, petabyte);
    assert_non_null(arena_alloc(*state, 4, 4));
}

static void texts_are_copied_with_their_nul(void **state)
{
    char source[] = "Tannhain";
    char *copy = arena_text(*state, 5, source);
    source[0] = 'X';
    assert_string_equal(copy, "Tannh");
    assert_string_equal(arena_text(*state, 0, NULL), "");
}

static void printing_gives_the_whole_text(void **state)
{
    assert_string_equal(arena_printf(*state, "%s-%04d", "A", 17), "A-0017");
    assert_string_equal(arena_printf(*state, "%s", ""), "");
    char *wide = arena_printf(*state, "%70000d", 5);
    assert_int_equal(strlen(wide), 70000);
    assert_int_equal(wide[69999], '5');
}

static void pushed_elements_keep_their_order_and_value(void **state)
{
    struct pair {
        int left;
        double right;
    } *list = NULL;
    size_t count = 0, capacity = 0;
    for (int i = 0; i < 10000; i++) {
        struct pair *pair = ARENA_PUSH(*state, list, count, capacity);
        assert_int_equal(pair->left, 0);
        *pair = (struct pair){i, i / 2.0};
    }
    assert_int_equal(count, 10000);
    assert_true(capacity >= count && capacity < 2 * count);
    for (int i = 0; i < 10000; i++) {
        assert_int_equal(list[i].left, i);
        assert_near(list[i].right, i / 2.0, 0);
    }
}

static void growing_reaches_a_count_far_beyond_the_capacity(void **state)
{
    size_t capacity = 0;
    int *list = arena_grow(*state, NULL, 0, &capacity, sizeof *list);
    list[0] = 7;
    list = arena_grow(*state, list, 100, &capacity, sizeof *list);
    assert_true(capacity > 100);
    assert_int_equal(list[0], 7);
    for (size_t i = 1; i < capacity; i++)
        assert_int_equal(list[i], 0);
    assert_ptr_equal(arena_grow(*state, list, 100, &capacity, sizeof *list), list);
}

static void growing_past_all_memory_is_refused(void **state)
{
    size_t capacity = SIZE_MAX / 2 + 1;
    int one = 1;
    if (setjmp(out_of_memory) == 0) {
        arena_grow(*state, &one, capacity, &capacity, 1);
        fail_msg("a list of more than all memory was given");
    }
    assert_int_equal(refused_bytes, SIZE_MAX);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(memory_is_zeroed_aligned_and_apart),
        TEST(large_pieces_leave_the_room_of_the_newest_block),
        TEST(a_large_piece_may_come_first),
        TEST(used_bytes_are_counted_and_released),
        TEST(overflowing_products_are_refused),
        TEST(the_hook_is_told_what_the_system_refused),
        TEST(texts_are_copied_with_their_nul),
        TEST(printing_gives_the_whole_text),
        TEST(pushed_elements_keep_their_order_and_value),
        TEST(growing_reaches_a_count_far_beyond_the_capacity),
        TEST(growing_past_all_memory_is_refused),
    };
    return cmocka_run_group_tests_name("arena", tests, NULL, NULL) != 0;
}
