#include "base/glyph.h"

#include "base/test.h"

static void glyphs_are_taken_one_by_one(void **state)
{
    (void)state;
    static const struct {
        const char *shown;
        size_t size, columns;
    } expected[] = {
        {"K", 1, 1},          {"ä", 2, 1},     {"松", 3, 2},        {"\xf0\x9f\x8c\xb2", 4, 2},
        {"\xcc\x88", 2, 0},   {"\\x1b", 1, 4}, {"\\u{0085}", 2, 8}, {"\\u{202E}", 3, 8},
        {"\\u{E0041}", 4, 9}, {"\\xe2", 1, 4}, {"\\x82", 1, 4},     {"\\xff", 1, 4},
    };
    const char *text =
        "Kä松\xf0\x9f\x8c\xb2\xcc\x88\x1b\xc2\x85\xe2\x80\xae\xf3\xa0\x81\x81\xe2\x82\xff";
    for (size_t i = 0; i < COUNT(expected); i++) {
        struct glyph glyph = glyph_next(text);
        assert_int_equal(glyph.size, expected[i].size);
        assert_int_equal(glyph.columns, expected[i].columns);
        assert_int_equal(glyph.shown_size, strlen(expected[i].shown));
        assert_memory_equal(glyph.shown, expected[i].shown, glyph.shown_size);
        text += glyph.size;
    }
    assert_int_equal(*text, 0);
    assert_int_equal(glyph_next(text).size, 0);
}

static void code_points_are_decoded_within_the_length(void **state)
{
    (void)state;
    uint32_t point = 77;
    assert_int_equal(glyph_decode(0, "A", &point), 0);
    assert_int_equal(glyph_decode(2, "\xe6\x9d\xbe", &point), 0);
    assert_int_equal(glyph_decode(2, "\xc0\xaf", &point), 0);
    assert_int_equal(point, 77);
    assert_int_equal(glyph_decode(3, "\xe6\x9d\xbe", &point), 3);
    assert_int_equal(point, 0x677e);
    assert_int_equal(glyph_decode(9, "\xf4\x8f\xbf\xbf", &point), 4);
    assert_int_equal(point, 0x10ffff);
    assert_int_equal(glyph_decode(1, "\0", &point), 1);
    assert_int_equal(point, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(glyphs_are_taken_one_by_one),
        cmocka_unit_test(code_points_are_decoded_within_the_length),
    };
    return cmocka_run_group_tests_name("glyph", tests, NULL, NULL) != 0;
}
